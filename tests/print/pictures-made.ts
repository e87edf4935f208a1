import sharp from 'sharp';
import type { RawPicture } from '../../src/print/pictures/measure.ts';

/** Numbers that repeat, as noise has to look the same in every run. */
export function numbersOf(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

/** Plates of many greys with bolts in them, before a wall: a picture full of edges of all sizes. */
export function scene(options: { width?: number; height?: number; shift?: number; seed?: number } = {}): RawPicture {
  const { width = 1600, height = 1200, shift = 0, seed = 7 } = options;
  const next = numbersOf(seed);
  const data = new Uint8Array(width * height * 3).fill(120);
  const unit = width / 1600;
  for (let plate = 0; plate < 60; plate += 1) {
    const [x, y, size, grey, radius] = [next() * width + shift, next() * height, (60 + next() * 240) * unit, 30 + next() * 200, (8 + next() * 20) * unit];
    for (let row = Math.max(0, Math.floor(y)); row < Math.min(height, y + size); row += 1) {
      for (let column = Math.max(0, Math.floor(x)); column < Math.min(width, x + size * 1.4); column += 1) {
        const bolt = Math.hypot(column - x - size * 0.7, row - y - size / 2) < radius;
        data.fill(bolt ? 255 - grey : grey, (row * width + column) * 3, (row * width + column) * 3 + 3);
      }
    }
  }
  return { data, width, height, channels: 3 };
}

/** A picture of one grey, with noise of a camera where asked. */
export function plain(grey: number, noise = 0): RawPicture {
  const next = numbersOf(3);
  const data = Uint8Array.from({ length: 1600 * 1200 * 3 }, () => Math.max(0, Math.min(255, Math.round(grey + (next() - 0.5) * noise))));
  return { data, width: 1600, height: 1200, channels: 3 };
}

function imageOf({ data, width, height, channels }: RawPicture) {
  return sharp(data, { raw: { width, height, channels: channels as 1 | 2 | 3 | 4 } });
}

/** Out of focus by a Gaussian of so many pixels. */
export async function blurred(picture: RawPicture, pixels: number): Promise<RawPicture> {
  const { data, info } = await imageOf(picture).blur(pixels).raw().toBuffer({ resolveWithObject: true });
  return { data, width: info.width, height: info.height, channels: info.channels };
}

/** Saved as a JPEG of this width and quality and read again. */
export async function savedAgain(picture: RawPicture, width: number, quality: number): Promise<RawPicture> {
  const jpeg = await imageOf(picture).resize({ width }).jpeg({ quality }).toBuffer();
  const { data, info } = await sharp(jpeg).raw().toBuffer({ resolveWithObject: true });
  return { data, width: info.width, height: info.height, channels: info.channels };
}
