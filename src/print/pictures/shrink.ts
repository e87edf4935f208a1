import type { Metadata, Sharp } from 'sharp';
import sharp from 'sharp';
import { missingBytes } from './boxes.ts';
import type { HeicDecoder } from './heic.ts';
import { pixelLimit, secondsPerPhoto } from './limits.ts';
import { measurePixels } from './measure.ts';
import type { PixelMeasures } from './measure.ts';
import { tiffWithProfile } from './tiff.ts';

// As many photos in flight as cores beat many threads on one photo; libvips' own cache only costs memory here.
sharp.concurrency(1);
sharp.cache(false);

/** Delivered widths in pixels. Never enlarged: the largest is the photo's own width where that is smaller. */
const widths = [480, 960, 1600, 2400];
/** A picture below all widths costs little however it is packed; halved colour would show in it. */
const small = { quality: 98, chromaSubsampling: '4:4:4', progressive: true };
/** A scroll of a picture is no photo; also far below the 65,535 pixels a JPEG can be high. */
const highest = 12_000;

/** One delivered picture in memory. */
export interface Picture {
  width: number;
  height: number;
  jpeg: Buffer;
}

/** What became of a photo. `flaw` says why there is no picture, or how it is damaged; empty where all is well. */
export interface Shrunk {
  /** Ascending by width; empty where it cannot be shown. */
  pictures: Picture[];
  flaw: string;
  /** Fault as the decoder words it; empty where there is none. */
  fault: string;
  /** Frames or pages of the file. */
  frames: number;
  /** Of the open picture, before anything is hidden in it; null where there is none. */
  measures: PixelMeasures | null;
}

/** x1 y1 x2 y2 in fractions of the upright photo, corners in any order. */
export type Area = readonly [number, number, number, number];

interface Pixels {
  data: Buffer;
  width: number;
  height: number;
  channels: 1 | 2 | 3 | 4;
}

export const damaged = 'damaged, shown as far as it can be read';

/** One line of a decoder's complaint, without the names of its parts. */
function words(error: unknown): string {
  const message = error instanceof Error ? error.message : String(error);
  const cause = message.replace(/^Input buffer has corrupt header:/, '').trim();
  const line = (cause.split('\n').find((each) => !each.includes('bad seek')) ?? '').replace(/^(Vips[A-Z]\w+|vips\w+|\w+2vips|source): /, '').slice(0, 160);
  return line === '' || line.startsWith('Warning treated as error') ? 'the decoder does not say why' : line;
}

function notShown(flaw: string, fault: string, frames = 1): Shrunk {
  return { pictures: [], flaw, fault, frames, measures: null };
}

/** What `shrink` needs besides the file. */
interface Needs {
  areas: readonly Area[];
  heic: HeicDecoder;
  signal?: AbortSignal | undefined;
}

/**
 * Decodes a photo once and makes all delivered pictures of it: upright, sRGB, white behind transparency, no metadata.
 * A photo that cannot be decoded strictly is tried again leniently and named as damaged. Rejects only when aborted.
 */
export async function shrink(bytes: Buffer, needs: Needs): Promise<Shrunk> {
  // A file of boxes that lacks its end cannot be opened at all; with nothing in place of it, what is there can.
  const missing = missingBytes(bytes);
  if (missing === 0) return shrinkWhole(bytes, needs);
  const made = await shrinkWhole(Buffer.concat([bytes, Buffer.alloc(missing)]), needs);
  return made.pictures.length === 0 ? made : { ...made, flaw: damaged, fault: 'the file ends too early' };
}

async function shrinkWhole(bytes: Buffer, needs: Needs): Promise<Shrunk> {
  let facts: Metadata;
  try {
    facts = await sharp(bytes, { failOn: 'none', limitInputPixels: false }).metadata();
  } catch (error) {
    return notShown('cannot be decoded: listed and hashed, not shown', words(error));
  }
  const frames = facts.pages ?? 1;
  const pixels = facts.width * facts.height;
  if (pixels > pixelLimit) {
    return notShown(`${Math.round(pixels / 1e6)} million pixels: listed and hashed, not shown`, 'more than 210 million pixels', frames);
  }
  // Prebuilt libvips holds no decoder for HEVC; of the HEIF family it reads AV1.
  if (facts.format === 'heif' && facts.compression !== 'av1') return shrinkHeic(bytes, facts, needs);
  const { areas, signal } = needs;
  try {
    return { ...(await finish(await decode(bytes, facts, 'warning'), areas, signal)), flaw: '', fault: '', frames };
  } catch (error) {
    signal?.throwIfAborted();
    const fault = words(error);
    if (fault.includes('timeout')) return tooLong(fault, frames);
    try {
      return { ...(await finish(await decode(bytes, facts, 'none'), areas, signal)), flaw: damaged, fault, frames };
    } catch (again) {
      signal?.throwIfAborted();
      return words(again).includes('timeout') ? tooLong(words(again), frames) : notShown('cannot be decoded: listed and hashed, not shown', words(again), frames);
    }
  }
}

