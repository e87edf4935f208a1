import { expect, test } from 'vitest';
import type { Entry } from '../../src/model/notes.ts';
import type { Photo } from '../../src/model/photo.ts';
import { place } from '../../src/place/index.ts';
import type { PlacedPhoto } from '../../src/model/inspection.ts';
import { finding, jobOf, photo, photoName, photoOnly, remark, spot, told, zoneNotes } from './builders.ts';

function placedIn(photos: Photo[], zones: Parameters<typeof jobOf>[0] = [], notes: NonNullable<Parameters<typeof jobOf>[1]>['notes'] = {}): PlacedPhoto[] {
  return place(jobOf(zones, { photos, notes })).photos;
}

function short(placed: PlacedPhoto[]): [string, string, string | null][] {
  return placed.map(({ photo: { path }, zones, rule }) => [path, zones.join(' '), rule]);
}

function named(text: string, paths: string[]): { photos: string[]; notices: string[] } {
  const entry: Entry = remark('look', { photos: [photoName(text, 7)] });
  const inspection = place(jobOf([zoneNotes('boot-floor', [entry])], { photos: paths.map((path) => photo(path)) }));
  const notices = inspection.notices.filter(({ rule }) => /^photo-(?!not-placed)/.test(rule));
  return {
    photos: inspection.zones.flatMap((zone) => zone.remarks.flatMap((one) => one.photos)),
    notices: notices.map(({ rule, found, advice }) => `${rule}: ${found}. ${advice ?? ''}`),
  };
}

test.each([
  ['photos/IMG_1.jpg', ['photos/IMG_1.jpg']],
  ['./photos/IMG_1.jpg', ['photos/IMG_1.jpg']],
  ['IMG_1.jpg', ['photos/IMG_1.jpg']],
  ['IMG_1', ['photos/IMG_1.jpg']],
  ['photos\\IMG_1', ['photos/IMG_1.jpg']],
  ['my%20photo', ['photos/my photo.jpg']],
  ['é', ['photos/e\u0301.jpg']],
])('a name finds its photo with or without folder and ending: %s', (text, paths) => {
  expect(named(text, [...paths, 'photos/other.jpg'])).toEqual({ photos: [photo(paths[0] ?? '').id], notices: [] });
});

test('capitals are forgiven as a last resort, with a note', () => {
  expect(named('img_1', ['IMG_1.JPG'])).toEqual({ photos: ['img-1-jpg'], notices: [expect.stringContaining('photo-name-case: "img_1" is IMG_1.JPG') as string] });
  expect(named('a.jpg', ['x/a.jpg', 'x/A.jpg']).notices).toEqual([]);
});

test('a name that fits two photos is asked back, its exact path is not', () => {
  const paths = ['left/IMG_1.jpg', 'right/IMG_1.jpg'];
  const { photos, notices } = named('IMG_1', paths);
  expect(photos).toEqual([]);
  expect(notices).toEqual(['photo-ambiguous: "IMG_1" could be left/IMG_1.jpg or right/IMG_1.jpg. Write the name with its folder and ending.']);
  expect(named('left/IMG_1', paths)).toEqual({ photos: ['left-img-1-jpg'], notices: [] });
  expect(named('IMG_1.jpg', ['IMG_1.jpg', 'right/IMG_1.jpg'])).toEqual({ photos: ['img-1-jpg'], notices: [] });
});

test('a missing photo is said with the nearest name', () => {
  expect(named('IMG_4030.jpg', ['IMG_4029.jpg', 'x.jpg']).notices).toEqual(['photo-missing: Missing "IMG_4030.jpg". Nearest: IMG_4029.jpg.']);
  expect(named('IMG_4030.jpg', ['x.jpg']).notices[0]).not.toContain('Nearest');
});

test.each(['../IMG_1.jpg', 'photos/../../IMG_1.jpg', '/photos/IMG_1.jpg', 'C:\\photos\\IMG_1.jpg', 'https://example.org/IMG_1.jpg', '//host/IMG_1.jpg'])(
  'a name that leads out of the job is never followed: %s',
  (text) => {
    const { photos, notices } = named(text, ['IMG_1.jpg', 'photos/IMG_1.jpg']);
    expect(photos).toEqual([]);
    expect(notices).toEqual([expect.stringMatching(/^photo-outside/) as string]);
  },
);

test('a range stands for its members; gaps are said once', () => {
  const paths = ['IMG_4027.jpg', 'IMG_4028.jpg', 'IMG_4030.jpg'];
  expect(named('IMG_4027-4028', paths)).toEqual({ photos: ['img-4027-jpg', 'img-4028-jpg'], notices: [] });
  expect(named('IMG_4027-28.jpg', paths).photos).toEqual(['img-4027-jpg', 'img-4028-jpg']);
  expect(named('IMG_4027-IMG_4028', paths).photos).toEqual(['img-4027-jpg', 'img-4028-jpg']);
  const gap = named('IMG_4027-4030', paths);
  expect(gap.photos).toEqual(['img-4027-jpg', 'img-4028-jpg', 'img-4030-jpg']);
  expect(gap.notices).toEqual([expect.stringContaining('photo-missing: Missing IMG_4029 of "IMG_4027-4030"') as string]);
});

