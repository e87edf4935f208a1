import exifr from 'exifr';
import type { ExifStrings, Photo } from '../../model/photo.ts';
import { editorsOf } from './editors.ts';
import { extrasOf } from './extras.ts';
import type { Extras } from './extras.ts';
import { boxesCanBeWalked } from './format.ts';
import { iptcText, keywordsOf, xmpValues } from './keywords.ts';

type Block = Record<string, unknown>;
type Blocks = Record<string, unknown>;

/** What stands in a photo beside the picture. */
export interface Metadata {
  make: string | null;
  model: string | null;
  /** As written, valid or not; null where none. */
  orientation: number | null;
  exif: ExifStrings;
  keywords: string[];
  /** Programs that say they saved the file, as written. */
  editors: string[];
  hasPosition: boolean;
  /** XMP's own time taken, as written; null where none. */
  xmpTaken: string | null;
  /** What the file holds besides the still picture. */
  extras: Extras;
  /** What could not be read, in the reader's words; empty where all is well. */
  faults: string[];
}

interface ExifrReader {
  errors: unknown[];
  parsers: Record<string, { errors: unknown[] }>;
  read(bytes: Uint8Array): Promise<void>;
  parse(): Promise<Blocks | undefined>;
}

// exifr's type file gives the instance where the class stands.
const { Exifr } = exifr as unknown as { Exifr: new (options: object) => ExifrReader };

const wanted = {
  tiff: true,
  // Only these: a broken tag that nobody asks for must not cost the others.
  ifd0: { pick: ['Make', 'Model', 'Orientation', 'ModifyDate', 'Software', 'ProcessingSoftware'] },
  exif: { pick: ['DateTimeOriginal', 'SubSecTimeOriginal', 'OffsetTimeOriginal'] },
  gps: { pick: ['GPSLatitudeRef', 'GPSLatitude', 'GPSLongitudeRef', 'GPSLongitude', 'GPSDateStamp', 'GPSTimeStamp'] },
  // The text as it stands: exifr's own XMP reader turns words into numbers and overwrites EXIF dates.
  xmp: { parse: false, multiSegment: true },
  iptc: true,
  ifd1: false,
  interop: false,
  icc: false,
  ihdr: false,
  reviveValues: false,
  translateValues: false,
  mergeOutput: false,
  silentErrors: true,
};
// exifr keeps what it makes of the options and alters it when it meets a TIFF file: two objects keep files independent.
const wantedOfTiff = { ...wanted };

/** All that exifr finds, and all that it swallowed: errors of its segment readers appear nowhere else. */
async function blocksOf(bytes: Uint8Array, options: object): Promise<{ blocks: Blocks; faults: string[] }> {
  const reader = new Exifr(options);
  let blocks: Blocks = {};
  const errors: unknown[] = [];
  try {
    await reader.read(bytes);
    blocks = (await reader.parse()) ?? {};
  } catch (error) {
    errors.push(error);
  }
  errors.push(...reader.errors, ...Object.values(reader.parsers).flatMap((parser) => parser.errors));
  const words = errors.map((error) => (error instanceof Error ? error.message : String(error)).replace(/\s+/g, ' ').slice(0, 120));
  return { blocks, faults: [...new Set(words)] };
}

/** EXIF, XMP and IPTC as libvips finds them, read by exifr again. sharp is loaded only here. */
async function blocksBySharp(bytes: Buffer): Promise<{ blocks: Blocks; faults: string[] } | null> {
  try {
    const { default: sharp } = await import('sharp');
    const found = await sharp(bytes, { failOn: 'none', limitInputPixels: false }).metadata();
    const result = { blocks: {} as Blocks, faults: [] as string[] };
    if (found.exif) {
      const named = found.exif.toString('latin1', 0, 6) === 'Exif\0\0';
      Object.assign(result, await blocksOf(named ? found.exif.subarray(6) : found.exif, wantedOfTiff));
    }
    if (found.xmp) result.blocks['xmp'] = found.xmp.toString('utf8');
    if (found.iptc) result.blocks['iptc'] = { Keywords: iptcKeywords(found.iptc) };
    return result;
  } catch {
    return null;
  }
}

/** Dataset 2:25 of IPTC IIM 4.2 as Latin-1: exifr takes IPTC only inside a file. */
function iptcKeywords(iptc: Buffer): string[] {
  const found: string[] = [];
  let at = iptc.indexOf(Buffer.from([0x1c, 0x02]));
  while (at !== -1 && at + 5 <= iptc.length && iptc[at] === 0x1c) {
    const length = iptc.readUInt16BE(at + 3);
    if (iptc[at + 1] === 2 && iptc[at + 2] === 25) found.push(iptc.toString('latin1', at + 5, at + 5 + length));
    at += 5 + length;
  }
  return found;
}

