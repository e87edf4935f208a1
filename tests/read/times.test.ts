import { spawnSync } from 'node:child_process';
import { expect, test } from 'vitest';
import type { Seen } from '../../src/model/notes.ts';
import type { ClockCorrection, ExifStrings, Photo } from '../../src/model/photo.ts';
import { timePhotos } from '../../src/read/photos/times.ts';
import { takenText } from '../../src/units.ts';

const noExif: ExifStrings = {
  dateTimeOriginal: null,
  subSecTimeOriginal: null,
  offsetTimeOriginal: null,
  modifyDate: null,
  software: null,
  gpsLatitude: null,
  gpsLongitude: null,
  gpsDate: null,
  gpsTime: null,
};

function photo(exif: Partial<ExifStrings>, rest: Partial<Photo> = {}): Photo {
  const name = rest.name ?? 'a.jpg';
  const base: Photo = { id: 'a', path: name, name, bytes: 1, sha256: 'ab', format: 'jpeg', make: null, model: null, orientation: 1, takenAt: null, keywords: [], editors: [], hasPosition: false, exif: noExif };
  return { ...base, ...rest, exif: { ...noExif, ...exif } };
}

const seen = (rest: Partial<Seen> = {}): Seen => ({ date: '2026-03-14', from: '10:00', to: '11:45', timeZone: 'Europe/Dublin', spot: { file: 'findings.md', line: 9 }, ...rest });
const facts = { seen: null, clocks: [], built: null, today: '2026-11-25' };
const clock = (camera: string, aheadSeconds: number): ClockCorrection => ({ camera, aheadSeconds, spot: { file: 'findings.md', line: 14 } });

function timed(one: Photo, given: Partial<Parameters<typeof timePhotos>[1]> = {}): { takenAt: Photo['takenAt']; rules: string[] } {
  const { photos, notices } = timePhotos([one], { ...facts, ...given });
  return { takenAt: photos[0]?.takenAt ?? null, rules: notices.map((notice) => notice.rule) };
}

test('the time is DateTimeOriginal with fraction and offset as the camera wrote them', () => {
  const { takenAt, rules } = timed(photo({ dateTimeOriginal: '2026:03:14 10:12:41', subSecTimeOriginal: '888', offsetTimeOriginal: '-06:00' }));
  expect(takenAt).toEqual({
    local: '2026-03-14T10:12:41.888',
    offset: '-06:00',
    instant: '2026-03-14T16:12:41.888Z',
    from: 'exif',
    offsetFrom: 'camera',
    asWritten: '2026:03:14 10:12:41',
    corrected: null,
  });
  expect(rules).toEqual([]);
  expect(takenText(takenAt)).toEqual({ taken: '10:12:41 on 14 March 2026, UTC-06:00', takenFrom: 'by the camera' });
});

test('"01" of a second is a hundredth, not a thousandth', () => {
  expect(timed(photo({ dateTimeOriginal: '2026:03:14 10:12:41', subSecTimeOriginal: '01', offsetTimeOriginal: 'Z' })).takenAt?.instant).toBe('2026-03-14T10:12:41.010Z');
});

test('without an offset the zone stays unknown, unless the visit names one', () => {
  const bare = photo({ dateTimeOriginal: '2026:07:14 10:12:41', offsetTimeOriginal: '   :  ' });
  const alone = timed(bare).takenAt;
  expect([alone?.offset, alone?.instant, alone?.offsetFrom]).toEqual([null, null, null]);
  expect(takenText(alone).takenFrom).toBe('by the camera, time zone not known');
  const there = timed(bare, { seen: seen({ date: '2026-07-14', from: null, to: null }) }).takenAt;
  expect([there?.offset, there?.instant, there?.offsetFrom]).toEqual(['+01:00', '2026-07-14T09:12:41.000Z', 'visit']);
  expect(timed(bare, { seen: seen({ timeZone: 'Nowhere/Atall', date: '2026-07-14', from: null, to: null }) }).takenAt?.offset).toBeNull();
});

