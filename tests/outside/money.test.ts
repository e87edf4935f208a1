import { expect, test } from 'vitest';
import { decimalsOf } from '../../src/model/currency.ts';
import { pertOf, pertQuantile } from '../../src/plan/pert.ts';
import { litresOf, wetFilmOf } from '../../src/plan/quantities.ts';
import { decimalOf, roundRatio, taxOn } from '../../src/plan/rounding.ts';
import type { Rounding } from '../../src/model/rates.ts';
import { amountText, decimalText } from '../../src/units.ts';

/** A decimal number in hundredths: what is rounded is the exact decimal, never its nearest binary fraction. */
function hundredths(value: string, rule: Rounding): number {
  const { units, digits } = decimalOf(value);
  return Number(roundRatio(units * 100n, 10n ** BigInt(digits), rule));
}

// Mean (a + 4m + b) / 6: Malcolm, Roseboom, Clark and Fazar 1959, Operations Research 7(5), from memory. Variance
// (mean − a)(b − mean) / 7: follows from a beta distribution with shapes 1 + 4(m − a)/(b − a) and 1 + 4(b − m)/(b − a).
// Quantiles computed independently with SciPy 1.17.
test.each([
  { three: { low: 5, likely: 8, high: 14 }, mean: 8.5, sd: 1.65831, quantiles: [6.377, 8.382, 10.8] },
  { three: { low: 100, likely: 150, high: 400 }, mean: 183.3333, sd: 50.78745, quantiles: [122.798, 175.586, 255.581] },
])('PERT of $three', ({ three, mean, sd, quantiles }) => {
  const moments = pertOf(three);
  expect(moments.mean).toBeCloseTo(mean, 4);
  expect(Math.sqrt(moments.variance)).toBeCloseTo(sd, 5);
  for (const [index, p] of [0.1, 0.5, 0.9].entries()) expect(Math.abs(pertQuantile(three, p) - (quantiles[index] ?? 0))).toBeLessThan(0.0006);
});

// Source: ISO 4217, list one of 2024-06-25 (SIX): column of minor units.
test.each([[0, ['JPY', 'ISK']], [2, ['EUR', 'GBP', 'USD', 'CHF', 'HUF', 'MGA', 'MRU']], [3, ['BHD', 'KWD', 'TND']], [4, ['CLF', 'UYW']]] as const)('%d decimals: %s', (digits, codes) => {
  for (const code of codes) expect(decimalsOf(code), code).toBe(digits);
});

test('amounts have the decimals of their currency, and a code nobody lists has none', () => {
  expect([amountText(123450, 'EUR'), amountText(1235, 'JPY'), amountText(1905, 'BHD'), amountText(19055, 'CLF'), amountText(5, 'EUR'), amountText(100000000, 'GBP')]).toEqual(['EUR 1,234.50', 'JPY 1,235', 'BHD 1.905', 'CLF 1.9055', 'EUR 0.05', 'GBP 1,000,000.00']);
  expect([decimalText(123450, 'EUR'), decimalText(0, 'EUR'), decimalText(7, 'BHD'), decimalText(1235, 'JPY')]).toEqual(['1234.50', '0.00', '0.007', '1235']);
  expect(decimalsOf('QQQ')).toBeNull();
});

// Arithmetic; half up is away from zero, half even is the rounding of IEEE 754. Of binary fractions 1.005 is below the half.
test.each([
  ['0.125', 13, 12, 12],
  ['0.135', 14, 14, 13],
  ['1.005', 101, 100, 100],
  ['-0.125', -13, -12, -12],
  ['0.115', 12, 12, 11],
  ['2.5', 250, 250, 250],
])('%s in hundredths: half up %d, half even %d, down %d', (value, up, even, down) => {
  expect([hundredths(value, 'half-up'), hundredths(value, 'half-even'), hundredths(value, 'down')]).toEqual([up, even, down]);
});

// Arithmetic; that rounding may be per line or per invoice is practice, for instance HMRC VATREC12010.
test('tax of 20 % on three lines of 1.99 is 1.20 line by line, 1.19 on the invoice', () => {
  expect([199, 199, 199].reduce((sum, minor) => sum + taxOn(minor, '20', 'half-up'), 0)).toBe(120);
  expect(taxOn(3 * 199, '20', 'half-up')).toBe(119);
});

test('tax is exact where a binary fraction is not', () => {
  // 8.875 % of 2.00 is 0.1775; of 4.00 it is 0.355, a half that no double holds.
  expect(['half-up', 'half-even', 'down'].map((rule) => taxOn(400, '8.875', rule as 'down'))).toEqual([36, 36, 35]);
  // 0.5 % of 1.00 is half a cent, of 3.00 a cent and a half.
  expect(['half-up', 'half-even', 'down'].map((rule) => taxOn(100, '0.5', rule as 'down'))).toEqual([1, 0, 0]);
  expect(['half-up', 'half-even', 'down'].map((rule) => taxOn(300, '0.5', rule as 'down'))).toEqual([2, 2, 1]);
  expect(taxOn(999_999_999_999, '20', 'half-up')).toBe(200_000_000_000);
});

// Wet film = dry film ÷ volume solids: arithmetic; volume solids as coating data sheets give them.
test.each([[100, 62, 161.29], [125, 35, 357.14], [50, 40, 125]])('%d µm dry of %d %% solids are %d µm wet', (dry, solids, wet) => {
  expect(wetFilmOf(dry, solids)).toBeCloseTo(wet, 2);
});

// One square metre times one µm is one millilitre: 50 ml of dry film are 125 ml of a liquid with 40 % solids.
test('a square metre at 50 µm dry of 40 % solids takes an eighth of a litre, twice that where half is lost', () => {
  expect(litresOf(1, 50, 40, 0)).toBeCloseTo(0.125, 12);
  expect(litresOf(1, 50, 40, 50)).toBeCloseTo(0.25, 12);
  expect(litresOf(3, 50, 40, 0)).toBeCloseTo(0.375, 12);
});
