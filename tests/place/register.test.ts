import { expect, test } from 'vitest';
import type { RegisterRow, ZoneInspection } from '../../src/model/inspection.ts';
import type { Entry } from '../../src/model/notes.ts';
import type { Notice } from '../../src/model/notice.ts';
import { place } from '../../src/place/index.ts';
import { about, catalogueOf, cavity, count, finding, jobOf, notFitted, notSeen, opening, photo, photoName, told, zone, zoneNotes } from './builders.ts';

function inspect(zoneId: string, entries: Entry[]): { zone: ZoneInspection; rows: RegisterRow[]; notices: Notice[] } {
  const inspection = place(jobOf([zoneNotes(zoneId, entries)], { photos: [photo('a.jpg')] }));
  const found = inspection.zones.find((one) => one.zone.id === zoneId);
  if (!found) throw new Error(`no zone ${zoneId}`);
  return { zone: found, rows: found.rows, notices: inspection.notices };
}

/** `id: known outcome (reason)` without the zone. */
function lines(rows: readonly RegisterRow[]): string[] {
  return rows.map((row) => `${row.id.replace(`${row.zone}--`, '')}: ${row.known} ${row.outcome}${row.reason ? ` (${row.reason})` : ''}`);
}

function rulesOf(notices: readonly Notice[]): string[] {
  return notices.map(({ rule }) => rule).filter((rule) => /^(finding|count)-/.test(rule));
}

const sillUntouched = [
  'drain-slot--bottom-seam: kind not seen (nothing written)',
  'end-cap--front: kind not seen (nothing written)',
  'end-cap--rear: kind not seen (nothing written)',
];

test('a kind nobody wrote about is one row, number unknown, not seen', () => {
  const { rows, zone: sill } = inspect('sill-left', []);
  expect(lines(rows)).toEqual(['plug--inner-face: kind not seen (nothing written)', ...sillUntouched]);
  expect(sill.coverage).toEqual({ known: 0, seen: 0, cannotTell: 0, notFitted: 0, kindsNotCounted: 4 });
});

test('named openings stand in the order of the kinds and of their numbers', () => {
  const { rows, zone: sill } = inspect('sill-left', [10, 2].map((at) => finding(`plug, inner face ${at}: missing`)));
  expect(lines(rows)).toEqual(['plug--inner-face-2: named defect', 'plug--inner-face-10: named defect', ...sillUntouched]);
  expect(sill.coverage).toEqual({ known: 2, seen: 2, cannotTell: 0, notFitted: 0, kindsNotCounted: 3 });
});

test('of two kinds of one part only the one in that place is answered', () => {
  const ids = (text: string): string[] => inspect('sill-left', [finding(text)]).rows.map(({ id, known }) => `${id.split('--').slice(1).join(' ')} ${known}`).filter((id) => id.startsWith('end-cap'));
  expect(ids('end-cap, front: sound')).toEqual(['end-cap front named', 'end-cap rear kind']);
  expect(ids('end-cap: sound')).toEqual(['end-cap named', 'end-cap front kind', 'end-cap rear kind']);
  expect(ids('end-cap, lower rear: sound')).toEqual(['end-cap lower-rear named', 'end-cap front kind']);
  expect(ids('end-cap, front and rear: sound')).toEqual(['end-cap front-and-rear named', 'end-cap rear kind']);
});

test.each([
  ['plug, inner face 1: sound', 'sound', ''],
  ['plug, inner face 1: in-place', 'cannot tell', '“in place” does not tell whether it keeps its purpose'],
  // A plug counts as sound only when it is there, still elastic and held tight: common practice, no source.
  ['plug, inner face 1: sound, loose', 'defect', ''],
  ['plug, inner face 1: sound, in-place', 'sound', ''],
])('the worst condition of a line decides: %s', (text, outcome, reason) => {
  expect(inspect('sill-left', [finding(text)]).rows[0]).toMatchObject({ outcome, reason, seen: true });
});

