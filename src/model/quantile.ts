import type { Range } from './outlook.ts';

/** Quantile of values, straight lines between them (the usual definition with n − 1 steps). Sorts a copy; 0 of none. */
export function quantileOf(values: ArrayLike<number>, p: number): number {
  return quantileOfSorted(Float64Array.from(values).sort(), p);
}

/** The same of values in rising order. */
function quantileOfSorted(sorted: Float64Array, p: number): number {
  if (sorted.length === 0) return 0;
  const at = p * (sorted.length - 1);
  const index = Math.floor(at);
  const low = sorted[index] ?? 0;
  return low + (at - index) * ((sorted[index + 1] ?? low) - low);
}

/** Median and 10-90 % range of values. */
export function rangeOf(values: ArrayLike<number>): Range {
  const sorted = Float64Array.from(values).sort();
  return { low: quantileOfSorted(sorted, 0.1), middle: quantileOfSorted(sorted, 0.5), high: quantileOfSorted(sorted, 0.9) };
}
