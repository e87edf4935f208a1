import { mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import path from 'node:path';
import { setImmediate } from 'node:timers/promises';
import sharp from 'sharp';
import type { DossierPhoto, Rendition } from '../../model/dossier.ts';

// As for all pictures: one photo a thread, nothing kept by libvips.
sharp.concurrency(1);
sharp.cache(false);

/** Raised whenever the same rendition would give another picture: part of the name. */
const recipe = 1;

/** Two abreast on A4 a picture is 230 points wide and at most 290 high: about 200 dots an inch, enough for a good print. */
const most = { width: 700, height: 810 };

/** What is at least this wide is made smaller without showing that it was packed before. */
const goodSourceWidth = 1400;

/** The photos with one small picture each, and where each lies on the disk. */
export interface MailPictures {
  photos: DossierPhoto[];
  pathOf(rendition: string): string;
}

/**
 * Makes the small pictures of a PDF to be mailed, each from a delivered one, which is taken as it is where that is small
 * already. They stay in the cache under a name of their own. Throws what the disk refuses, and the signal's reason when
 * aborted.
 */
export async function mailPictures(photos: readonly DossierPhoto[], options: { pictureFolder: string; cacheFolder: string; signal?: AbortSignal | undefined }): Promise<MailPictures> {
  const { pictureFolder, cacheFolder, signal } = options;
  const paths = new Map<string, string>();
  const small = photos.map((photo): DossierPhoto => {
    const largest = photo.renditions.at(-1);
    if (!largest) return photo;
    const rendition = smallOf(largest);
    const own = photo.renditions.find(({ width, height }) => width === rendition.width && height === rendition.height);
    if (own) paths.set(own.file, path.join(pictureFolder, own.file));
    return { ...photo, renditions: [own ?? { ...rendition, file: mailName(sourceOf(photo).file) }] };
  });
  const wanted = new Map<string, { source: string; target: string; rendition: Rendition }>();
  for (const [index, photo] of photos.entries()) {
    const rendition = small[index]?.renditions[0];
    if (!rendition || paths.has(rendition.file)) continue;
    const target = path.join(cacheFolder, path.basename(rendition.file));
    wanted.set(rendition.file, { source: path.join(pictureFolder, sourceOf(photo).file), target, rendition });
  }
  for (const [name, { target }] of wanted) paths.set(name, target);
  mkdirSync(cacheFolder, { recursive: true });
  const missing = [...wanted.values()].filter(({ target }) => !isWhole(target));
  const lane = async (): Promise<void> => {
    for (let next = missing.pop(); next; next = missing.pop()) {
      // Lets a Ctrl-C in.
      await setImmediate();
      signal?.throwIfAborted();
      await make(next);
    }
  };
  // All lanes come to rest before anything is thrown: nothing is written after the call has ended.
  for (const end of await Promise.allSettled(Array.from({ length: availableParallelism() }, lane))) if (end.status === 'rejected') throw end.reason;
  return {
    photos: small,
    pathOf(rendition) {
      const found = paths.get(rendition);
      if (found === undefined) throw new Error(`The picture ${rendition} was not made for mail`);
      return found;
    },
  };
}

function smallOf({ width, height }: Rendition): { width: number; height: number } {
  const scale = Math.min(1, most.width / width, most.height / height);
  return { width: Math.max(1, Math.round(width * scale)), height: Math.max(1, Math.round(height * scale)) };
}

function sourceOf({ renditions }: DossierPhoto): Rendition {
  return renditions.find(({ width }) => width >= goodSourceWidth) ?? (renditions.at(-1) as Rendition);
}

/** `photos/3fa91c0d5e7b2a64-2-1600.jpg` → `photos/3fa91c0d5e7b2a64-2-1600-mail-1.jpg`: the name it is made from says which photo and how. */
function mailName(file: string): string {
  return file.replace(/(\.jpg)?$/, `-mail-${recipe}.jpg`);
}

/** Whether a picture is in the cache from its first to its last marker (JPEG: SOI and EOI). */
function isWhole(file: string): boolean {
  try {
    const bytes = readFileSync(file);
    return bytes.length > 4 && bytes.readUInt16BE(0) === 0xffd8 && bytes.readUInt16BE(bytes.length - 2) === 0xffd9;
  } catch {
    return false;
  }
}

async function make({ source, target, rendition: { width, height } }: { source: string; target: string; rendition: Rendition }): Promise<void> {
  const jpeg = await sharp(readFileSync(source)).resize({ width, height, fit: 'fill' }).jpeg({ quality: 75, mozjpeg: true }).toBuffer();
  const beside = `${target}.${process.pid}.part`;
  try {
    writeFileSync(beside, jpeg);
    renameSync(beside, target);
  } catch (fault) {
    rmSync(beside, { force: true });
    throw fault;
  }
}