test('words that name no condition leave it open', () => {
  const { rows } = inspect('sill-left', [finding('plug, inner face 1', { details: ['wobbly-ish'] })]);
  expect(rows[0]).toMatchObject({ outcome: 'cannot tell', seen: true, reason: 'the words name no known condition: wobbly-ish', details: ['wobbly-ish'] });
});

test('told, inferred and unknown ways of looking are not seen, and carry no condition', () => {
  const row = (given: Parameters<typeof finding>[1]): RegisterRow | undefined => inspect('sill-left', [finding('plug, inner face 1: sound', given)]).rows[0];
  expect(row({ origin: told() })).toMatchObject({ outcome: 'not seen', seen: false, origin: 'told', conditions: [], reason: 'told by seller: sound' });
  const inferred = { evidence: 'inferred', through: null, assumed: false };
  expect(row({ looked: inferred })).toMatchObject({ outcome: 'not seen', seen: false, conditions: [], reason: 'inferred, not looked at' });
  expect(row({ looked: { ...inferred, evidence: 'x-ray' } })).toMatchObject({ outcome: 'not seen', seen: false });
});

test('an opinion is marked and cannot tell', () => {
  const opinion = { origin: { kind: 'opinion' } } as const;
  const { rows, zone: sill } = inspect('sill-left', [finding('plug, inner face 1: sound', opinion)]);
  expect(rows[0]).toMatchObject({ outcome: 'cannot tell', origin: 'opinion', reason: 'opinion' });
  expect(sill.coverage).toMatchObject({ known: 1, seen: 1, cannotTell: 1 });
  const doubted = inspect('sill-left', [finding('plug, inner face 1: sound'), finding('plug, inner face 1: loose', opinion)]).rows[0];
  expect(doubted).toMatchObject({ outcome: 'cannot tell', reason: 'opinion: loose' });
  const agreed = inspect('sill-left', [finding('plug, inner face 1: sound'), finding('plug, inner face 1: sound', opinion)]).rows[0];
  expect(agreed).toMatchObject({ outcome: 'sound', origin: 'fact' });
});

test('two findings about one place are one row with both, worst first', () => {
  const entries = [finding('plug, inner face 1: loose', { photos: [photoName('a')] }, 4), finding('plug, Inner  face 1: missing', {}, 8)];
  const { rows, notices } = inspect('sill-left', entries);
  expect(rows[0]).toMatchObject({ id: 'sill-left--plug--inner-face-1', place: 'inner face 1', conditions: ['missing', 'loose'], outcome: 'defect', photos: ['a-jpg'] });
  expect(rows[0]?.findings).toEqual(entries);
  expect(rulesOf(notices)).toEqual([]);
});

test('sound and a defect for one place is a contradiction naming both lines; the worse counts', () => {
  const { rows, notices } = inspect('sill-left', [finding('plug, inner face 1: sound', {}, 4), finding('plug, inner face 1: missing', {}, 8)]);
  expect(rows[0]).toMatchObject({ outcome: 'defect', conditions: ['missing'] });
  expect(notices.find(({ rule }) => rule === 'finding-contradicts')?.found).toBe('“blind plug, inner face 1” is missing at findings.md:8 and sound at findings.md:4');
});

test('hearsay beside a look neither worsens nor contradicts it', () => {
  const { rows, notices } = inspect('sill-left', [finding('plug, inner face 1: sound'), finding('plug, inner face 1: missing', { origin: told() })]);
  expect(rows[0]).toMatchObject({ outcome: 'sound', conditions: ['sound'], seen: true });
  expect(rows[0]?.findings).toHaveLength(2);
  expect(rulesOf(notices)).toEqual([]);
});

test('an opening not seen has its reason, what it takes, and the hours', () => {
  const hours = { low: 1, likely: 1, high: 1, judged: false };
  const place1 = about('plug, inner face 4');
  const { rows } = inspect('sill-left', [notSeen('plug, inner face 4', { about: place1, reason: 'carpet', hours })]);
  expect(rows[0]).toMatchObject({ id: 'sill-left--plug--inner-face-4', known: 'named', outcome: 'not seen', seen: false, reason: 'covered by carpet', toSee: 'not written, usually: lift the carpet', lookHours: hours });
  const worded = inspect('sill-left', [notSeen('plug, inner face 4', { about: place1, reason: 'carpet', reasonWords: 'carpet glued down', toSee: 'cut it' })]).rows[0];
  expect(worded).toMatchObject({ reason: 'carpet glued down', toSee: 'cut it' });
  expect(inspect('sill-left', [notSeen('plug, inner face 4', { about: place1 })]).rows[0]?.reason).toBe('no reason written');
});

