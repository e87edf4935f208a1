import type { Metadata, Sharp } from 'sharp';
import sharp from 'sharp';
import type { Corner, Region } from '../../model/rusted-area.ts';
import { gridPoints } from '../../model/rusted-area.ts';
import { bandColour, bandPx, gridOverlay } from './grid-overlay.ts';
import { heicDecoder } from './heic.ts';
import { pixelLimit, secondsPerPhoto } from './limits.ts';
import { tiffWithProfile } from './tiff.ts';

/** Longer side of the grid's picture, in pixels: enough to see rust by, and to print the numbers. */
const [least, most] = [1600, 2400];
/** Shown around the region, in fractions of its own size. */
const margin = 0.04;

/** A grid drawn over a photo. */
export interface GridPicture {
  png: Buffer;
  /** Points a rule of colour would call rusted: a suggestion, never a measurement. */
  suggested: number;
  damaged: boolean;
}

interface Pixels {
  data: Buffer;
  width: number;
  height: number;
  channels: 1 | 2 | 3 | 4;
}

/** What is cut out of the upright photo, in its pixels. */
interface Cut {
  left: number;
  top: number;
  width: number;
  height: number;
}

/**
 * The upright photo round a region with `side` × `side` numbered points over it and a ruler around it, as a PNG without metadata. A photo that
 * cannot be decoded gives a fault in words. Pure but for the decoders.
 */
export async function drawGrid(bytes: Buffer, region: Region, side: number): Promise<GridPicture | { fault: string }> {
  let facts: Metadata;
  try {
    facts = await sharp(bytes, { failOn: 'none', limitInputPixels: false }).metadata();
  } catch {
    return { fault: 'it cannot be decoded' };
  }
  if (facts.width * facts.height > pixelLimit) return { fault: `it has more than ${Math.round(pixelLimit / 1e6)} million pixels` };
  // Prebuilt libvips holds no decoder for HEVC; of the HEIF family it reads AV1.
  const read = facts.format === 'heif' && facts.compression !== 'av1' ? await heicCut(bytes, facts, region) : await plainCut(bytes, facts, region);
  if ('fault' in read) return read;
  const { pixels, cut, size, damaged } = read;
  const place = ([x, y]: Corner): Corner => [((x * size.width - cut.left) / cut.width) * pixels.width, ((y * size.height - cut.top) / cut.height) * pixels.height];
  const points = gridPoints(region, side).map(place);
  const [left, top] = place([region[0], region[1]]);
  const [right, bottom] = place([region[2], region[3]]);
  const shown: Region = [cut.left / size.width, cut.top / size.height, (cut.left + cut.width) / size.width, (cut.top + cut.height) / size.height];
  const overlay = gridOverlay({ ...pixels, shown }, [left, top, right, bottom], points, side);
  const { data, width, height, channels } = pixels;
  const png = await sharp(data, { raw: { width, height, channels } }).extend({ top: bandPx, bottom: bandPx, left: bandPx, right: bandPx, background: bandColour }).composite([{ input: Buffer.from(overlay) }]).png().toBuffer();
  return { png, suggested: points.filter((point) => isRustColoured(meanAt(pixels, point))).length, damaged };
}

interface Read {
  pixels: Pixels;
  cut: Cut;
  /** Of the upright photo. */
  size: { width: number; height: number };
  damaged: boolean;
}

async function plainCut(bytes: Buffer, facts: Metadata, region: Region): Promise<Read | { fault: string }> {
  const size = facts.autoOrient;
  const cut = cutOf(size, region);
  for (const failOn of ['warning', 'none'] as const) {
    try {
      const image = sharp(bytes, { failOn, limitInputPixels: pixelLimit, page: facts.pagePrimary ?? 0 }).timeout({ seconds: secondsPerPhoto }).autoOrient();
      return { pixels: await shrunk(image, cut), cut, size, damaged: failOn === 'none' };
    } catch {
      // The second time it is read as far as it can be.
    }
  }
  return { fault: 'it cannot be decoded' };
}

/** The worker turns the picture upright itself; the profile goes by way of a TIFF, as raw pixels cannot carry one. */
async function heicCut(bytes: Buffer, facts: Metadata, region: Region): Promise<Read | { fault: string }> {
  const decoder = heicDecoder({ seconds: secondsPerPhoto, pixelLimit });
  try {
    const found = await decoder.decode(bytes);
    if ('fault' in found) return { fault: 'it cannot be decoded' };
    const size = { width: found.width, height: found.height };
    const cut = cutOf(size, region);
    const pixels = await shrunk(sharp(Buffer.from(found.data), { raw: { ...size, channels: 4 }, limitInputPixels: pixelLimit }), cut);
    return { pixels: facts.icc ? await rawOf(sharp(tiffWithProfile(pixels, facts.icc))) : pixels, cut, size, damaged: false };
  } finally {
    await decoder.close();
  }
}

/** The region with a margin, as far as the photo reaches. */
function cutOf({ width, height }: { width: number; height: number }, [x1, y1, x2, y2]: Region): Cut {
  const [wide, high] = [(x2 - x1) * margin, (y2 - y1) * margin];
  const left = Math.max(0, Math.floor((x1 - wide) * width));
  const top = Math.max(0, Math.floor((y1 - high) * height));
  return { left, top, width: Math.max(1, Math.min(width, Math.ceil((x2 + wide) * width)) - left), height: Math.max(1, Math.min(height, Math.ceil((y2 + high) * height)) - top) };
}

/** Cut out, then enlarged or made smaller; white behind what is transparent. */
async function shrunk(image: Sharp, cut: Cut): Promise<Pixels> {
  const longer = Math.max(cut.width, cut.height);
  const scale = Math.min(most, Math.max(least, longer)) / longer;
  const [width, height] = [cut.width, cut.height].map((pixels) => Math.max(1, Math.round(pixels * scale))) as [number, number];
  return rawOf(image.extract(cut).flatten({ background: '#ffffff' }).resize({ width, height, fit: 'fill' }));
}

async function rawOf(image: Sharp): Promise<Pixels> {
  const { data, info } = await image.toColourspace('srgb').removeAlpha().raw({ depth: 'uchar' }).toBuffer({ resolveWithObject: true });
  return { data, width: info.width, height: info.height, channels: info.channels };
}

/** Mean colour of the five by five pixels round a point. */
function meanAt({ data, width, height, channels }: Pixels, [x, y]: Corner): [red: number, green: number, blue: number] {
  const sum: [number, number, number] = [0, 0, 0];
  let count = 0;
  for (let row = Math.max(0, Math.floor(y) - 2); row <= Math.min(height - 1, Math.floor(y) + 2); row += 1) {
    for (let column = Math.max(0, Math.floor(x) - 2); column <= Math.min(width - 1, Math.floor(x) + 2); column += 1) {
      for (const channel of [0, 1, 2] as const) sum[channel] += data[(row * width + column) * channels + Math.min(channel, channels - 1)] ?? 0;
      count += 1;
    }
  }
  return sum.map((all) => all / Math.max(1, count)) as [number, number, number];
}

/** Red to orange, not pale, neither black nor glaring: our judgement. It takes brown paint for rust and dark rust for none. */
export function isRustColoured([red, green, blue]: readonly [red: number, green: number, blue: number]): boolean {
  const range = red - Math.min(green, blue);
  const hueDegrees = range > 0 ? (60 * (green - blue)) / range : -1;
  return red >= Math.max(green, blue) && red > 30 && red < 220 && range / red >= 0.4 && hueDegrees >= 0 && hueDegrees <= 40;
}
