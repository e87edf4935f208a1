import { readFileSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { inflateSync } from 'node:zlib';
import exifr from 'exifr';
import sharp from 'sharp';

/** A piece of what is published: a file, a picture within one, a stream of a PDF. */
export interface Piece {
  /** Where it is, for people: `dossier.pdf, stream 12`. */
  at: string;
  bytes: Buffer;
}

/** Every file of a folder, and what is wrapped up in them: pictures in `data:` addresses, streams of PDFs, inflated. */
export function piecesOf(folder: string): Piece[] {
  const files = readdirSync(folder, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile());
  return files.flatMap((entry) => {
    const file = path.join(entry.parentPath, entry.name);
    const [at, bytes] = [path.relative(folder, file), readFileSync(file)];
    const within = /\.pdf$/.test(at) ? streamsOf(bytes) : /\.(html|svg|css)$/.test(at) ? dataOf(bytes) : [];
    return [{ at, bytes }, ...within.map((piece, index) => ({ at: `${at}, part ${index + 1}`, bytes: piece }))];
  });
}

/** Streams of a PDF (ISO 32000-1, 7.3.8), inflated where they are deflated; attached files are streams too. */
function streamsOf(pdf: Buffer): Buffer[] {
  const streams: Buffer[] = [];
  for (let at = pdf.indexOf('stream'); at >= 0; at = pdf.indexOf('stream', at + 6)) {
    if (pdf.subarray(at - 3, at).toString('latin1') === 'end') continue;
    const from = at + (pdf[at + 6] === 0x0d ? 8 : 7);
    const to = pdf.indexOf('endstream', from);
    if (to < 0) break;
    const raw = pdf.subarray(from, to);
    streams.push(raw[0] === 0x78 ? inflated(raw) : raw);
  }
  return streams;
}

function inflated(raw: Buffer): Buffer {
  try {
    return inflateSync(raw);
  } catch {
    return raw;
  }
}

function dataOf(html: Buffer): Buffer[] {
  return [...html.toString('latin1').matchAll(/data:[a-z]+\/[a-z+.-]+;base64,([A-Za-z0-9+/=]+)/g)].map(([, encoded = '']) => Buffer.from(encoded, 'base64'));
}

/** Whether it is a JPEG, PNG, WebP or AVIF. */
export function isPicture({ bytes }: Piece): boolean {
  const head = bytes.subarray(0, 12).toString('latin1');
  return head.startsWith('\u00FF\u00D8\u00FF') || head.startsWith('\u0089PNG') || head.slice(8) === 'WEBP' || head.slice(4) === 'ftypavif';
}

/** What another reader finds of metadata in a picture; null where nothing. A colour profile is no metadata of anybody. */
export async function metadataOf({ bytes }: Piece): Promise<unknown> {
  return (await exifr.parse(bytes, { tiff: true, exif: true, gps: true, interop: true, ifd1: true, xmp: true, iptc: true, icc: false, jfif: false, makerNote: true, userComment: true })) ?? null;
}

/** Share of pixels that no photo of steel in grey has: pure magenta or green, as far as JPEG keeps them. */
export async function strangeShare({ bytes }: Piece): Promise<number> {
  const { data, info } = await sharp(bytes).removeAlpha().toColourspace('srgb').raw().toBuffer({ resolveWithObject: true });
  let strange = 0;
  for (let at = 0; at < data.length; at += info.channels) {
    const [red = 0, green = 0, blue = 0] = data.subarray(at, at + 3);
    if ((red > 150 && blue > 150 && green < 100) || (green > 150 && red < 100 && blue < 100)) strange += 1;
  }
  return strange / (info.width * info.height);
}
