import { mkdir, open, readFile, stat, writeFile } from 'node:fs/promises';
import { availableParallelism } from 'node:os';
import path from 'node:path';
import type { Dossier, DossierPhoto } from '../../model/dossier.ts';
import type { Notice } from '../../model/notice.ts';
import { numberText } from '../../units.ts';
import { placeholder } from './figures.ts';
import type { Size } from './figures.ts';

/** Beside `index.html`; it opens by itself anywhere. */
export const oneFileName = 'dossier-one-file.html';

/** What the file may weigh, in bytes, where nothing else is asked for: what mail services take. Above the second it is not made unasked. Our judgement. */
export const usualLimitBytes = 25e6;
export const highestBytes = 50e6;

/** Widths in pixels tried for the pictures, the largest first, and those of a picture that stands in full elsewhere. */
const fullWidths = [1200, 960, 800, 640, 480] as const;
const otherWidths = { again: 480, small: 240 } as const;

export interface OneFileOptions {
  /** The dossier's folder: pictures are read from it, the file is put into it. */
  folder: string;
  /** Throw-away folder for reduced pictures. */
  work: string;
  /** What the file may weigh; it takes the largest pictures that stay below. */
  limitBytes: number;
  /** Makes it however large it is. */
  anySize: boolean;
  onProgress?: (done: number, total: number) => void;
  signal?: AbortSignal;
}

/**
 * Writes the one-file edition: the page with its pictures in it, reduced, marks in their pixels. Pictures are never in memory
 * together.
 * @param html the page as the site's printer hands it back, with placeholders
 * @returns `written` null where it would be too large; then a notice says so
 */
export async function printOneFile(dossier: Pick<Dossier, 'photos'>, html: string, options: OneFileOptions): Promise<{ written: { bytes: number; widthPx: number } | null; notices: Notice[] }> {
  const parts = partsOf(withOwnPolicy(html), dossier.photos);
  const ceiling = options.anySize ? options.limitBytes : Math.min(options.limitBytes, highestBytes);
  let made: Made | null = null;
  for (const widthPx of fullWidths) {
    const last = widthPx === fullWidths.at(-1);
    made = await reduced(parts, widthPx, last ? Number.POSITIVE_INFINITY : ceiling, options);
    if (made) break;
  }
  if (!made) throw new Error('No width was tried');
  const { bytes, widthPx } = made;
  const said = `One-file edition has ${megabytes(bytes)} MB with its smallest pictures`;
  if (bytes > highestBytes && !options.anySize) {
    return { written: null, notices: [{ level: 'error', rule: 'one-file-refused', found: `${said} and was not made`, expected: `no more than ${megabytes(highestBytes)} MB`, advice: 'Hand over the folder or the PDF, take photos out of the job, or ask for it with --any-size.' }] };
  }
  await write(parts, made, path.join(options.folder, oneFileName));
  const large: Notice[] = bytes <= options.limitBytes ? [] : [{ level: 'warning', rule: 'one-file-large', found: said, expected: `no more than ${megabytes(options.limitBytes)} MB`, advice: 'Many mail services do not take it; hand it over in another way.' }];
  return { written: { bytes, widthPx }, notices: large };
}

/** Text of the page, or a picture in it. */
type Part = string | { photo: DossierPhoto; size: Size };

/** The page cut at its placeholders; all but the pictures' addresses stays. */
function partsOf(html: string, photos: readonly DossierPhoto[]): Part[] {
  const parts: Part[] = [];
  let done = 0;
  for (const match of html.matchAll(placeholder)) {
    const photo = photos[Number(match[1])];
    if (!photo) throw new Error(`The one-file page asks for photo ${match[1]}, which the dossier does not list.`);
    parts.push(html.slice(done, match.index), { photo, size: match[2] as Size });
    done = match.index + match[0].length;
  }
  return [...parts, html.slice(done)];
}

/** Nothing may be loaded from anywhere: pictures are in the page, script and styles are those whose hashes stand there. */
function withOwnPolicy(html: string): string {
  const swaps = [["img-src 'self' file: data:;", 'img-src data:;'], ["script-src 'self' ", 'script-src '], ["style-src 'self' ", 'style-src ']] as const;
  return swaps.reduce((page, [from, to]) => {
    if (page.split(from).length !== 2) throw new Error(`The content policy of the one-file page lacks "${from}".`);
    return page.replace(from, to);
  }, html);
}

