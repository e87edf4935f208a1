import type { Photo } from '../../model/photo.ts';

type Format = NonNullable<Photo['format']>;

const endings: Record<string, Format> = {
  jpg: 'jpeg',
  jpeg: 'jpeg',
  jpe: 'jpeg',
  jfif: 'jpeg',
  mpo: 'jpeg',
  png: 'png',
  tif: 'tiff',
  tiff: 'tiff',
  webp: 'webp',
  heic: 'heif',
  heif: 'heif',
  hif: 'heif',
  avif: 'avif',
};

/** Camera raw formats that are TIFF by their first bytes; what sharp would show of them is a thumbnail. From memory. */
const rawEndings = new Set(['3fr', 'arw', 'cr2', 'dcr', 'dng', 'erf', 'iiq', 'k25', 'kdc', 'nef', 'nrw', 'pef', 'sr2', 'srf', 'srw']);

/** ISO/IEC 23008-12 (HEIF) and AV1 Image File Format brands. */
const heifBrands = new Set(['heic', 'heix', 'hevc', 'hevx', 'heim', 'heis', 'hevm', 'hevs', 'mif1', 'msf1', 'mif2']);
const avifBrands = new Set(['avif', 'avis']);

/** Ending of a file name in lower case, without the dot; empty where there is none. */
export function endingOf(name: string): string {
  const dot = name.lastIndexOf('.');
  return dot > 0 ? name.slice(dot + 1).toLowerCase() : '';
}

/** The format a file name promises, null where its ending is none of a picture we take. */
export function formatByName(name: string): Format | null {
  return endings[endingOf(name)] ?? null;
}

/** Whether the name is that of a camera raw file. */
export function isRawName(name: string): boolean {
  return rawEndings.has(endingOf(name));
}

/** The format by content: signatures of the formats' own standards. Null where it is none we take. */
export function formatByContent(bytes: Buffer): Format | null {
  const ascii = (from: number, to: number): string => bytes.toString('latin1', from, to);
  if (bytes.length >= 3 && bytes[0] === 0xff && bytes[1] === 0xd8 && bytes[2] === 0xff) return 'jpeg';
  if (ascii(0, 8) === '\x89PNG\r\n\x1a\n') return 'png';
  if (ascii(0, 4) === 'RIFF' && ascii(8, 12) === 'WEBP') return 'webp';
  // Canon raw is TIFF with its own mark behind the header.
  const tiff = ['II*\0', 'MM\0*', 'II+\0', 'MM\0+'].includes(ascii(0, 4));
  if (tiff) return ascii(8, 10) === 'CR' ? null : 'tiff';
  if (ascii(4, 8) === 'ftyp') return formatByBrands(bytes);
  return null;
}

/** The major brand speaks first; `mif1` only says "an image", so the compatible brands decide there. */
function formatByBrands(bytes: Buffer): Format | null {
  const end = Math.min(bytes.readUInt32BE(0), bytes.length, 256);
  const major = bytes.toString('latin1', 8, 12);
  const compatible: string[] = [];
  for (let at = 16; at + 4 <= end; at += 4) compatible.push(bytes.toString('latin1', at, at + 4));
  if (avifBrands.has(major)) return 'avif';
  if (!heifBrands.has(major)) return null;
  const general = major === 'mif1' || major === 'msf1' || major === 'mif2';
  return general && compatible.some((brand) => avifBrands.has(brand)) ? 'avif' : 'heif';
}

/**
 * Whether an ISO-BMFF file (ISO/IEC 14496-12) can be walked box by box to its metadata.
 * exifr walks the same way and never ends on a box of length zero before `meta`.
 */
export function boxesCanBeWalked(bytes: Buffer): boolean {
  const lengthAt = (at: number): number => {
    const short = bytes.readUInt32BE(at);
    return short === 1 && at + 16 <= bytes.length ? Number(bytes.readBigUInt64BE(at + 8)) : short;
  };
  const walk = (from: number, stopAt: string | null): number | null => {
    for (let at = from; at + 8 <= bytes.length; ) {
      if (stopAt !== null && bytes.toString('latin1', at + 4, at + 8) === stopAt) return at;
      const length = lengthAt(at);
      if (length === 0 && stopAt === null) return at;
      if (length < 8) return null;
      at += length;
    }
    return stopAt === null ? bytes.length : null;
  };
  const meta = walk(0, 'meta');
  return meta !== null && walk(meta + 12, null) !== null;
}