test('a file of that very name is no range', () => {
  expect(named('IMG_4027-4028', ['IMG_4027.jpg', 'IMG_4028.jpg', 'IMG_4027-4028.jpg'])).toEqual({ photos: ['img-4027-4028-jpg'], notices: [] });
});

test('a range takes 200 members at most, and one without members or backwards is a missing photo', () => {
  const paths = Array.from({ length: 300 }, (_, at) => `IMG_${1000 + at}.jpg`);
  const { photos, notices } = named('IMG_1000-1299', paths);
  expect(photos).toHaveLength(200);
  expect(notices).toEqual([expect.stringMatching(/^photo-range-long/) as string]);
  expect(named('IMG_1000-99999999999', paths).photos).toHaveLength(200);
  expect(named('IMG_5000-5004', paths).notices).toEqual([expect.stringContaining('Missing "IMG_5000-5004"') as string]);
  expect(named('IMG_1005-1004', paths).notices).toEqual([expect.stringContaining('Missing "IMG_1005-1004"') as string]);
});

test('a photo named in two zones stands in both, and the name goes before the folder', () => {
  const entry = (line: number): Entry => finding('drain-slot: blocked', { photos: [photoName('a', line)] }, line);
  const [placed] = placedIn([photo('step/a.jpg')], [zoneNotes('sill-left', [entry(4)]), zoneNotes('boot-floor', [entry(9)])]);
  expect(placed).toMatchObject({ zones: ['boot-floor', 'sill-left'], rule: 'named in the findings', reason: 'named at findings.md:4 and findings.md:9' });
});

test.each([
  ['photos/sill left/1.jpg', 'sill-left'],
  ['left-sill/deeper/1.jpg', 'sill-left'],
  ['03 Left Rocker/1.jpg', 'sill-left'],
  ['Rocker_Panel_RH/1.jpg', 'sill-right'],
  ['sill/left/1.jpg', 'sill-left'],
  ['sillRight/1.jpg', 'sill-right'],
  ['boot floor/sill left/1.jpg', 'sill-left'],
])('a folder with the name of a zone: %s', (path, zone) => {
  expect(short(placedIn([photo(path)]))).toEqual([[path, zone, 'folder']]);
});

test.each([
  ['sill left 03.jpg', 'sill-left'],
  ['rocker_left.jpg', 'sill-left'],
  ['Left-Sill-IMG_4022.jpg', 'sill-left'],
  ['rear left door 2.jpg', 'rear-door-left'],
  ['bootFloor12.jpg', 'boot-floor'],
])('a file name that begins with a zone: %s', (path, zone) => {
  expect(short(placedIn([photo(path)]))).toEqual([[path, zone, 'file name']]);
});

test('a sided name without its side places nothing and says why', () => {
  const [placed] = placedIn([photo('sill 03.jpg')]);
  expect(placed).toMatchObject({ zones: [], rule: null, reason: 'its name says “sill” without left or right' });
});

test('keywords place, a path of keywords by its end, and unknown ones are one note', () => {
  const photos = [photo('a.jpg', null, { keywords: ['Boot floor', 'holiday'] }), photo('b.jpg', null, { keywords: ['Car|Sill|Left', 'dog', 'holiday'] })];
  const inspection = place(jobOf([], { photos }));
  expect(short(inspection.photos)).toEqual([['a.jpg', 'boot-floor', 'keyword'], ['b.jpg', 'sill-left', 'keyword']]);
  expect(inspection.photos[0]?.reason).toBe('keyword “Boot floor”');
  expect(inspection.notices.filter(({ rule }) => rule === 'keyword-unknown').map(({ level, found }) => [level, found])).toEqual([
    ['note', '2 keywords of photos name no zone: dog, holiday'],
  ]);
});

const seen = { date: '2026-03-14', from: '10:00', to: '11:45', timeZone: null, spot: spot(3) };

test('a heading with a time claims the photos up to the next, on the day of the visit', () => {
  const zones = [zoneNotes('sill-left', [], { from: '10:12' }), zoneNotes('boot-floor', [], { from: '10:30' })];
  const at = (time: string): Photo => photo(`p${time.replaceAll(/\D/g, '')}.jpg`, time);
  const photos = ['2026-03-14T10:11:59', '2026-03-14T10:12:00', '2026-03-14T10:29:59.9', '2026-03-14T10:30:00', '2026-03-14T11:45:59', '2026-03-14T11:46:00', '2026-03-15T10:20:00'].map(at);
  expect(placedIn(photos, zones, { seen }).map((placed) => placed.zones.join())).toEqual(['', 'sill-left', 'sill-left', 'boot-floor', 'boot-floor', '', '']);
});

