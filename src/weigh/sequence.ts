/**
 * Sobol's low-discrepancy sequence, digital, without scrambling. Primitive polynomials and first direction numbers of the
 * dimensions 2 to 21 by Joe and Kuo 2008 (doi:10.1137/070709359), here from memory: any odd numbers give a sequence whose
 * first 2^m points fall one into each of 2^m equal parts of every axis, which a test holds.
 */
const directions: readonly (readonly [degree: number, polynomial: number, ...first: number[]])[] = [
  [1, 0, 1], [2, 1, 1, 3], [3, 1, 1, 3, 1], [3, 2, 1, 1, 1], [4, 1, 1, 1, 3, 3], [4, 4, 1, 3, 5, 13], [5, 2, 1, 1, 5, 5, 17],
  [5, 4, 1, 1, 5, 5, 5], [5, 7, 1, 1, 7, 11, 19], [5, 11, 1, 1, 5, 1, 1], [5, 13, 1, 1, 1, 3, 11], [5, 14, 1, 3, 5, 5, 31],
  [6, 1, 1, 3, 3, 9, 7, 49], [6, 13, 1, 1, 1, 15, 21, 21], [6, 16, 1, 3, 1, 13, 27, 49], [6, 19, 1, 1, 1, 15, 7, 5],
  [6, 22, 1, 3, 1, 15, 13, 25], [6, 25, 1, 1, 5, 5, 19, 61], [7, 1, 1, 3, 7, 11, 23, 15, 103], [7, 4, 1, 3, 7, 13, 13, 15, 69],
];

/** Axes the sequence has. */
export const axes = directions.length + 1;

const bits = 32;

/** Points `0 … count − 1` of one axis, each in the middle of its part of the unit interval. `count` is a power of two. */
export function sobolAxis(axis: number, count: number): Float64Array {
  const vectors = vectorsOf(axis);
  return Float64Array.from({ length: count }, (_, index) => {
    let point = 0;
    for (let bit = 0; index >> bit > 0; bit += 1) if ((index >> bit) & 1) point ^= vectors[bit] ?? 0;
    return (point >>> 0) / 2 ** bits + 0.5 / count;
  });
}

function vectorsOf(axis: number): number[] {
  if (axis === 0) return Array.from({ length: bits }, (_, bit) => (1 << (bits - 1 - bit)) >>> 0);
  const entry = directions[axis - 1];
  if (!entry) throw new Error(`The sequence has ${axes} axes; ${axis} was asked for`);
  const [degree, polynomial, ...first] = entry;
  const vectors = first.map((one, bit) => (one << (bits - 1 - bit)) >>> 0);
  for (let bit = degree; bit < bits; bit += 1) {
    const before = vectors[bit - degree] ?? 0;
    let next = before ^ (before >>> degree);
    for (let term = 1; term < degree; term += 1) if ((polynomial >> (degree - 1 - term)) & 1) next ^= vectors[bit - term] ?? 0;
    vectors.push(next >>> 0);
  }
  return vectors;
}

/**
 * Points of a further axis made of another by a turn of the unit circle, for more unseen openings than there are axes: still
 * even on the axis, with a shift of its own.
 */
export function turnedAxis(axis: number, turn: number, count: number): Float64Array {
  const golden = 0.6180339887498949;
  return sobolAxis(axis, count).map((point) => (point + golden * turn) % 1);
}
