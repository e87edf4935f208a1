import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { dossierSchema } from '../../src/model/dossier.ts';
import type { Dossier } from '../../src/model/dossier.ts';
import { requiredSections } from '../../src/model/edition.ts';
import { editionIds } from '../../src/read/editions.ts';
import { wordsIn } from '../../src/model/wording.ts';
import { anchorsOf } from '../../src/write/inline.ts';
import type { Judged } from './builders.ts';
import { dossierOf, everything, inlinesOf, judged, textOf, wordsOf } from './builders.ts';

const sampleText = readFileSync('sample-job/2026-03-14/findings.md', 'utf8');
const jobs: Record<string, Judged> = {
  'a bit of everything': judged(everything, ['IMG_1.jpg', 'IMG_2.jpg', 'loose.jpg', 'Sill, left/IMG_3.jpg']),
  'the sample': judged(sampleText, ['IMG_4021.jpg', 'IMG_4022.jpg', 'SC_0007.jpg']),
  'nothing at all': judged(''),
  'photos only': judged('', ['IMG_1.jpg', 'boot floor/IMG_2.jpg']),
  'American, inches': judged(everything, ['IMG_1.jpg'], { language: 'en-US', units: 'in' }),
};
const all = Object.entries(jobs).flatMap(([job, from]) => editionIds().map((edition): [string, Dossier, Judged] => [`${job}, ${edition}`, dossierOf(from, edition), from]));

test.each(all)('satisfies the schema: %s', (_name, dossier) => {
  expect(dossierSchema.safeParse(dossier).error?.issues ?? []).toEqual([]);
});

test.each(all)('anchors are unique and every link leads somewhere: %s', (_name, dossier, { inspection }) => {
  const anchors = anchorsOf(dossier.sections);
  expect(anchors.filter((anchor, index) => anchors.indexOf(anchor) !== index)).toEqual([]);
  const targets = dossier.sections.flatMap((section) => section.blocks).flatMap(inlinesOf).flat().flatMap((part) => (typeof part === 'string' || !part.href?.startsWith('#') ? [] : [part.href.slice(1)]));
  expect(targets.filter((target) => !anchors.includes(target))).toEqual([]);
  const zones = dossier.sections.flatMap((section) => section.blocks).flatMap((block) => (block.type === 'zones' ? block.items.map((item) => item.zone) : []));
  expect(zones.filter((zone) => !anchors.includes(zone))).toEqual([]);
  const folded = inspection.zones.flatMap((zone) => zone.rows).filter((row) => row.known === 'kind' && row.outcome === 'not seen' && row.findings.length === 0).map((row) => row.id);
  expect(dossier.register.map((row) => row.id).filter((id) => !anchors.includes(id) && !folded.includes(id))).toEqual([]);
  expect(dossier.photos.map((photo) => `photo-${photo.id}`).filter((id) => !anchors.includes(id))).toEqual([]);
  expect(dossier.photos.flatMap((photo) => photo.zones).filter((zone) => !anchors.includes(zone))).toEqual([]);
});

test.each(all)('sections of a page are neighbours, index first, one link a page, nine at most: %s', (_name, dossier) => {
  const pages = dossier.sections.map((section) => section.page);
  const starts = pages.filter((page, index) => page !== pages[index - 1]);
  expect(new Set(starts).size).toBe(starts.length);
  expect(starts[0]).toBe('index');
  const named = dossier.sections.filter((section) => section.nav !== undefined);
  expect(new Set(named.map((section) => section.page)).size).toBe(named.length);
  expect(named.length).toBeLessThanOrEqual(9);
});

test.each(all)('every zone, row, photo, notice and observation is there: %s', (_name, dossier, { inspection, plan }) => {
  expect(dossier.register.map((row) => row.id)).toEqual(inspection.zones.flatMap((zone) => zone.rows.map((row) => row.id)));
  expect(dossier.photos.map((photo) => photo.file)).toEqual(inspection.photos.map((placed) => placed.photo.path));
  for (const notice of [...inspection.job.notices, ...inspection.notices, ...plan.notices]) expect(dossier.notices).toContainEqual(notice);
  const anchors = anchorsOf(dossier.sections);
  for (const zone of inspection.zones) {
    expect(anchors).toContain(zone.zone.id);
    for (const one of zone.observations) expect(anchors).toContain(one.id);
  }
});

