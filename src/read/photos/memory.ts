import { createHash } from 'node:crypto';
import { mkdir, readFile, readdir, rename, rm, stat, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { z } from 'zod';
import { noticeSchema } from '../../model/notice.ts';
import type { Notice } from '../../model/notice.ts';
import { byCodeUnit } from '../../model/order.ts';
import type { Photo } from '../../model/photo.ts';
import type { Stamp } from './disk.ts';

const text = z.string().nullable();
const number = z.number().nullable();
const photoSchema = z.strictObject({
  id: z.string(), path: z.string(), name: z.string(), bytes: z.int(), sha256: z.string().regex(/^[0-9a-f]{64}$/),
  format: z.enum(['jpeg', 'png', 'tiff', 'webp', 'heif', 'avif']).nullable(),
  make: text, model: text, orientation: z.int(), takenAt: z.null(), keywords: z.array(z.string()), editors: z.array(z.string()), hasPosition: z.boolean(),
  exif: z.strictObject({
    dateTimeOriginal: text, subSecTimeOriginal: text, offsetTimeOriginal: text, modifyDate: text, software: text,
    gpsLatitude: number, gpsLongitude: number, gpsDate: text, gpsTime: text,
  }),
});
const entrySchema = z.strictObject({ stamp: z.string(), photo: photoSchema, notices: z.array(noticeSchema) });
const fileSchema = z.strictObject({ reader: z.string(), entries: z.record(z.string(), entrySchema) });

/** A photo as it was read, with what was said of it. */
export interface Remembered {
  photo: Photo;
  notices: Notice[];
}

/**
 * What the last reading of the photos found, so that a file of the same size, times and inode is not read and hashed
 * again. It stands in for nothing at sealing: an issue reads every byte.
 */
export interface PhotoMemory {
  /** Null where the file is not known by this stamp, or may have been written in the moment it was read. */
  recall(path: string, stamp: Stamp): Remembered | null;
  keep(path: string, stamp: Stamp, found: Remembered): void;
  /** Writes what was kept or recalled since it was opened; what cannot be written is not remembered. */
  save(): Promise<void>;
}

/** Times of a file system can be as coarse as two seconds (FAT): what is younger than the memory by less may have changed since. */
const coarsestMs = 2000;

const fileName = 'photos-read.json';

/** Hash of the reader's own files and of the versions it runs with: another reader may find other facts. */
async function readerHash(): Promise<string> {
  const here = import.meta.dirname;
  const hash = createHash('sha256');
  for (const name of (await readdir(here)).toSorted(byCodeUnit)) hash.update(name).update(await readFile(path.join(here, name)));
  return hash.update(await readFile(path.join(here, '../../../package.json'))).digest('hex');
}

/**
 * Opens the memory in a cache folder, which need not exist. Whatever is wrong with it only means that nothing is known.
 * With `trust: false` nothing is recalled, so that every byte is read, and what is found is kept.
 */
export async function openMemory(cacheFolder: string, { trust }: { trust: boolean }): Promise<PhotoMemory> {
  const file = path.join(cacheFolder, fileName);
  const reader = await readerHash();
  let known: z.infer<typeof fileSchema>['entries'] = {};
  let writtenMs = 0;
  if (trust) {
    try {
      const [facts, content] = await Promise.all([stat(file), readFile(file, 'utf8')]);
      const parsed = fileSchema.parse(JSON.parse(content));
      if (parsed.reader === reader) [known, writtenMs] = [parsed.entries, facts.mtimeMs];
    } catch {
      known = {};
    }
  }
  const entries = new Map<string, z.infer<typeof entrySchema>>();
  let fresh = 0;
  return {
    recall(name, { key, changedMs }) {
      const entry = Object.hasOwn(known, name) ? known[name] : undefined;
      if (entry?.stamp !== key || changedMs > writtenMs - coarsestMs) return null;
      entries.set(name, entry);
      return { photo: entry.photo, notices: entry.notices as Notice[] };
    },
    keep(name, { key }, { photo, notices }) {
      fresh += 1;
      entries.set(name, { stamp: key, photo: { ...photo, takenAt: null }, notices });
    },
    async save() {
      if (fresh === 0 && entries.size === Object.keys(known).length) return;
      const sorted = Object.fromEntries([...entries].toSorted(([a], [b]) => byCodeUnit(a, b)));
      const beside = `${file}.${process.pid}.part`;
      try {
        await mkdir(cacheFolder, { recursive: true });
        await writeFile(beside, `${JSON.stringify({ reader, entries: sorted })}\n`);
        await rename(beside, file);
      } catch {
        await rm(beside, { force: true }).catch(() => undefined);
      }
    },
  };
}
