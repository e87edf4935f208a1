import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Mark } from '../../src/model/notes.ts';
import { everyWordKept, notesOf } from './notes-helper.ts';

const head = '# Sill, left\n\n![metal, outer face: surface rust](IMG_1.jpg)\n';

/** The one mark that a line gives. */
function markOf(line: string): Mark | undefined {
  const { notes, notices } = notesOf(`${head}- ${line}\n`);
  expect(notices.map((notice) => notice.rule)).toEqual([]);
  const entry = notes.zones[0]?.entries[0];
  return entry?.type === 'finding' ? entry.marks[0] : undefined;
}

/** Line, column, rule and what was found of the notices a line gets. */
function toldOf(line: string): string[] {
  return notesOf(`${head}- ${line}\n`).notices.map(({ spot, rule, found }) => `${spot?.line}:${spot?.column} ${rule} ${found}`);
}

test('a count of points with its rectangle', () => {
  expect(markOf('rusted points 0.1 0.1 0.9 0.8: 34 of 100')).toMatchObject({ shape: 'rusted points', numbers: [0.1, 0.1, 0.9, 0.8], label: '34 of 100', rusted: { how: 'points', region: [0.1, 0.1, 0.9, 0.8], hits: 34, points: 100, words: '' } });
  expect(markOf('rusted points 0 0 1 1: 0 of 92 points. below the seam')).toMatchObject({ label: '0 of 92, below the seam', rusted: { hits: 0, points: 92, words: 'below the seam' } });
});

test.each(['Rusted points 0,1 0,1 0,9 0,8: 34 of 100', 'rusted points 0.9 0.8 0.1 0.1: 34 of 100', 'rusted points .1, .1, .9, .8: 34/100', 'rust points 0.1,0.1 0.9,0.8: 34 out of 100', 'rusted point 0.1 0.1 0.9 0.8 : 34 of 100.'])('as people type it: %s', (line) => {
  expect(markOf(line)?.rusted).toEqual({ how: 'points', region: [0.1, 0.1, 0.9, 0.8], hits: 34, points: 100, words: '' });
});

test('an outline is of the whole picture unless a region is written', () => {
  expect(markOf('rusted outline 0.1 0.2, 0.3 0.2, 0.3 0.5')).toMatchObject({ shape: 'rusted outline', numbers: [0.1, 0.2, 0.3, 0.2, 0.3, 0.5], label: '', rusted: { how: 'outline', region: [0, 0, 1, 1], words: '' } });
  expect(markOf('rusted outline 0.1 0.2; 0.3 0.2; 0.3 0.5 in 0.9 0.8 0.1 0.1: below the seam')).toMatchObject({ label: 'below the seam', rusted: { region: [0.1, 0.1, 0.9, 0.8], corners: [[0.1, 0.2], [0.3, 0.2], [0.3, 0.5]], words: 'below the seam' } });
});

// Columns count from 1 in the line as it lies on disk; "- " takes two.
test.each([
  ['rusted points 0.1 0.1 0.9 0.8: 35 of 34', '4:34', /35 of 34 is more than there are/],
  ['rusted points 0.1 0.1 0.9 0.8: ?? of 100', '4:34', /the points are not counted yet/],
  ['rusted points 0.1 0.1 0.9 0.8: 34 %', '4:34', /no count/],
  ['rusted points 0.1 0.1 0.9 0.8: 34.5 of 100', '4:34', /no count of whole points/],
  ['rusted points 0.1 0.1 0.9 0.8: 34 of 1,000', '4:34', /no count/],
  ['rusted points 0.1 0.1 0.9 0.8: 0 of 0', '4:34', /at least one/],
  ['rusted points 0.1 0.1 0.9 0.8: a third', '4:34', /no count/],
  ['rusted points 0.1 0.1 0.9 0.8', '4:3', /no count behind a colon/],
  ['rusted points 0.1 0.1 0.9: 34 of 100', '4:17', /four numbers, not 3/],
  ['rusted points 0.1 0.1 1.9 0.8: 34 of 100', '4:25', /1.9 lies outside of 0 to 1/],
  ['rusted points 0.1 -0.1 0.9 0.8: 34 of 100', '4:21', /-0.1 lies outside/],
  ['rusted points 10 10 90 80: 34 of 100', '4:17', /10 lies outside/],
  ['rusted points 0.1 0.1 0.1 0.8: 34 of 100', '4:17', /no area/],
  ['rusted points on the lower edge: many', '4:17', /"on" is no number/],
] as [string, string, RegExp][])('%s', (line, at, why) => {
  const told = toldOf(line);
  expect(told).toHaveLength(1);
  expect(told[0]).toMatch(new RegExp(`^${at} rusted-points-unclear `));
  expect(told[0]).toMatch(why);
});

