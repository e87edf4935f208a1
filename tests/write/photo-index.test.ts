import { expect, test } from 'vitest';
import type { Block, Dossier } from '../../src/model/dossier.ts';
import { blockSchema } from '../../src/model/dossier.ts';
import type { Photo, TakenAt } from '../../src/model/photo.ts';
import { sitePages } from '../../src/print/site/pages.ts';
import { dossierOf, judged, textOf } from './builders.ts';

const visit = '# Car\n- body: saloon\n\n# Visit\n- seen: 2026-03-14 10:00-11:45, Europe/Dublin\n\n';

/** A job whose photos carry the times given, by file name; null for none. `gps` and `name` say where a time comes from. */
function indexOf(findings: string, times: Readonly<Record<string, string | null>>): { dossier: Dossier; blocks: Block[] } {
  const taken = (photo: Photo): Photo => ({ ...photo, takenAt: takenAt(times[photo.path] ?? null) });
  const dossier = dossierOf(judged(visit + findings, Object.keys(times), {}, taken));
  const blocks = dossier.sections.find(({ id }) => id === 'photos')?.blocks ?? [];
  for (const block of blocks) expect(blockSchema.safeParse(block).error).toBeUndefined();
  return { dossier, blocks };
}

function takenAt(written: string | null): TakenAt | null {
  if (written === null) return null;
  const [, from = '', local = ''] = /^(gps |name )?(.*)$/.exec(written) ?? [];
  const isGps = from === 'gps ';
  return { local, offset: isGps ? '+00:00' : null, instant: isGps ? `${local}Z` : null, from: isGps ? 'gps' : from === 'name ' ? 'file name' : 'exif', offsetFrom: isGps ? 'gps' : null, asWritten: local, corrected: null };
}

function headings(blocks: readonly Block[]): string[] {
  return blocks.flatMap((block) => (block.type === 'heading' ? [`${block.level} ${block.text}`] : []));
}

function figures(blocks: readonly Block[]): (string | undefined)[] {
  return blocks.flatMap((block) => (block.type === 'photos' ? block.figures.map(({ id }) => id) : []));
}

const sills = '# Sill, left\n\n![](a.jpg)\n![](b.jpg)\n![](d.jpg)\n\n# Sill, right\n\n![](c.jpg)\n![](e.jpg)\n';
const times = { 'a.jpg': '2026-03-14T10:12:41', 'b.jpg': '2026-03-14T10:13:00', 'c.jpg': '2026-03-14T10:15:00', 'd.jpg': '2026-03-14T10:21:59', 'e.jpg': '2026-03-14T10:40:00' };

test('photos stand in order of time under a heading for each stretch of one zone', () => {
  const { blocks } = indexOf(sills, times);
  expect(headings(blocks)).toEqual(['3 10:12 to 10:13 · Sill, left · 2 photos', '3 10:15 · Sill, right · one photo', '3 10:21 · Sill, left · one photo', '3 10:40 · Sill, right · one photo']);
  expect(figures(blocks)).toEqual(['photo-a', 'photo-b', 'photo-c', 'photo-d', 'photo-e']);
});

test('the strip has a row for each zone, every photo once, and names the stretch without one', () => {
  const [strip, ...others] = indexOf(sills, times).blocks.filter((block) => block.type === 'timeline');
  expect(others).toEqual([]);
  expect([strip?.from, strip?.to]).toEqual([600, 705]);
  expect(strip?.rows.map(({ name, text }) => [name, text])).toEqual([['Sill, left', '3 photos, 10:12 to 10:13 and 10:21'], ['Sill, right', '2 photos, 10:15 and 10:40']]);
  expect(strip?.rows.flatMap(({ marks }) => marks.map(({ figure }) => figure))).toEqual(['photo-a', 'photo-b', 'photo-d', 'photo-c', 'photo-e']);
  expect(strip?.gaps).toEqual([{ from: 621.9833, to: 640 }]);
  expect(strip?.label).toBe('5 photos with a time by the camera, from 10:00 to 11:45, the hours of the visit as written; each stands below in the same order, with its time. Ten minutes or more passed without a photo: 10:21 to 10:40.');
});

test('ten minutes without a photo part two stretches of one zone, nine do not', () => {
  const at = (second: string): string[] => headings(indexOf('# Sill, left\n\n![](a.jpg)\n![](b.jpg)\n', { 'a.jpg': '2026-03-14T10:00:00', 'b.jpg': second }).blocks);
  expect(at('2026-03-14T10:09:59')).toEqual(['3 10:00 to 10:09 · Sill, left · 2 photos']);
  expect(at('2026-03-14T10:10:00')).toEqual(['3 10:00 · Sill, left · one photo', '3 10:10 · Sill, left · one photo']);
});

