import { createHash } from 'node:crypto';
import { mkdir, mkdtemp, readFile, readdir, rm, stat, truncate, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import exifr from 'exifr';
import sharp from 'sharp';
import type { Sharp } from 'sharp';
import { afterEach, beforeEach, expect, test } from 'vitest';
import type { Photo } from '../../src/model/photo.ts';
import { renderPictures } from '../../src/print/pictures/index.ts';
import { readPhotos } from '../../src/read/photos/index.ts';
import type { PictureOptions } from '../../src/print/pictures/index.ts';

let folder = '';
let options: PictureOptions & { outFolder: string } = { jobFolder: '', cacheFolder: '', outFolder: '' };
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'sillbook-pictures-'));
  options = { jobFolder: join(folder, 'job'), cacheFolder: join(folder, 'cache'), outFolder: join(folder, 'site') };
});
afterEach(async () => {
  await rm(folder, { recursive: true, force: true });
});

async function photo(path: string, bytes: Buffer, rest: Partial<Photo> = {}): Promise<Photo> {
  await mkdir(dirname(join(options.jobFolder, path)), { recursive: true });
  await writeFile(join(options.jobFolder, path), bytes);
  const none = { dateTimeOriginal: null, subSecTimeOriginal: null, offsetTimeOriginal: null, modifyDate: null, software: null, gpsLatitude: null, gpsLongitude: null, gpsDate: null, gpsTime: null };
  return {
    id: path.replace(/[^a-z0-9]+/gi, '-').toLowerCase(),
    path,
    name: path.split('/').at(-1) ?? path,
    bytes: bytes.length,
    sha256: createHash('sha256').update(bytes).digest('hex'),
    format: 'jpeg',
    make: null,
    model: null,
    orientation: 1,
    takenAt: null,
    keywords: [],
    editors: [],
    hasPosition: false,
    exif: none,
    ...rest,
  };
}

const plain = (width: number, height: number, background = '#a05030') => sharp({ create: { width, height, channels: 3, background } });
const out = (file: string): string => join(options.outFolder, file);
const one = async (subject: Photo, more: Partial<PictureOptions> = {}) => {
  const { pictures, notices } = await renderPictures([subject], { ...options, ...more });
  const found = pictures.get(subject.id);
  if (!found) throw new Error('no entry');
  return { ...found, notices };
};

async function colourAt(file: string, x: number, y: number): Promise<number[]> {
  const { data, info } = await sharp(file).raw().toBuffer({ resolveWithObject: true });
  const at = (Math.floor(y * info.height) * info.width + Math.floor(x * info.width)) * info.channels;
  return [...data.subarray(at, at + 3)];
}
const near = (found: number[], wanted: number[], by = 12): void => {
  expect(Math.max(...found.map((value, index) => Math.abs(value - (wanted[index] ?? 0)))), `${found} near ${wanted}`).toBeLessThanOrEqual(by);
};

test.each([
  [3000, 2000, [[480, 320], [960, 640], [1600, 1067], [2400, 1600]]],
  [2000, 3000, [[480, 720], [960, 1440], [1600, 2400], [2000, 3000]]],
  [960, 100, [[480, 50], [960, 100]]],
  [400, 1, [[400, 1]]],
  [3000, 1, [[480, 1], [960, 1], [1600, 1], [2400, 1]]],
  [100, 24_000, [[50, 12_000]]],
])('%i by %i pixels give %j', async (width, height, sizes) => {
  const subject = await photo('a.jpg', await plain(width, height).jpeg().toBuffer());
  const { renditions, flaw, notices } = await one(subject);
  expect(renditions.map((each) => [each.width, each.height])).toEqual(sizes);
  expect([flaw, notices]).toEqual(['', []]);
  for (const each of renditions) {
    expect(each.file).toBe(`photos/${subject.sha256.slice(0, 16)}-2-${each.width}.jpg`);
    const found = await sharp(out(each.file)).metadata();
    expect([found.format, found.width, found.height, found.isProgressive]).toEqual(['jpeg', each.width, each.height, true]);
  }
});

// TIFF 6.0 / EXIF 2.32, tag 0x0112: where the first row and column of the stored picture are to be shown.
const corners = { 1: [0, 0], 2: [1, 0], 3: [1, 1], 4: [0, 1], 5: [0, 0], 6: [1, 0], 7: [1, 1], 8: [0, 1] } as const;
test.each([1, 2, 3, 4, 5, 6, 7, 8] as const)('orientation %i is turned upright', async (orientation) => {
  const corner = await plain(120, 80, '#00ff00').png().toBuffer();
  const bytes = await plain(600, 400, '#ffffff').composite([{ input: corner, left: 0, top: 0 }]).jpeg().withMetadata({ orientation }).toBuffer();
  const { renditions } = await one(await photo('a.jpg', bytes, { orientation }));
  const last = renditions.at(-1);
  expect([last?.width, last?.height]).toEqual(orientation < 5 ? [600, 400] : [400, 600]);
  const [right, below] = corners[orientation];
  const file = out(last?.file ?? '');
  near(await colourAt(file, right ? 0.95 : 0.05, below ? 0.95 : 0.05), [0, 255, 0], 30);
  near(await colourAt(file, right ? 0.05 : 0.95, below ? 0.05 : 0.95), [255, 255, 255]);
});

