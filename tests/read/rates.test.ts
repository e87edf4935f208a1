import { expect, test } from 'vitest';
import type { Rates } from '../../src/model/rates.ts';
import { settingsSchema } from '../../src/model/settings.ts';
import { ratesOf } from '../../src/read/rates.ts';
import { notesOf } from './notes-helper.ts';

/** Lines under `# Rates` of a job in EUR with these settings. */
function rated(lines: string, given: object = {}): { rates: Rates; said: string[] } {
  const { notes, notices } = notesOf(`# Rates\n\n${lines}\n`);
  const read = ratesOf(notes.rates, settingsSchema.parse({ currency: 'EUR', ...given }));
  return { rates: read.rates, said: [...notices, ...read.notices].map(({ rule, spot }) => `${spot?.file}:${spot?.line}:${spot?.column} ${rule}`) };
}

function labour(text: string): (number | string | null)[] | null {
  const { rates, said } = rated(`- labour: ${text}`);
  expect(said).toEqual(rates.labour ? [] : ['findings.md:3:1 rate-unclear']);
  return rates.labour && [rates.labour.low, rates.labour.likely, rates.labour.high, rates.labour.currency];
}

test.each([
  ['55', [5500, 5500, 5500, 'EUR']],
  ['EUR 55 an hour', [5500, 5500, 5500, 'EUR']],
  ['£55/h', [5500, 5500, 5500, 'GBP']],
  ['55 per hour, plus VAT', [5500, 5500, 5500, 'EUR']],
  ['50-65', [5000, 5750, 6500, 'EUR']],
  ['50/55/70 EUR', [5000, 5500, 7000, 'EUR']],
  ['JPY 6000', [6000, 6000, 6000, 'JPY']],
  ['0', [0, 0, 0, 'EUR']],
])('an hour at %s', (text, amounts) => {
  expect(labour(text)).toEqual(amounts);
});

test.each(['65-50', '-5', 'EUR -5', '$55', 'XYZ 55', '55 per day', '55 an hour including VAT', 'what it takes', 'EUR 99999999999999'])('%s is no rate: a notice with its place, and nothing is priced by it', (text) => {
  expect(labour(text)).toBeNull();
});

test('kinds of labour, in British or American spelling', () => {
  const { rates, said } = rated('- labour, weld: 70\n- labor, painting: 65\n- labour, strip trim: 40\n- labour, looking again: 30');
  expect(said).toEqual([]);
  expect(rates.labour).toBeNull();
  expect(rates.byKind.map(({ kind, rate }) => [kind, rate.likely])).toEqual([['strip trim', 4000], ['weld', 7000], ['paint', 6500], ['look again', 3000]]);
});

test('labor and VAT are read as labour and tax', () => {
  const { rates, said } = rated('- labor: 55\n- VAT: 20 %');
  expect([said, rates.labour?.likely, rates.tax?.percent]).toEqual([[], 5500, '20']);
});

test('a kind nobody knows, a second rate and a line of something else get a notice each', () => {
  const { rates, said } = rated('- labour: 55\n- labour, frobnicate: 70\n- labour: 60\n- travel: 30');
  expect(said).toEqual(['findings.md:4:1 rate-unclear', 'findings.md:5:1 rate-unclear', 'findings.md:6:1 rate-unclear']);
  expect(rates.labour?.likely).toBe(5500);
});

test.each([
  ['- tax: 20 %', { percent: '20', per: 'invoice', rounding: 'half-up', assumed: ['per', 'rounding'] }],
  ['- tax: 20 % per invoice, half even', { percent: '20', per: 'invoice', rounding: 'half-even', assumed: [] }],
  ['- tax: 8.875% rounded down on every line', { percent: '8.875', per: 'line', rounding: 'down', assumed: [] }],
  ['- tax: 19,5 %\n- rounding: half up per line', { percent: '19.5', per: 'line', rounding: 'half-up', assumed: [] }],
  ['- tax: none', { percent: '0', assumed: ['per', 'rounding'] }],
])('%s', (lines, tax) => {
  const { rates, said } = rated(lines);
  expect(said).toEqual([]);
  expect(rates.tax).toMatchObject(tax);
});

test.each(['- tax: 20', '- tax: 120 %', '- tax: -20 %', '- tax: 20 % on labour only', '- tax: twenty', '- tax: 20 % and 10 %'])('%s is no tax', (line) => {
  const { rates, said } = rated(line);
  expect(rates.tax).toBeNull();
  expect(said).toEqual(['findings.md:3:1 rate-unclear']);
});

test('two ways of rounding: the first stands, the second gets the notice', () => {
  const { rates, said } = rated('- tax: 20 %, half even\n- rounding: half up per line');
  expect(rates.tax).toMatchObject({ rounding: 'half-even' });
  expect(said).toEqual(['findings.md:4:1 rate-unclear']);
});

test('settings hold where the findings are silent, and give way where they are not', () => {
  const given = { rates: { labour: 60, 'labour weld': [70, 80], 'labour wax': 45 }, tax: { percent: 21, per: 'line', rounding: 'down' } };
  const { rates } = rated('- labour: 55\n- labour, wax: 45\n- tax: 20 %', given);
  expect([rates.labour?.likely, rates.labour?.from]).toEqual([5500, 'findings']);
  expect(rates.byKind.map(({ kind, rate }) => [kind, rate.low, rate.likely, rate.high, rate.from])).toEqual([['weld', 7000, 7500, 8000, 'sillbook.json'], ['wax', 4500, 4500, 4500, 'findings']]);
  expect(rates.tax).toEqual({ percent: '20', per: 'line', rounding: 'down', from: 'findings', assumed: [] });
  // What is the same on both sides differs in nothing.
  expect(rates.overridden).toEqual(['labour', 'tax']);
});

test('a line that cannot be read leaves its rate open: no other takes its place unasked', () => {
  const { rates, said } = rated('- labour: what it takes\n- tax: some', { rates: { labour: 60, 'labour weld': 70 }, tax: { percent: 21 } });
  expect([rates.labour, rates.tax, rates.byKind.length, rates.overridden]).toEqual([null, null, 1, []]);
  expect(said).toHaveLength(2);
});

test('rates of the settings without any currency price nothing and are reported', () => {
  const { rates, said } = rated('', { currency: undefined, rates: { labour: 60 } });
  expect(rates.labour).toMatchObject({ likely: 6000, currency: null });
  expect(said).toEqual(['sillbook.json:undefined:undefined rate-unclear']);
});
