import { cp, mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { heicDecoder } from '../../src/print/pictures/heic.ts';
import { renderPictures } from '../../src/print/pictures/index.ts';
import { readPhotos } from '../../src/read/photos/index.ts';

/*
 * Two pictures made for this test with libheif's heif-enc: 96 by 64 pixels, quarters in four colours, stored in Display P3,
 * packed as HEVC, EXIF orientation 6. `turned` also says `irot` 1, a quarter turn against the clock (ISO/IEC 23008-12,
 * 6.5.10), which alone counts in HEIF.
 */
const [brown, blue, green, grey] = [[160, 80, 48], [48, 96, 160], [64, 160, 80], [200, 200, 200]];
const made = join(import.meta.dirname, 'heic');

let folder = '';
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'sillbook-heic-'));
});
afterEach(async () => {
  await rm(folder, { recursive: true, force: true });
});

async function shown(name: string, from = made): Promise<{ size: (number | undefined)[]; quarters: number[][]; flaw: string; rules: string[]; file: string }> {
  await mkdir(join(folder, 'job'), { recursive: true });
  await cp(join(from, name), join(folder, 'job', name));
  const { photos } = await readPhotos(join(folder, 'job'), {});
  const { pictures, notices } = await renderPictures(photos, { jobFolder: join(folder, 'job'), cacheFolder: join(folder, 'cache'), outFolder: join(folder, 'site') });
  const picture = pictures.get(photos[0]?.id ?? '');
  const file = join(folder, 'site', picture?.renditions.at(-1)?.file ?? '');
  const { data, info } = await sharp(file).raw().toBuffer({ resolveWithObject: true });
  const at = (x: number, y: number): number[] => [...data.subarray((Math.floor(y * info.height) * info.width + Math.floor(x * info.width)) * 3).subarray(0, 3)];
  return { size: [info.width, info.height], quarters: [at(0.25, 0.25), at(0.75, 0.25), at(0.25, 0.75), at(0.75, 0.75)], flaw: picture?.flaw ?? 'none', rules: notices.map((notice) => notice.rule), file };
}

function near(found: number[][], wanted: (number[] | undefined)[]): void {
  const far = found.flatMap((colour, quarter) => colour.map((value, channel) => Math.abs(value - (wanted[quarter]?.[channel] ?? 999))));
  expect(Math.max(...far), JSON.stringify(found)).toBeLessThanOrEqual(4);
}

test('HEIC from a phone is shown in the colours of its profile, EXIF does not turn it', async () => {
  const { size, quarters, flaw, rules, file } = await shown('as-it-lies.heic');
  // The pictures here are small, and so it is said.
  expect([size, flaw, rules]).toEqual([[96, 64], '', ['photo-tiny']]);
  near(quarters, [brown, blue, green, grey]);
  const { exif, icc, xmp } = await sharp(file).metadata();
  expect([exif, icc, xmp]).toEqual([undefined, undefined, undefined]);
});

test('HEIC is turned once, as the container says', async () => {
  const { size, quarters, flaw, rules } = await shown('turned.heic');
  expect([size, flaw, rules]).toEqual([[64, 96], '', ['photo-tiny']]);
  near(quarters, [blue, grey, brown, green]);
});

test('one picture that takes too long costs its own place, not the next one', async () => {
  const bytes = await readFile(join(made, 'turned.heic'));
  const hasty = heicDecoder({ seconds: 0.001, pixelLimit: 1e6 });
  expect(await hasty.decode(bytes)).toEqual({ fault: 'timeout: 0.001 seconds passed' });
  await hasty.close();
  const patient = heicDecoder({ seconds: 30, pixelLimit: 1e6 });
  try {
    // Damage in between must not keep the others from being shown, whatever their order.
    const broken = Buffer.from(bytes).fill(0, 100, 1000);
    const all = await Promise.all([bytes, broken, bytes].map((each) => patient.decode(each)));
    expect(all.map((each) => ('fault' in each ? each.fault !== '' : [each.width, each.height]))).toEqual([[64, 96], true, [64, 96]]);
  } finally {
    await patient.close();
  }
});

test('a HEIC that ends too early is shown, and said to be damaged', async () => {
  // Only its EXIF, which comes last, is cut off: the pixels are whole, the file is not.
  const bytes = await readFile(join(made, 'turned.heic'));
  await mkdir(join(folder, 'cut'));
  await writeFile(join(folder, 'cut', 'cut.heic'), bytes.subarray(0, -1));
  const { flaw, rules } = await shown('cut.heic', join(folder, 'cut'));
  expect([flaw, rules]).toEqual(['damaged, shown as far as it can be read', ['photo-damaged', 'photo-tiny']]);
});

test('a HEIC of too many pixels is refused before its pixels are asked for', async () => {
  const decoder = heicDecoder({ seconds: 30, pixelLimit: 6000 });
  expect(await decoder.decode(await readFile(join(made, 'turned.heic')))).toEqual({ fault: 'a picture of 64 by 96 pixels' });
  await decoder.close();
});

test('stopping ends the decoder', async () => {
  const stop = new AbortController();
  const decoder = heicDecoder({ seconds: 30, pixelLimit: 1e6 });
  const waiting = decoder.decode(await readFile(join(made, 'turned.heic')), stop.signal);
  stop.abort(new Error('stopped by hand'));
  await expect(waiting).rejects.toThrow('stopped by hand');
  await decoder.close();
});