test('times are those of the visit, whatever zone the camera was set to', () => {
  const zones = [zoneNotes('sill-left', [], { from: '10:12' }), zoneNotes('boot-floor', [], { from: '10:30' })];
  const berlin = photo('a.jpg', '2026-03-14T11:15:00');
  berlin.takenAt = { ...berlin.takenAt!, offset: '+01:00', instant: '2026-03-14T10:15:00Z', offsetFrom: 'camera' };
  const gps = photo('b.jpg', '2026-07-14T09:40:00');
  gps.takenAt = { ...gps.takenAt!, from: 'gps', offset: '+00:00', instant: '2026-07-14T09:40:00Z', offsetFrom: 'gps' };
  expect(placedIn([berlin], zones, { seen: { ...seen, timeZone: 'Europe/Dublin' } })[0]?.zones).toEqual(['sill-left']);
  // Dublin is an hour ahead of UTC in July.
  expect(placedIn([gps], zones, { seen: { ...seen, date: '2026-07-14', timeZone: 'Europe/Dublin' } })[0]?.zones).toEqual(['boot-floor']);
  expect(placedIn([gps], zones, { seen: { ...seen, date: '2026-07-14', timeZone: null } })[0]?.zones).toEqual([]);
  expect(placedIn([gps], zones, { seen: { ...seen, date: '2026-07-14', timeZone: 'No/Where' } })[0]?.zones).toEqual([]);
});

test('a photo between two of one zone less than ten minutes apart stands there too', () => {
  const between = (before: string, after: string, lastZone = 'sill left'): string | undefined =>
    placedIn([photo('sill left 1.jpg', before), photo('x.jpg', '2026-03-14T10:05:00'), photo(`${lastZone} 2.jpg`, after)])[1]?.zones.join();
  expect(between('2026-03-14T10:00:00', '2026-03-14T10:09:59')).toBe('sill-left');
  expect(between('2026-03-14T10:00:00', '2026-03-14T10:10:00')).toBe('');
  expect(between('2026-03-14T10:00:00', '2026-03-14T10:09:00', 'boot floor')).toBe('');
  expect(between('2026-03-14T10:00:00', '2026-03-14T10:04:00')).toBe('');
});

test('what is left over is a warning each and stays in the list', () => {
  const inspection = place(jobOf([zoneNotes(null, [photoOnly('b')])], { photos: [photo('a.jpg'), photo('b.jpg')] }));
  expect(short(inspection.photos)).toEqual([['a.jpg', '', null], ['b.jpg', '', null]]);
  expect(inspection.photos[1]?.reason).toContain('under no zone yet');
  expect(inspection.notices.filter(({ rule }) => rule === 'photo-not-placed')).toHaveLength(2);
});

test('views take their photos and need no zone', () => {
  const inspection = place(jobOf([], { photos: [photo('a.jpg')], notes: { views: [{ view: 'front', photo: photoName('a'), text: '', spot: spot(4) }] } }));
  expect(inspection.views).toEqual([{ id: 'front', photo: 'a-jpg' }, { id: 'back', photo: null }, { id: 'mileage', photo: null }]);
  expect(inspection.photos[0]).toMatchObject({ views: ['front'], rule: 'named in the findings', zones: [], caption: 'front' });
  expect(inspection.notices.filter(({ rule }) => rule === 'photo-not-placed')).toEqual([]);
});

test('captions say part, place, conditions and words, and who says so', () => {
  const captions = (entry: Entry): string | undefined => placedIn([photo('a.jpg')], [zoneNotes('sill-left', [entry])])[0]?.caption;
  const photos = [photoName('a')];
  expect(captions(finding('plug, inner face 2: cracked, loose', { photos, words: 'rust run below' }))).toBe('blind plug, inner face 2: cracked, loose. rust run below');
  expect(captions(finding('plug: sound', { photos, origin: told() }))).toBe('told by seller: blind plug: sound');
  expect(captions(photoOnly('a', { photos: [photoName('a', 1, 'the whole sill')] }))).toBe('the whole sill');
  expect(captions(photoOnly('a'))).toBe('');
});

test('marks go with the picture; what is to be hidden is hidden on every photo that could be meant', () => {
  const hide = { shape: 'hide', numbers: [0, 0, 1, 1], label: 'plate', text: '', spot: spot(5) } as const;
  const ring = { ...hide, shape: 'ring', spot: spot(6) } as const;
  const marks = (paths: string[]): string[][] =>
    placedIn(paths.map((path) => photo(path)), [zoneNotes('sill-left', [photoOnly('a', { marks: [hide, ring].map((mark) => ({ ...mark, numbers: [...mark.numbers] })) })])]).map((placed) => placed.marks.map(({ shape }) => shape));
  expect(marks(['a.jpg'])).toEqual([['hide', 'ring']]);
  expect(marks(['x/a.jpg', 'y/a.jpg', 'b.jpg'])).toEqual([['hide'], ['hide'], []]);
});

test('photos of a zone stand in time order', () => {
  const photos = [photo('boot floor 1.jpg', '2026-03-14T10:09:00'), photo('boot floor 2.jpg'), photo('boot floor 3.jpg', '2026-03-14T10:01:00')];
  const { zones } = place(jobOf([], { photos }));
  expect(zones.find(({ zone }) => zone.id === 'boot-floor')?.photos).toEqual(['boot-floor-3-jpg', 'boot-floor-1-jpg', 'boot-floor-2-jpg']);
});
