import { z } from 'zod';

/** An upright picture in memory, rows from the top, 8 bit, sRGB: grey (1 or 2 channels) or red, green, blue (3 or 4). */
export interface RawPicture {
  data: Uint8Array;
  width: number;
  height: number;
  channels: number;
}

const share = z.number().min(0).max(1);
const grey = z.int().min(0).max(255);

/** What can be measured on the pixels of one photo, in numbers of four digits at most. */
export const pixelMeasuresSchema = z.strictObject({
  /**
   * How sharp it is at 400 pixels: of each tile that shows something, the variance of the Laplacian (Pech-Pacheco et al.
   * 2000, ICPR 15, 3:314, from memory) over the variance of grey, so that a faint edge counts like a strong one; then what
   * nine in ten of these tiles stay below. Null where hardly a tile shows anything, as on a plain wall, and for icons.
   */
  fine: z.number().nonnegative().nullable(),
  /** The same at 160 pixels, where the noise of a photo in poor light is averaged away and only a gross blur is left. */
  coarse: z.number().nonnegative().nullable(),
  /** Share of the tiles at 400 pixels that show something. */
  texture: share,
  /** Share of the picture that is almost black, and almost white. */
  black: share,
  white: share,
  /** Grey, 0 black to 255 white, that half of the picture stays below, and 95 in 100 of it. */
  median: grey,
  bright: grey,
  /**
   * Difference hash of 128 bits: 64 of neighbours side by side, 64 of neighbours one above the other. Null where too few
   * neighbours differ, as on a plain wall.
   */
  hash: z
    .string()
    .regex(/^[0-9a-f]{32}$/)
    .nullable(),
});
export type PixelMeasures = z.infer<typeof pixelMeasuresSchema>;

/**
 * Longer side of the pictures that sharpness is measured on, and side of a tile there: small enough that one screw in
 * focus fills it, large enough for a variance. At 800 pixels and more the noise and the sharpening of a camera count for
 * more than its focus: of 800, 600 and 400, and of 200, 160 and 100, these tell good photos of 26 cameras and blurred ones
 * apart best. Our judgement.
 */
const fineScale = { pixels: 400, tile: 24, fewest: 0.02 };
const coarseScale = { pixels: 160, tile: 16, fewest: 0.05 };
/** Below this longer side a picture is an icon, and nothing is said of its sharpness. Our judgement. */
const smallestPixels = 240;
/** Standard deviation of grey from which a tile shows something. Our judgement. */
const textureDeviation = 10;
/** Greys that a reader no longer tells from black and white. Our judgement. */
const nearBlack = 12;
const nearWhite = 248;
/** Neighbours of the hash that have to differ by so many greys, and how many of the 128 have to: else noise decides its bits. Our judgement. */
const hashStep = 2;
const hashFewest = 48;

interface Grey {
  data: Uint8Array;
  width: number;
  height: number;
}

/** Measures one picture. Pure; a picture without pixels shows nothing and is black. */
export function measurePixels(raw: RawPicture): PixelMeasures {
  const fine = greyOf(raw, fineScale.pixels);
  const coarse = greyOf({ ...fine, channels: 1 }, coarseScale.pixels);
  const icon = Math.max(raw.width, raw.height) < smallestPixels;
  const [detail, gross] = [detailOf(fine, fineScale), detailOf(coarse, coarseScale)];
  return { fine: icon ? null : detail.sharpness, coarse: icon ? null : gross.sharpness, texture: detail.texture, ...exposureOf(fine), hash: hashOf(coarse) };
}

/** Grey by the luma weights of ITU-R BT.601, each pixel the mean of a square; what is left over at the right and below is left out. */
function greyOf({ data, width, height, channels }: RawPicture, longest: number): Grey {
  const step = Math.max(1, Math.ceil(Math.max(width, height) / longest));
  const [stepX, stepY] = [Math.min(step, width), Math.min(step, height)];
  if (stepX === 0 || stepY === 0) return { data: new Uint8Array(0), width: 0, height: 0 };
  const small = { width: Math.floor(width / stepX), height: Math.floor(height / stepY) };
  // Of a large square every second row is enough, and half the time.
  const stride = stepY >= 4 ? 2 : 1;
  const scale = 1 / (stepX * Math.ceil(stepY / stride));
  const sums = new Float64Array(small.width);
  const grey = new Uint8Array(small.width * small.height);
  const add = channels < 3 ? addGrey : addColour;
  for (let row = 0; row < small.height; row += 1) {
    sums.fill(0);
    for (let y = 0; y < stepY; y += stride) add(sums, data, (row * stepY + y) * width * channels, channels, stepX);
    for (let x = 0; x < small.width; x += 1) grey[row * small.width + x] = (sums[x] as number) * scale + 0.5;
  }
  return { data: grey, ...small };
}

function addGrey(sums: Float64Array, data: Uint8Array, start: number, channels: number, step: number): void {
  for (let x = 0, from = start; x < sums.length; x += 1) {
    let sum = 0;
    for (const end = from + step * channels; from < end; from += channels) sum += data[from] as number;
    sums[x] = (sums[x] as number) + sum;
  }
}

