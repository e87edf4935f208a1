import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Work, WorkDone } from '../../src/model/notes.ts';
import { everyWordKept, notesOf, rulesOf } from './notes-helper.ts';

function works(lines: string): Work[] {
  return (notesOf(`# Sill, left\n${lines}`).notes.zones[0]?.entries ?? []).filter((entry) => entry.type === 'work');
}

/** What was done, of the first line of work. */
function done(line: string): WorkDone {
  const first = works(line)[0]?.done[0];
  if (!first) throw new Error(`no work done in ${line}`);
  return first;
}

test('a line of work done: date, words, hands, batch, hours', () => {
  expect(done('- done: 2026-05-02, waxed, J. Arden, batch 4411, 1.5 h')).toMatchObject({
    date: '2026-05-02', did: ['waxed'], hands: ['J. Arden'], materials: [{ name: '', batch: '4411' }], hours: { low: 1.5, high: 1.5 }, kinds: ['wax'],
    details: ['waxed', 'J. Arden', 'batch 4411', '1.5 h'],
  });
});

test('everything at once, in any order behind the date', () => {
  const pieces = ['waxed with Tarn cavity wax', 'lot A-17', 'J. Arden and Mary Cole', '1 h 30 min', 'EUR 95', 'invoice no. 2026/118', 'conserved', 'not reversible', 'old plug kept', 'tin in boot'];
  const one = done(`- done: 2026-05-04, ${pieces.join(', ')}`);
  expect(one).toMatchObject({
    did: ['waxed with Tarn cavity wax'], hands: ['J. Arden', 'Mary Cole'], materials: [{ name: 'Tarn cavity wax', batch: 'A-17', words: '' }], hours: { likely: 1.5 }, cost: { minor: 9500, currency: 'EUR' },
    invoices: [{ number: '2026/118', words: '' }], treatments: ['conserved'], reversible: 'not reversible', kept: ['old plug, tin in boot'],
  });
  const turned = done(`- done: 2026-05-04, ${[...pieces.slice(2), ...pieces.slice(0, 2)].join(', ')}`);
  expect({ ...turned, text: '', details: [], kept: [] }).toEqual({ ...one, text: '', details: [], kept: [] });
});

test.each([
  ['by J. Arden', ['J. Arden']], ['waxed by Arden', ['Arden']], ['J.A.', ['J.A.']], ["M. O'Brien & P. van der Berg", ["M. O'Brien", 'P. van der Berg']], ['Quarry Lane Bodyworks', ['Quarry Lane Bodyworks']], ['Jean-Luc Émile', ['Jean-Luc Émile']], ['H. Bond and Sons', ['H. Bond and Sons']],
])('"%s" names hands', (piece, hands) => {
  expect(done(`- done: 2026-05-02, mended it, ${piece}`).hands).toEqual(hands);
});

test.each(['by hand', 'Waxed', 'Sill Left', 'Cavity Wax', 'Waxoyl Clear', 'Dinitrol', 'Inner Face', 'MIG', 'new Plug', 'a lot of rust', 'lot of 3', 'batch', 'invoice to follow', 'kept dry', 'drains kept open', 'reversible joint', 'Painted Twice'])('"%s" stays words of what was done', (piece) => {
  const one = done(`- done: 2026-05-02, mended it, ${piece}`);
  expect(one.did).toEqual(['mended it', piece]);
  expect(one).toMatchObject({ hands: [], materials: [], invoices: [], kept: [], reversible: '' });
});

test.each([['preserved', 'conserved'], ['replaced', 'changed'], ['maintained', 'cared for'], ['Cared for', 'cared for'], ['restored', 'restored'], ['repaired', 'repaired']])('"%s" is the treatment "%s"', (typed, treatment) => {
  expect(done(`- done: 2026-05-02, mended it, ${typed}`).treatments).toEqual([treatment]);
  expect(everyWordKept(`# Sill, left\n- done: 2026-05-02, mended it, ${typed}`)).toEqual([]);
});