test.each(all)('kinds nobody counted are named with their zone, and each zone without a word has its line: %s', (_name, dossier, { inspection }) => {
  const textOfSection = (id: string): string => textOf(dossier.sections.find((section) => section.id === id)?.blocks ?? []);
  const register = dossier.sections.find((section) => section.id === 'register')?.blocks.find((block) => block.type === 'table');
  for (const zone of inspection.zones) {
    const kinds = zone.rows.filter((row) => row.known === 'kind' && row.outcome === 'not seen');
    for (const row of kinds.filter(() => zone.entered)) expect(textOfSection(zone.zone.id), row.id).toContain(wordsIn(row.place, dossier.language));
    const lines = register?.rows.filter((row) => row.cells[0]?.inline.some((part) => typeof part !== 'string' && part.href === `#${zone.zone.id}`)) ?? [];
    if (!zone.entered) expect(lines.map((line) => line.cells[1]?.inline.join('')), zone.zone.id).toEqual([`${kinds.length === 1 ? 'one kind' : `${kinds.length} kinds`} not counted`]);
  }
});

test.each(all)('coverage stands with the summary, the register, the unseen and the cover: %s', (_name, dossier) => {
  const words = dossier.coverage.words.toLowerCase();
  for (const id of ['summary', 'register', 'not-seen']) {
    const section = dossier.sections.find((one) => one.id === id);
    expect(textOf(section?.blocks ?? []).toLowerCase(), id).toContain(words);
  }
});

