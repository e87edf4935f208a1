import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import type { Dossier, Section } from '../../../src/model/dossier.ts';
import { editionIds } from '../../../src/read/editions.ts';
import type { FindLine, SiteFind } from '../../../src/print/site/data.ts';
import { findIn } from '../../../src/print/site/find.ts';
import { sitePages } from '../../../src/print/site/pages.ts';
import { fold, meets, termsFrom, wantsOf } from '../../../templates/site/frame/find-words.ts';
import { dossierOf, everything, judged, textOf } from '../../write/builders.ts';
import { siteDossier } from './dossier.ts';

const sample = readFileSync('sample-job/2026-03-14/findings.md', 'utf8');
const sampleNames = [...new Set([...sample.matchAll(/\b(?:IMG|SC)_\d{4}/g)].map(([name]) => `${name}.jpg`))];
const judgedSample = judged(sample, sampleNames);
const judgedAll = judged(everything, ['IMG_1.jpg', 'IMG_2.jpg', 'loose.jpg', 'Sill, left/IMG_3.jpg']);
const jobs = [
  ...editionIds().map((edition): [string, Dossier] => [`the sample, ${edition}`, dossierOf(judgedSample, edition)]),
  ...editionIds().map((edition): [string, Dossier] => [`a bit of everything, ${edition}`, dossierOf(judgedAll, edition)]),
  ['nothing at all', dossierOf(judged(''))] as [string, Dossier],
  ['without an index of its own', siteDossier()] as [string, Dossier],
];

const link = (page: string, anchor: string): string => `${page}#${anchor}`;
const linesIn = (find: SiteFind): FindLine[] => find.groups.flatMap((group) => group.lines);
const anchorOf = ({ href }: FindLine): string => href.replace(/^.*#/, '');

/** Every id a template prints: of sections, blocks, rows, items, figures. */
function idsIn(value: unknown): string[] {
  if (Array.isArray(value)) return value.flatMap(idsIn);
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([name, inner]) => (name === 'id' && typeof inner === 'string' ? [inner] : idsIn(inner)));
}

test.each(jobs)('each row of the register, photo, step, caution and section is one line: %s', (_name, dossier) => {
  const { find } = findIn(dossier, link);
  const lines = linesIn(find);
  const openings = lines.filter((line) => line.kind === 'opening');
  expect(openings).toHaveLength(dossier.register.length);
  const own = new Set(dossier.sections.flatMap(({ blocks }) => idsIn(blocks)));
  for (const row of dossier.register) {
    const places = openings.filter((line) => (own.has(row.id) ? anchorOf(line) === row.id : anchorOf(line).startsWith(`${row.zone}--not-counted`)));
    if (own.has(row.id)) expect(places, row.id).toHaveLength(1);
    else expect(places.filter((line) => line.part === row.part && line.state === row.outcome).length, row.id).toBeGreaterThan(0);
  }
  for (const state of ['defect', 'cannot tell', 'not seen', 'sound', 'not fitted']) {
    expect(openings.filter((line) => line.state === state), state).toHaveLength(dossier.register.filter((row) => row.outcome === state).length);
  }
  const shown = new Set(dossier.sections.flatMap(({ blocks }) => blocks.flatMap((block) => (block.type === 'photos' ? block.figures.map(({ photo }) => photo) : []))));
  const photos = lines.filter((line) => line.kind === 'photo').map(anchorOf);
  expect(photos).toHaveLength(shown.size);
  expect(new Set(photos).size).toBe(photos.length);
  const steps = dossier.sections.flatMap(({ blocks }) => idsIn(blocks)).filter((id) => id.startsWith('step-'));
  expect(lines.filter((line) => line.kind === 'step').map(anchorOf).sort()).toEqual(steps.sort());
  const cautions = dossier.sections.flatMap(({ blocks }) => blocks.flatMap((block) => (block.type === 'caution' ? [block.id] : [])));
  expect(lines.filter((line) => line.kind === 'caution').map(anchorOf)).toEqual(cautions);
  for (const { id } of dossier.sections) expect(lines.filter((line) => line.kind === 'section' && anchorOf(line) === id), id).toHaveLength(1);
});

test.each(jobs)('each line leads to an id on the page it names, and no id stands twice: %s', (_name, dossier) => {
  const { find } = findIn(dossier, link);
  const pages = new Map(sitePages(dossier).pages.map((page) => [page.path, idsIn(page.sections)]));
  for (const [page, ids] of pages) expect(ids.filter((id, at) => ids.indexOf(id) !== at), page).toEqual([]);
  for (const line of linesIn(find)) {
    const [page = '', anchor = ''] = line.href.split('#');
    expect(pages.get(page) ?? [], line.href).toContain(anchor);
    expect(line.title !== '' || line.origin !== null, line.href).toBe(true);
  }
});