test('no picture carries metadata', async () => {
  const exif = { IFD0: { Make: 'Acme', Copyright: 'A. Owner' }, IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '53/1 20/1 0/1', GPSLongitudeRef: 'W', GPSLongitude: '6/1 15/1 0/1' } };
  const bytes = await plain(1000, 700).withExif(exif).withXmp('<x:xmpmeta xmlns:x="adobe:ns:meta/"/>').withIccProfile('p3').jpeg().toBuffer();
  expect((await exifr.gps(bytes))?.latitude).toBeCloseTo(53.333, 2);
  const { renditions } = await one(await photo('a.jpg', bytes));
  expect(renditions).toHaveLength(3);
  for (const { file } of renditions) {
    const delivered = await readFile(out(file));
    const { exif: noExif, xmp, iptc, icc, comments } = await sharp(delivered).metadata();
    expect([noExif, xmp, iptc, icc, comments]).toEqual([undefined, undefined, undefined, undefined, undefined]);
    expect(await exifr.parse(delivered, true)).toBeUndefined();
    expect(delivered.includes('Acme') || delivered.includes('Exif')).toBe(false);
  }
});

test('wide colours become sRGB as the profile says', async () => {
  // lcms2 stores sRGB (160, 80, 48) as other numbers under Display P3; shown they have to be the same colour again.
  const wide = await plain(1200, 800).withIccProfile('p3').jpeg({ quality: 100, chromaSubsampling: '4:4:4' }).toBuffer();
  const stored = await sharp(wide, { ignoreIcc: true }).raw().toBuffer();
  expect([...stored.subarray(0, 3)]).not.toEqual([160, 80, 48]);
  const { renditions } = await one(await photo('a.jpg', wide));
  near(await colourAt(out(renditions[0]?.file ?? ''), 0.5, 0.5), [160, 80, 48], 3);
});

test('transparent parts are white', async () => {
  const bytes = await sharp({ create: { width: 50, height: 40, channels: 4, background: { r: 255, g: 0, b: 0, alpha: 0 } } }).png().toBuffer();
  const { renditions } = await one(await photo('a.png', bytes, { format: 'png' }));
  near(await colourAt(out(renditions[0]?.file ?? ''), 0.5, 0.5), [255, 255, 255], 2);
});

test.each(['grey', 'CMYK', 'sixteen bit'])('%s pictures come out as they look', async (kind) => {
  const source = plain(60, 40, '#808080');
  const image = kind === 'grey' ? source.greyscale().jpeg() : kind === 'CMYK' ? source.toColourspace('cmyk').jpeg() : source.toColourspace('rgb16').png();
  const { renditions, flaw } = await one(await photo('a', await image.toBuffer(), { format: kind === 'sixteen bit' ? 'png' : 'jpeg' }));
  expect(flaw).toBe('');
  // There and back through the CMYK profile with perceptual intent darkens a grey a little; an inverted one would be far off.
  near((await colourAt(out(renditions[0]?.file ?? ''), 0.5, 0.5)).slice(0, 1), [128], kind === 'CMYK' ? 16 : 4);
});

test('a cut-off photo is shown as far as it goes, and says so', async () => {
  const noise = await sharp({ create: { width: 800, height: 600, channels: 3, noise: { type: 'gaussian', mean: 128, sigma: 40 }, background: '#000' } }).jpeg().toBuffer();
  const subject = await photo('a.jpg', noise.subarray(0, Math.floor(noise.length / 2)));
  const first = await one(subject);
  expect(first.renditions.map((each) => each.width)).toEqual([480, 800]);
  expect(first.flaw).toBe('damaged, shown as far as it can be read');
  expect(first.notices).toMatchObject([{ level: 'warning', rule: 'photo-damaged', spot: { file: 'a.jpg' } }]);
  expect(await one(subject)).toEqual(first);
});

test('what cannot be decoded has a flaw and a notice, never silence', async () => {
  const subject = await photo('a.jpg', Buffer.concat([Buffer.from([0xff, 0xd8, 0xff, 0xe0]), Buffer.alloc(200, 7)]));
  const { renditions, flaw, notices } = await one(subject);
  expect(renditions).toEqual([]);
  expect(flaw).toBe('cannot be decoded: listed and hashed, not shown');
  expect(notices.map((notice) => notice.rule)).toEqual(['photo-undecodable']);
});

