import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Corner, Region } from '../../src/model/rusted-area.ts';
import { gridPoints, outlineFault, rustedByOutlines, rustedByPoints, wholePicture } from '../../src/model/rusted-area.ts';

/** A rectangle as an outline. */
function box(left: number, top: number, right: number, bottom: number): Corner[] {
  return [[left, top], [right, top], [right, bottom], [left, bottom]];
}

function percentOf(region: Region, ...outlines: Corner[][]): number {
  return rustedByOutlines(region, outlines)?.percent ?? NaN;
}

test('a count has its share, its interval and the grades of its ends', () => {
  const area = rustedByPoints([0.1, 0.1, 0.9, 0.8], 34, 100);
  expect(area).toMatchObject({ how: 'points', hits: 34, points: 100, percent: 34, grades: { best: 2, worst: 1, words: '2 to 1' } });
  if (area?.how !== 'points') throw new Error('no count');
  expect([area.lowPercent.toFixed(1), area.highPercent.toFixed(1)]).toEqual(['25.5', '43.7']);
});

test('no hit is not the best grade: as far as a hundred points can tell, it may be 4', () => {
  expect(rustedByPoints(wholePicture, 0, 100)).toMatchObject({ percent: 0, lowPercent: 0, grades: { best: 10, worst: 4 } });
  expect(rustedByPoints(wholePicture, 100, 100)).toMatchObject({ percent: 100, highPercent: 100, grades: { best: 0, worst: 0 } });
});

test('what is no count has no area', () => {
  for (const [hits, points] of [[35, 34], [1, 0], [-1, 4], [0.5, 4], [NaN, 4]] as const) expect(rustedByPoints(wholePicture, hits, points)).toBeNull();
  expect(rustedByOutlines(wholePicture, [])).toBeNull();
  expect(rustedByOutlines([0.1, 0.1, 0.1, 0.5], [box(0.1, 0.1, 0.1, 0.5)])).toBeNull();
});

test('an outline is a share of the whole picture, or of its region', () => {
  expect(percentOf(wholePicture, box(0.2, 0.2, 0.4, 0.7))).toBe(10);
  expect(percentOf([0, 0, 0.5, 1], box(0.2, 0.2, 0.4, 0.7))).toBe(20);
  expect(percentOf(wholePicture, [[0.1, 0.2], [0.3, 0.2], [0.3, 0.5]])).toBe(3);
  expect(percentOf([0.1, 0.1, 0.9, 0.8], box(0.1, 0.1, 0.9, 0.8))).toBe(100);
});

test('a share that is a bound of a grade is not lifted over it by binary fractions', () => {
  expect(rustedByOutlines([0.1, 0.1, 0.9, 0.8], [box(0.1, 0.1, 0.9, 0.17)])).toMatchObject({ percent: 10, grades: { words: '4' } });
  expect(rustedByOutlines(wholePicture, [box(0.3, 0.3, 0.4, 0.6)])).toMatchObject({ percent: 3, grades: { words: '5' } });
});

test('outlines of one region count together, what lies in several of them once', () => {
  const [one, over, apart, inner] = [box(0.1, 0.1, 0.4, 0.4), box(0.2, 0.2, 0.5, 0.5), box(0.6, 0.6, 0.7, 0.7), box(0.15, 0.15, 0.2, 0.2)];
  expect(percentOf(wholePicture, one, apart)).toBe(10);
  expect(percentOf(wholePicture, one, over)).toBe(14);
  expect(percentOf(wholePicture, one, one, inner)).toBe(9);
  // Two triangles over the same square: three quarters of it. Worked by hand.
  expect(percentOf(wholePicture, [[0, 0], [1, 0], [0, 1]], [[0, 0], [1, 0], [1, 1]])).toBe(75);
});

test('the area is that of the shoelace formula, whichever way round and from whichever corner it was drawn', () => {
  // A star-shaped outline round the middle never crosses itself.
  const star = fc.array(fc.double({ min: 0.05, max: 0.45, noNaN: true }), { minLength: 3, maxLength: 40 }).map((reach) =>
    reach.map((far, index): Corner => [0.5 + far * Math.cos((2 * Math.PI * index) / reach.length), 0.5 + far * Math.sin((2 * Math.PI * index) / reach.length)]));
  fc.assert(fc.property(star, fc.nat(40), (corners, turn) => {
    const shoelace = corners.reduce((sum, [x, y], index) => {
      const [nextX, nextY] = corners[(index + 1) % corners.length] ?? [0, 0];
      return sum + (x * nextY - nextX * y) / 2;
    }, 0);
    expect(outlineFault(wholePicture, corners)).toBeNull();
    const turned = corners.map((_, index): Corner => corners[(index + turn) % corners.length] ?? [0, 0]);
    for (const drawn of [corners, corners.toReversed(), turned, [...corners, ...corners.slice(0, 1)]]) expect(percentOf(wholePicture, drawn)).toBeCloseTo(100 * shoelace, 6);
    expect(percentOf(wholePicture, corners, turned)).toBeCloseTo(100 * shoelace, 6);
  }));
});

test('more outlines are never less rust, and never more than they are one by one', () => {
  const side = fc.double({ min: 0, max: 0.9, noNaN: true });
  const boxes = fc.array(fc.tuple(side, side, fc.double({ min: 0.01, max: 0.1, noNaN: true }), fc.double({ min: 0.01, max: 0.1, noNaN: true })).map(([x, y, wide, high]) => box(x, y, x + wide, y + high)), { minLength: 1, maxLength: 8 });
  fc.assert(fc.property(boxes, (all) => {
    const together = percentOf(wholePicture, ...all);
    expect(together).toBeGreaterThanOrEqual(percentOf(wholePicture, ...all.slice(1)) || 0);
    expect(together).toBeLessThanOrEqual(all.reduce((sum, one) => sum + percentOf(wholePicture, one), 0) + 1e-6);
  }));
});

test.each([
  [[[0.1, 0.1], [0.5, 0.5], [0.5, 0.1], [0.1, 0.5]], /crosses/],
  [[[0.1, 0.1], [0.5, 0.1], [0.5, 0.5], [0.3, 0.1], [0.1, 0.5]], /touches/],
  [[[0.1, 0.1], [0.5, 0.5]], /fewer than three/],
  [[[0.1, 0.1], [0.5, 0.5], [0.1, 0.1]], /fewer than three/],
  [[[0.1, 0.1], [0.2, 0.2], [0.4, 0.4]], /no area|crosses/],
  [[[0.1, 0.1], [0.95, 0.1], [0.5, 0.5]], /0.95 0.1 lies outside/],
] as [Corner[], RegExp][])('%j encloses nothing that can be told', (corners, why) => {
  expect(outlineFault([0, 0, 0.9, 0.9], corners)).toMatch(why);
});

test('a grid of points lies in the middles of equal cells, row by row', () => {
  const points = gridPoints([0.2, 0.4, 0.6, 0.8], 2);
  expect(points.map((point) => point.map((one) => Number(one.toFixed(12))))).toEqual([[0.3, 0.5], [0.5, 0.5], [0.3, 0.7], [0.5, 0.7]]);
  expect(gridPoints(wholePicture, 10)).toHaveLength(100);
});
