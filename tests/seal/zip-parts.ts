import { crc32 } from 'node:zlib';
import { centralEntry, endRecords, localHeader } from '../../src/seal/zip-records.ts';
import type { ZipEntry } from '../../src/seal/zip-records.ts';

/** An entry to write, and what to spoil of it. Offsets into the headers are those of PKWARE's APPNOTE 4.3.7 and 4.3.12. */
export interface Part {
  name: string;
  content?: string | Buffer;
  local?: (header: Buffer, entry: ZipEntry) => void;
  central?: (header: Buffer, entry: ZipEntry) => void;
}

/** Bytes of a ZIP with these entries, spoilt as they say. */
export function zipOf(parts: readonly Part[]): Buffer {
  const pieces: Buffer[] = [];
  const records: Buffer[] = [];
  let at = 0;
  for (const { name, content = '', local, central } of parts) {
    const body = Buffer.from(content as string);
    const entry = { name: Buffer.from(name), bytes: body.length, crc: crc32(body), offset: at, day: '2026-03-15' };
    const [before, record] = [localHeader(entry), centralEntry(entry)];
    local?.(before, entry);
    central?.(record, entry);
    pieces.push(before, body);
    records.push(record);
    at += before.length + body.length;
  }
  const directory = Buffer.concat(records);
  return Buffer.concat([...pieces, directory, endRecords(parts.length, at, directory.length)]);
}
