import { mkdir, open, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { crc32 } from 'node:zlib';
import { hashesOf, pour } from './copy.ts';
import type { Hashes } from './copy.ts';
import { centralEntry, endRecords, localHeader, longest } from './zip-records.ts';
import type { ZipEntry } from './zip-records.ts';

/** Where a bag is written to: a folder or a ZIP. Names are within the bag, with `/`. */
export interface Sink {
  /** Takes in a file from the disk, its size as found before. */
  copy(name: string, file: string, bytes: number): Promise<Hashes>;
  /** Takes in a text or other bytes. */
  put(name: string, bytes: Uint8Array): Promise<Hashes>;
  close(): Promise<void>;
}

/** A bag as a folder. A file that lies where it belongs already is hashed there. */
export function folderSink(folder: string): Sink {
  return {
    async copy(name, file, bytes) {
      const target = path.join(folder, ...name.split('/'));
      if (path.resolve(file) === path.resolve(target)) return pour(file, bytes, async () => undefined);
      await mkdir(path.dirname(target), { recursive: true });
      const handle = await open(target, 'wx', 0o644);
      try {
        return await pour(file, bytes, async (piece) => {
          for (let done = 0; done < piece.length; ) done += (await handle.write(piece, done)).bytesWritten;
        });
      } finally {
        await handle.close();
      }
    },
    async put(name, bytes) {
      const target = path.join(folder, ...name.split('/'));
      await mkdir(path.dirname(target), { recursive: true });
      await writeFile(target, bytes, { flag: 'wx' });
      return hashesOf(bytes);
    },
    async close() {},
  };
}

/**
 * A bag as a ZIP, all in one folder `root` as RFC 8493 section 4 has it. Nothing is deflated: photos and PDF would not get
 * smaller, and deflate gives other bytes on other processors. Sizes are known before, so that no reader has to search for
 * the end of a file; its CRC is filled in when its bytes have gone by.
 * @param day `2026-03-15`, the date of every entry
 */
export async function zipSink(file: string, root: string, day: string): Promise<Sink> {
  const handle = await open(file, 'wx', 0o644);
  const entries: ZipEntry[] = [];
  let at = 0;
  const write = async (bytes: Uint8Array, position: number): Promise<void> => {
    for (let done = 0; done < bytes.length; ) done += (await handle.write(bytes, done, bytes.length - done, position + done)).bytesWritten;
  };
  const add = async (name: string, bytes: number, body: (take: (piece: Uint8Array) => Promise<void>) => Promise<Hashes>): Promise<Hashes> => {
    const entry: ZipEntry = { name: Buffer.from(`${root}/${name}`), bytes, crc: 0, offset: at, day };
    if (entry.name.length > longest) throw new Error(`The name ${name} is too long for a ZIP.`);
    const header = localHeader(entry);
    await write(header, at);
    at += header.length;
    const hashes = await body(async (piece) => {
      const position = at;
      at += piece.length;
      entry.crc = crc32(piece, entry.crc);
      await write(piece, position);
    });
    await write(localHeader(entry), entry.offset);
    entries.push(entry);
    return hashes;
  };
  return {
    copy: (name, source, bytes) => add(name, bytes, (take) => pour(source, bytes, take)),
    put: (name, bytes) =>
      add(name, bytes.length, async (take) => {
        await take(bytes);
        return hashesOf(bytes);
      }),
    async close() {
      try {
        const start = at;
        for (const entry of entries) {
          const record = centralEntry(entry);
          await write(record, at);
          at += record.length;
        }
        await write(endRecords(entries.length, start, at - start), at);
      } finally {
        await handle.close();
      }
    },
  };
}
