import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Work } from '../../src/model/notes.ts';
import { kindsIn } from '../../src/model/works.ts';
import { catalogue, notesOf } from './notes-helper.ts';

/** Ids of the kinds a text names, in its order. */
function kinds(words: string): string {
  return kindsIn(catalogue, words).map((kind) => kind.id).join(' ');
}

function read(lines: string): { work: Work; rules: string[]; found: string[] } {
  const { notes, notices } = notesOf(`# Visit\n\n- seen: 2026-03-14 10:00-11:00, Europe/Dublin\n\n# Sill, left\n\n${lines}\n`);
  const work = notes.zones[0]?.entries.find((entry) => entry.type === 'work');
  if (!work) throw new Error('no work read');
  return { work, rules: notices.map((notice) => notice.rule), found: notices.map((notice) => notice.found) };
}

/** Likely hours, those of waiting, and the parts as "clean 1, weld 3". */
function times(line: string): [number | null, number | null, string] {
  const { work } = read(`- do: ${line}`);
  return [work.hours?.likely ?? null, work.waits?.likely ?? null, work.split.map((share) => `${share.kinds.join('+')} ${share.hours.likely}`).join(', ')];
}

// What workshops type and mean: common practice, no source.
test.each([
  ['wash out, dry, open the drain slots, wax through the inner face, fit 4 plugs', 'clean dry open-drain wax plug'],
  ['wash out, new grommet on the cable, new plug, touch in the rust', 'clean plug treat paint'],
  ['clean back, examine the weld, fit 1 plug', 'clean inspect plug'],
  ['flush both tubes from below, pour again', 'open-drain leak-test'],
  ['wash the bowl out', 'clean'],
  ['take the undershield off', 'strip'],
  ['take the mat and the carpet out', 'strip'],
  ['wash out dry wax fit 4 plugs', 'clean dry wax plug'],
  ['battery off, fuel tank out, photos, bag and label', 'battery-off fuel-out photograph label'],
  ['brace the shell, check the door gaps, cut out, let in new metal, weld, let cool', 'brace cut patch weld cool'],
  ['prime the weld, seam sealer, top coat', 'prime seal paint'],
  ['waxed, let the wax drip, drains open again, plugs in, membranes, trim back', 'wax wipe reopen-drain plug membrane refit'],
  ['Rust-proofed & plugs', 'wax plug'],
  ['plug weld the patch', 'weld'],
  ['weld a patch', 'weld patch'],
  ['braze/wax', 'weld wax'],
  ['wax, plugs 0.5 h', 'wax plug'],
  ['seal the drain holes shut', 'shut-drain'],
  ['leave the plugs out', 'leave-open'],
  ['new outer sill', 'replace-panel'],
  ['replace the rear section', 'replace-section'],
  ['water test after sealing', 'leak-test'],
  ['look again in October', 'look-again'],
])('%s', (words, ids) => {
  expect(kinds(words)).toBe(ids);
});

test.each([
  ['no welding'], ['do not wax'], ["don't weld"], ['not waxed'], ['never painted'], ['without welding or brazing'], ['welding not needed'], ['wax is not done'],
  ['replace or patch?'], ['the old wax'], ['leave it under the paint'], ['weld line'], ['boot seal'], ['keep dry'], ['before welding'], ['until dry'],
])('"%s" names no work', (words) => {
  expect(kinds(words)).toBe('');
});

test('what is negated, put off or looked at leaves the rest of the line alone', () => {
  expect(kinds('not waxed but primed')).toBe('prime');
  expect(kinds("don't weld, seal the seam")).toBe('seal');
  expect(kinds('waxed after the welding')).toBe('wax');
  expect(kinds('clean, after that wax')).toBe('clean wax');
  expect(kinds('3 h for welding')).toBe('weld');
  expect(kinds('examine and weld')).toBe('inspect weld');
  expect(kinds('check the weld and seal the seam')).toBe('inspect seal');
  expect(kinds('remove the old wax')).toBe('clean');
  expect(kinds('cut out the perished grommet')).toBe('strip');
});

test('a part made for a panel is no new panel, and a new seal no seam sealer', () => {
  expect(kinds('new sill plugs')).toBe('plug');
  expect(kinds('new wing rubber')).toBe('plug');
  expect(kinds('new door seal')).toBe('plug');
  expect(kinds('new drain tube')).toBe('open-drain');
});

test('every spelling of a record is found as its kind, and not where it is negated', () => {
  for (const kind of catalogue.works) {
    for (const spelling of [kind.name.gb, kind.name.us, ...kind.also, ...kind.alone, ...kind.beside]) {
      for (const words of [spelling.replaceAll('… ', ''), spelling.replaceAll('…', 'the inner')]) {
        expect(kindsIn(catalogue, words).map((one) => one.id), words).toContain(kind.id);
        expect(kinds(`never ${words}`), words).toBe('');
      }
    }
    for (const word of kind.alone) expect(kinds(`wax, 3 ${word}s`), word).toContain(kind.id);
  }
});

