import sharp from 'sharp';
import { expect, test } from 'vitest';
import type { DossierMark } from '../../src/model/dossier-mark.ts';
import { marksOverlay } from '../../src/print/one-file/burnt.ts';

const [width, height] = [1200, 900];

/** The overlay upon a plain grey: how light a point is, 0 to 255. */
async function burnt(marks: readonly DossierMark[]): Promise<(x: number, y: number) => number> {
  const overlay = marksOverlay(marks, width, height);
  if (overlay === null) throw new Error('nothing is marked');
  const grey = sharp({ create: { width, height, channels: 3, background: '#808080' } });
  const { data, info } = await grey.composite([{ input: Buffer.from(overlay) }]).raw().toBuffer({ resolveWithObject: true });
  return (x, y) => data[(Math.round(y) * info.width + Math.round(x)) * info.channels] ?? 0;
}

const ring = (x: number, y: number, number: number): DossierMark => ({ shape: 'ring', numbers: [x, y, 0.1], number, label: '' });

/** Most and least light within a square around a point. */
function extremes(at: (x: number, y: number) => number, [x, y]: readonly [number, number], half: number): [number, number] {
  const values = Array.from({ length: (2 * half + 1) ** 2 }, (_, index) => at(x - half + (index % (2 * half + 1)), y - half + Math.floor(index / (2 * half + 1))));
  return [Math.min(...values), Math.max(...values)];
}

test('no letter asks a font of the machine: figures and words are outlines', () => {
  const overlay = marksOverlay([ring(0.3, 0.3, 1), { shape: 'scale', numbers: [0.1, 0.9, 0.6, 0.9], number: 2, label: '', length: '2 in, brake pipe' }], width, height) ?? '';
  expect(overlay).not.toMatch(/<text|font/);
  expect(overlay).not.toContain('brake');
  expect(overlay).not.toMatch(/NaN|undefined|Infinity/);
});

test('one mark has no number; of several each has a light number on a dark disc beside it', async () => {
  // The first place for the number of a ring is up and right of it: 45 degrees from its centre.
  const beside = (x: number): [number, number] => [x * width + (0.1 * width + 1.3 * 0.026 * width) * Math.SQRT1_2, 0.5 * height - (0.1 * width + 1.3 * 0.026 * width) * Math.SQRT1_2];
  const alone = await burnt([ring(0.3, 0.5, 1)]);
  expect(extremes(alone, beside(0.3), 12)).toEqual([128, 128]);
  const two = await burnt([ring(0.3, 0.5, 1), ring(0.7, 0.5, 2)]);
  for (const x of [0.3, 0.7]) {
    const [least, most] = extremes(two, beside(x), 14);
    expect(least).toBeLessThan(40);
    expect(most).toBeGreaterThan(240);
  }
  // 1 and 2 do not look alike.
  const looks = (x: number): number[] => Array.from({ length: 29 * 29 }, (_, index) => two(beside(x)[0] - 14 + (index % 29), beside(x)[1] - 14 + Math.floor(index / 29)));
  const [one, other] = [looks(0.3), looks(0.7)];
  expect(one.filter((value, index) => Math.abs(value - (other[index] ?? 0)) > 100).length).toBeGreaterThan(30);
});

test('the length of a scale stands beside its line; a sign no font has is said by its code point', async () => {
  const scale = (length: string): DossierMark[] => [{ shape: 'scale', numbers: [0.2, 0.8, 0.8, 0.8], number: 1, label: '', length }];
  const at = await burnt(scale('50 mm'));
  expect(at(0.5 * width, 0.8 * height)).toBeGreaterThan(240);
  const [least, most] = extremes(at, [0.5 * width, 0.8 * height - 0.024 * width], 16);
  expect([least < 60, most > 240]).toEqual([true, true]);
  expect(marksOverlay(scale('\u{1F527} 5 mm'), width, height)?.length).toBeGreaterThan(marksOverlay(scale('5 mm'), width, height)?.length ?? Number.NaN);
});

test('nothing marked, nothing drawn', () => {
  expect(marksOverlay(undefined, width, height)).toBeNull();
  expect(marksOverlay([{ shape: 'outline', numbers: [0.1, 0.2, 0.3], number: 1, label: '' }], width, height)).toBeNull();
});
