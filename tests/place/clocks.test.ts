import { expect, test } from 'vitest';
import type { Notes } from '../../src/model/notes.ts';
import type { Photo } from '../../src/model/photo.ts';
import { place } from '../../src/place/index.ts';
import { finding, jobOf, photo, photoName, photoOnly, spot, zoneNotes } from './builders.ts';

type Names = [zone: string, ...photos: string[]][];

/** A photo of a camera, by its own clock; `offset` where the camera writes one. */
function taken(name: string, time: string, camera: 'P3' | 'Scope 5', given: { corrected?: string; offset?: boolean } = {}): Photo {
  const base = photo(`photos/${name}.jpg`, `2026-03-14T${time}`, { make: camera === 'P3' ? 'Oriole' : 'Heron', model: camera });
  if (!base.takenAt) throw new Error('no time');
  const instant = given.offset ? { offset: '+00:00', instant: `2026-03-14T${time}.000Z`, offsetFrom: 'camera' as const } : {};
  return { ...base, takenAt: { ...base.takenAt, corrected: given.corrected ?? null, ...instant } };
}

/** Notices about clocks and files that lie twice, of photos named in one finding a zone. */
function told(photos: Photo[], zones: Names = [], notes: Partial<Notes> = {}): string[] {
  const written = zones.map(([zone, ...names]) => zoneNotes(zone, [finding('plug, inner face 1: missing', { photos: names.map((name) => photoName(name)) })]));
  const { notices } = place(jobOf(written, { photos: photos.toSorted((a, b) => (a.path < b.path ? -1 : 1)), notes }));
  return notices.filter(({ rule }) => rule.startsWith('clock-') || rule === 'photo-twice').map(({ rule, spot: at, found, advice }) => `${at?.file} ${rule}: ${found}. ${advice}`);
}

const phone = (name: string, time: string, given: Parameters<typeof taken>[3] = {}): Photo => taken(name, time, 'P3', given);
const scope = (name: string, time: string, given: Parameters<typeof taken>[3] = {}): Photo => taken(name, time, 'Scope 5', given);

const round = [phone('IMG_1', '10:12:00'), phone('IMG_2', '10:27:00'), phone('IMG_3', '10:41:00'), phone('IMG_4', '11:02:00')];
const places: Names = [['sill-left', 'IMG_1', 'SC_1'], ['sill-right', 'IMG_2', 'SC_2'], ['boot-floor', 'IMG_3', 'SC_3']];

test('a camera that is off by the same time in three findings is named with the line that corrects it', () => {
  const fast = [scope('SC_1', '11:25:50'), scope('SC_2', '11:40:50'), scope('SC_3', '11:54:50')];
  expect(told([...round, ...fast], places)).toEqual([
    'findings.md clock-differs: Photos of “Heron Scope 5” are about 1:13:50 later than those of “Oriole P3” of the same finding or zone, in 3 of 3 pairs. Where both were used side by side one clock is off; if it is that one, write "- clock: scope 5 +1:13:50" under "# Visit".',
  ]);
  const slow = [scope('SC_1', '09:12:00'), scope('SC_2', '09:27:00'), scope('SC_3', '09:41:00')];
  expect(told([...round, ...slow], places)[0]).toMatch(/about 1:00:00 earlier .* "- clock: scope 5 -1:00:00"/);
});

test('the camera whose clock is set by the network is taken as right, though it made fewer photos', () => {
  const few = round.slice(0, 3).map((one) => ({ ...one, takenAt: one.takenAt && { ...one.takenAt, offset: '+00:00', offsetFrom: 'camera' as const, instant: `${one.takenAt.local}.000Z` } }));
  const many = [scope('SC_1', '11:12:00'), scope('SC_2', '11:27:00'), scope('SC_3', '11:41:00'), scope('SC_4', '11:45:00')];
  expect(told([...few, ...many], places)[0]).toContain('"- clock: scope 5 +1:00:00"');
});

test('a line with the wrong sign is put right: what it took off already counts', () => {
  // Truly 1:13:20 fast; written "-1:13:20", so that its photos came out another 1:13:20 later.
  const twice = [['SC_1', '12:38:40'], ['SC_2', '12:53:40'], ['SC_3', '13:07:40']].map(([name = '', time = '']) => scope(name, time, { corrected: '+1:13:20' }));
  expect(told([...round, ...twice], places)[0]).toContain('write "- clock: scope 5 +1:13:20" under "# Visit" instead of what stands there.');
});

test('zones pair photos where no finding does', () => {
  const fast = [scope('SC_1', '11:12:00'), scope('SC_2', '11:27:00'), scope('SC_3', '11:41:00')];
  const loose = places.map(([zone, ...names]) => zoneNotes(zone, names.map((name) => photoOnly(name))));
  const { notices } = place(jobOf(loose, { photos: [...round, ...fast] }));
  expect(notices.filter(({ rule }) => rule === 'clock-differs')).toHaveLength(1);
});

