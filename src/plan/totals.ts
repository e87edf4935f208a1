import type { CostLine, Ends, Sum, Total } from '../model/cost.ts';
import { byCodeUnit } from '../model/order.ts';
import type { Amount, Tax } from '../model/rates.ts';
import { betaQuantile, pertOf, pertQuantile, sumOf } from './pert.ts';
import { roundRatio, taxOn } from './rounding.ts';

/** The ends of every range: 10 and 90 in 100 stay below them. */
const ends = [0.1, 0.9] as const;

/** Priced lines summed by currency, sorted by its code. Nothing is converted, and what has no amount is in no sum. */
export function totalsOf(lines: readonly CostLine[], tax: Tax | null): Total[] {
  const groups = new Map<string, Amount[]>();
  for (const { currency, amount } of lines) {
    if (currency !== null && amount !== null) groups.set(currency, [...(groups.get(currency) ?? []), amount]);
  }
  return [...groups].sort(([a], [b]) => byCodeUnit(a, b)).map(([currency, amounts]) => {
    const sum = sumOfAmounts(amounts);
    return { currency, lines: amounts.length, ...sum, withTax: tax === null ? null : taxed(amounts, sum, tax) };
  });
}

/**
 * Mean and ends of a sum, each line a PERT distribution. Means add whatever hangs together. Fully tied, the quantiles
 * add. Independent, the variances add, and the quantiles are those of the beta distribution between the sums of the lows
 * and of the highs that has this mean and this variance: an approximation, exact for one line.
 */
export function sumOfAmounts(amounts: readonly Amount[]): Sum {
  const moments = sumOf(amounts.map(pertOf));
  const sixths = amounts.reduce((sum, { low, likely, high }) => sum + BigInt(low) + 4n * BigInt(likely) + BigInt(high), 0n);
  const at = (quantile: (p: number) => number): Ends => ({ low: Math.round(quantile(ends[0])), high: Math.round(quantile(ends[1])) });
  return {
    mean: Number(roundRatio(sixths, 6n, 'half-up')),
    independent: at((p) => betaQuantile(moments, p)),
    tied: at((p) => amounts.reduce((sum, amount) => sum + pertQuantile(amount, p), 0)),
  };
}

/** Per line the tax is rounded on each, before anything is summed; per invoice once, on each figure that is shown. */
function taxed(amounts: readonly Amount[], sum: Sum, tax: Tax): Sum {
  const plus = (minor: number): number => minor + taxOn(minor, tax.percent, tax.rounding);
  if (tax.per === 'line') return sumOfAmounts(amounts.map(({ low, likely, high }) => ({ low: plus(low), likely: plus(likely), high: plus(high) })));
  const both = ({ low, high }: Ends): Ends => ({ low: plus(low), high: plus(high) });
  return { mean: plus(sum.mean), independent: both(sum.independent), tied: both(sum.tied) };
}
