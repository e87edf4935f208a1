import jstat from 'jstat';
import type { Three } from '../model/cost.ts';

/** What is added up of things that vary: the ends between which the sum stays, its mean and its variance. */
export interface Moments {
  low: number;
  high: number;
  mean: number;
  variance: number;
}

/** How much more the likely value weighs than an end: the four of (a + 4m + b) / 6. */
const weight = 4;

/**
 * Mean and variance of a PERT distribution: a beta distribution from low to high with mean (a + 4m + b) / 6 and the
 * variance that follows from it exactly, (mean − a)(b − mean) / 7, not the rule of thumb (b − a)² / 36.
 */
export function pertOf({ low, likely, high }: Three): Moments {
  const mean = (low + weight * likely + high) / (weight + 2);
  return { low, high, mean, variance: ((mean - low) * (high - mean)) / (weight + 3) };
}

/** The value below which the fraction `p` of a PERT distribution lies. */
export function pertQuantile(three: Three, p: number): number {
  return betaQuantile(pertOf(three), p);
}

/** Sum of independent things: ends, means and variances add. */
export function sumOf(all: readonly Moments[]): Moments {
  return all.reduce((sum, one) => ({ low: sum.low + one.low, high: sum.high + one.high, mean: sum.mean + one.mean, variance: sum.variance + one.variance }), { low: 0, high: 0, mean: 0, variance: 0 });
}

/**
 * The value below which the fraction `p` lies, of the beta distribution between two ends that has the given mean and
 * variance. Of one PERT distribution that is itself; of a sum of independent ones it is an approximation that never
 * leaves the ends of the sum.
 */
export function betaQuantile({ low, high, mean, variance }: Moments, p: number): number {
  const width = high - low;
  // Without a width, or with one so small that a double cannot tell it from none, there is one value.
  if (!(width > 0) || !(variance > 0)) return mean;
  const middle = (mean - low) / width;
  const both = (middle * (1 - middle)) / (variance / width ** 2) - 1;
  return low + width * jstat.beta.inv(p, middle * both, (1 - middle) * both);
}
