import { expect, test } from 'vitest';
import { pictureHints } from '../../src/print/pictures/hints.ts';
import { measurePixels, pixelMeasuresSchema } from '../../src/print/pictures/measure.ts';
import type { RawPicture } from '../../src/print/pictures/measure.ts';
import { photo } from '../place/builders.ts';
import { blurred, numbersOf, plain, savedAgain, scene } from './pictures-made.ts';

const clear = scene();

/** What is hinted at of pictures taken a minute apart: "2: similar to 1.jpg". */
function hintsOf(pictures: readonly RawPicture[], given: { minutes?: number; sha256?: string; timeless?: boolean } = {}): string[] {
  const { minutes = 1, sha256 = '', timeless = false } = given;
  const measured = pictures.map((picture, index) => ({
    photo: photo(`${index + 1}.jpg`, timeless ? null : `2026-03-14T${10 + Math.floor((index * minutes) / 60)}:${String((index * minutes) % 60).padStart(2, '0')}:00`, { sha256 }),
    measures: measurePixels(picture),
  }));
  for (const { measures } of measured) expect(pixelMeasuresSchema.parse(JSON.parse(JSON.stringify(measures)))).toEqual(measures);
  const notices = pictureHints(measured);
  expect(notices.every((notice) => notice.level === 'note' && (notice.advice ?? '').endsWith('.'))).toBe(true);
  return notices.map(({ rule, found, spot }) => `${spot?.file} ${rule}: ${found}`);
}

test('a sharp picture of usual light gets no hint, at any delivered size, upright or lying', async () => {
  for (const size of [{ width: 1600, height: 1200 }, { width: 2400, height: 1800 }, { width: 1200, height: 1600 }, { width: 640, height: 480 }, { width: 2400, height: 600 }]) {
    expect(hintsOf([scene(size)]), JSON.stringify(size)).toEqual([]);
  }
});

test('a picture out of focus looks unsharp, at any size, and the more the blurrier', async () => {
  for (const pixels of [6, 10, 25]) expect(hintsOf([await blurred(clear, pixels)])).toEqual(['1.jpg photo-unsharp: Looks unsharp']);
  const small = scene({ width: 640, height: 480 });
  expect(hintsOf([await blurred(small, 4)])).toEqual(['1.jpg photo-unsharp: Looks unsharp']);
  const values = [clear, await blurred(clear, 2), await blurred(clear, 5), await blurred(clear, 10)].map((picture) => measurePixels(picture).fine ?? 0);
  expect(values).toEqual(values.toSorted((a, b) => b - a));
  // One pixel of blur is what every lens has.
  expect(hintsOf([await blurred(clear, 1)])).toEqual([]);
});

test('a sharp thing that fills a sixth of a blurred picture is enough', async () => {
  const behind = await blurred(clear, 15);
  const [left, top, size] = [500, 300, 560];
  for (let y = top; y < top + size; y += 1) behind.data.set(clear.data.subarray((y * 1600 + left) * 3, (y * 1600 + left + size) * 3), (y * 1600 + left) * 3);
  expect(hintsOf([behind])).toEqual([]);
});

test('noise of a camera in poor light does not make a gross blur look sharp', async () => {
  const next = numbersOf(5);
  const noisy = await blurred(clear, 30);
  noisy.data.forEach((value, index) => (noisy.data[index] = Math.max(0, Math.min(255, Math.round(value + (next() - 0.5) * 70)))));
  expect(hintsOf([noisy])).toEqual(['1.jpg photo-unsharp: Looks unsharp']);
});

test.each([0, 40])('a plain wall with noise of %i is not called unsharp, and has no likeness to another', (noise) => {
  const wall = plain(140, noise);
  const measures = measurePixels(wall);
  expect([measures.fine, measures.coarse, measures.texture, measures.hash]).toEqual([null, null, 0, null]);
  expect(hintsOf([wall, plain(150, noise)])).toEqual([]);
});

test('faint contrast is not blur', () => {
  const faint = { ...clear, data: clear.data.map((value) => 120 + (value - 128) / 4) };
  expect(hintsOf([faint])).toEqual([]);
});