// Changes of clocks as in the IANA time zone database: Ireland 2026-03-29 01:00 UTC and 2026-10-25 01:00 UTC, India has none.
test.each([
  ['Europe/Dublin', '2026:03:29 00:59:59', '+00:00', '2026-03-29T00:59:59.000Z'],
  ['Europe/Dublin', '2026:03:29 02:00:00', '+01:00', '2026-03-29T01:00:00.000Z'],
  ['Europe/Dublin', '2026:03:29 01:30:00', '+00:00', '2026-03-29T01:30:00.000Z'],
  ['Europe/Dublin', '2026:10:25 01:30:00', '+01:00', '2026-10-25T00:30:00.000Z'],
  ['Europe/Dublin', '2026:10:25 02:00:00', '+00:00', '2026-10-25T02:00:00.000Z'],
  ['Asia/Kolkata', '2026:03:14 00:10:00', '+05:30', '2026-03-13T18:40:00.000Z'],
  ['America/St_Johns', '2026:07:01 12:00:00', '-02:30', '2026-07-01T14:30:00.000Z'],
])('%s at %s is %s', (timeZone, dateTimeOriginal, offset, instant) => {
  const { takenAt } = timed(photo({ dateTimeOriginal }), { seen: seen({ timeZone }) });
  expect([takenAt?.offset, takenAt?.instant]).toEqual([offset, instant]);
});

test('a clock line corrects the camera it names, in any case, and only that', () => {
  const scope = photo({ dateTimeOriginal: '2026:03:14 11:26:01' }, { make: 'Acme', model: 'SCOPE-7', name: 'x.jpg' });
  const { takenAt, rules } = timed(scope, { seen: seen(), clocks: [clock('scope', 4400)] });
  expect([takenAt?.local, takenAt?.corrected, takenAt?.asWritten]).toEqual(['2026-03-14T10:12:41', '-1:13:20', '2026:03:14 11:26:01']);
  expect(rules).toEqual([]);
  expect(takenText(takenAt)).toEqual({ taken: '10:12:41 on 14 March 2026, UTC+00:00', takenFrom: 'by the camera, clock set back by 1:13:20, zone from the visit' });
  const slow = timed(photo({ dateTimeOriginal: '2026:03:14 10:00:00' }, { name: 'SC_0007.jpg' }), { clocks: [clock('sc_', -90)] }).takenAt;
  expect([slow?.local, slow?.corrected]).toEqual(['2026-03-14T10:01:30', '+0:01:30']);
});

test('a clock line that names no camera is told with its place and the cameras there are', () => {
  const { notices } = timePhotos([photo({ dateTimeOriginal: '2026:03:14 10:00:00' }, { make: 'Acme', model: 'Pocket' })], { ...facts, clocks: [clock('scope', 60)] });
  expect(notices).toMatchObject([{ rule: 'clock-unused', level: 'warning', spot: { file: 'findings.md', line: 14 }, advice: 'Cameras of this job: Acme Pocket.' }]);
});

test('GPS time is UTC, shown on the clock of the visit, and no clock line touches it', () => {
  const gps = photo({ gpsDate: '2026:07:14', gpsTime: '09:12:41' }, { model: 'scope' });
  expect(timed(gps).takenAt).toMatchObject({ local: '2026-07-14T09:12:41', offset: '+00:00', instant: '2026-07-14T09:12:41.000Z', from: 'gps', offsetFrom: 'gps' });
  const there = timed(gps, { seen: seen({ date: '2026-07-14' }), clocks: [clock('scope', 60)] });
  expect(there.takenAt).toMatchObject({ local: '2026-07-14T10:12:41', offset: '+01:00', instant: '2026-07-14T09:12:41.000Z', offsetFrom: 'visit' });
  expect(there.rules).toEqual(['clock-unused']);
});

test.each([
  ['IMG_20260314_101204.jpg', '2026-03-14T10:12:04', null],
  ['20260314_101204(0).jpg', '2026-03-14T10:12:04', null],
  ['PXL_20260314_101204123.MP.jpg', '2026-03-14T10:12:04.123', '+00:00'],
  ['2026-03-14 10.12.04.jpg', '2026-03-14T10:12:04', null],
  ['WhatsApp Image 2026-03-14 at 10.12.04.jpeg', '2026-03-14T10:12:04', null],
  ['WhatsApp Image 2026-03-14 at 9.12.04 PM (1).jpeg', '2026-03-14T21:12:04', null],
  ['Screenshot_20260314-101204.png', '2026-03-14T10:12:04', null],
])('the name %s says %s', (name, local, offset) => {
  const { takenAt, rules } = timed(photo({}, { name }));
  expect([takenAt?.local, takenAt?.offset, takenAt?.from]).toEqual([local, offset, 'file name']);
  expect(rules).toEqual([]);
  expect(takenText(takenAt).takenFrom).toMatch(/^from the file name/);
});

test.each(['IMG-20260314-WA0001.jpg', 'IMG_4022.jpg', '20261314_101204.jpg', '2026-02-30 10.12.04.jpg', '120260314_101204.jpg', '2026-03-14.jpg'])('the name %s says no time', (name) => {
  const { takenAt, rules } = timed(photo({}, { name }));
  expect(takenAt).toBeNull();
  expect(rules).toEqual(['time-missing']);
  expect(takenText(takenAt)).toEqual({ taken: null, takenFrom: 'no time in the file' });
});