/** Words of a section that stand in its lines: without what only heads or draws, and the hashes of photos, which have lines themselves. */
function wordsToFind(section: Section, files: readonly string[]): string {
  const blocks = section.blocks.flatMap((block): Section['blocks'] => {
    if (block.type === 'zones' || block.type === 'plots' || block.type === 'timeline') return [];
    if (block.type === 'outlook') return block.items.map((item) => ({ type: 'paragraph' as const, inline: [item.name, ' ', ...item.inline] }));
    if (block.type === 'table') return block.rows.filter((row) => !files.includes(row.cells[0]?.inline.join('') ?? '')).map((row) => ({ type: 'paragraph' as const, inline: row.cells.flatMap((cell) => [' ', ...cell.inline]) }));
    if (block.type === 'steps') return block.items.map((item) => ({ type: 'paragraph' as const, inline: [...item.title, ' ', item.tags.join(' '), ' ', ...item.why, ' ', ...item.what, ' ', ...(item.figures ?? []), ' ', ...item.cautions] }));
    if (block.type === 'photos') return block.figures.map((figure) => ({ type: 'paragraph' as const, inline: figure.caption }));
    return [block];
  });
  return `${section.title}\n${textOf(blocks)}`;
}

test.each(jobs)('no word of what a dossier says is left out: %s', (_name, dossier) => {
  const { find } = findIn(dossier, link);
  const said = new Set(find.groups.flatMap((group) => [group.title, ...group.lines.flatMap((line) => [line.title, line.text, line.state ?? '', line.origin?.by ?? ''])]).flatMap((text) => fold(text).trim().split(' ')));
  const missing = dossier.sections.flatMap((section) => fold(wordsToFind(section, dossier.photos.map(({ file }) => file))).trim().split(' ').filter((word) => !said.has(word)).map((word) => `${section.id}: ${word}`));
  // What folds kinds nobody counted heads them: "Not counted: …", "5 kinds not counted".
  expect([...new Set(missing)].filter((word) => !/: (not|counted|kinds?|\d+)$/.test(word))).toEqual([]);
});

test('every line of the findings is found by its own words', () => {
  const dossier = dossierOf(judgedSample);
  const { find } = findIn(dossier, link);
  const all = ` ${linesIn(find).map((line) => fold(`${line.title} ${line.text} ${line.state ?? ''} ${line.origin?.by ?? ''}`)).join(' ')} `;
  // The day is printed in words.
  const missing = dossier.findings.filter(({ text }) => !text.startsWith('seen:')).flatMap(({ text }) => {
    const words = fold(text.replace(/!\[|\]\([^)]*\)/g, ' ')).trim().split(' ');
    return words.filter((word) => !all.includes(` ${word}`));
  });
  expect(missing).toEqual([]);
});