// Cautions and the list of sources carry titles of others' publications; all else is ours, the catalogue's or the inspector's.
const forbidden = [/\bgenuine/i, /\bauthentic/i, /(?<!no structural )\bcertif/i, /\bguarantee/i, /\bsafe(ly)?\b/i, /\b(pass|fail)(es|ed|s)? (the|a|an|any|its)? ?(test|inspection|MOT)\b/i, /\bfair price/i, /\bundefined\b|\bnull\b|\bNaN\b|\[object/, / {2}/, /\.\.(?!\.)/, / [,.;:](?![\w.])/, /\b(1|one) (openings|zones|plugs|photos|steps|kinds|files|views)\b/, /\b0 (opening|zone|photo|kind|file) /];

test.each(all)('says nothing it must not, in whole sentences: %s', (_name, dossier) => {
  const text = dossier.sections.flatMap((section) => section.blocks).filter((block) => block.type !== 'caution' && !(block.type === 'table' && block.caption === 'Sources of the records')).map((block) => textOf([block])).join('\n');
  const lines = text.split('\n').filter((line) => forbidden.some((rule) => rule.test(line)));
  expect(lines).toEqual([]);
});

test.each(Object.entries(jobs))('every word written is in every edition: %s', (_name, from) => {
  const source = _name === 'the sample' ? sampleText : _name === 'a bit of everything' ? everything : '';
  const words = new Set((source.toLowerCase().match(/[a-z]{3,}/g) ?? []).filter((word) => !['baseline'].includes(word)));
  for (const edition of editionIds()) {
    const out = JSON.stringify(dossierOf(from, edition)).toLowerCase();
    expect([...words].filter((word) => !out.includes(word))).toEqual([]);
  }
});

test('an empty job is an honest dossier: everything unseen', () => {
  const dossier = dossierOf(judged(''));
  expect(dossier.coverage).toMatchObject({ known: 0, seen: 0 });
  expect(dossier.register.every((row) => row.outcome === 'not seen')).toBe(true);
  expect(wordsOf(dossier)).toContain('Nothing was seen of this body, so nothing can be said about it yet');
  expect(dossier.sections.filter((section) => section.page.startsWith('zones/'))).toEqual([]);
  expect(dossier.seenOn).toBeNull();
});

test('editions differ in order and depth, never in what was seen', () => {
  const from = jobs['a bit of everything'] ?? judged('');
  const made = editionIds().map((id) => dossierOf(from, id));
  expect(new Set(made.map((one) => one.sections.map((section) => section.id).join())).size).toBe(made.length);
  for (const one of made) {
    expect(one.register).toEqual(made[0]?.register);
    expect(one.coverage).toEqual(made[0]?.coverage);
    expect(one.photos).toEqual(made[0]?.photos);
    for (const id of requiredSections.filter((each) => each !== 'zone-pages')) expect(one.sections.some((section) => section.id === id), id).toBe(true);
  }
});

test('the evidence edition gives no advice', () => {
  const dossier = dossierOf(jobs['a bit of everything'] ?? judged(''), 'evidence');
  expect(dossier.sections.some((section) => section.id === 'steps')).toBe(false);
  expect(textOf(dossier.sections[0]?.blocks ?? [])).not.toMatch(/first thing to do|have (it|both|all \d+) examined/);
});

test('fact, opinion and hearsay are marked', () => {
  const zone = dossierOf(jobs['a bit of everything'] ?? judged('')).sections.find((section) => section.id === 'sill-left');
  const remarks = zone?.blocks.filter((block) => block.type === 'remark') ?? [];
  expect(remarks.map((remark) => [remark.origin, remark.by])).toEqual(expect.arrayContaining([['told', 'seller'], ['opinion', undefined]]));
});

test('an issue names its number and what changed', () => {
  const dossier = dossierOf(jobs['a bit of everything'] ?? judged(''), 'purchase', { number: '2026-014', date: '2026-03-15' }, { changes: { before: { number: '2026-013', date: '2026-03-14' }, superseded: [], beside: [], changes: ['Photo IMG_2.jpg: new.'] } });
  expect(dossier.status).toEqual({ kind: 'issue', number: '2026-014', date: '2026-03-15' });
  const corrections = textOf(dossier.sections.find((section) => section.id === 'corrections')?.blocks ?? []);
  expect(corrections).toContain('This is issue 2026-014 of 15 March 2026.');
  expect(corrections).toContain('Changed against issue 2026-013 of 14 March 2026');
  expect(corrections).toContain('Photo IMG_2.jpg: new.');
});

test('the lead says what matters most and what nobody saw, and the first eight steps stand in full', () => {
  const dossier = dossierOf(jobs['the sample'] ?? judged(''));
  const [lead, unseen] = dossier.sections[0]?.blocks ?? [];
  expect(lead && unseen ? [textOf([lead]), textOf([unseen])] : []).toEqual(['The left floor and the left rear wheel arch carry load and have been patched: have both examined by someone licensed to before the car is driven or lifted. Next comes the left sill: 3 of 4 plugs defective (1 cracked, 2 missing), metal inside scaling and 3 more.', 'Not seen: the left and the right sill (rear third), the bulkhead (upper row), the windscreen surround (under the rubber) and 6 further places; nothing was written about 19 of 42 zones.']);
  const steps = dossier.sections.find((section) => section.id === 'steps')?.blocks ?? [];
  const full = steps.flatMap((block) => (block.type === 'steps' ? block.items.map((item) => item.id) : []));
  const rest = steps.flatMap((block) => (block.type === 'table' ? block.rows.map((row) => row.id) : []));
  expect(full).toHaveLength(8);
  expect([...full, ...rest]).toEqual((jobs['the sample'] ?? judged('')).plan.steps.map((step) => step.id));
  expect(full.length + rest.length).toBeLessThanOrEqual(25);
});

test('the same input gives the same document', () => {
  const from = jobs['the sample'] ?? judged('');
  expect(JSON.stringify(dossierOf(from))).toBe(JSON.stringify(dossierOf(from)));
});

test('a photo that could not be shown stays in the index with the reason', () => {
  const dossier = dossierOf(jobs['photos only'] ?? judged(''), 'purchase', null, { pictures: new Map([['img-1', { renditions: [], flaw: 'cut off after 1000 bytes' }]]) });
  expect(dossier.photos.find((photo) => photo.id === 'img-1')?.flaw).toBe('cut off after 1000 bytes');
  // The printers put the flaw in the empty frame; a caption that said it too would say it twice.
  expect(wordsOf(dossier)).not.toContain('ut off after 1000 bytes');
  expect(dossier.sections.find((section) => section.id === 'photos')?.blocks.flatMap((block) => (block.type === 'photos' ? block.figures.map((figure) => figure.photo) : []))).toContain('img-1');
  const damaged = dossierOf(jobs['photos only'] ?? judged(''), 'purchase', null, { pictures: new Map([['img-1', { renditions: [{ file: 'photos/img-1-960.jpg', width: 960, height: 720 }], flaw: 'cut off after 1000 bytes' }]]) });
  expect(wordsOf(damaged)).toContain('Cut off after 1000 bytes.');
});

test('a place written as not seen stands beside the coverage', () => {
  const dossier = dossierOf(judged('# Sill, left\n- plug, inner face 1: sound\n- not seen: rear third. cover strip fitted\n'));
  const lead = (id: string): string => textOf((dossier.sections.find((section) => section.id === id)?.blocks ?? []).slice(0, 3));
  expect(lead('sill-left')).toContain('1 of 1 known opening seen');
  expect(lead('sill-left')).toContain('Not seen: rear third.');
  expect(lead('summary')).toContain('besides, one place of another zone');
});
