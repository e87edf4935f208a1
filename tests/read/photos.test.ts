import { createHash } from 'node:crypto';
import { spawnSync } from 'node:child_process';
import { mkdir, mkdtemp, readFile, rm, stat, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import sharp from 'sharp';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { disk } from '../../src/read/photos/disk.ts';
import type { Disk } from '../../src/read/photos/disk.ts';
import { boxesCanBeWalked, formatByContent } from '../../src/read/photos/format.ts';
import { readPhotos } from '../../src/read/photos/index.ts';
import { xmpValues } from '../../src/read/photos/keywords.ts';

let job = '';
beforeEach(async () => {
  job = await mkdtemp(join(tmpdir(), 'sillbook-photos-'));
});
afterEach(async () => {
  await rm(job, { recursive: true, force: true });
});

const small = () => sharp({ create: { width: 8, height: 6, channels: 3, background: '#a05030' } });
const jpeg = (): Promise<Buffer> => small().jpeg().toBuffer();

async function put(path: string, content: Buffer | string): Promise<void> {
  await mkdir(dirname(join(job, path)), { recursive: true });
  await writeFile(join(job, path), content);
}

const failing = (code: string): Promise<never> => Promise.reject(Object.assign(new Error('no'), { code }));
const brief = (notices: { rule: string; spot?: { file: string } | undefined }[]): string[] => notices.map(({ rule, spot }) => `${rule} ${spot?.file}`);

/** XMP with keywords the way photo managers write them. */
const xmp = (inner: string): string => `<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:lr="http://ns.adobe.com/lightroom/1.0/" xmlns:exif="http://ns.adobe.com/exif/1.0/">${inner}</rdf:Description></rdf:RDF></x:xmpmeta>`;
const bag = (...items: string[]): string => `<rdf:Bag>${items.map((item) => `<rdf:li>${item}</rdf:li>`).join('')}</rdf:Bag>`;

/** A JPEG with one IPTC block behind its start (IPTC IIM 4.2 in a Photoshop image resource of APP13). */
function withIptc(picture: Buffer, keywords: Buffer[], utf8: boolean): Buffer {
  const set = (record: number, number: number, value: Buffer): Buffer => {
    const head = Buffer.from([0x1c, record, number, 0, 0]);
    head.writeUInt16BE(value.length, 3);
    return Buffer.concat([head, value]);
  };
  const data = Buffer.concat([...(utf8 ? [set(1, 90, Buffer.from('\x1b%G', 'latin1'))] : []), ...keywords.map((keyword) => set(2, 25, keyword))]);
  const size = Buffer.alloc(4);
  size.writeUInt32BE(data.length);
  const resource = Buffer.concat([Buffer.from('Photoshop 3.0\x008BIM\x04\x04\0\0', 'latin1'), size, data, Buffer.alloc(data.length % 2)]);
  const marker = Buffer.from([0xff, 0xed, 0, 0]);
  marker.writeUInt16BE(resource.length + 2, 2);
  return Buffer.concat([picture.subarray(0, 2), marker, resource, picture.subarray(2)]);
}

test('photos come in path order, hashed, with what EXIF says, raw', async () => {
  const exif = { IFD0: { Make: 'Acme', Model: 'Pocket 3', DateTime: '2026:03:14 10:12:41' }, IFD2: { DateTimeOriginal: '2026:03:14 10:12:41', SubSecTimeOriginal: '888', OffsetTimeOriginal: '+00:00' } };
  const bytes = await small().withExif(exif).jpeg().toBuffer();
  await put('photos/b.jpg', bytes);
  await put('photos/A.jpg', await jpeg());
  await put('Z/ä.jpg', await jpeg());
  const progress: string[] = [];
  const { photos, notices } = await readPhotos(job, { onProgress: (done, total) => progress.push(`${done}/${total}`) });
  expect(photos.map((photo) => photo.path)).toEqual(['Z/ä.jpg', 'photos/A.jpg', 'photos/b.jpg']);
  expect(photos[2]).toMatchObject({
    id: 'b',
    name: 'b.jpg',
    bytes: bytes.length,
    sha256: createHash('sha256').update(bytes).digest('hex'),
    format: 'jpeg',
    make: 'Acme',
    model: 'Pocket 3',
    orientation: 1,
    takenAt: null,
    hasPosition: false,
    exif: { dateTimeOriginal: '2026:03:14 10:12:41', subSecTimeOriginal: '888', offsetTimeOriginal: '+00:00', modifyDate: '2026:03:14 10:12:41' },
  });
  expect(notices).toEqual([]);
  expect(progress).toEqual(['1/3', '2/3', '3/3']);
});

test('a position is known to be there, and where', async () => {
  await put('a.jpg', await small().withExif({ IFD3: { GPSLatitudeRef: 'S', GPSLatitude: '10/1 30/1 0/1', GPSLongitudeRef: 'E', GPSLongitude: '20/1 15/1 0/1', GPSDateStamp: '2026:03:14', GPSTimeStamp: '1/1 32/1 9/1' } }).jpeg().toBuffer());
  const { photos } = await readPhotos(job);
  expect(photos[0]).toMatchObject({ hasPosition: true, exif: { gpsLatitude: -10.5, gpsLongitude: 20.25, gpsDate: '2026:03:14', gpsTime: '01:32:09' } });
});

test.each(['png', 'webp', 'avif'] as const)('EXIF and keywords are read from %s', async (format) => {
  const bytes = await small().withExif({ IFD0: { Make: 'Acme' }, IFD2: { DateTimeOriginal: '2026:03:14 10:12:41' } }).withXmp(xmp(`<dc:subject>${bag('Sill, left')}</dc:subject>`)).toFormat(format).toBuffer();
  await put(`a.${format}`, bytes);
  const { photos, notices } = await readPhotos(job);
  expect(photos[0]).toMatchObject({ format, make: 'Acme', keywords: ['Sill, left'], exif: { dateTimeOriginal: '2026:03:14 10:12:41' } });
  expect(notices).toEqual([]);
});

test('keywords are read from TIFF', async () => {
  await put('a.tif', await small().withXmp(xmp(`<dc:subject>${bag('Sill, left')}</dc:subject>`)).tiff().toBuffer());
  const { photos, notices } = await readPhotos(job);
  expect(photos[0]).toMatchObject({ format: 'tiff', keywords: ['Sill, left'] });
  expect(notices).toEqual([]);
});

test('keywords stay as written, each once; a hierarchical one gives its leaf too', async () => {
  const inner = `<dc:subject>${bag('007', 'Sill &amp; floor', 'Sill, left')}</dc:subject><lr:hierarchicalSubject>${bag('Car|Sill, left', 'Car|Left|Floor')}</lr:hierarchicalSubject>`;
  await put('a.jpg', await small().withXmp(xmp(inner)).jpeg().toBuffer());
  const { photos } = await readPhotos(job);
  expect(photos[0]?.keywords).toEqual(['007', 'Sill & floor', 'Sill, left', 'Car|Sill, left', 'Car|Left|Floor', 'Floor']);
});

test('dc:subject may be a plain string or an attribute', () => {
  expect(xmpValues(xmp('<dc:subject>Sill</dc:subject>'), 'dc:subject')).toEqual(['Sill']);
  expect(xmpValues('<rdf:Description dc:subject="Sill &#x26; floor"/>', 'dc:subject')).toEqual(['Sill & floor']);
  expect(xmpValues('<dc:subject/><dc:subjects>no</dc:subjects><dc:subject>open', 'dc:subject')).toEqual([]);
});

test('IPTC keywords are Latin-1 unless the file declares UTF-8', async () => {
  await put('latin.jpg', withIptc(await jpeg(), [Buffer.from('Türe', 'latin1'), Buffer.from('Sill')], false));
  await put('utf8.jpg', withIptc(await jpeg(), [Buffer.from('Türe', 'utf8')], true));
  const { photos } = await readPhotos(job);
  expect(photos.map((photo) => photo.keywords)).toEqual([['Türe', 'Sill'], ['Türe']]);
});

test('what is no photo is named and kept out; text, settings and litter pass quietly', async () => {
  await put('clip.MOV', 'x');
  await put('photos/report.pdf', 'x');
  await put('photos/raw.NEF', await small().tiff().toBuffer());
  for (const quiet of ['findings.md', 'sillbook.json', 'photos/notes.txt', 'photos/Thumbs.db', '.DS_Store', 'photos/desktop.ini', 'photos/._a.jpg']) await put(quiet, 'x');
  const { photos, notices, others } = await readPhotos(job);
  expect(photos).toEqual([]);
  expect(others).toEqual(['clip.MOV', 'photos/raw.NEF', 'photos/report.pdf']);
  expect(brief(notices)).toEqual(['file-ignored clip.MOV', 'file-ignored photos/raw.NEF', 'file-ignored photos/report.pdf']);
});

test('our own folders, hidden ones, skipped ones and other visits are not entered', async () => {
  const bytes = await jpeg();
  for (const path of ['out/a.jpg', 'issues/1/a.jpg', '.sillbook/a.jpg', 'photos/.hidden/a.jpg', 'node_modules/x/a.jpg', 'handed/a.jpg', '2026-05-09/a.jpg']) await put(path, bytes);
  await put('2026-05-09/findings.md', '# Visit');
  await put('photos/out/kept.jpg', bytes);
  const { photos, notices } = await readPhotos(job, { skip: ['handed'] });
  expect(photos.map((photo) => photo.path)).toEqual(['photos/out/kept.jpg']);
  expect(brief(notices)).toEqual(['visit-below 2026-05-09']);
});

test('the content says what a file is, whatever its name', async () => {
  await put('a.jpg', await small().png().toBuffer());
  await put('b.jpg', '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>');
  await put('c.jpg', '');
  await put('noending', await jpeg());
  const { photos, notices } = await readPhotos(job);
  expect(photos.map(({ path, format, sha256 }) => [path, format, sha256.length])).toEqual([['a.jpg', 'png', 64], ['b.jpg', null, 64], ['c.jpg', null, 64], ['noending', 'jpeg', 64]]);
  expect(brief(notices)).toEqual(['photo-misnamed a.jpg', 'photo-not-a-picture b.jpg', 'photo-empty c.jpg', 'photo-misnamed noending']);
});

test('brands tell HEIF from AVIF and from film', () => {
  const file = (major: string, ...compatible: string[]): Buffer => {
    const box = Buffer.concat([Buffer.alloc(4), Buffer.from(`ftyp${major}\0\0\0\0${compatible.join('')}`, 'latin1')]);
    box.writeUInt32BE(box.length);
    return box;
  };
  expect(['heic', 'heix', 'mif1', 'msf1'].map((brand) => formatByContent(file(brand, 'mif1', 'heic')))).toEqual(['heif', 'heif', 'heif', 'heif']);
  expect([formatByContent(file('avif', 'mif1')), formatByContent(file('avis')), formatByContent(file('mif1', 'avif'))]).toEqual(['avif', 'avif', 'avif']);
  expect([formatByContent(file('isom', 'mp42')), formatByContent(file('qt  ')), formatByContent(Buffer.from('GIF89a'))]).toEqual([null, null, null]);
});

test('a box of length zero before the metadata ends the reading, not the patience', async () => {
  const ftyp = Buffer.concat([Buffer.from([0, 0, 0, 24]), Buffer.from('ftypheic\0\0\0\0mif1heic', 'latin1')]);
  const endless = Buffer.concat([ftyp, Buffer.from('\0\0\0\0free', 'latin1'), Buffer.alloc(64)]);
  expect(boxesCanBeWalked(endless)).toBe(false);
  await put('a.heic', endless);
  const { photos } = await readPhotos(job);
  expect(photos[0]).toMatchObject({ format: 'heif', make: null });
});

test('an impossible orientation is none, and told', async () => {
  const bytes = await small().withMetadata({ orientation: 6 }).jpeg().toBuffer();
  // Tag 0x0112, SHORT, one value, little-endian: the entry as libexif writes it.
  const entry = bytes.indexOf(Buffer.from('12010300010000000600', 'hex'));
  expect(entry).toBeGreaterThan(0);
  bytes[entry + 8] = 9;
  await put('a.jpg', bytes);
  const { photos, notices } = await readPhotos(job);
  expect(photos[0]?.orientation).toBe(1);
  expect(notices).toMatchObject([{ rule: 'orientation-invalid', found: 'EXIF orientation 9' }]);
});

test('EXIF that cannot be read is told', async () => {
  const bytes = await small().withExif({ IFD0: { Make: 'Acme' } }).jpeg().toBuffer();
  const tiff = bytes.indexOf('Exif\0\0') + 6;
  bytes.fill(0xff, tiff + 4, tiff + 8);
  await put('a.jpg', bytes);
  const { photos, notices } = await readPhotos(job);
  expect(photos[0]?.make).toBeNull();
  expect(brief(notices)).toEqual(['photo-exif-damaged a.jpg']);
  expect(notices[0]).toMatchObject({ found: 'What the camera wrote beside the picture can be read only in part', advice: expect.stringMatching(/^Check the time and camera shown for it \(.+\)\.$/) as string });
});

test('two times in one file are both named', async () => {
  await put('a.jpg', await small().withExif({ IFD2: { DateTimeOriginal: '2026:03:14 10:12:41' } }).withXmp(xmp('<exif:DateTimeOriginal>2026-03-15T10:12:41</exif:DateTimeOriginal>')).jpeg().toBuffer());
  const { photos, notices } = await readPhotos(job);
  expect(photos[0]?.exif.dateTimeOriginal).toBe('2026:03:14 10:12:41');
  expect(brief(notices)).toEqual(['times-differ a.jpg']);
});

test('ids are unique and fit for anchors, whatever the names', async () => {
  const names = ['one/IMG_4022.JPG', 'two/IMG_4022.jpg', "a b's #1 100%.jpg", 'Türe "links".jpg', '🚗.jpg', 'صورة.jpg', '‮gpj.jpg', 'IMG_4022-2.jpg'];
  const bytes = await jpeg();
  for (const name of names) await put(name, bytes);
  const { photos, notices } = await readPhotos(job);
  expect(notices).toEqual([]);
  expect(new Set(photos.map((photo) => photo.path))).toEqual(new Set(names));
  const hash = createHash('sha256').update(bytes).digest('hex').slice(0, 8);
  const ids = Object.fromEntries(photos.map((photo) => [photo.path, photo.id]));
  expect(ids).toEqual({
    'IMG_4022-2.jpg': 'img-4022-2',
    "a b's #1 100%.jpg": 'a-b-s-1-100',
    'Türe "links".jpg': 'ture-links',
    'one/IMG_4022.JPG': 'img-4022',
    'two/IMG_4022.jpg': 'img-4022-3',
    '‮gpj.jpg': 'gpj',
    'صورة.jpg': `photo-${hash}`,
    '🚗.jpg': `photo-${hash}-2`,
  });
});

test('a link out of the job is never followed; one inside is', async () => {
  const outside = await mkdtemp(join(tmpdir(), 'sillbook-outside-'));
  try {
    await writeFile(join(outside, 'secret.jpg'), await jpeg());
    await put('photos/a.jpg', await jpeg());
    await symlink(join(outside, 'secret.jpg'), join(job, 'b.jpg'));
    await symlink(outside, join(job, 'folder'));
    await symlink(job, join(job, 'photos', 'round'));
    await symlink(join(job, 'photos', 'a.jpg'), join(job, 'c.jpg'));
    await symlink(join(job, 'gone.jpg'), join(job, 'd.jpg'));
    const opened: string[] = [];
    const watching: Disk = { ...disk, read: (path) => (opened.push(path), disk.read(path)) };
    const { photos, notices } = await readPhotos(job, { disk: watching });
    expect(photos.map((photo) => photo.path)).toEqual(['c.jpg', 'photos/a.jpg']);
    expect(brief(notices)).toEqual(['link-outside b.jpg', 'link-broken d.jpg', 'link-outside folder']);
    expect(opened.some((path) => path.includes('sillbook-outside'))).toBe(false);
  } finally {
    await rm(outside, { recursive: true, force: true });
  }
});

test('a disk that refuses is told, and the photo stays in the list', async () => {
  await put('a.jpg', await jpeg());
  await put('b.jpg', await jpeg());
  await put('clip.mov', 'x');
  await put('locked/c.jpg', await jpeg());
  const refusing: Disk = {
    ...disk,
    entries: (folder) => (folder.endsWith('locked') ? failing('EACCES') : disk.entries(folder)),
    read: (path) => (path.endsWith('b.jpg') || path.endsWith('.mov') ? failing('EIO') : disk.read(path)),
  };
  const { photos, notices, others } = await readPhotos(job, { disk: refusing });
  expect(photos.map(({ path, sha256, format }) => [path, sha256 === '', format])).toEqual([['a.jpg', false, 'jpeg'], ['b.jpg', true, null]]);
  expect(others).toEqual(['clip.mov']);
  expect(brief(notices)).toEqual(['folder-unreadable locked', 'photo-unreadable b.jpg', 'file-ignored clip.mov']);
  expect((await readPhotos(join(job, 'nowhere'))).notices.map((notice) => notice.rule)).toEqual(['folder-unreadable']);
});

test('a file too large for a photo is hashed, not read whole', async () => {
  await put('a.jpg', await jpeg());
  const huge: Disk = { ...disk, facts: async (path) => ({ ...(await disk.facts(path)), bytes: 200_000_001 }), read: () => failing('never') };
  const { photos, notices } = await readPhotos(job, { disk: huge });
  expect(photos[0]).toMatchObject({ format: null, sha256: createHash('sha256').update(await jpeg()).digest('hex') });
  expect(brief(notices)).toEqual(['photo-too-large a.jpg']);
});

test('each file is read once and none is touched', async () => {
  await put('a.jpg', await jpeg());
  await put('b.webp', await small().webp().toBuffer());
  const before = await Promise.all(['a.jpg', 'b.webp'].map(async (name) => [(await stat(join(job, name))).mtimeMs, await readFile(join(job, name))]));
  const reads: string[] = [];
  await readPhotos(job, { disk: { ...disk, read: (path) => (reads.push(path), disk.read(path)) } });
  expect(reads.toSorted()).toEqual([join(job, 'a.jpg'), join(job, 'b.webp')]);
  const after = await Promise.all(['a.jpg', 'b.webp'].map(async (name) => [(await stat(join(job, name))).mtimeMs, await readFile(join(job, name))]));
  expect(after).toEqual(before);
});

test('plain JPEGs are read without loading the picture library; WebP needs it', async () => {
  await put('a.jpg', await small().withExif({ IFD0: { Make: 'Acme' } }).jpeg().toBuffer());
  await put('b.jpg', await jpeg());
  const script = `import { registerHooks } from 'node:module';
    registerHooks({ resolve(name, context, next) { if (name === 'sharp') console.log('loaded'); return next(name, context); } });
    const { readPhotos } = await import('${new URL('../../src/read/photos/index.ts', import.meta.url).href}');
    console.log((await readPhotos(process.argv[1])).photos.length);`;
  const run = (): string => spawnSync(process.execPath, ['--input-type=module', '-e', script, job], { encoding: 'utf8' }).stdout.trim();
  expect(run()).toBe('2');
  await put('c.webp', await small().webp().toBuffer());
  expect(run()).toBe('loaded\n3');
});