test('what the reader refused is never given to a decoder', async () => {
  const svg = await photo('a.jpg', Buffer.from('<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>'), { format: null });
  expect(await one(svg)).toEqual({ renditions: [], flaw: 'not a picture Sillbook takes: listed and hashed, not shown', measures: null, notices: [] });
  const unread = { ...svg, sha256: '' };
  expect((await one(unread)).flaw).toBe('cannot be read: listed, not shown');
});

test('a picture of more pixels than any camera makes is refused before it is decoded', async () => {
  const bytes = await plain(8, 8).png().toBuffer();
  bytes.writeUInt32BE(60_000, 16);
  bytes.writeUInt32BE(60_000, 20);
  // The header's checksum has to fit, or the decoder stops there already.
  const { crc32 } = await import('node:zlib');
  bytes.writeUInt32BE(crc32(bytes.subarray(12, 29)), 29);
  const { renditions, flaw, notices } = await one(await photo('a.png', bytes, { format: 'png' }));
  expect([renditions, flaw]).toEqual([[], '3600 million pixels: listed and hashed, not shown']);
  expect(notices.map((notice) => notice.rule)).toEqual(['photo-undecodable']);
});

test('of an animated file the first frame is shown', async () => {
  const frames = await Promise.all(['#00ff00', '#0000ff'].map((colour) => plain(40, 40, colour).png().toBuffer()));
  const bytes = await sharp(frames, { join: { animated: true } }).webp({ loop: 0, delay: [100, 100], lossless: true }).toBuffer();
  const { renditions, notices } = await one(await photo('a.webp', bytes, { format: 'webp' }));
  expect(renditions.map((each) => [each.width, each.height])).toEqual([[40, 40]]);
  near(await colourAt(out(renditions[0]?.file ?? ''), 0.5, 0.5), [0, 255, 0], 30);
  expect(notices[0]).toMatchObject({ rule: 'photo-animated', found: 'File holds 2 pictures', advice: 'The main one is shown, or the first where the file names none; the original is not changed.' });
});

test('a picture smaller than any photo gets a note, one of usual size none', async () => {
  const rules = async (width: number, height: number): Promise<string[]> => (await one(await photo('a.jpg', await plain(width, height).jpeg().toBuffer()))).notices.map(({ rule, found }) => `${rule}: ${found}`);
  expect(await rules(399, 16)).toEqual(['photo-tiny: Picture is only 399 pixels long']);
  expect(await rules(300, 400)).toEqual([]);
});

test('a decoder’s own words stand last, in brackets', async () => {
  const whole = await plain(800, 600).jpeg().toBuffer();
  const damaged = await one(await photo('a.jpg', whole.subarray(0, whole.length - 200)));
  expect(damaged.notices[0]).toMatchObject({ rule: 'photo-damaged', found: 'Picture is damaged', advice: expect.stringMatching(/^It is shown as far as it can be read; look for an undamaged copy \(.+\)\.$/) as string });
});

test('a file that changed since it was read is an error', async () => {
  const subject = await photo('a.jpg', await plain(40, 40).jpeg().toBuffer());
  await writeFile(join(options.jobFolder, 'a.jpg'), await plain(41, 40).jpeg().toBuffer());
  const { renditions, notices } = await one(subject);
  expect(renditions).toEqual([]);
  expect(notices).toMatchObject([{ level: 'error', rule: 'photo-changed-meanwhile', spot: { file: 'a.jpg' } }]);
  await rm(join(options.jobFolder, 'a.jpg'));
  expect((await one(subject)).notices.map((notice) => notice.rule)).toEqual(['photo-changed-meanwhile']);
});

test('odd names are no obstacle, and the same photo twice is one file', async () => {
  const bytes = await plain(440, 30).jpeg().toBuffer();
  const names = ["a b's.jpg", '#1 50%.jpg', 'Türe "links".jpg', '🚗.jpg', 'صورة.jpg', 'one/x.jpg', 'two/x.jpg'];
  const photos = await Promise.all(names.map((name, index) => photo(name, bytes, { id: `p${index}` })));
  const seen: string[] = [];
  const { pictures, notices } = await renderPictures(photos, { ...options, onProgress: (done, total) => seen.push(`${done}/${total}`) });
  expect([...pictures.keys()]).toEqual(['p0', 'p1', 'p2', 'p3', 'p4', 'p5', 'p6']);
  expect(new Set([...pictures.values()].flatMap((each) => each.renditions.map((rendition) => rendition.file))).size).toBe(1);
  expect(await readdir(join(options.outFolder, 'photos'))).toHaveLength(1);
  expect([notices, seen]).toEqual([[], ['7/7']]);
});