test('an id stays where it is when rows, words and photos are added', () => {
  const more = sample
    .replace('# Sill, left', '# Sill, left\n\n- grommet, tread plate: missing. IMG_9000\n- film, lower edge: 210, 220 um\n\nAdded in the evening.')
    .replace('# Boot floor', '# Boot floor\n\n- metal, rear edge: pitted');
  expect(more.length).toBeGreaterThan(sample.length + 100);
  const places = (text: string, names: string[]): Set<string> => new Set(linesIn(findIn(dossierOf(judged(text, names)), link).find).filter((line) => ['opening', 'observation', 'reading', 'photo', 'caution'].includes(line.kind)).map(({ href }) => href));
  const before = places(sample, sampleNames);
  const after = places(more, ['IMG_9000.jpg', ...sampleNames]);
  expect([...before].filter((href) => !after.has(href))).toEqual([]);
  expect([...after]).toEqual(expect.arrayContaining([expect.stringMatching(/#sill-left--grommet--tread-plate$/), expect.stringMatching(/#sill-left--reading--film--lower-edge$/), 'photos#photo-img-9000']));
  const words = (text: string): string[] => linesIn(findIn(dossierOf(judged(text, sampleNames)), link).find).filter((line) => line.kind === 'words' && line.title.startsWith('The camera went in')).map(({ href }) => href);
  expect(words(sample)).toEqual(['zones/sill-left#sill-left--the-camera-went-in-through']);
  expect(words(more)).toEqual(words(sample));
});

test('lines stand with their zone, front to rear, steps and photos among them; the rest by page', () => {
  const dossier = dossierOf(judgedSample);
  const { find } = findIn(dossier, link);
  const zones = find.groups.flatMap((group) => group.zone ?? []);
  expect(zones).toEqual(dossier.index?.zones.map(({ id }) => id));
  const sill = find.groups.find((group) => group.zone === 'sill-left');
  expect(sill?.lines[0]).toMatchObject({ kind: 'section', title: 'Sill, left', state: 'defect', href: 'zones/sill-left#sill-left' });
  expect(sill?.lines.filter((line) => line.kind === 'step').map(anchorOf)).toContain('step-sill-left-mend');
  expect(sill?.lines.filter((line) => line.kind === 'photo').map(({ href }) => href)).toContain('photos#photo-img-4022');
  expect(sill?.lines.find((line) => line.origin?.origin === 'told')).toMatchObject({ origin: { origin: 'told', by: 'seller' }, text: '"both sills were done in the nineties and waxed every year"' });
  expect(find.groups.filter((group) => group.zone === null).map((group) => group.title)).toEqual(['In short', 'Outlook', 'Not seen', 'Register', 'Work', 'Photos', 'About', 'Method', 'Original files'].filter((title) => find.groups.some((group) => group.title === title)));
});

test('what carries load is marked: structure, cavities of other zones that carry load, nothing else', () => {
  const dossier = dossierOf(judgedSample);
  const openings = linesIn(findIn(dossier, link).find).filter((line) => line.kind === 'opening');
  const load = (anchor: string): boolean | undefined => openings.find((line) => anchorOf(line) === anchor)?.load;
  expect(load('sill-left--plug--inner-face-2')).toBe(true);
  expect(load('bonnet--hem--front-edge')).toBe(false);
  expect(openings.some((line) => line.load)).toBe(true);
});

const both = [dossierOf(judgedSample), dossierOf(judged(sample, sampleNames, { language: 'en-US' }))];

test.each(['sill', 'rocker', 'rocker panel', 'ROCKERS', 'side sill'])('British and American names find each other: %s', (typed) => {
  for (const dossier of both) {
    const { find } = findIn(dossier, link);
    const terms = termsFrom(find.terms);
    const wants = wantsOf(typed, terms);
    const hits = find.groups.flatMap((group) => group.lines.filter((line) => meets(fold(`${line.title} ${line.text} ${group.title}`), new Set([...group.terms, ...line.terms]), wants)).map(anchorOf));
    for (const anchor of ['sill-left', 'sill-left--plug--inner-face-2', 'sill-right', 'step-sill-left-mend']) expect(hits, `${dossier.language}: ${typed}`).toContain(anchor);
    expect(hits, typed).not.toContain('bonnet--hem--front-edge');
  }
});

test('a part and a condition are found by other spellings, and a word of a longer spelling brings no others', () => {
  const [dossier] = both;
  if (!dossier) throw new Error('no dossier');
  const { find } = findIn(dossier, link);
  const terms = termsFrom(find.terms);
  const hits = (typed: string): string[] => find.groups.flatMap((group) => group.lines.filter((line) => meets(fold(`${line.title} ${line.text} ${group.title}`), new Set([...group.terms, ...line.terms]), wantsOf(typed, terms))).map(anchorOf));
  expect(hits('bung gone')).toContain('sill-left--plug--inner-face-2');
  // "floor plug" is a spelling of the blind plug; "floor" alone is not about plugs of sills.
  expect(hits('floor')).not.toContain('sill-left--plug--inner-face-2');
});

test('a dossier page of the name keeps it, and the index takes another', () => {
  const dossier = siteDossier();
  const sections: Section[] = [...dossier.sections, { id: 'own', title: 'Own', page: 'find', breakBefore: false, blocks: [] }];
  const { pages } = sitePages({ ...dossier, sections });
  expect(pages.filter((page) => page.path === 'find').map((page) => page.here)).toEqual(['Own']);
  expect(pages.find(({ index }) => index)).toMatchObject({ path: 'find-all', find: null });
  expect(pages[0]?.find).toBe('find-all.html');
});

test('the register leads to its lines by state, with their number', () => {
  const dossier = dossierOf(judgedSample);
  const counts = sitePages(dossier).pages.flatMap((page) => page.sections).find((section) => section.id === 'register')?.counts;
  expect(counts?.items.reduce((sum, { count }) => sum + count, 0)).toBe(dossier.register.length);
  expect(counts?.items.find(({ state }) => state === 'not seen')?.href).toBe('find.html#kind=opening&state=not-seen');
});