interface Made {
  /** Of the whole file. */
  bytes: number;
  widthPx: number;
  /** File of each picture by photo and size. */
  files: ReadonlyMap<string, string>;
}

const opening = 'src="data:image/jpeg;base64,';
const keyOf = ({ photo, size }: Exclude<Part, string>): string => `${photo.id} ${size}`;

/** Makes all pictures for one width of those in full; null as soon as the file would be larger than `ceiling`. */
async function reduced(parts: readonly Part[], widthPx: number, ceiling: number, { folder, work, onProgress, signal }: OneFileOptions): Promise<Made | null> {
  const pictures = [...new Map(parts.flatMap((part) => (typeof part === 'string' ? [] : [[keyOf(part), part] as const]))).values()];
  const times = new Map<string, number>();
  for (const part of parts) if (typeof part !== 'string') times.set(keyOf(part), (times.get(keyOf(part)) ?? 0) + 1);
  let bytes = parts.reduce((sum, part) => sum + (typeof part === 'string' ? Buffer.byteLength(part) : opening.length + 1), 0);
  const files = new Map<string, string>();
  await mkdir(path.join(work, 'one-file'), { recursive: true });
  let next = 0;
  const lane = async (): Promise<void> => {
    for (let at = next++; at < pictures.length && bytes <= ceiling; at = next++) {
      const picture = pictures[at];
      if (!picture) return;
      signal?.throwIfAborted();
      const wide = picture.size === 'full' ? widthPx : otherWidths[picture.size];
      // Made once: those that do not follow the width are there from the first try.
      const file = path.join(work, 'one-file', `${picture.photo.id}-${wide}.jpg`);
      const length = (await stat(file).catch(() => null))?.size ?? (await makePicture(picture.photo, wide, folder, file));
      files.set(keyOf(picture), file);
      bytes += (times.get(keyOf(picture)) ?? 1) * 4 * Math.ceil(length / 3);
      onProgress?.(files.size, pictures.length);
    }
  };
  const lanes = await Promise.allSettled(Array.from({ length: availableParallelism() }, lane));
  for (const result of lanes) if (result.status === 'rejected') throw result.reason;
  return bytes <= ceiling ? { bytes, widthPx, files } : null;
}

/** Reduces a delivered picture, in which hidden areas are destroyed, and burns the photo's marks into it. Gives its length in bytes. */
async function makePicture(photo: DossierPhoto, widthPx: number, folder: string, file: string): Promise<number> {
  const largest = photo.renditions.at(-1);
  const source = photo.renditions.find(({ width }) => width >= widthPx) ?? largest;
  if (!source) throw new Error(`Photo ${photo.id} has no picture to reduce.`);
  const width = Math.min(widthPx, source.width);
  const height = Math.max(1, Math.round((source.height * width) / source.width));
  const { marksOverlay } = await import('./burnt.ts');
  const overlay = marksOverlay(photo.marks, width, height);
  let jpeg = await readFile(path.join(folder, source.file));
  if (overlay !== null || width < source.width) {
    const { default: sharp } = await import('sharp');
    // Several pictures at once need no threads of their own; libvips' cache only costs memory here.
    sharp.concurrency(1);
    sharp.cache(false);
    const image = sharp(jpeg, { limitInputPixels: false });
    if (width < source.width) image.resize({ width, height, fit: 'fill' });
    if (overlay !== null) image.composite([{ input: Buffer.from(overlay), density: 72 }]);
    jpeg = await image.jpeg({ quality: 74, progressive: true }).toBuffer();
  }
  await writeFile(file, jpeg);
  return jpeg.length;
}

/** Picture by picture, so that the whole is never in memory. */
async function write(parts: readonly Part[], { files }: Made, target: string): Promise<void> {
  const out = await open(target, 'w');
  try {
    for (const part of parts) await out.write(typeof part === 'string' ? part : `${opening}${(await readFile(files.get(keyOf(part)) ?? '')).toString('base64')}"`);
  } finally {
    await out.close();
  }
}

function megabytes(bytes: number): string {
  return numberText(bytes / 1e6, 1);
}
