/** A stored file of a ZIP. */
export interface ZipEntry {
  /** UTF-8. */
  name: Uint8Array;
  bytes: number;
  crc: number;
  /** Where its local header begins. */
  offset: number;
  /** `2026-03-15` */
  day: string;
}

/** The longest name a ZIP can hold, in bytes. */
export const longest = 0xffff;

const full32 = 0xffffffff;
/** General purpose flag: the name is UTF-8 (PKWARE APPNOTE 6.3.10, appendix D). */
const utf8Names = 1 << 11;
/** Version needed: 1.0, and 4.5 with ZIP64 (APPNOTE 4.4.3). */
const [plain, zip64] = [10, 45];

/** Local file header (APPNOTE 4.3.7), the same length whatever the CRC. */
export function localHeader(entry: ZipEntry): Buffer {
  const large = entry.bytes >= full32;
  const extra = large ? sizes64([entry.bytes, entry.bytes]) : Buffer.alloc(0);
  const head = Buffer.alloc(30);
  head.writeUInt32LE(0x04034b50, 0);
  shared(head, 4, entry, large ? zip64 : plain, large);
  head.writeUInt16LE(extra.length, 28);
  return Buffer.concat([head, entry.name, extra]);
}

/** Central directory header (APPNOTE 4.3.12): an ordinary file of Unix, mode 644. */
export function centralEntry(entry: ZipEntry): Buffer {
  const large = entry.bytes >= full32;
  const far = entry.offset >= full32;
  const extra = large || far ? sizes64([...(large ? [entry.bytes, entry.bytes] : []), ...(far ? [entry.offset] : [])]) : Buffer.alloc(0);
  const head = Buffer.alloc(46);
  head.writeUInt32LE(0x02014b50, 0);
  head.writeUInt16LE((3 << 8) | zip64, 4);
  shared(head, 6, entry, large || far ? zip64 : plain, large);
  head.writeUInt16LE(extra.length, 30);
  head.writeUInt32LE((0o100644 << 16) >>> 0, 38);
  head.writeUInt32LE(far ? full32 : entry.offset, 42);
  return Buffer.concat([head, entry.name, extra]);
}

/** What both headers have in common, from "version needed" to "length of the name". */
function shared(head: Buffer, at: number, entry: ZipEntry, version: number, large: boolean): void {
  head.writeUInt16LE(version, at);
  head.writeUInt16LE(utf8Names, at + 2);
  head.writeUInt16LE(0, at + 4);
  head.writeUInt16LE(0, at + 6);
  head.writeUInt16LE(dosDay(entry.day), at + 8);
  head.writeUInt32LE(entry.crc, at + 10);
  head.writeUInt32LE(large ? full32 : entry.bytes, at + 14);
  head.writeUInt32LE(large ? full32 : entry.bytes, at + 18);
  head.writeUInt16LE(entry.name.length, at + 22);
}

/** ZIP64 extended information (APPNOTE 4.5.3). */
function sizes64(values: readonly number[]): Buffer {
  const extra = Buffer.alloc(4 + 8 * values.length);
  extra.writeUInt16LE(1, 0);
  extra.writeUInt16LE(8 * values.length, 2);
  for (const [index, value] of values.entries()) extra.writeBigUInt64LE(BigInt(value), 4 + 8 * index);
  return extra;
}

/** A day in the form of MS-DOS, which knows 1980 to 2107. */
function dosDay(day: string): number {
  const [year = 1980, month = 1, date = 1] = day.split('-').map(Number);
  return year < 1980 || year > 2107 ? 0x21 : ((year - 1980) << 9) | (month << 5) | date;
}

/** End of the central directory, with that of ZIP64 before it where a number needs it (APPNOTE 4.3.14 to 4.3.16). */
export function endRecords(count: number, start: number, length: number): Buffer {
  const needs = count >= 0xffff || start >= full32 || length >= full32;
  const end = Buffer.alloc(22);
  end.writeUInt32LE(0x06054b50, 0);
  end.writeUInt16LE(Math.min(count, 0xffff), 8);
  end.writeUInt16LE(Math.min(count, 0xffff), 10);
  end.writeUInt32LE(Math.min(length, full32), 12);
  end.writeUInt32LE(Math.min(start, full32), 16);
  if (!needs) return end;
  const large = Buffer.alloc(56 + 20);
  large.writeUInt32LE(0x06064b50, 0);
  large.writeBigUInt64LE(44n, 4);
  large.writeUInt16LE((3 << 8) | zip64, 12);
  large.writeUInt16LE(zip64, 14);
  large.writeBigUInt64LE(BigInt(count), 24);
  large.writeBigUInt64LE(BigInt(count), 32);
  large.writeBigUInt64LE(BigInt(length), 40);
  large.writeBigUInt64LE(BigInt(start), 48);
  large.writeUInt32LE(0x07064b50, 56);
  large.writeBigUInt64LE(BigInt(start + length), 64);
  large.writeUInt32LE(1, 72);
  return Buffer.concat([large, end]);
}