test('several times are added up, waiting is no work, and a time that cannot be counted stays words', () => {
  expect(done('- done: 2026-05-02, welded 2 h, ground back 1 h').hours).toEqual({ low: 3, likely: 3, high: 3, judged: false });
  expect(done('- done: 2026-05-02, dried 24 h').hours).toBeNull();
  const backwards = done('- done: 2026-05-02, waxed, 3-2 h');
  expect([backwards.hours, backwards.did]).toEqual([null, ['waxed', '3-2 h']]);
  expect(rulesOf('# Sill, left\n- done: 2026-05-02, waxed, 3-2 h')).toEqual(['hours-reversed']);
});

test('a bare number is money only right behind hours, as in a line of work to do', () => {
  expect(done('- done: 2026-05-02, waxed, 2 h, 35').cost?.minor).toBe(3500);
  expect(done('- done: 2026-05-02, waxed, 35')).toMatchObject({ cost: null, did: ['waxed', '35'] });
});

test('lines under it say the same, and more', () => {
  const one = done([
    '- done: 2026-05-02, waxed', '  - hands: J. Arden, M. Cole', '  - material: cavity wax, batch 4411, 0.5 l', '  - material: primer', '  - batch: 7', '  - invoice: 2026/118, paid in May',
    '  - kept: old plug, tin in boot', '  - kind: preserved', '  - reversible: yes',
  ].join('\n'));
  expect(one).toMatchObject({
    hands: ['J. Arden', 'M. Cole'], materials: [{ name: 'cavity wax', batch: '4411', words: '0.5 l' }, { name: 'primer', batch: '7', words: '' }], invoices: [{ number: '2026/118', words: 'paid in May' }],
    kept: ['old plug, tin in boot'], treatments: ['conserved'], reversible: 'reversible',
  });
  expect(one.lines).toHaveLength(8);
  expect(done('- done: 2026-05-02, waxed\n  - reversible: no').reversible).toBe('not reversible');
  expect(done('- done: 2026-05-02, waxed\n  - reversible: partly, with a heat gun').reversible).toBe('partly, with a heat gun');
  expect(done('- done: 2026-05-02, waxed\n  - kind: gilded').treatments).toEqual(['gilded']);
});

test('a word that every object of the language has is a word like others', () => {
  expect(done('- done: 2026-05-02, constructor, valueOf, waxed')).toMatchObject({ did: ['constructor', 'valueOf', 'waxed'], treatments: [] });
});

test('hours as a line under it count where the line has none of its own', () => {
  const text = '- done: 2026-05-02, waxed\n  - hours: 3 h\n';
  expect(done(text)).toMatchObject({ hours: { low: 3, high: 3 }, did: ['waxed'] });
  expect(works(text)[0]?.done[0]?.lines.map((line) => line.text)).toEqual(['hours: 3 h']);
  expect(done('- done: 2026-05-02, waxed, 1 h\n  - hours: 3 h\n').hours).toMatchObject({ likely: 1 });
});

test('under work still to do they belong to it; without any work they are remarks', () => {
  const [work] = works('- do: wax. 2 h\n  - hands: J. Arden\n  - kept: old plug\n  - done: 2026-05-02, waxed\n  - kind: conserved');
  expect(work?.particulars).toMatchObject({ hands: ['J. Arden'], kept: ['old plug'] });
  expect(work?.done[0]).toMatchObject({ hands: [], treatments: ['conserved'] });
  expect(rulesOf('# Sill, left\n- hands: J. Arden')).toEqual(['part-unknown']);
});

test('without an indent, as phones lose it: what only a work can have is taken, a note of the zone stays one', () => {
  const text = '- done: 2026-05-02, waxed\n- hands: J. Arden\n- kept: old plug';
  expect(works(text)[0]?.done[0]).toMatchObject({ hands: ['J. Arden'], kept: [] });
  expect(notesOf(`# Sill, left\n${text}`).notes.zones[0]?.entries.at(-1)).toMatchObject({ type: 'note', key: 'kept' });
  expect(works('- done: 2026-05-02, waxed\n- plug: sound\n- kind: odd')[0]?.done[0]?.treatments).toEqual([]);
});

