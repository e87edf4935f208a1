import type { FilmFigures } from '../model/inspection.ts';
import type { Reading } from '../model/notes.ts';
import { median } from '../model/median.ts';

/**
 * Makes the median absolute deviation of normally distributed values their standard deviation: 1 / Φ⁻¹(3/4), as in
 * Hampel 1974 (JASA 69:383) and Rousseeuw and Croux 1993 (JASA 88:1273), both from memory; recomputed in the tests.
 */
export const madToDeviation = 1.4826;
/** Deviations from the median beyond which a value stands out: the usual three; our judgement. */
const deviations = 3;
/** Fewer readings cannot tell which of them stands out: our judgement. */
const fewestForOutliers = 5;

/** Figures of one film reading, not compared with anything yet. */
export function filmFigures(reading: Reading): FilmFigures {
  const sorted = reading.values.toSorted((a, b) => a - b);
  const middle = median(sorted) ?? 0;
  return { count: sorted.length, min: sorted[0] ?? 0, median: middle, max: sorted.at(-1) ?? 0, baselineUm: null, ratio: null, outliers: outliersOf(reading.values, reading.step) };
}

/**
 * Values beyond median ± 3 × 1.4826 × MAD, ascending; none of fewer than five. The MAD is taken as no less than `step`,
 * the gauge's resolution: of 100, 100, 100, 100, 101 none stands out.
 */
export function outliersOf(values: readonly number[], step: number): number[] {
  const sorted = values.toSorted((a, b) => a - b);
  const middle = median(sorted);
  if (middle === undefined || sorted.length < fewestForOutliers) return [];
  const away = (value: number): number => Math.abs(value - middle);
  const deviation = median(sorted.map(away).toSorted((a, b) => a - b)) ?? 0;
  const limit = deviations * madToDeviation * Math.max(deviation, step);
  return sorted.filter((value) => away(value) > limit + 1e-9);
}
