import { expect, test } from 'vitest';
import type { RegisterRow } from '../../src/model/inspection.ts';
import type { Entry } from '../../src/model/notes.ts';
import { place } from '../../src/place/index.ts';
import { about, count, finding, jobOf, notFitted, notSeen, told, zoneNotes } from './builders.ts';

function inspect(entries: Entry[]): { plugs: string[]; rows: RegisterRow[]; rules: string[]; coverage: number[] } {
  const inspection = place(jobOf([zoneNotes('sill-left', entries)]));
  const sill = inspection.zones[0]!;
  const rows = sill.rows.filter(({ part }) => part.id === 'plug');
  return {
    rows,
    plugs: rows.map((row) => `${row.place}: ${row.known} ${row.conditions.join() || row.outcome}${row.seen ? '' : ` (${row.reason})`}`),
    rules: inspection.notices.map(({ rule }) => rule).filter((rule) => /^(count|finding)-/.test(rule)),
    coverage: [sill.coverage.seen, sill.coverage.known],
  };
}

test('a count is that many anonymous rows', () => {
  const { plugs, rows, coverage, rules } = inspect([count('plug', 4, { sound: 1, cracked: 1, missing: 2 })]);
  expect(plugs).toEqual(['1 of 4 counted: counted sound', '2 of 4 counted: counted cracked', '3 of 4 counted: counted missing', '4 of 4 counted: counted missing']);
  expect(rows.map(({ id }) => id)).toEqual([1, 2, 3, 4].map((at) => `sill-left--plug--counted-${at}`));
  expect(rows[0]).toMatchObject({ exposure: 'indoors', cavity: 'inner-cell', outcome: 'sound' });
  expect(coverage).toEqual([4, 4]);
  expect(rules).toEqual([]);
});

test('named rows fill matching conditions first', () => {
  const { plugs, coverage, rules } = inspect([count('plug', 4, { sound: 1, cracked: 1, missing: 2 }), finding('plug, inner face 2: missing'), finding('plug, inner face 1: cracked, loose')]);
  expect(plugs).toEqual(['inner face 1: named cracked,loose', 'inner face 2: named missing', '3 of 4 counted: counted sound', '4 of 4 counted: counted missing']);
  expect(coverage).toEqual([4, 4]);
  expect(rules).toEqual([]);
});

test('a row with one condition chooses before one with two', () => {
  const { rules, coverage } = inspect([count('plug', 2, { cracked: 1, loose: 1 }), finding('plug, inner face 1: cracked, loose'), finding('plug, inner face 2: cracked')]);
  expect(rules).toEqual([]);
  expect(coverage).toEqual([2, 2]);
});

test('fewer than expected leaves rows with nothing written, or with the reason that is', () => {
  expect(inspect([count('plug', 3, { sound: 1 })])).toMatchObject({ coverage: [1, 3], plugs: expect.arrayContaining(['3 of 3 counted: counted not seen (nothing written)']) as string[] });
  expect(inspect([count('plug', 2, { sound: 1 }), notSeen('plugs', { about: about('plug'), reasonWords: 'carpet' })]).plugs).toEqual(['1 of 2 counted: counted sound', '2 of 2 counted: counted not seen (carpet)']);
  expect(inspect([count('plug', 1, { 'not seen': 1 }), notSeen('', { reasonWords: 'cover' })]).plugs).toEqual(['1 of 1 counted: counted not seen (cover)']);
});

test('a number alone sets how many there are', () => {
  expect(inspect([count('plug', 3), finding('plug, inner face 1: sound')])).toMatchObject({ coverage: [1, 3], rules: [] });
});

test('not seen and not fitted count under those words', () => {
  const { plugs, coverage } = inspect([count('plug', 3, { sound: 1, 'not seen': 1, 'not fitted': 1 })]);
  expect(plugs).toEqual(['1 of 3 counted: counted sound', '2 of 3 counted: counted not seen (no reason written)', '3 of 3 counted: counted not fitted (not fitted)']);
  expect(coverage).toEqual([1, 2]);
  expect(inspect([count('plug', 1, { 'not fitted': 1 }), notFitted('', { about: about('plug, inner face 1') })])).toMatchObject({ coverage: [0, 0], rules: [] });
});

test.each<[string, number, Entry[]]>([
  ['more named than expected', 2, [count('plug', 1), finding('plug, inner face 1: sound'), finding('plug, inner face 2: sound')]],
  ['a sum of counts beyond the expected', 2, [count('plug', 1, { sound: 2 })]],
  ['a named condition the full count has not', 3, [count('plug', 2, { missing: 2 }), finding('plug, inner face 1: sound')]],
])('a surplus is said and nothing is dropped: %s', (_name, rows, entries) => {
  const { rules, plugs } = inspect(entries);
  expect(rules).toEqual(['count-surplus']);
  expect(plugs).toHaveLength(rows);
});

test('a count of a place concerns that place alone, and the whole contains it', () => {
  const entries = [count('plug, inner face', 2, { missing: 1 }), count('plug', 4, { missing: 2 }), finding('plug, tread: sound')];
  const { plugs, rules } = inspect(entries);
  expect(plugs).toEqual([
    'tread: named sound',
    '4 of 4 counted: counted missing',
    'inner face, 1 of 2 counted: counted missing',
    'inner face, 2 of 2 counted: counted not seen (nothing written)',
  ]);
  expect(rules).toEqual([]);
});

test('what was told of a count is not seen', () => {
  expect(inspect([count('plug', 2, { sound: 2 }, { origin: told() })])).toMatchObject({ coverage: [0, 2] });
});

test('none expected is not fitted, two numbers are asked back, and a slip of the thumb is limited', () => {
  expect(inspect([count('plug', 0)])).toMatchObject({ plugs: ['inner face: kind not fitted (none expected, as written at findings.md:1)'], coverage: [0, 0] });
  expect(inspect([count('plug', 2), count('plug', 3)])).toMatchObject({ rules: ['count-contradicts'], coverage: [0, 3] });
  expect(inspect([count('plug', 40_000, { sound: 1 })])).toMatchObject({ rules: ['count-large'], coverage: [1, 200] });
});

test('all counted were seen, and the kind is said not to be seen: a contradiction', () => {
  expect(inspect([count('plug', 1, { sound: 1 }), notSeen('plugs', { about: about('plug') })]).rules).toEqual(['finding-contradicts']);
});