test('a line of work done by itself is a work that is done; only without words of what was done is it a remark', () => {
  const [work, other] = works('- done: 2026-05-02, waxed, 1 h\n- done: 2026-05-03, plugs fitted');
  expect(work).toMatchObject({ unplanned: true, steps: 'waxed', kinds: ['wax'], hours: null, cost: null });
  expect(other).toMatchObject({ unplanned: true, steps: 'plugs fitted' });
  expect(rulesOf('# Sill, left\n- done: 2026-05-02, waxed, 1 h')).toEqual([]);
  expect(rulesOf('# Sill, left\n- done: 2026-05-02, J. Arden')).toEqual(['work-missing']);
  expect(rulesOf('# Sill, left\n- done: waxed')).toEqual(['date-unclear']);
});

test('it closes the work above it where it is under it, or of its kind', () => {
  expect(works('- do: wax. 1 h\n  - done: 2026-05-02, welded')).toHaveLength(1);
  expect(works('- do: wax, fit plugs. 1 h\n- done: 2026-05-02, plugs fitted')).toHaveLength(1);
  // Other work does not close it: what is to do stays to do.
  expect(works('- do: wax. 1 h\n- done: 2026-05-02, welded').map((work) => work.done.length)).toEqual([0, 1]);
});

test('a photo in the line is a photo of the work, a batch that looks like one is none', () => {
  expect(works('- done: 2026-05-02, waxed. IMG_4401')[0]?.photos.map((photo) => photo.text)).toEqual(['IMG_4401']);
  expect(works('- done: 2026-05-02, waxed, batch IMG_4401')[0]?.photos).toEqual([]);
});

test('a line of many thousand words is read in a moment', () => {
  const begun = performance.now();
  for (const words of ['J. Arden and ', 'batch ', 'kept ', 'by Arden, ', 'with ']) notesOf(`# Sill, left\n- done: 2026-05-02, ${words.repeat(10_000)}`);
  expect(performance.now() - begun).toBeLessThan(20_000);
});

const piece = fc.oneof(
  fc.constantFrom('waxed', 'J. Arden', 'by Arden', 'batch 4411', 'lot', 'wax batch 7', 'invoice 2026/1', 'old plug kept', 'tin in boot', 'kept in the tin', 'reversible', 'not reversible', 'gilded', 'Sill Left', 'IMG_4401', 'zebra EUR', '<b>', 'J.', ',', '4411', 'new Plug x 4', '狐'),
  fc.string({ maxLength: 12 }),
);

test('no word of a line of work done is lost, whatever was typed', () => {
  const words = (text: string): string[] => text.normalize('NFC').toLowerCase().match(/[\p{L}\p{N}]+/gu) ?? [];
  fc.assert(fc.property(fc.array(piece, { minLength: 1, maxLength: 8 }).map((all) => all.join(', ').replace(/[\r\n]/g, ' ')), (line) => {
    const text = `# Sill, left\n- do: look\n  - done: 2026-05-02, ${line}`;
    const entry = works(`- do: look\n  - done: 2026-05-02, ${line}`)[0]?.done[0];
    if (!entry) return;
    const { did, hands, materials, invoices, kept, treatments, reversible, cost, hours } = entry;
    const photos = works(`- do: look\n  - done: 2026-05-02, ${line}`)[0]?.photos.map((photo) => photo.text) ?? [];
    const have = new Set([did, hands, kept, treatments, photos, [reversible, cost?.text ?? ''], materials.flatMap(Object.values), invoices.flatMap(Object.values)].flat().flatMap(words));
    // What opens a piece stands in the heading of its column; times stand as their sum.
    const opening = new Set(['batch', 'lot', 'invoice', 'inv', 'bill', 'by', 'kept', 'no', 'not', 'and', 'was', 'were', 'is', 'are']);
    const details = entry.details.join(' ');
    if (hours === null) expect(words(details).filter((word) => !have.has(word) && !opening.has(word))).toEqual([]);
    expect(everyWordKept(text)).toEqual([]);
  }), { numRuns: 400 });
});