test('what the cache holds is not decoded again; what it lost or half holds is', async () => {
  const subject = await photo('a.jpg', await plain(700, 500).jpeg().toBuffer());
  const first = await one(subject);
  const file = out(first.renditions[0]?.file ?? '');
  const bytes = await readFile(file);
  // With the original gone only the cache can answer.
  await rm(join(options.jobFolder, 'a.jpg'));
  await rm(options.outFolder, { recursive: true });
  expect(await one(subject)).toEqual(first);
  expect(await readFile(file)).toEqual(bytes);
  await photo('a.jpg', await plain(700, 500).jpeg().toBuffer());
  const cached = join(options.cacheFolder, first.renditions[0]?.file.split('/')[1] ?? '');
  await truncate(cached, 10);
  expect(await one(subject)).toEqual(first);
  expect(await readFile(file)).toEqual(bytes);
  await rm(options.cacheFolder, { recursive: true });
  await one(subject);
  expect(await readFile(file)).toEqual(bytes);
});

test('retouching a delivered picture leaves the cache alone', async () => {
  const subject = await photo('a.jpg', await plain(40, 30).jpeg().toBuffer());
  const { renditions } = await one(subject);
  const file = out(renditions[0]?.file ?? '');
  const before = await readFile(file);
  await writeFile(file, 'changed');
  await one(subject);
  expect(await readFile(file)).toEqual(before);
});

test('stopping leaves no half file behind and says why', async () => {
  const photos = await Promise.all(Array.from({ length: 6 }, async (_, index) => photo(`${index}.jpg`, await plain(900 + index, 600).jpeg().toBuffer(), { id: `p${index}` })));
  const stop = new AbortController();
  const onProgress = (): void => stop.abort(new Error('stopped by hand'));
  await expect(renderPictures(photos, { ...options, onProgress, signal: stop.signal })).rejects.toThrow('stopped by hand');
  for (const place of [options.cacheFolder, join(options.outFolder, 'photos')]) {
    expect((await readdir(place)).filter((name) => name.endsWith('.part'))).toEqual([]);
  }
  const all = await renderPictures(photos, options);
  expect([...all.pictures.values()].every((each) => each.renditions.length === 2)).toBe(true);
});

test('originals are not touched', async () => {
  const subject = await photo('a.jpg', await plain(40, 30).jpeg().toBuffer());
  const path = join(options.jobFolder, 'a.jpg');
  const [bytes, { mtimeMs }] = [await readFile(path), await stat(path)];
  await one(subject);
  expect(await readFile(path)).toEqual(bytes);
  expect((await stat(path)).mtimeMs).toBe(mtimeMs);
  expect(await readdir(options.jobFolder)).toEqual(['a.jpg']);
});

test('a hidden area is flat in every picture, and the cache keeps it apart from the open one', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'sillbook-hide-'));
  try {
    const noise = Buffer.from(Array.from({ length: 1200 * 800 * 3 }, (_, index) => (index * 7919) % 256));
    await sharp(noise, { raw: { width: 1200, height: 800, channels: 3 } }).jpeg({ quality: 95 }).toFile(join(folder, 'plate.jpg'));
    const { photos } = await readPhotos(folder);
    const id = photos[0]?.id ?? '';
    const options = { jobFolder: folder, cacheFolder: join(folder, '.sillbook'), outFolder: join(folder, 'out') };
    const open = await renderPictures(photos, options);
    const hidden = await renderPictures(photos, { ...options, hidden: new Map([[id, [[0.75, 0.9, 0.25, 0.5]]]]) });
    const names = (result: typeof open): string[] => result.pictures.get(id)?.renditions.map(({ file }) => file) ?? [];
    expect(names(hidden)).toHaveLength(3);
    expect(names(hidden).filter((name) => names(open).includes(name))).toEqual([]);
    for (const { file, width, height } of hidden.pictures.get(id)?.renditions ?? []) {
      // Sixteen pixels in from the edge, beyond the ringing of a JPEG block of halved colour.
      const area = { left: Math.round(width * 0.25) + 16, top: Math.round(height * 0.5) + 16, width: Math.floor(width * 0.5) - 32, height: Math.floor(height * 0.4) - 32 };
      const spread = async (image: Sharp): Promise<number> => {
        const values = await image.raw().toBuffer();
        return values.reduce((high, value) => Math.max(high, value), 0) - values.reduce((low, value) => Math.min(low, value), 255);
      };
      expect(await spread(sharp(join(options.outFolder, file)).extract(area))).toBeLessThanOrEqual(2);
      expect(await spread(sharp(join(options.outFolder, file)))).toBeGreaterThan(20);
    }
  } finally {
    await rm(folder, { recursive: true });
  }
});
