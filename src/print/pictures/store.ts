// Files are small here, and waiting for another thread to write one takes longer than writing it.
import { constants, copyFileSync, mkdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import type { Rendition } from '../../model/dossier.ts';
import { pictureFolder } from './last.ts';
import type { LastPictures } from './last.ts';
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
function pictureName(sha256: string, width: number): string {
  return `${sha256.slice(0, 16)}-${recipe}-${width}.jpg`;
}

/** How the site names the pictures of an entry. */
export function renditionsOf(sha256: string, entry: Entry): Rendition[] {
  return entry.pictures.map(({ width, height }) => ({ file: `${pictureFolder}/${pictureName(sha256, width)}`, width, height }));
}

const entryFile = (folder: string, sha256: string): string => join(folder, `${sha256}-${recipe}.json`);

function sizeOf(path: string): number | null {
  const facts = statSync(path, { throwIfNoEntry: false });
  return facts?.isFile() ? facts.size : null;
}

/** The cache's entry of a photo, null where there is none. */
export function recall(folder: string, sha256: string): Entry | null {
  try {
    return entrySchema.parse(JSON.parse(readFileSync(entryFile(folder, sha256), 'utf8')));
  } catch {
    return null;
  }
}

/** Writes beside and renames, so that a build cut off leaves no half file under a good name. */
function writeWhole(path: string, content: Buffer | string): void {
  const beside = `${path}.${process.pid}.part`;
  try {
    writeFileSync(beside, content);
    renameSync(beside, path);
  } catch (error) {
    rmSync(beside, { force: true });
    throw error;
  }
}

/** Puts pictures into the cache, the entry last: it vouches for the files. */
export function keep(folder: string, sha256: string, made: { pictures: { width: number; height: number; jpeg: Buffer }[] } & Omit<Entry, 'pictures'>): Entry {
  mkdirSync(folder, { recursive: true });
  const { flaw, fault, frames, measures } = made;
  const pictures: Entry['pictures'] = [];
  for (const { width, height, jpeg } of made.pictures) {
    writeWhole(join(folder, pictureName(sha256, width)), jpeg);
    pictures.push({ width, height, bytes: jpeg.length });
  }
  const entry = { pictures, flaw, fault, frames, measures };
  writeWhole(entryFile(folder, sha256), `${JSON.stringify(entry)}\n`);
  return entry;
}

/** Whether every picture of an entry is in the cache, none cut short. */
export function isWhole(folder: string, sha256: string, entry: Entry): boolean {
  return entry.pictures.every(({ width, bytes }) => sizeOf(join(folder, pictureName(sha256, width))) === bytes);
}

/**
 * Puts the pictures of an entry into `<outFolder>/photos`: those of the last dossier where they are still as delivered,
 * else copies from the cache; false where the cache lacks one. Never links into the cache: who retouches a picture of the
 * dossier must not change it. File systems that can share blocks do.
 */
export function deliver(folder: string, outFolder: string, sha256: string, entry: Entry, last?: LastPictures): boolean {
  mkdirSync(join(outFolder, pictureFolder), { recursive: true });
  for (const { width, bytes } of entry.pictures) {
    const name = pictureName(sha256, width);
    const target = join(outFolder, pictureFolder, name);
    if (last?.take(name, target)) continue;
    if (sizeOf(join(folder, name)) !== bytes) return false;
    copyFileSync(join(folder, name), `${target}.part`, constants.COPYFILE_FICLONE);
    renameSync(`${target}.part`, target);
    last?.copied(name, target);
  }
  return true;
}