async function find(bytes: Buffer, format: NonNullable<Photo['format']>): Promise<{ blocks: Blocks; faults: string[] }> {
  const boxed = format === 'heif' || format === 'avif';
  const readable = format !== 'webp' && (!boxed || boxesCanBeWalked(bytes));
  const first = readable ? await blocksOf(bytes, format === 'tiff' ? wantedOfTiff : wanted) : { blocks: {}, faults: [] };
  const silent = Object.keys(first.blocks).length === 0;
  // exifr reads no XMP in HEIF and AVIF, and in PNG none that is compressed.
  const xmpMark = boxed ? 'application/rdf+xml' : format === 'png' ? 'XML:com.adobe.xmp' : null;
  const moreInside = xmpMark !== null && first.blocks['xmp'] === undefined && bytes.includes(xmpMark);
  const again = first.faults.length > 0 || moreInside || (silent && (boxed || format === 'webp'));
  if (!again) return first;
  const second = await blocksBySharp(bytes);
  if (second === null) return first;
  const whole = second.faults.length === 0 && (boxed || Object.keys(second.blocks).length > 0);
  // Where libvips read it whole, exifr's complaint is about a brand it does not know, not about the file.
  if (whole) return { blocks: { ...first.blocks, ...second.blocks }, faults: [] };
  return { blocks: { ...second.blocks, ...first.blocks }, faults: [...new Set([...first.faults, ...second.faults])] };
}

function block(blocks: Blocks, name: string): Block {
  const value = blocks[name];
  return typeof value === 'object' && value !== null ? (value as Block) : {};
}

/** A string cut at NUL and trimmed, whatever type the camera wrote it as; '' where the tag is blank, null where it is absent. */
function text(values: Block, tag: string): string | null {
  if (!(tag in values)) return null;
  const value = values[tag];
  if (typeof value === 'number') return String(value);
  const raw = typeof value === 'string' ? value : value instanceof Uint8Array && value.length <= 256 ? Buffer.from(value).toString('latin1') : '';
  return (raw.split('\0')[0] ?? '').trim();
}

function degrees(value: unknown): number | null {
  return typeof value === 'number' && Number.isFinite(value) ? value : null;
}

/** GPSTimeStamp, three numbers of UTC, as `01:32:09`. */
function gpsTime(value: unknown): string | null {
  const numbers: unknown[] = Array.isArray(value) ? value : [];
  const [hours, minutes, seconds] = numbers;
  if (typeof hours !== 'number' || typeof minutes !== 'number' || typeof seconds !== 'number') return null;
  if (![hours, minutes, seconds].every((part) => Number.isFinite(part))) return null;
  const [whole = '0', fraction] = String(seconds).split('.');
  const two = (part: number | string): string => String(part).padStart(2, '0');
  return `${two(Math.trunc(hours))}:${two(Math.trunc(minutes))}:${two(whole)}${fraction ? `.${fraction}` : ''}`;
}

/** Empty strings say nothing about a camera. */
const orNull = (value: string | null): string | null => (value === '' ? null : value);

/**
 * What a photo says about itself, from its bytes. Dates stay the strings they are.
 * Never rejects: what cannot be read is told in `faults`.
 */
export async function readMetadata(bytes: Buffer, format: NonNullable<Photo['format']>): Promise<Metadata> {
  const { blocks, faults } = await find(bytes, format);
  const [ifd0, exif, gps] = [block(blocks, 'ifd0'), block(blocks, 'exif'), block(blocks, 'gps')];
  const xmp = typeof blocks['xmp'] === 'string' ? blocks['xmp'] : '';
  const orientation = ifd0['Orientation'];
  return {
    make: orNull(text(ifd0, 'Make')),
    model: orNull(text(ifd0, 'Model')),
    orientation: typeof orientation === 'number' ? orientation : null,
    exif: {
      dateTimeOriginal: text(exif, 'DateTimeOriginal'),
      subSecTimeOriginal: text(exif, 'SubSecTimeOriginal'),
      offsetTimeOriginal: text(exif, 'OffsetTimeOriginal'),
      modifyDate: text(ifd0, 'ModifyDate'),
      software: orNull(text(ifd0, 'Software')),
      gpsLatitude: degrees(gps['latitude']),
      gpsLongitude: degrees(gps['longitude']),
      gpsDate: orNull(text(gps, 'GPSDateStamp')),
      gpsTime: gpsTime(gps['GPSTimeStamp']),
    },
    editors: editorsOf([text(ifd0, 'Software'), text(ifd0, 'ProcessingSoftware')], xmp),
    keywords: keywordsOf(xmp, iptcText(block(blocks, 'iptc')['Keywords'], bytes)),
    hasPosition: 'GPSLatitude' in gps || 'GPSLongitude' in gps,
    xmpTaken: xmpValues(xmp, 'exif:DateTimeOriginal')[0] ?? xmpValues(xmp, 'photoshop:DateCreated')[0] ?? null,
    extras: extrasOf(bytes, format, xmp),
    faults,
  };
}