test.each<[string, Photo[], Names]>([
  ['clocks that agree', [scope('SC_1', '10:13:00'), scope('SC_2', '10:28:00'), scope('SC_3', '10:42:00')], places],
  ['a second round at another pace', [scope('SC_1', '11:12:00'), scope('SC_2', '11:20:00'), scope('SC_3', '11:30:00')], places],
  ['only two pairs', [scope('SC_1', '11:12:00'), scope('SC_2', '11:27:00'), scope('SC_3', '11:41:00')], places.slice(0, 2)],
  ['a camera of two photos', [scope('SC_1', '11:12:00'), scope('SC_2', '11:27:00')], places],
  ['one photo named in every finding', [scope('SC_1', '11:12:00'), scope('SC_2', '11:12:30'), scope('SC_3', '11:13:00')], places.map(([zone]) => [zone, 'IMG_1', 'SC_1'])],
])('nothing is said of %s', (_, others, zones) => {
  expect(told([...round, ...others], zones)).toEqual([]);
});

test('pairs of one moment do not tell a wrong clock from a later look', () => {
  const quick = [phone('IMG_1', '10:12:00'), phone('IMG_2', '10:12:40'), phone('IMG_3', '10:13:10')];
  expect(told([...quick, scope('SC_1', '10:32:00'), scope('SC_2', '10:32:40'), scope('SC_3', '10:33:10')], places, { seen: { date: '2026-03-14', from: '10:00', to: '11:00', timeZone: null, spot: spot(3) } })).toEqual([]);
});

test('times far apart are told where no hours are written, without a line to write', () => {
  const later = [scope('SC_1', '13:12:00'), scope('SC_2', '13:20:00'), scope('SC_3', '13:30:00')];
  const notices = told([...round, ...later], places);
  expect(notices).toHaveLength(1);
  expect(notices[0]).toMatch(/clock-differs: The last photo of “Oriole P3” is 2:10:00 earlier than the first of “Heron Scope 5”, though both show the same places/);
  expect(told([...round, ...later], places, { seen: { date: '2026-03-14', from: '10:00', to: '14:00', timeZone: null, spot: spot(3) } })).toEqual([]);
});

test('a time that goes back while the numbers rise is told once, at the photo after it', () => {
  const series = [phone('IMG_4021', '11:00:00'), phone('IMG_4022', '11:05:00'), phone('IMG_4023', '10:09:30'), phone('IMG_4024', '10:12:00')];
  expect(told(series)).toEqual([expect.stringMatching(/^photos\/IMG_4023\.jpg clock-jump: Time goes back by 0:55:30 after IMG_4022\.jpg, though/)]);
});

test.each<[string, Photo[]]>([
  ['a burst numbered out of order', [phone('IMG_4021', '11:00:02'), phone('IMG_4022', '11:00:00')]],
  ['numbers that begin anew', [phone('IMG_9998', '11:00:00'), phone('IMG_0001', '11:05:00')]],
  ['two cameras with names alike', [phone('IMG_4021', '11:00:00'), scope('IMG_4022', '10:00:00')]],
  ['files renamed by what they show', [phone('sill 1', '11:00:00'), phone('sill 2', '10:00:00'), phone('Sill_0001', '11:00:00'), phone('Sill_0002', '10:00:00')]],
  ['numbers that do not follow the time', ['11:00:00', '10:00:00', '11:30:00', '10:30:00', '11:45:00', '10:45:00'].map((time, index) => phone(`IMG_402${index}`, time))],
  ['an instant that goes on while the clock on the wall goes back', [phone('IMG_4021', '11:00:00', { offset: true }), { ...phone('IMG_4022', '10:10:00'), takenAt: { local: '2026-03-14T10:10:00', offset: '-01:00', instant: '2026-03-14T11:10:00.000Z', from: 'exif', offsetFrom: 'camera', asWritten: '', corrected: null } }]],
])('no jump is seen in %s', (_, photos) => {
  expect(told(photos)).toEqual([]);
});

test('a file that lies twice is told, and both stay', () => {
  const [one, other] = ['a.jpg', 'b/a.jpg'].map((path) => photo(path, null, { sha256: 'ab'.repeat(32) }));
  const unread = ['c.jpg', 'd.jpg'].map((path) => photo(path));
  const photos = [one, other, ...unread].filter((each) => each !== undefined);
  expect(told(photos)).toEqual(['b/a.jpg photo-twice: The same file as a.jpg. Both are shown where they stand; where it was copied twice by mistake, take one out.']);
  expect(place(jobOf([], { photos })).photos).toHaveLength(4);
});
