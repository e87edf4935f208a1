import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Amount } from '../../src/model/rates.ts';
import { costOfHours, costOfWorks } from '../../src/plan/cost.ts';
import { pertOf } from '../../src/plan/pert.ts';
import { sumOfAmounts } from '../../src/plan/totals.ts';
import { costed, linesOf } from './cost-helper.ts';

test('hours times the rate, bound by bound', () => {
  expect(linesOf('- do: strip. 2/2.5/4 h')).toEqual([['labour', 'labour, strip trim', [10_000, 12_500, 20_000]]]);
  expect(linesOf('- do: strip. 2-3 h', '- labour: 50-60')).toEqual([['labour', 'labour, strip trim', [10_000, 13_750, 18_000]]]);
  // A single time has the judged spread of a fifth less to two fifths more; the rate has none.
  expect(linesOf('- do: strip. 1 h')).toEqual([['labour', 'labour, strip trim', [4_000, 5_000, 7_000]]]);
  expect(linesOf('- do: strip. 20 min', '- labour: JPY 1000')[0]?.[2]).toEqual([267, 333, 467]);
});

test('the rate of a kind of labour holds where the work names that kind alone, else the general one', () => {
  const rates = '- labour: 50\n- labour, weld: 70';
  expect(linesOf('- do: weld. 1-1 h', rates)).toEqual([['labour', 'labour, weld', [7_000, 7_000, 7_000]]]);
  // Neither of the two where the words name two.
  expect(linesOf('- do: weld, strip. 1-1 h', `${rates}\n- labour, strip trim: 40`)).toEqual([['labour', 'labour', [5_000, 5_000, 5_000]]]);
  expect(linesOf('- do: strip. 1-1 h', rates)).toEqual([['labour', 'labour, strip trim', [5_000, 5_000, 5_000]]]);
  expect(linesOf('- do: something. 1-1 h', rates)).toEqual([['labour', 'labour', [5_000, 5_000, 5_000]]]);
  expect(linesOf('- do: strip. 1-1 h', '- labour, weld: 70')).toEqual([['labour', 'labour, strip trim', 'no rate for labour']]);
});

test('several times are several lines, a kind without a time is unpriced, waiting costs nothing', () => {
  expect(linesOf('- do: strip 1-1 h, weld 2-2 h', '- labour: 50\n- labour, weld: 70')).toEqual([['labour', 'labour, strip trim', [5_000, 5_000, 5_000]], ['labour', 'labour, weld', [14_000, 14_000, 14_000]]]);
  expect(linesOf('- do: strip 1-1 h, dry 24 h')).toEqual([['labour', 'labour, strip trim', [5_000, 5_000, 5_000]]]);
  expect(linesOf('- do: strip 1-1 h. weld')).toEqual([['labour', 'labour, strip trim', [5_000, 5_000, 5_000]], ['labour', 'labour, weld', 'no hours written']]);
  expect(linesOf('- do: dry 24 h')).toEqual([]);
  expect(linesOf('- do: weld. dry 24 h')).toEqual([['labour', 'labour, weld', 'no hours written']]);
});

test('parts are their number times their price, or together', () => {
  expect(linesOf('- do: strip. 1-1 h\n  - part: plug 25 mm x 4, 1.90 each\n  - part: clips x 8, 5.00 together\n  - part: sheet x 2, 10-20 each\n  - part: rivets x 20').slice(1)).toEqual([
    ['part', 'plug 25 mm', [760, 760, 760]],
    ['part', 'clips', [500, 500, 500]],
    ['part', 'sheet', [2_000, 3_000, 4_000]],
    ['part', 'rivets', 'no price written'],
  ]);
});

test('a cost for the whole work stands for its labour, and is said to; parts stand beside it', () => {
  const { estimate } = costed('# Rates\n- labour: 50\n# Sill, left\n- do: strip. 2 h, 35\n  - part: clips x 2, 1.00 each\n');
  expect(estimate.lines.map((line) => [line.kind, line.amount?.likely])).toEqual([['whole work', 3_500], ['part', 200]]);
  expect(estimate.lines[0]?.note).toBe('the cost written for the whole work stands for its labour');
});