test('a kind not seen, number unknown, stays one row with the reason', () => {
  const { rows, zone: sill } = inspect('sill-left', [notSeen('plugs', { about: about('plug'), reasonWords: 'carpet' })]);
  expect(lines(rows)).toEqual(['plug--inner-face: kind not seen (carpet)', ...sillUntouched]);
  expect(sill.coverage.kindsNotCounted).toBe(4);
  const atPlace = inspect('sill-left', [notSeen('plugs, inner face', { about: about('plug, inner face'), reasonWords: 'carpet' })]);
  expect(lines(atPlace.rows)).toEqual(lines(rows));
});

test('beside named ones a kind not seen is a row for the others', () => {
  const { rows, notices } = inspect('sill-left', [finding('plug, inner face 1: sound'), notSeen('plugs', { about: about('plug'), reasonWords: 'carpet' })]);
  expect(lines(rows).slice(0, 2)).toEqual(['plug--inner-face-1: named sound', 'plug: kind not seen (carpet)']);
  expect(rulesOf(notices)).toEqual([]);
});

test('the whole zone not seen gives its reason to every row that has none', () => {
  const { rows } = inspect('sill-left', [finding('end-cap, rear: sound'), notSeen('', { reasonWords: 'cover sill' })]);
  expect(lines(rows)).toEqual([
    'plug--inner-face: kind not seen (cover sill)', 'drain-slot--bottom-seam: kind not seen (cover sill)', 'end-cap--rear: named sound', 'end-cap--front: kind not seen (cover sill)',
  ]);
});

test('free words not seen stay with the zone and touch no row', () => {
  const { rows, zone: sill } = inspect('sill-left', [notSeen('rear third', { reasonWords: 'strip' }), finding('end-cap, rear: sound')]);
  expect(lines(rows)[0]).toBe('plug--inner-face: kind not seen (nothing written)');
  expect(sill.notSeen.map(({ entry }) => entry.what)).toEqual(['rear third']);
});

test('what is seen and written as not seen or not fitted is a contradiction; the look counts', () => {
  const seen = finding('plug, inner face 1: sound', {}, 4);
  for (const entry of [notSeen('it', { about: about('plug, inner face 1') }), notFitted('it', { about: about('plug, inner face 1') }), notFitted('it', { about: about('plug') })]) {
    const { rows, notices } = inspect('sill-left', [seen, entry]);
    expect(rows[0]).toMatchObject({ outcome: 'sound', seen: true });
    expect(rulesOf(notices)).toEqual(['finding-contradicts']);
  }
});

test('not fitted is a row of its own, out of the known; what was only told so is not seen', () => {
  const { rows, zone: sill } = inspect('sill-left', [notFitted('end cap', { about: about('end-cap, rear'), words: 'never had one' }), finding('plug, inner face 1: sound')]);
  expect(lines(rows)).toContain('end-cap--rear: kind not fitted (not fitted: never had one)');
  expect(sill.coverage).toEqual({ known: 1, seen: 1, cannotTell: 0, notFitted: 1, kindsNotCounted: 2 });
  const hearsay = inspect('sill-left', [notFitted('end cap', { about: about('end-cap, rear'), origin: told() })]);
  expect(lines(hearsay.rows)).toContain('end-cap--rear: kind not seen (told by seller: not fitted)');
  expect(lines(inspect('sill-left', [notFitted('end caps', { about: about('end-cap') })]).rows).filter((line) => line.includes('not fitted (not fitted)'))).toHaveLength(2);
});

