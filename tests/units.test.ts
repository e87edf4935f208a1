import { expect, test } from 'vitest';
import { amountRangeText, amountSpreadText, countText, coverageText, dateText, distanceText, filmText, hoursText, lengthText, listText, litresText, moneyText, priceText, readingText } from '../src/units.ts';

test('counts, lists and dates in words', () => {
  expect([0, 1, 4].map((count) => countText(count, 'plug', 'plugs'))).toEqual(['no plugs', 'one plug', '4 plugs']);
  expect([[], ['a'], ['a', 'b'], ['a', 'b', 'c']].map((items) => listText(items))).toEqual(['', 'a', 'a and b', 'a, b and c']);
  expect(['2026-03-14', '2026-10', 'spring', '2026-13-01'].map(dateText)).toEqual(['14 March 2026', 'October 2026', 'spring', '2026-13-01']);
});

// 1 in = 25.4 mm exactly (international yard and pound agreement, 1959).
test('lengths in both units', () => {
  expect([lengthText(25.4, 'mm'), lengthText(25.4, 'in'), distanceText(300, 'mm'), distanceText(254, 'in')]).toEqual(['25.4 mm', '1 in', '30 cm', '10 in']);
  expect([filmText(480, 'mm'), filmText(254, 'in')]).toEqual(['480 µm', '10 thou']);
  expect([readingText(0.6, 'mm', 'mm'), readingText(0.615, 'mm', 'mm'), readingText(1, 'mm', 'mm'), readingText(62, 'Shore A', 'mm')]).toEqual(['0.60 mm', '0.615 mm', '1.00 mm', '62 Shore A']);
});

test('hours say when a spread is judged', () => {
  expect(hoursText({ low: 2, likely: 2.5, high: 3, judged: false })).toBe('2 to 3 h');
  expect(hoursText({ low: 2, likely: 2.2, high: 4, judged: false })).toBe('2 to 4 h, likely 2.2');
  expect(hoursText({ low: 0.8, likely: 1, high: 1.4, judged: true })).toBe('1 h (0.8 to 1.4)');
});

test('money without a currency is unpriced, never zero', () => {
  expect(moneyText({ minor: 190, currency: null, text: '1.90' })).toBe('unpriced (“1.90”, no currency)');
  expect(moneyText({ minor: 190, currency: 'EUR', text: '1.90' })).toBe('EUR 1.90');
  expect(moneyText({ minor: 190, currency: 'EUR', text: 'EUR 1.90' })).toBe('EUR 1.90');
});

test('a price that cannot count says why, and is for nothing', () => {
  const flawed = { minor: 3000, currency: 'GBP', text: '£30-20', flaw: 'it runs backwards' };
  expect([moneyText(flawed), priceText(flawed, false)]).toEqual(['unpriced (“£30-20”, it runs backwards)', 'unpriced (“£30-20”, it runs backwards)']);
  expect(priceText({ minor: 190, currency: 'EUR', text: '1.90' }, false)).toBe('EUR 1.90 each');
  expect(priceText({ minor: 500, currency: 'EUR', text: '5' }, true)).toBe('EUR 5 together');
});

test('a wide range leaves decimals out, a narrow one keeps them', () => {
  expect(amountRangeText(41_049, 65_551, 'EUR')).toBe('EUR 410 to 656');
  expect(amountRangeText(410, 655, 'EUR')).toBe('EUR 4.10 to 6.55');
  expect(amountRangeText(123_456, 234_567, 'JPY', ' and ')).toBe('JPY 123,456 and 234,567');
  expect(amountRangeText(760, 760, 'EUR')).toBe('EUR 7.60');
  expect([amountSpreadText({ low: 11_000, likely: 16_500, high: 23_100 }, 'EUR'), amountSpreadText({ low: 1_000, likely: 1_500, high: 2_000 }, 'EUR')]).toEqual(['EUR 110 to 231, likely 165', 'EUR 10.00 to 20.00']);
});

test('litres say no more than is known', () => {
  expect([litresText({ low: 0.1176, likely: 0.2857, high: 0.857 }), litresText({ low: 1.5, likely: 1.5, high: 1.5 })]).toEqual(['0.12 to 0.86 l, likely 0.29', '1.5 l']);
});

test('coverage is right for none, one and many', () => {
  const none = { known: 0, seen: 0, cannotTell: 0, notFitted: 0, kindsNotCounted: 1 };
  expect(coverageText(none)).toBe('no opening named or counted; 1 kind not counted');
  expect(coverageText({ ...none, known: 1, kindsNotCounted: 0 })).toBe('0 of 1 known opening seen');
  expect(coverageText({ known: 52, seen: 41, cannotTell: 2, notFitted: 1, kindsNotCounted: 6 })).toBe('41 of 52 known openings seen; 2 of them without a clear answer; 1 not fitted to this body; 6 kinds not counted');
});