test.each([
  ['no rate', '- do: strip. 2 h', '- rounding: down', {}, 'no rate for labour'],
  ['no hours', '- do: strip', '- labour: 50', {}, 'no hours written'],
  ['hours that run backwards', '- do: strip. 3-2 h', '- labour: 50', {}, 'no hours that can be read'],
  ['no currency for the rate', '- do: strip. 2 h', '- rounding: down', { currency: undefined, rates: { labour: 50 } }, 'no currency'],
  ['no currency for the cost', '- do: strip. 2 h, 35', '- rounding: down', { currency: undefined }, 'no currency'],
  ['a cost that runs backwards', '- do: strip. 2 h, £30-20', '- labour: 50', {}, 'a price that cannot count: it runs backwards'],
  ['a cost below nothing', '- do: strip. 2 h, -35', '- labour: 50', {}, 'a price that cannot count: it is below nothing'],
  ['a cost beyond counting', '- do: strip. 2 h, EUR 99999999999999', '- labour: 50', {}, 'a price that cannot count: it is too large'],
])('%s: unpriced with the reason, never zero', (_name, works, rates, settings, reason) => {
  const { estimate } = costed(`# Rates\n${rates}\n# Sill, left\n${works}\n`, settings);
  expect(estimate.lines.map((line) => [line.amount, line.currency, line.reason])).toEqual([[null, null, reason]]);
  expect([estimate.totals, estimate.unpriced]).toEqual([[], { toDo: 1, spent: 0 }]);
});

test('a part in a currency nobody knows, and a price for a measure, count for nothing', () => {
  expect(linesOf('- do: strip. 1-1 h\n  - part: clips x 2, XYZ 10\n  - part: hose x 1, 3.00 per metre').slice(1).map(([, , reason]) => reason)).toEqual(['no price that can be read', 'a price that cannot count: it is for a metre, not for each']);
});

test('what is done is costed apart, by the hours and the cost written then', () => {
  const { estimate } = costed('# Rates\n- labour: 50\n# Sill, left\n- do: strip. 2 h\n  - part: clips x 2, 1.00 each\n  - done: 2026-05-02, stripped, 1.5 h\n- do: strip. 3 h\n  - done: 2026-05-03, EUR 80\n  - done: 2026-05-04, again, EUR 20, 1 h\n- do: strip. 1-1 h\n');
  expect(estimate.lines.map((line) => [line.kind, line.spent, line.amount?.low, line.amount?.high])).toEqual([
    ['labour', true, 7_500, 7_500], ['part', true, 200, 200], ['whole work', true, 8_000, 8_000], ['whole work', true, 2_000, 2_000], ['labour', false, 5_000, 5_000],
  ]);
  expect(estimate.totals.map((total) => [total.lines, total.mean])).toEqual([[1, 5_000]]);
  expect(estimate.spent.map((total) => [total.lines, total.mean])).toEqual([[4, 17_700]]);
});

test('currencies are never converted', () => {
  const { estimate, inspection, works } = costed('# Rates\n- labour: GBP 50\n# Sill, left\n- do: strip. 1-1 h\n  - part: clips x 1, 3.00 each\n');
  expect(estimate.totals.map(({ currency, mean, lines }) => [currency, mean, lines])).toEqual([['EUR', 300, 1], ['GBP', 5_000, 1]]);
  expect(costOfWorks(inspection, works)).toBeNull();
});

const amount: fc.Arbitrary<Amount> = fc.array(fc.integer({ min: 0, max: 2_000_000 }), { minLength: 3, maxLength: 3 }).map((all) => {
  const [low = 0, likely = 0, high = 0] = all.toSorted((a, b) => a - b);
  return { low, likely, high };
});

test('means add, percentiles do not', () => {
  const alike = Array.from({ length: 16 }, () => ({ low: 10_000, likely: 20_000, high: 60_000 }));
  const one = sumOfAmounts(alike.slice(0, 1));
  const all = sumOfAmounts(alike);
  expect(all.mean).toBe(400_000);
  expect(one.independent).toEqual(one.tied);
  expect(all.tied.high - 16 * one.tied.high).toBeLessThanOrEqual(16);
  // Sixteen that vary independently spread four times as wide as one, not sixteen times.
  const [wide, narrow] = [all.tied.high - all.tied.low, all.independent.high - all.independent.low];
  expect(wide / narrow).toBeGreaterThan(3.8);
  expect(wide / narrow).toBeLessThan(4.2);
  expect(all.independent.high).toBeLessThan(16 * one.independent.high * 0.9);
});

