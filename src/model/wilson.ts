/** 97.5 % point of the standard normal distribution. */
const z = 1.959964;

/**
 * The share that a count of points stands for, in percent, with its 95 % interval: Wilson 1927, JASA 22:209. Null where
 * the numbers are no count: none or parts of points, more hits than points, fewer than none.
 */
export function wilson95(hits: number, points: number): { percent: number; lowPercent: number; highPercent: number } | null {
  if (!Number.isSafeInteger(hits) || !Number.isSafeInteger(points) || points < 1 || hits < 0 || hits > points) return null;
  const share = hits / points;
  const spread = (z * z) / points;
  const middle = (share + spread / 2) / (1 + spread);
  const half = (z * Math.sqrt((share * (1 - share)) / points + spread / (4 * points))) / (1 + spread);
  // At none and at all the interval ends there; the formula comes to it but for the dust of binary fractions.
  const lowPercent = hits === 0 ? 0 : 100 * (middle - half);
  const highPercent = hits === points ? 100 : 100 * (middle + half);
  return { percent: 100 * share, lowPercent, highPercent };
}
