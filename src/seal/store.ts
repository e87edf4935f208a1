import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { lstat, readdir } from 'node:fs/promises';
import path from 'node:path';
import type { Readable } from 'node:stream';
import { byCodeUnit } from '../model/order.ts';

/** A file that can be read to be checked. */
export interface Stored {
  bytes: number;
  open(): Promise<Readable>;
}

/** What is checked: a folder or a ZIP. Only what is in `files` is ever opened, so that no name in a list leads out. */
export interface Store {
  /** By name with `/`. */
  files: Map<string, Stored>;
  /** What is wrong with the container itself: one finding each, name first. */
  faults: { name: string; what: string }[];
  /**
   * Of a ZIP: compares all that is not the content of a file with what this program writes.
   * @param day `2026-03-15`, the date of every entry
   */
  compareWriting?(day: string): Promise<Writing>;
  close(): Promise<void>;
}

/** What came of it: by another program, or by this one and then altered where `faults` say. */
export type Writing = { by: 'another' } | { by: 'us'; faults: Store['faults'] };

/** Every file of a folder. Links are not followed: what they lead to is not in the folder. */
export async function folderStore(folder: string): Promise<Store> {
  const store: Store = { files: new Map(), faults: [], close: async () => undefined };
  const enter = async (inner: string): Promise<void> => {
    const entries = await readdir(path.join(folder, inner), { withFileTypes: true }).catch((fault: NodeJS.ErrnoException) => fault);
    if (entries instanceof Error) return void store.faults.push({ name: inner || '.', what: `folder cannot be read (${entries.code ?? entries.message})` });
    for (const entry of entries.toSorted((a, b) => byCodeUnit(a.name, b.name))) {
      const name = inner === '' ? entry.name : `${inner}/${entry.name}`;
      const at = path.join(folder, ...name.split('/'));
      if (entry.isDirectory()) await enter(name);
      else if (entry.isFile()) store.files.set(name, { bytes: (await lstat(at)).size, open: async () => createReadStream(at, { highWaterMark: 1 << 20 }) });
      else store.faults.push({ name, what: entry.isSymbolicLink() ? 'link, not followed' : 'no ordinary file' });
    }
  };
  await enter('');
  return store;
}

/** Hashes of a stored file, each byte read once; null where there is none, an error where it cannot be read to its end. */
export async function hashStored(store: Store, name: string, algorithms: readonly string[]): Promise<Record<string, string> | Error | null> {
  const stored = store.files.get(name);
  if (!stored) return null;
  const hashes = algorithms.map((algorithm) => createHash(algorithm));
  try {
    for await (const piece of (await stored.open()) as Readable & AsyncIterable<Buffer>) for (const hash of hashes) hash.update(piece);
  } catch (fault) {
    const { code, message } = fault as NodeJS.ErrnoException;
    return new Error(code ?? message);
  }
  return Object.fromEntries(algorithms.map((algorithm, index) => [algorithm, hashes[index]?.digest('hex') ?? '']));
}

/** Lists longer than this are not held in memory: a hundred thousand files have a tenth of it. */
const longestListBytes = 256 << 20;

/** A list or other tag file whole; null where there is none, it cannot be read or is longer than any list. */
export async function readWhole(store: Store, name: string): Promise<Buffer | null> {
  const stored = store.files.get(name);
  if (!stored || stored.bytes > longestListBytes) return null;
  const pieces: Buffer[] = [];
  try {
    for await (const piece of (await stored.open()) as Readable & AsyncIterable<Buffer>) pieces.push(piece);
  } catch {
    return null;
  }
  return Buffer.concat(pieces);
}