test.each([
  ['rusted outline 0.1 0.2, 0.3 0.2', '4:18', /fewer than three corners/],
  ['rusted outline 0.1 0.2, 0.3 0.2, 0.3', '4:18', /lacks its second number/],
  ['rusted outline 0.1 0.1, 0.5 0.5, 0.5 0.1, 0.1 0.5', '4:18', /crosses or touches itself/],
  ['rusted outline 0.1 0.1, 0.3 0.1, 0.5 0.1', '4:18', /crosses or touches itself|no area/],
  ['rusted outline 0.1 0.2, 0.3 0.2, 0.3 1.5', '4:40', /1.5 lies outside of 0 to 1/],
  ['rusted outline 0.1 0.2, 0.3 0.2, 0.3 0.5 in 0.2 0.1 0.9 0.8', '4:18', /0.1 0.2 lies outside of its region/],
  ['rusted outline 0.1 0.2, 0.3 0.2, 0.3 0.5 in 0.2 0.1', '4:47', /four numbers, not 2/],
  ['rusted outline seen in the corner', '4:26', /"the" is no number/],
  ['rusted outline', '4:3', /no numbers/],
] as [string, string, RegExp][])('%s', (line, at, why) => {
  const told = toldOf(line);
  expect(told).toHaveLength(1);
  expect(told[0]).toMatch(new RegExp(`^${at} rusted-outline-unclear `));
  expect(told[0]).toMatch(why);
});

test('a count left open is asked for, and what cannot be read is kept as typed, takes nothing from the finding and is no fact', () => {
  const { notes, notices } = notesOf(`${head}- rusted points 0.1 0.1 0.9 0.8: ?? of 100\n`);
  expect(notes.zones[0]?.entries).toMatchObject([{ type: 'finding', marks: [] }, { type: 'remark', unread: true, words: 'rusted points 0.1 0.1 0.9 0.8: ?? of 100' }]);
  expect(notices[0]?.advice).toContain('Put your count in the place of "??".');
});

test('without a picture above it, it is told so', () => {
  expect(notesOf('# Sill, left\n- rusted points 0.1 0.1 0.9 0.8: 34 of 100\n').notices.map(({ rule }) => rule)).toContain('mark-without-photo');
});

test('words that only begin alike are free words', () => {
  for (const line of ['rust points to a leak above', 'rusty outline of an old patch', 'rusted pointsman']) expect(toldOf(line).join(), line).not.toMatch(/rusted-/);
});

test('whatever stands behind the words: no exception, no number that is none, no word lost', () => {
  const piece = fc.constantFrom('0.1', '0.9', '1', '0', '-1', '1.5', ',', ';', 'in', ':', '34 of 100', '100 of 34', '??', 'zebra', '0,5', '.', '1e400', 'NaN', '0.5,0.5', '٣', '𝟛', 'to', '/');
  fc.assert(fc.property(fc.constantFrom('rusted points', 'rusted outline', 'rust outlines'), fc.array(piece, { maxLength: 14 }), (start, pieces) => {
    const text = `${head}- ${start} ${pieces.join(' ')}\n`;
    const { notes, notices } = notesOf(text);
    const marks = notes.zones.flatMap((zone) => zone.entries.flatMap((entry) => ('marks' in entry ? entry.marks : [])));
    for (const mark of marks) expect(mark.numbers.every((one) => one >= 0 && one <= 1)).toBe(true);
    if (marks.length === 0) expect(notices.length).toBeGreaterThan(0);
    expect(everyWordKept(text)).toEqual([]);
  }), { numRuns: 500 });
});