test('times from elsewhere, and none at all, stand in groups of their own with the reason', () => {
  const { blocks } = indexOf(sills, { ...times, 'b.jpg': 'gps 2026-03-14T10:13:00', 'c.jpg': 'name 2026-03-14T10:15:00', 'd.jpg': null });
  expect(headings(blocks)).toEqual(['3 10:12 · Sill, left · one photo', '3 10:40 · Sill, right · one photo', '3 Time by GPS · one photo', '3 Time from the file name · one photo', '3 No time in the file · one photo']);
  expect(figures(blocks)).toEqual(['photo-a', 'photo-e', 'photo-b', 'photo-c', 'photo-d']);
  expect(textOf(blocks)).toContain('The camera wrote no time of its own; the time is that of GPS, which is UTC.');
  expect(textOf(blocks)).toContain('The date of the file is not used, as copying changes it.');
  expect(blocks.find((block) => block.type === 'timeline')?.label).toMatch(/^2 photos with a time by the camera/);
});

test('several days get a strip each, and hours only on the day they were written for', () => {
  const { blocks } = indexOf(sills, { ...times, 'e.jpg': '2026-03-15T09:00:00' });
  expect(headings(blocks)).toEqual(['3 14 March 2026', '4 10:12 to 10:13 · Sill, left · 2 photos', '4 10:15 · Sill, right · one photo', '4 10:21 · Sill, left · one photo', '3 15 March 2026', '4 09:00 · Sill, right · one photo']);
  expect(blocks.flatMap((block) => (block.type === 'timeline' ? [[block.from, block.to, block.label]] : []))[1]).toEqual([540, 540, 'One photo with a time by the camera, 09:00; each stands below in the same order, with its time.']);
});

test('a photo outside of the hours written widens the strip', () => {
  const strip = indexOf(sills, { ...times, 'e.jpg': '2026-03-14T12:30:00' }).blocks.find((block) => block.type === 'timeline');
  expect([strip?.from, strip?.to]).toEqual([600, 750]);
});

test('a camera set to another time zone stands where the clock on the wall stood', () => {
  const away: TakenAt = { local: '2026-03-14T11:14:00', offset: '+01:00', instant: '2026-03-14T10:14:00Z', from: 'exif', offsetFrom: 'camera', asWritten: '', corrected: null };
  const dossier = dossierOf(judged(visit + sills, Object.keys(times), {}, (photo) => ({ ...photo, takenAt: photo.path === 'c.jpg' ? away : takenAt('2026-03-14T10:15:00') })));
  const blocks = dossier.sections.find(({ id }) => id === 'photos')?.blocks ?? [];
  expect(headings(blocks)[0]).toBe('3 10:14 · Sill, right · one photo');
  expect(textOf(blocks)).toContain('11:14:00 on 14 March 2026, UTC+01:00');
});

test('photos placed nowhere are named at the top and keep their place in time', () => {
  const { blocks } = indexOf(sills.replace('![](e.jpg)\n', ''), times);
  expect(headings(blocks).at(-1)).toBe('3 10:40 · not placed · one photo');
  expect(textOf(blocks)).toMatch(/^5 photos, 5 shown, 1 not placed \(e\.jpg\)\./);
});

test('equal times stand by path, fractions of a second count', () => {
  const { blocks } = indexOf(sills, { 'e.jpg': '2026-03-14T10:12:41.2', 'c.jpg': '2026-03-14T10:12:41.10', 'b.jpg': '2026-03-14T10:12:41', 'a.jpg': '2026-03-14T10:12:41', 'd.jpg': '2026-03-14T10:12:40' });
  expect(figures(blocks)).toEqual(['photo-d', 'photo-a', 'photo-b', 'photo-c', 'photo-e']);
});

test('every photo of a mixed job stands in the index exactly once, and every mark leads to one', () => {
  const many = Object.fromEntries(Array.from({ length: 60 }, (_, index) => [`p-${index}.jpg`, index % 7 === 0 ? null : `${index % 11 === 0 ? 'gps ' : index % 13 === 0 ? 'name ' : ''}2026-03-${14 + (index % 3)}T1${index % 10}:${String(index % 60).padStart(2, '0')}:00`]));
  const { dossier, blocks } = indexOf('# Sill, left\n\n![](p-3.jpg)\n', many);
  expect(figures(blocks).toSorted()).toEqual(Object.keys(many).map((name) => `photo-${name.replace('.jpg', '')}`).toSorted());
  const page = sitePages(dossier).pages.find(({ path }) => path === 'photos');
  const marks = (page?.sections ?? []).flatMap((section) => section.blocks.flatMap((block) => (block.type === 'timeline' ? block.drawn.rows.flatMap((row) => row.marks) : [])));
  expect(marks.length).toBeGreaterThan(30);
  for (const { figure } of marks) expect(figures(blocks)).toContain(figure.replace(/^#/, ''));
});