test('black and white pictures are hinted at; half black, as from an inspection camera, is not', () => {
  expect(hintsOf([plain(0)])).toEqual(['1.jpg photo-dark: Looks very dark']);
  expect(hintsOf([plain(255)])).toEqual(['1.jpg photo-bright: Looks very bright']);
  expect(measurePixels(plain(0))).toMatchObject({ black: 1, white: 0, median: 0, bright: 0 });
  expect(measurePixels(plain(255))).toMatchObject({ black: 0, white: 1, median: 255, bright: 255 });
  const ring = { ...clear, data: clear.data.map((value, index) => (Math.hypot((Math.floor(index / 3) % 1600) - 800, Math.floor(index / 4800) - 600) < 500 ? value : 2)) };
  expect(measurePixels(ring).black).toBeGreaterThan(0.5);
  expect(hintsOf([ring])).toEqual([]);
});

test('grey and alpha channels are measured like colours', () => {
  const grey = { ...clear, data: clear.data.filter((_, index) => index % 3 === 0), channels: 1 };
  const alpha = { ...clear, data: Uint8Array.from({ length: 1600 * 1200 * 4 }, (_, index) => (index % 4 === 3 ? 9 : (clear.data[Math.floor(index / 4) * 3] ?? 0))), channels: 4 };
  const { fine, ...others } = measurePixels(clear);
  for (const picture of [grey, alpha]) {
    const found = measurePixels(picture);
    expect(found).toMatchObject(others);
    expect(found.fine).toBeCloseTo(fine ?? 0, 2);
  }
});

test('the same picture saved again, smaller and poorer, is named; nothing depends on its time', async () => {
  for (const [width, quality] of [[1600, 60], [1024, 40], [480, 80]] as const) {
    expect(hintsOf([clear, await savedAgain(clear, width, quality)], { timeless: true }), `${width} ${quality}`).toEqual(['2.jpg photo-similar: Almost the same picture as 1.jpg']);
  }
});

test('a tripod series is only named, each photo with the nearest before it', () => {
  const series = [0, 3, 5].map((shift) => scene({ shift }));
  expect(hintsOf(series)).toEqual([expect.stringMatching(/^2\.jpg photo-similar: Almost the same picture as 1\.jpg$/), expect.stringMatching(/^3\.jpg photo-similar: Almost the same picture as [12]\.jpg$/)]);
});

test('another scene is not alike, and files of the same bytes are not told of twice', () => {
  expect(hintsOf([clear, scene({ seed: 99 })])).toEqual([]);
  expect(hintsOf([clear, clear], { sha256: 'ab'.repeat(32) })).toEqual([]);
});

test('similar pictures are named only where they were taken close together', () => {
  const hash = 'f0'.repeat(16);
  const turned = (bits: number): string => (BigInt(`0x${hash}`) ^ (2n ** BigInt(bits) - 1n)).toString(16).padStart(32, '0');
  const rules = (bits: number, second: string | null): string[] => {
    const measures = { ...measurePixels(clear), hash };
    const notices = pictureHints([{ photo: photo('a.jpg', '2026-03-14T10:00:00'), measures }, { photo: photo('b.jpg', second), measures: { ...measures, hash: turned(bits) } }]);
    return notices.map(({ found }) => found);
  };
  expect(rules(8, null)).toEqual(['Almost the same picture as a.jpg']);
  expect(rules(9, '2026-03-14T10:05:00')).toEqual(['Similar to a.jpg']);
  expect(rules(16, '2026-03-14T09:55:00')).toEqual(['Similar to a.jpg']);
  expect(rules(17, '2026-03-14T10:00:00')).toEqual([]);
  expect([rules(9, '2026-03-14T10:05:01'), rules(9, null)]).toEqual([[], []]);
});

test('photos of one name are told apart by their folder', () => {
  const measures = measurePixels(clear);
  const notices = pictureHints(['left/a.jpg', 'right/a.jpg'].map((path) => ({ photo: photo(path), measures })));
  expect(notices.map(({ found }) => found)).toEqual(['Almost the same picture as left/a.jpg']);
});

test.each([[0, 0], [1, 1], [1, 900], [900, 1], [3, 2], [241, 5], [12, 12_000]])('%i by %i pixels are measured without a fault', (width, height) => {
  for (const channels of [1, 3, 4]) {
    const measures = measurePixels({ data: new Uint8Array(width * height * channels).fill(77), width, height, channels });
    expect(pixelMeasuresSchema.safeParse(measures).success).toBe(true);
    expect(measures.fine).toBeNull();
  }
});