test('an opening the shell is not expected to have still gets its row', () => {
  const { rows } = inspect('sill-left', [finding('vent, rear: blocked'), notSeen('x', { about: about('vent, front') })]);
  expect(lines(rows).slice(-2)).toEqual(['vent--front: named not seen (no reason written)', 'vent--rear: named defect']);
  expect(rows.at(-1)).toMatchObject({ cavity: 'outer-cell', exposure: 'wheel spray' });
});

test('exposure and cavity are the record’s unless exposure is said', () => {
  const { rows } = inspect('sill-left', [finding('drain-slot, bottom seam 2: blocked', { about: { ...about('drain-slot, bottom seam 2'), exposure: 'wheel spray' } })]);
  const slot = rows.find(({ part }) => part.id === 'drain-slot');
  expect(slot).toMatchObject({ exposure: 'wheel spray', cavity: 'outer-cell' });
  expect(inspect('sill-left', []).rows.find(({ part }) => part.id === 'drain-slot')?.exposure).toBe('road spray');
});

test('a plug on an inner face takes the wheel spray of another opening of its cavity', () => {
  const exposureOf = (entries: Entry[]): string | undefined => inspect('sill-left', entries).rows.find(({ part }) => part.id === 'plug')?.exposure;
  const plug = finding('plug, inner face 1: missing');
  expect(exposureOf([plug])).toBe('wheel spray');
  expect(exposureOf([])).toBe('wheel spray');
  expect(exposureOf([plug, notFitted('', { about: about('end-cap, rear') })])).toBe('indoors');
  expect(exposureOf([{ ...plug, about: { ...plug.about, exposure: 'indoors' } }])).toBe('indoors');
  expect(exposureOf([finding('plug, tread: missing')])).toBe('indoors');
});

test('the same opening on the other side is its partner', () => {
  const inspection = place(jobOf([zoneNotes('sill-left', [finding('plug, inner face 1: sound')]), zoneNotes('sill-right', [finding('plug, inner face 1: loose'), finding('plug, inner face 2: loose')])]));
  const partners = Object.fromEntries(inspection.zones.flatMap(({ rows }) => rows.map(({ id, partner }) => [id, partner])));
  expect(partners).toMatchObject({
    'sill-left--plug--inner-face-1': 'sill-right--plug--inner-face-1', 'sill-right--plug--inner-face-1': 'sill-left--plug--inner-face-1',
    'sill-right--plug--inner-face-2': null, 'sill-left--end-cap--rear': 'sill-right--end-cap--rear', 'boot-floor--drain-slot': null,
  });
});

test('anchors are ASCII and unique whatever a place is called', () => {
  const { rows } = inspect('sill-left', ['à côté', 'a cote', 'сзади', '!!'].map((where) => finding(`vent, ${where}: blocked`)));
  const ids = rows.map(({ id }) => id);
  expect(new Set(ids).size).toBe(ids.length);
  for (const id of ids) expect(id).toMatch(/^[a-z0-9]+(-+[a-z0-9]+)*$/);
});

test('what is no opening is an observation with its load', () => {
  const job = jobOf([zoneNotes('box', [finding('metal-inside, crown: scaling'), finding('metal-inside, tail: sound'), finding('water: sound', { origin: told() })])], {
    catalogue: catalogueOf({ zones: [zone('box', { carries: 'part', openings: [opening('plug', '', 'road spray', 'crown')], cavities: [cavity('crown', true), cavity('tail')] })] }),
  });
  const { observations } = place(job).zones[0]!;
  expect(observations.map(({ id, outcome, structure }) => [id, outcome, structure])).toEqual([
    ['box--metal-inside--crown', 'defect', true], ['box--metal-inside--tail', 'sound', false], ['box--water', 'not seen', true],
  ]);
});

test('a count of what is no opening, and a part the catalogue lacks, are kept as remarks', () => {
  const { zone: sill, notices } = inspect('sill-left', [count('water', 3), finding('gizmo: sound')]);
  expect(sill.remarks.map(({ entry }) => entry.text)).toEqual(['waters: 3', 'gizmo: sound']);
  expect(notices.map(({ rule }) => rule)).toEqual(expect.arrayContaining(['count-no-opening', 'part-unknown']));
});