function addColour(sums: Float64Array, data: Uint8Array, start: number, channels: number, step: number): void {
  for (let x = 0, from = start; x < sums.length; x += 1) {
    let [red, green, blue] = [0, 0, 0];
    for (const end = from + step * channels; from < end; from += channels) {
      red += data[from] as number;
      green += data[from + 1] as number;
      blue += data[from + 2] as number;
    }
    sums[x] = (sums[x] as number) + red * 0.299 + green * 0.587 + blue * 0.114;
  }
}

/** Sharpness of the best tiles, and how many show something. */
function detailOf(picture: Grey, { tile, fewest }: typeof fineScale): { sharpness: number | null; texture: number } {
  const { width, height } = picture;
  const [across, down] = [Math.max(1, Math.round(width / tile)), Math.max(1, Math.round(height / tile))];
  const found: number[] = [];
  for (let row = 0; row < down; row += 1) {
    const [top, bottom] = [Math.floor((row * height) / down), Math.floor(((row + 1) * height) / down)];
    for (let column = 0; column < across; column += 1) {
      const value = tileSharpness(picture, Math.floor((column * width) / across), Math.floor(((column + 1) * width) / across), top, bottom);
      if (value !== null) found.push(value);
    }
  }
  const texture = found.length / (across * down);
  const best = found.toSorted((a, b) => a - b)[Math.floor(found.length * 0.9)];
  return { sharpness: best === undefined || texture < fewest ? null : rounded(best), texture: rounded(texture) };
}

/** Variance of the Laplacian over variance of grey inside one tile; null where it shows too little. */
function tileSharpness({ data, width, height }: Grey, left: number, right: number, top: number, bottom: number): number | null {
  let [sum, squares, bends, bendSquares] = [0, 0, 0, 0];
  const [firstX, lastX] = [Math.max(1, left), Math.min(width - 1, right)];
  const [firstY, lastY] = [Math.max(1, top), Math.min(height - 1, bottom)];
  for (let y = firstY; y < lastY; y += 1) {
    for (let at = y * width + firstX; at < y * width + lastX; at += 1) {
      const here = data[at] as number;
      const bend = 4 * here - (data[at - 1] as number) - (data[at + 1] as number) - (data[at - width] as number) - (data[at + width] as number);
      sum += here;
      squares += here * here;
      bends += bend;
      bendSquares += bend * bend;
    }
  }
  const count = Math.max(0, lastX - firstX) * Math.max(0, lastY - firstY);
  if (count === 0) return null;
  const variance = squares / count - (sum / count) ** 2;
  return variance < textureDeviation ** 2 ? null : (bendSquares / count - (bends / count) ** 2) / variance;
}

function exposureOf({ data }: Grey): Pick<PixelMeasures, 'black' | 'white' | 'median' | 'bright'> {
  const counts = new Uint32Array(256);
  for (const value of data) counts[value] = (counts[value] as number) + 1;
  const total = Math.max(1, data.length);
  const shareOf = (from: number, to: number): number => rounded(counts.subarray(from, to + 1).reduce((all, count) => all + count, 0) / total);
  const reached = (part: number): number => {
    let below = 0;
    return Math.max(0, counts.findIndex((count) => (below += count) >= data.length * part));
  };
  return { black: shareOf(0, nearBlack), white: shareOf(nearWhite, 255), median: reached(0.5), bright: reached(0.95) };
}

/** dHash as commonly described (common practice, no standard): is a cell of the shrunk picture brighter than the one before it. */
function hashOf(picture: Grey): string | null {
  const [wide, high] = [cellsOf(picture, 9, 8), cellsOf(picture, 8, 9)];
  if (wide === null || high === null) return null;
  const squares = Array.from({ length: 64 }, (_, index) => ({ row: index >> 3, column: index & 7 }));
  const steps = [
    ...squares.map(({ row, column }) => (wide[row * 9 + column + 1] as number) - (wide[row * 9 + column] as number)),
    ...squares.map(({ row, column }) => (high[(row + 1) * 8 + column] as number) - (high[row * 8 + column] as number)),
  ];
  if (steps.filter((step) => Math.abs(step) >= hashStep).length < hashFewest) return null;
  const bits = steps.map((step) => (step > 0 ? '1' : '0')).join('');
  return BigInt(`0b${bits}`).toString(16).padStart(32, '0');
}

/** Means of a grid over the picture; null where a cell would hold no pixel. */
function cellsOf({ data, width, height }: Grey, across: number, down: number): Float64Array | null {
  if (width < across || height < down) return null;
  const [sums, counts] = [new Float64Array(across * down), new Float64Array(across * down)];
  for (let y = 0; y < height; y += 1) {
    const row = Math.floor((y * down) / height) * across;
    for (let x = 0; x < width; x += 1) {
      const cell = row + Math.floor((x * across) / width);
      sums[cell] = (sums[cell] as number) + (data[y * width + x] as number);
      counts[cell] = (counts[cell] as number) + 1;
    }
  }
  return sums.map((sum, cell) => sum / (counts[cell] as number));
}

function rounded(value: number): number {
  return Number(value.toPrecision(4));
}
