import type { Photo } from '../../model/photo.ts';

type Format = NonNullable<Photo['format']>;

/** What a photo file holds besides the still picture: none of it is shown. */
export interface Extras {
  /** A short film, as in motion photos, or a sequence of pictures. */
  film: 'motion' | 'sequence' | null;
  /** A second picture that tells a bright screen where to shine (Ultra HDR, ISO 21496-1). */
  gainMap: boolean;
  /** A picture of distances. */
  depth: boolean;
  /** Pictures of full size in one JPEG (CIPA DC-007 Multi-Picture Format): several angles, a panorama. */
  angles: number;
}

/** Metadata lies in front, and boxes that list the contents too; farther in there are pixels. Our judgement. */
const frontBytes = 1 << 18;
const headBytes = 1 << 16;

/** Names of the boxes a HEIF or AVIF file is made of (ISO/IEC 14496-12), outermost only. */
function topBoxes(bytes: Buffer): string[] {
  const names: string[] = [];
  for (let at = 0; at + 8 <= bytes.length; ) {
    const short = bytes.readUInt32BE(at);
    names.push(bytes.toString('latin1', at + 4, at + 8));
    const length = short === 1 && at + 16 <= bytes.length ? Number(bytes.readBigUInt64BE(at + 8)) : short;
    if (length < 8) break;
    at += length;
  }
  return names;
}

/** Whether an MP4 or QuickTime film is appended: its first box with a brand phones write. Brands from memory. */
function hasFilmBehind(bytes: Buffer): boolean {
  // Nothing lies behind a JPEG that ends with its own end mark; searching it all would cost more than its hash.
  if (bytes.at(-2) === 0xff && bytes.at(-1) === 0xd9) return false;
  for (let at = bytes.indexOf('ftyp', 12, 'latin1'); at !== -1; at = bytes.indexOf('ftyp', at + 4, 'latin1')) {
    if (/^(mp4|iso|qt |MSNV|avc|3gp|hvc)/.test(bytes.toString('latin1', at + 4, at + 8)) && bytes.readUInt32BE(at - 4) <= 256) return true;
  }
  return false;
}

/** Pictures listed in the Multi-Picture Format (CIPA DC-007, 5.2.3): type of each (02 of full size, 01 a preview, 00 none given) and where it begins. */
function listedPictures(bytes: Buffer, front: Buffer): { type: number; at: number }[] {
  const mark = front.indexOf('MPF\0', 0, 'latin1');
  if (mark < 4 || front.readUInt16BE(mark - 4) !== 0xffe2) return [];
  const base = mark + 4;
  const little = front.toString('latin1', base, base + 2) === 'II';
  const short = (at: number): number => (at + 2 <= front.length ? (little ? front.readUInt16LE(at) : front.readUInt16BE(at)) : 0);
  const long = (at: number): number => (at + 4 <= front.length ? (little ? front.readUInt32LE(at) : front.readUInt32BE(at)) : 0);
  const directory = base + long(base + 4);
  for (let field = 0; field < short(directory); field += 1) {
    const at = directory + 2 + field * 12;
    if (short(at) !== 0xb002) continue;
    const [from, count] = [base + long(at + 8), Math.min(1000, Math.floor(long(at + 4) / 16))];
    return Array.from({ length: count }, (_, entry) => ({ type: (long(from + entry * 16) >> 16) & 0xff, at: Math.min(bytes.length, base + long(from + entry * 16 + 8)) }));
  }
  return [];
}

const gainMapMarks = ['hdr-gain-map', 'aux:hdrgainmap', 'urn:iso:std:iso:ts:21496'];

/**
 * What else is in a photo file, from its bytes and its XMP text. The marks are those of the Android motion photo and
 * Ultra HDR formats, of ISO 21496-1, of HEIF (ISO/IEC 23008-12) and of what Apple writes; the latter from memory.
 */
export function extrasOf(bytes: Buffer, format: Format, xmp: string): Extras {
  const front = bytes.subarray(0, frontBytes);
  const none: Extras = { film: null, gainMap: false, depth: false, angles: 0 };
  if (format === 'heif' || format === 'avif') {
    const boxes = topBoxes(bytes);
    return {
      ...none,
      film: boxes.includes('mpvd') ? 'motion' : boxes.includes('moov') ? 'sequence' : null,
      gainMap: front.includes('urn:com:apple:photo:2020:aux:hdrgainmap') || front.includes('tmap'),
      depth: ['urn:mpeg:hevc:2015:auxid:2', 'urn:mpeg:mpegB:cicp:systems:auxiliary:depth', 'urn:com:apple:photo:2018:aux:portraiteffectsmatte'].some((mark) => front.includes(mark)),
    };
  }
  if (format !== 'jpeg') return none;
  const listed = listedPictures(bytes, front);
  const heads = listed.slice(1).map(({ at }) => bytes.subarray(at, at + headBytes));
  return {
    film: hasFilmBehind(bytes) ? 'motion' : null,
    gainMap: xmp.includes('hdr-gain-map') || heads.some((head) => gainMapMarks.some((mark) => head.includes(mark))),
    depth: xmp.includes('profile:Type="Depth') || xmp.includes('GDepth:'),
    angles: listed.filter(({ type }) => type === 2).length,
  };
}