test.each(['0000:00:00 00:00:00', '    :  :     :  :  ', ''])('"%s" is no time, and the next source is used', (dateTimeOriginal) => {
  expect(timed(photo({ dateTimeOriginal }))).toEqual({ takenAt: null, rules: ['time-zero'] });
  const { takenAt, rules } = timed(photo({ dateTimeOriginal, gpsDate: '2026:03:14', gpsTime: '10:12:04' }, { name: 'IMG_20260101_000000.jpg' }));
  expect([takenAt?.from, rules]).toEqual(['gps', ['time-zero']]);
});

test('what stands for a time and is none is told', () => {
  expect(timed(photo({ dateTimeOriginal: '2026:02:30 10:00:00' })).rules).toEqual(['time-unclear']);
});

test('a time in the future or before the car was built is told', () => {
  expect(timed(photo({ dateTimeOriginal: '2026:11:26 23:59:59' })).rules).toEqual([]);
  expect(timed(photo({ dateTimeOriginal: '2026:11:27 00:00:00' })).rules).toEqual(['time-future']);
  expect(timed(photo({ dateTimeOriginal: '1970:01:01 00:00:00' }), { built: 1971, seen: seen() }).rules).toEqual(['time-before-car']);
});

test.each([
  ['2026:03:14 09:45:00', []],
  ['2026:03:14 09:44:59', ['time-outside-visit']],
  ['2026:03:14 12:00:00', []],
  ['2026:03:14 12:00:01', ['time-outside-visit']],
  ['2026:03:15 10:30:00', ['time-outside-visit']],
])('of a visit 10:00-11:45, %s gives %j', (dateTimeOriginal, rules) => {
  expect(timed(photo({ dateTimeOriginal }), { seen: seen() }).rules).toEqual(rules);
  expect(timed(photo({ dateTimeOriginal }), { seen: seen({ timeZone: null }) }).rules).toEqual(rules);
});

test('a camera set to another zone is inside the visit when the instant is', () => {
  const abroad = photo({ dateTimeOriginal: '2026:03:14 05:30:00', offsetTimeOriginal: '-05:00' });
  expect(timed(abroad, { seen: seen() }).rules).toEqual([]);
});

test('a visit over midnight ends the next day; one without hours is its date', () => {
  const night = seen({ from: '22:00', to: '01:00' });
  expect(timed(photo({ dateTimeOriginal: '2026:03:15 00:30:00' }), { seen: night }).rules).toEqual([]);
  const day = seen({ from: null, to: null });
  expect(timed(photo({ dateTimeOriginal: '2026:03:14 23:59:59' }), { seen: day }).rules).toEqual([]);
  expect(timed(photo({ dateTimeOriginal: '2026:03:15 00:00:00' }), { seen: day }).rules).toEqual(['time-outside-visit']);
});

test('a change after the shutter is told in neutral words', () => {
  const edited = photo({ dateTimeOriginal: '2026:03:14 10:00:00', modifyDate: '2026:03:15 18:02:11', software: 'Some Editor 2' });
  const { notices } = timePhotos([edited], facts);
  expect(notices).toMatchObject([{ rule: 'photo-changed-later', level: 'note', spot: { file: 'a.jpg' } }]);
  expect(JSON.stringify(notices)).not.toMatch(/fake|manipulat|genuine|tamper/i);
  expect(timed(photo({ dateTimeOriginal: '2026:03:14 10:00:00', modifyDate: '2026:03:14 10:00:03' })).rules).toEqual([]);
});

test('the zone of the machine changes nothing', () => {
  const script = `import { timePhotos } from '${new URL('../../src/read/photos/times.ts', import.meta.url).href}';
    const one = ${JSON.stringify(photo({ dateTimeOriginal: '2026:03:29 01:30:00' }))};
    const two = ${JSON.stringify(photo({ gpsDate: '2026:07:14', gpsTime: '23:12:41' }))};
    console.log(JSON.stringify(timePhotos([one, two], ${JSON.stringify({ ...facts, seen: seen() })})));`;
  const run = (TZ: string): string => {
    const { stdout, stderr, status } = spawnSync(process.execPath, ['--input-type=module', '-e', script], { env: { ...process.env, TZ }, encoding: 'utf8' });
    expect(status, stderr).toBe(0);
    return stdout;
  };
  const here = run('UTC');
  expect(here).toContain('2026-07-15T00:12:41');
  expect(run('Pacific/Kiritimati')).toBe(here);
  expect(run('America/St_Johns')).toBe(here);
});