function tooLong(fault: string, frames: number): Shrunk {
  return notShown(`takes more than ${secondsPerPhoto} seconds to decode: listed and hashed, not shown`, fault, frames);
}

async function shrinkHeic(bytes: Buffer, facts: Metadata, { areas, heic, signal }: Needs): Promise<Shrunk> {
  const frames = facts.pages ?? 1;
  const found = await heic.decode(bytes, signal);
  signal?.throwIfAborted();
  if ('fault' in found) return found.fault.startsWith('timeout') ? tooLong(found.fault, frames) : notShown('cannot be decoded: listed and hashed, not shown', words(found.fault), frames);
  try {
    const fault = found.warning === '' ? '' : words(found.warning);
    return { ...(await finish(await decodeRaw(found, facts.icc), areas, signal)), flaw: fault === '' ? '' : damaged, fault, frames };
  } catch (error) {
    signal?.throwIfAborted();
    return notShown('cannot be decoded: listed and hashed, not shown', words(error), frames);
  }
}

/** Measures, hides, encodes: what is done with the one decoded picture. */
async function finish(pixels: Pixels, areas: readonly Area[], signal?: AbortSignal): Promise<Pick<Shrunk, 'pictures' | 'measures'>> {
  const measures = measurePixels(pixels);
  return { pictures: await encode(hide(pixels, areas), signal), measures };
}

/** Largest delivered size, from the upright size of the original. */
function largest({ width, height }: { width: number; height: number }): { width: number; height: number } {
  const scale = Math.min(1, (widths.at(-1) ?? width) / width, highest / height);
  return { width: Math.max(1, Math.round(width * scale)), height: Math.max(1, Math.round(height * scale)) };
}

async function decode(bytes: Buffer, facts: Metadata, failOn: 'warning' | 'none'): Promise<Pixels> {
  const size = largest(facts.autoOrient);
  // Colours of 12 megapixels cost more to convert than the whole shrinking; so the profile travels with the small picture.
  const late = facts.icc !== undefined && facts.space === 'srgb' && facts.depth === 'uchar';
  const options = { failOn, limitInputPixels: pixelLimit, sequentialRead: true, page: facts.pagePrimary ?? 0, ignoreIcc: late };
  const paged = facts.pages === undefined ? { ...options, page: 0 } : options;
  const image = sharp(bytes, paged)
    .timeout({ seconds: secondsPerPhoto })
    .autoOrient()
    .flatten({ background: '#ffffff' })
    .resize({ ...size, fit: 'fill' });
  if (!late) return rawOf(image);
  const small = await image.keepIccProfile().tiff({ compression: 'none' }).toBuffer();
  return rawOf(sharp(small));
}

/** Pixels of the worker: upright already, so that an orientation in the EXIF must not turn them again. */
async function decodeRaw({ data, width, height }: { data: ArrayBuffer; width: number; height: number }, icc: Buffer | undefined): Promise<Pixels> {
  const image = sharp(Buffer.from(data), { raw: { width, height, channels: 4 }, limitInputPixels: pixelLimit })
    .timeout({ seconds: secondsPerPhoto })
    .flatten({ background: '#ffffff' })
    .resize({ ...largest({ width, height }), fit: 'fill' });
  const small = await rawOf(image);
  return icc ? rawOf(sharp(tiffWithProfile(small, icc))) : small;
}

async function rawOf(image: Sharp): Promise<Pixels> {
  const { data, info } = await image.toColourspace('srgb').removeAlpha().raw({ depth: 'uchar' }).toBuffer({ resolveWithObject: true });
  return { data, width: info.width, height: info.height, channels: info.channels };
}

/** Paints areas flat grey in the pixels themselves, before any picture is made of them: nothing lies below. */
function hide(pixels: Pixels, areas: readonly Area[]): Pixels {
  const { data, width, height, channels } = pixels;
  for (const [x1, y1, x2, y2] of areas) {
    const [left, right] = [Math.floor(Math.min(x1, x2) * width), Math.min(width, Math.ceil(Math.max(x1, x2) * width))];
    const [top, bottom] = [Math.floor(Math.min(y1, y2) * height), Math.min(height, Math.ceil(Math.max(y1, y2) * height))];
    for (let y = top; y < bottom; y += 1) data.fill(128, (y * width + left) * channels, (y * width + right) * channels);
  }
  return pixels;
}

/** Every delivered width from the one decoded picture. */
async function encode(pixels: Pixels, signal?: AbortSignal): Promise<Picture[]> {
  const { data, width: full, height: fullHeight, channels } = pixels;
  const pictures: Picture[] = [];
  for (const width of [...widths.filter((each) => each < full), full]) {
    signal?.throwIfAborted();
    const height = Math.max(1, Math.round((fullHeight * width) / full));
    const image = sharp(data, { raw: { width: full, height: fullHeight, channels }, limitInputPixels: pixelLimit });
    if (width < full) image.resize({ width, height, fit: 'fill' });
    pictures.push({ width, height, jpeg: await image.jpeg(full < (widths[0] ?? 0) ? small : { quality: 80, progressive: true }).toBuffer() });
  }
  return pictures;
}