test('of any lines the mean is the sum of the means, and the independent range lies in the tied one', () => {
  fc.assert(fc.property(fc.array(amount, { minLength: 1, maxLength: 12 }), (amounts) => {
    const sum = sumOfAmounts(amounts);
    expect(Math.abs(sum.mean - amounts.reduce((total, one) => total + pertOf(one).mean, 0))).toBeLessThanOrEqual(0.51);
    const width = ({ low, high }: { low: number; high: number }): number => high - low;
    expect(width(sum.independent)).toBeLessThanOrEqual(width(sum.tied) + 2);
    expect(sum.tied.low).toBeGreaterThanOrEqual(amounts.reduce((total, one) => total + one.low, 0));
    expect(sum.tied.high).toBeLessThanOrEqual(amounts.reduce((total, one) => total + one.high, 0));
    expect(sumOfAmounts(amounts.toReversed())).toEqual(sum);
  }));
});

test('tax per line and per invoice, as set, on the total with it', () => {
  const works = Array.from({ length: 3 }, () => '- do: something, 1.99 EUR\n').map((line, index) => line.replace('something', `something ${index}. 1 h`)).join('');
  const tax = (line: string): (number | undefined)[] => {
    const [total] = costed(`# Rates\n- tax: ${line}\n# Sill, left\n${works}`).estimate.totals;
    return [total?.mean, total?.withTax?.mean, total?.withTax?.tied.high];
  };
  // The check of 3 × 1.99 at 20 %: 1.20 line by line, 1.19 on the invoice.
  expect(tax('20 % per line')).toEqual([597, 717, 717]);
  expect(tax('20 % per invoice')).toEqual([597, 716, 716]);
  expect(tax('20 % per line, down')).toEqual([597, 714, 714]);
  expect(tax('0 %')).toEqual([597, 597, 597]);
  expect(costed(`# Sill, left\n${works}`).estimate.totals[0]?.withTax).toBeNull();
});

test('the cost of works is the sum of their bounds, null where anything they need is unpriced', () => {
  const { inspection, works } = costed('# Rates\n- labour: 50\n# Sill, left\n- do: strip. 1-3 h\n  - part: clips x 2, 1.00 each\n- do: strip again. 2-2 h\n- do: strip once more\n- do: strip. 9 h\n  - done: 2026-05-02\n');
  expect(costOfWorks(inspection, works.slice(0, 2))).toEqual({ currency: 'EUR', low: 15_200, likely: 20_200, high: 25_200 });
  expect(costOfWorks(inspection, works.slice(0, 3))).toBeNull();
  expect(costOfWorks(inspection, works.slice(3))).toBeNull();
  expect(costOfWorks(inspection, [])).toBeNull();
});

test('the cost of hours takes the rate of its kind, else the general one, and is null without', () => {
  const hours = { low: 8, likely: 14, high: 24 };
  const rated = costed('# Rates\n- labour: 50\n- labour, weld: 70\n').inspection;
  expect(costOfHours(rated, hours, 'weld')).toEqual({ currency: 'EUR', low: 56_000, likely: 98_000, high: 168_000 });
  expect(costOfHours(rated, hours, 'metal')).toEqual({ currency: 'EUR', low: 40_000, likely: 70_000, high: 120_000 });
  expect(costOfHours(costed('').inspection, hours, 'weld')).toBeNull();
});

test('hours by kind of labour, several kinds together', () => {
  const { estimate } = costed('# Rates\n- labour: 50\n# Sill, left\n- do: strip. 1-2 h\n- do: strip, weld. 3-4 h\n- do: weld. 1-1 h, 90\n# Boot floor\n- do: strip. 2-2 h\n');
  expect(estimate.labour).toEqual([
    { labour: ['strip trim'], hours: { low: 3, likely: 3.5, high: 4 }, zones: ['sill-left', 'boot-floor'], waits: false, amounts: [{ currency: 'EUR', amount: { low: 15_000, likely: 17_500, high: 20_000 } }], unpriced: 0 },
    { labour: ['strip trim', 'weld'], hours: { low: 3, likely: 3.5, high: 4 }, zones: ['sill-left'], waits: false, amounts: [{ currency: 'EUR', amount: { low: 15_000, likely: 17_500, high: 20_000 } }], unpriced: 0 },
    { labour: ['weld'], hours: { low: 1, likely: 1, high: 1 }, zones: ['sill-left'], waits: false, amounts: [], unpriced: 1 },
  ]);
  const drying = costed('# Rates\n- labour: 50\n# Sill, left\n- do: strip 1-1 h, dry 24 h\n').estimate.labour;
  expect(drying.map(({ labour, waits, amounts }) => [labour.join(), waits, amounts.length])).toEqual([['strip trim', false, 1], ['dry', true, 0]]);
});

