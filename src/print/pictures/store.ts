import { copyFile, mkdir, open, readFile, rename, rm, stat } from 'node:fs/promises';
import { constants } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import type { Rendition } from '../../model/dossier.ts';
import { pixelMeasuresSchema } from './measure.ts';

/** Raised whenever the same photo would give other pictures: part of every file name, so nothing stale is ever taken. */
const recipe = 2;

const entrySchema = z.strictObject({
  pictures: z.array(z.strictObject({ width: z.int().positive(), height: z.int().positive(), bytes: z.int().positive() })).min(1),
  flaw: z.string(),
  fault: z.string(),
  frames: z.int(),
  /** Kept here, so that a photo is not decoded again for a check of it. */
  measures: pixelMeasuresSchema.nullable(),
});

/** What the cache knows of a photo's pictures. */
export type Entry = z.infer<typeof entrySchema>;

/** `3fa91c0d5e7b2a64-1-960.jpg` */
export function pictureName(sha256: string, width: number): string {
  return `${sha256.slice(0, 16)}-${recipe}-${width}.jpg`;
}

/** How the site names the pictures of an entry. */
export function renditionsOf(sha256: string, entry: Entry): Rendition[] {
  return entry.pictures.map(({ width, height }) => ({ file: `photos/${pictureName(sha256, width)}`, width, height }));
}

const entryFile = (folder: string, sha256: string): string => join(folder, `${sha256}-${recipe}.json`);

async function sizeOf(path: string): Promise<number | null> {
  return stat(path).then(
    (facts) => (facts.isFile() ? facts.size : null),
    () => null,
  );
}

/** The cache's entry of a photo, null where there is none or a file of it is missing or cut short. */
export async function recall(folder: string, sha256: string): Promise<Entry | null> {
  try {
    const entry = entrySchema.parse(JSON.parse(await readFile(entryFile(folder, sha256), 'utf8')));
    for (const { width, bytes } of entry.pictures) {
      if ((await sizeOf(join(folder, pictureName(sha256, width)))) !== bytes) return null;
    }
    return entry;
  } catch {
    return null;
  }
}

/** Writes beside and renames, so that a build cut off leaves no half file under a good name. */
async function writeWhole(path: string, content: Buffer | string): Promise<void> {
  const beside = `${path}.${process.pid}.part`;
  try {
    const file = await open(beside, 'w');
    try {
      await file.writeFile(content);
    } finally {
      await file.close();
    }
    await rename(beside, path);
  } catch (error) {
    await rm(beside, { force: true });
    throw error;
  }
}

/** Puts pictures into the cache, the entry last: it vouches for the files. */
export async function keep(folder: string, sha256: string, made: { pictures: { width: number; height: number; jpeg: Buffer }[] } & Omit<Entry, 'pictures'>): Promise<Entry> {
  await mkdir(folder, { recursive: true });
  const { flaw, fault, frames, measures } = made;
  const pictures: Entry['pictures'] = [];
  for (const { width, height, jpeg } of made.pictures) {
    await writeWhole(join(folder, pictureName(sha256, width)), jpeg);
    pictures.push({ width, height, bytes: jpeg.length });
  }
  const entry = { pictures, flaw, fault, frames, measures };
  await writeWhole(entryFile(folder, sha256), `${JSON.stringify(entry)}\n`);
  return entry;
}

/**
 * Copies the pictures of an entry to `<outFolder>/photos`. Copies, not hard links: who retouches a picture of the
 * dossier must not change the cache. File systems that can share blocks do.
 */
export async function deliver(folder: string, outFolder: string, sha256: string, entry: Entry): Promise<void> {
  await mkdir(join(outFolder, 'photos'), { recursive: true });
  for (const { width } of entry.pictures) {
    const name = pictureName(sha256, width);
    const target = join(outFolder, 'photos', name);
    await copyFile(join(folder, name), `${target}.part`, constants.COPYFILE_FICLONE);
    await rename(`${target}.part`, target);
  }
}