test('any words at all: each kind once, the same every time', () => {
  const some = fc.constantFrom('wax', 'weld', 'not', 'the', 'fit', '4', 'plugs', 'open', 'drain', 'again', 'and', ',', '?', 'take', 'out', 'examine', "don't", 'h', '…', 'after', 'new', 'sill');
  fc.assert(fc.property(fc.oneof(fc.array(some, { maxLength: 30 }).map((words) => words.join(' ')), fc.string({ unit: 'binary' })), (words) => {
    const found = kinds(words).split(' ');
    expect(new Set(found).size).toBe(found.length);
    expect(kinds(words)).toBe(found.join(' '));
  }));
});

test('a line of a hundred thousand words is read in a moment', () => {
  for (const words of ['wax ', 'inspect wax ', 'take the ', 'open wax and ']) expect(kindsIn(catalogue, words.repeat(50_000)).length, words).toBeLessThan(4);
}, 20_000);

test('work carries its kinds; what was done those of its own words, else those of the work', () => {
  const { work } = read('- do: wash out, dry, wax\n  - done: 2026-05-02, waxed, J. Arden, batch 4411, 1.5 h\n  - done: 2026-05-03, J. Arden');
  expect(work.kinds).toEqual(['clean', 'dry', 'wax']);
  expect(work.done.map((done) => done.kinds)).toEqual([['wax'], ['clean', 'dry', 'wax']]);
});

test('one time stands for the whole line, several for what each stands with', () => {
  expect(times('wash out, dry, wax. 2-3 h')).toEqual([2.5, null, '']);
  expect(times('2 h: clean, wax')).toEqual([2, null, '']);
  expect(times('clean, wax, 2 h')).toEqual([2, null, '']);
  expect(times('clean 1 h, weld 3 h, wax 0.5 h')).toEqual([4.5, null, 'clean 1, weld 3, wax 0.5']);
  expect(times('1 h clean, 3 h for welding, wax 30 min')).toEqual([4.5, null, 'clean 1, weld 3, wax 0.5']);
  expect(times('clean, weld 3 h, wax 1 h')).toEqual([4, null, 'clean+weld 3, wax 1']);
  expect(times('turn it over 2 h, weld 3 h')).toEqual([5, null, ' 2, weld 3']);
});

test('low, likely and high are summed each, and a sum is judged only where all of it is', () => {
  expect(read('- do: clean 1 h, weld 2/3/5 h').work.hours).toEqual({ low: 2.8, likely: 4, high: 6.4, judged: false });
  expect(read('- do: clean 1 h, weld 2 h').work.hours).toEqual({ low: 2.4, likely: 3, high: 4.2, judged: true });
});

test('drying takes time and is no hours of work', () => {
  expect(times('dry. 24 h')).toEqual([null, 24, '']);
  expect(times('wash out, dry 24 h, wax. 2 h')).toEqual([2, 24, '']);
  expect(times('wash out 1 h, dry 24 h, wax 2 h')).toEqual([3, 24, 'clean 1, wax 2']);
});

test('hours and minutes together, and ranges with a word or two units, are one time', () => {
  expect(times('weld 1 h 30 min')).toEqual([1.5, null, '']);
  expect(read('- do: weld 2 to 3 h').work.hours).toEqual({ low: 2, likely: 2.5, high: 3, judged: false });
  expect(read('- do: weld 2 h - 3 h').work.hours).toEqual({ low: 2, likely: 2.5, high: 3, judged: false });
  expect(read('- do: weld 30 min to 1 h').work.hours).toEqual({ low: 0.5, likely: 0.75, high: 1, judged: false });
});

test.each([
  ['weld, about two hours', 'hours-in-words', null], ['weld half a day', 'hours-in-words', null], ['weld ½ h', 'hours-in-words', null], ['clean 1 h, weld a day', 'hours-in-words', 1],
  ['weld 1/2 h', 'hours-unclear', null], ['weld 1,500 h', 'hours-unclear', null], ['wax 1 h each', 'hours-unclear', null], ['wax 2 x 1 h', 'hours-unclear', null],
  ['weld 0 h', 'hours-unlikely', null], ['weld 3000 h', 'hours-unlikely', null], ['clean 900 h, weld 900 h, wax 900 h', 'hours-unlikely', null],
  ['clean 1 h, weld 3-2 h', 'hours-reversed', null], ['clean 1 h, weld 3 h. 6 h in all', 'hours-disagree', 4], ['clean 1 h, weld 3 h, wax', 'hours-partial', 4],
])('"%s" gets %s', (line, rule, likely) => {
  const { work, rules } = read(`- do: ${line}`);
  expect(rules.filter((one) => one.startsWith('hours'))).toContain(rule);
  expect(work.hours?.likely ?? null).toBe(likely);
});

test('waiting in words, a true total and drying without a time are in order', () => {
  for (const line of ['dry two days, wax 1 h', 'wax 1 h, leave for two days', 'clean 1 h, weld 3 h, 4 h in all', 'clean 1 h, dry, wax 1 h', 'wax 1400 h', 'wax. 2 h']) {
    expect(read(`- do: ${line}`).rules.filter((rule) => rule.startsWith('hours')), line).toEqual([]);
  }
  expect(read('- do: wax 1 h, look again after two weeks').rules).not.toContain('hours-in-words');
});

test('a notice says which work has no time', () => {
  expect(read('- do: clean 1 h, weld 3 h, wax').found).toContain('No hours for "wax", beside times for the rest');
});