test('a zone with a defect and no work is named, and nothing of it is in a total', () => {
  const { estimate } = costed('# Sill, left\n- plug, inner face 1: missing\n# Boot floor\n- plug, well: perished\n- do: new plug. 1 h\n# Roof\n- seam: sound\n');
  expect(estimate.unplanned).toEqual(['sill-left']);
});

const money = fc.oneof(
  fc.constantFrom('1.90', '£20-30', '30-20 EUR', '20/25/40 EUR', 'EUR -5', '-5', 'XYZ 10', '$4', 'EUR 1e9', '9999999999999999 EUR', '0', '1,234.50 EUR', '5.00 together', '3 per litre', 'JPY 12', 'BHD 1.2345', ''),
  fc.string({ unit: 'grapheme', maxLength: 8 }).map((text) => text.replace(/[\n\r]/g, '')),
);
const typed = fc.oneof(
  fc.tuple(fc.constantFrom('strip', 'weld, wax', 'wax', 'dry', 'paint', 'odd'), fc.constantFrom('', '2 h', '1-2 h', '3-2 h', '99999999 h', '20 min', '1 h. dry 2 h'), money).map(([work, hours, price]) => `- do: ${work}. ${hours}, ${price}`),
  fc.tuple(fc.constantFrom('plug 25 mm', 'wax 1 l', '=x'), fc.integer({ min: 0, max: 9999 }), money).map(([part, count, price]) => `  - part: ${part} x ${count}, ${price}`),
  fc.tuple(fc.constantFrom('', ', waxed, 2 h', ', EUR 5', ', -3 h')).map(([rest]) => `  - done: 2026-05-02${rest}`),
);
const rateLine = fc.tuple(fc.constantFrom('labour', 'labour, weld', 'tax', 'rounding', 'other'), fc.oneof(money, fc.constantFrom('50', '50-65', '20 %', '20 % per line, half even', 'down'))).map(([key, value]) => `- ${key}: ${value}`);

test('whatever was typed, every line has an amount in whole minor units or a reason, and the sums are theirs', () => {
  fc.assert(fc.property(fc.array(typed, { maxLength: 12 }), fc.array(rateLine, { maxLength: 4 }), fc.constantFrom({}, { currency: undefined }, { materials: { wax: { pricePerLitre: [3, 1e8] } } }), (works, rates, given) => {
    const { estimate } = costed(`# Rates\n${rates.join('\n')}\n# Sill, left\n${works.join('\n')}\n`, given);
    for (const { amount, currency, reason } of estimate.lines) {
      expect([amount === null, currency === null]).toEqual([reason !== '', reason !== '']);
      if (amount === null) continue;
      const three = [amount.low, amount.likely, amount.high];
      expect(three.every((one) => Number.isSafeInteger(one) && one >= 0)).toBe(true);
      expect(three).toEqual(three.toSorted((a, b) => a - b));
    }
    const [toDo, spent] = [estimate.lines.filter((line) => !line.spent), estimate.lines.filter((line) => line.spent)];
    expect(estimate.totals.reduce((sum, total) => sum + total.lines, estimate.unpriced.toDo)).toBe(toDo.length);
    expect(estimate.spent.reduce((sum, total) => sum + total.lines, estimate.unpriced.spent)).toBe(spent.length);
    for (const total of [...estimate.totals, ...estimate.spent]) {
      const { withTax, mean, independent, tied } = total;
      const figures = [mean, independent.low, independent.high, tied.low, tied.high];
      expect(figures.every(Number.isSafeInteger)).toBe(true);
      if (withTax) expect([withTax.mean, withTax.tied.low, withTax.tied.high].every((one, index) => Number.isSafeInteger(one) && one >= ([mean, tied.low, tied.high][index] ?? 0))).toBe(true);
    }
  }), { numRuns: 300 });
});
