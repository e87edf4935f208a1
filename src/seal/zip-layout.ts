import type { FileHandle } from 'node:fs/promises';
import { centralEntry, endRecords, localHeader } from './zip-records.ts';

/** An entry as the directory at the end of a ZIP has it. */
export interface Laid {
  /** UTF-8, as it stands there. */
  name: Uint8Array;
  bytes: number;
  crc: number;
}

/** How a ZIP differs from what our writer makes of the same files. */
export interface Layout {
  /** Positions of the entries of which a header is not as we write it. */
  entries: number[];
  /** Whether what ends a ZIP is not, or anything stands before or behind. */
  end: boolean;
}

/**
 * Compares every byte of a ZIP that belongs to no file with what our writer writes for these names, sizes and checksums, one
 * after the other from the first byte on. Hashes say nothing of modes and dates, nor of what hides between two files.
 * @param entries in the order of the directory
 * @param day `2026-03-15`, the date of every entry
 */
export async function compareLayout(handle: FileHandle, entries: readonly Laid[], day: string): Promise<Layout> {
  const wrong = new Set<number>();
  const placed = [];
  let at = 0;
  for (const [index, { name, bytes, crc }] of entries.entries()) {
    const entry = { name, bytes, crc, offset: at, day };
    const header = localHeader(entry);
    if (!(await stands(handle, header, at))) wrong.add(index);
    at += header.length + bytes;
    placed.push(entry);
  }
  const start = at;
  for (const [index, entry] of placed.entries()) {
    const record = centralEntry(entry);
    if (!(await stands(handle, record, at))) wrong.add(index);
    at += record.length;
  }
  const end = endRecords(entries.length, start, at - start);
  const whole = (await stands(handle, end, at)) && (await handle.stat()).size === at + end.length;
  return { entries: [...wrong], end: !whole };
}

async function stands(handle: FileHandle, expected: Uint8Array, at: number): Promise<boolean> {
  const found = Buffer.alloc(expected.length);
  const { bytesRead } = await handle.read(found, 0, found.length, at);
  return bytesRead === found.length && found.equals(expected);
}
