import type { Rounding } from '../model/rates.ts';

/** A decimal number in digits, exactly: `units` ÷ 10^`digits`. */
export interface Decimal {
  units: bigint;
  digits: number;
}

/**
 * The exact value of a decimal number: "1.005", "-0.125", 2.5. A number is taken by its shortest digits, which is how it
 * was typed.
 * @throws for a text that is no plain decimal number: a mistake of ours.
 */
export function decimalOf(value: string | number): Decimal {
  const match = /^(-?)(\d+)(?:\.(\d+))?$/.exec(String(value));
  if (!match) throw new Error(`"${value}" is no decimal number.`);
  const [, sign = '', whole = '0', fraction = ''] = match;
  return { units: BigInt(`${sign}${whole}${fraction}`), digits: fraction.length };
}

/** A ratio of whole numbers, rounded to a whole number by the rule; the denominator is above zero. */
export function roundRatio(numerator: bigint, denominator: bigint, rule: Rounding): bigint {
  const size = numerator < 0n ? -numerator : numerator;
  const whole = size / denominator;
  const twice = (size % denominator) * 2n;
  const up = rule === 'down' ? false : twice > denominator || (twice === denominator && (rule === 'half-up' || whole % 2n === 1n));
  const rounded = whole + (up ? 1n : 0n);
  return numerator < 0n ? -rounded : rounded;
}

/** Tax on an amount in whole minor units, rounded to whole minor units. */
export function taxOn(minor: number, percent: string, rule: Rounding): number {
  const { units, digits } = decimalOf(percent);
  return Number(roundRatio(BigInt(minor) * units, 100n * 10n ** BigInt(digits), rule));
}

/** Minor units times hours, pieces or litres, rounded half up to whole minor units; null beyond what is exact. */
export function times(minor: number, factor: number): number | null {
  if (!Number.isFinite(factor) || Math.abs(factor) >= 1e9) return null;
  // A factor worked out carries the dust of binary fractions; nine digits are more than any tape or clock gives.
  const { units, digits } = decimalOf(Number(factor.toFixed(9)).toFixed(9));
  const product = Number(roundRatio(BigInt(minor) * units, 10n ** BigInt(digits), 'half-up'));
  return Number.isSafeInteger(product) ? product : null;
}
