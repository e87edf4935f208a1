import { createHash } from 'node:crypto';
import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import sharp from 'sharp';
import type { Sharp } from 'sharp';
import type { Block, Dossier, DossierPhoto, Section } from '../../src/model/dossier.ts';
import { sampleDossier, sampleFindings } from '../print/sample-dossier.ts';

/** Widths of the delivered pictures that a PDF takes one from. */
const widths = [480, 960, 1600];

/** A delivered picture of a photo by number. */
export type Pictures = (index: number, width: number) => Promise<Buffer>;

/**
 * Pictures of a dozen photos, for any number of them. Those to be embedded are told apart by a comment (JPEG: COM) with
 * their number; the largest, which smaller ones are made from, by how bright they are.
 */
export async function picturesOf(photos: readonly (string | Buffer)[]): Promise<Pictures> {
  const made = new Map<string, Buffer>();
  const scaled = (photo: string | Buffer, width: number): Sharp => sharp(photo).autoOrient().resize({ width, height: (width * 3) / 4, fit: 'cover' }).toColourspace('srgb').removeAlpha();
  const largest = await Promise.all(photos.map((photo) => scaled(photo, 1600).raw().toBuffer({ resolveWithObject: true })));
  for (const [index, photo] of photos.entries()) {
    for (const width of [480, 960]) made.set(`${index}-${width}`, await scaled(photo, width).jpeg(packed).toBuffer());
  }
  return async (index, width) => {
    const raw = largest[index % photos.length];
    if (width === 1600 && raw) return sharp(raw.data, { raw: raw.info }).linear(1, Math.floor(index / photos.length)).jpeg(packed).toBuffer();
    const jpeg = made.get(`${index % photos.length}-${width}`) ?? Buffer.alloc(0);
    return Buffer.concat([jpeg.subarray(0, 2), Buffer.from([0xff, 0xfe, 0, 4, index >> 8, index & 255]), jpeg.subarray(2)]);
  };
}

const packed = { quality: 80, progressive: true };

/** A photo like a phone's in how hard it is to pack: waves for edges, noise for texture, the same for the same number. */
export async function generatedPhoto(number: number): Promise<Buffer> {
  const [width, height] = [3200, 2400];
  const data = Buffer.alloc(width * height * 3);
  let state = number * 2_654_435_761 + 1;
  for (let y = 0, at = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1, at += 3) {
      state = (Math.imul(state, 1_664_525) + 1_013_904_223) | 0;
      const wave = 90 * Math.sin((x + number * 31) / 77) * Math.cos(y / (49 + (number % 13)));
      const noise = (state >>> 24) / 5;
      data[at] = 98 + wave + noise;
      data[at + 1] = 84 + wave * 0.7 + noise;
      data[at + 2] = 72 + wave * 0.4 + noise;
    }
  }
  return sharp(data, { raw: { width, height, channels: 3 } }).png({ compressionLevel: 1 }).toBuffer();
}

/**
 * A dossier of so many photos, ten to a zone: each shown with its finding, a table of openings, all photos once more in an
 * index and the list of originals. Its pictures are put below `folder`.
 */
export async function manyPhotos(count: number, pictures: Pictures, folder: string): Promise<Dossier> {
  mkdirSync(path.join(folder, 'photos'), { recursive: true });
  const photos = Array.from({ length: count }, (_, index): DossierPhoto => {
    const sha256 = createHash('sha256').update(`photo ${index}`).digest('hex');
    const renditions = widths.map((width) => ({ file: `photos/${sha256.slice(0, 16)}-2-${width}.jpg`, width, height: (width * 3) / 4 }));
    const finding = sampleFindings[index % sampleFindings.length] ?? '';
    return { id: `p${index}`, file: `photos/IMG_${1000 + index}.jpg`, bytes: 2_400_000 + index, sha256, zones: [], placed: 'named in the findings', taken: '10:12:41', takenFrom: 'by the phone, UTC+0', camera: 'phone', caption: finding, renditions, flaw: '', hints: [] };
  });
  for (const [index, { renditions }] of photos.entries()) {
    for (const { file, width } of renditions) writeFileSync(path.join(folder, file), await pictures(index, width));
  }
  const zones = Array.from({ length: Math.ceil(count / 10) }, (_, index): Section => ({
    id: `zone-${index}`, title: `Zone ${index + 1}`, page: `zones/zone-${index}`, breakBefore: index === 0, blocks: zoneBlocks(photos.slice(index * 10, index * 10 + 10)),
  }));
  const index: Block = { type: 'photos', look: 'index', figures: photos.map(({ id, caption, file, sha256 }) => ({ photo: id, id: `photo-${id}`, alt: caption, caption: [{ text: caption, strong: true }, ` ${file}. SHA-256 ${sha256.slice(0, 16)}…`] })) };
  const list: Block = { type: 'table', caption: 'Original photos', columns: [{ title: 'File', weight: 3 }, { title: 'SHA-256', weight: 4 }], rows: photos.map(({ file, sha256 }) => ({ cells: [{ inline: [file] }, { inline: [{ text: sha256, code: true }] }] })) };
  return {
    ...sampleDossier(),
    photos,
    sections: [
      { id: 'summary', title: 'In short', page: 'index', nav: 'In short', breakBefore: true, blocks: [{ type: 'paragraph', tone: 'lead', inline: [`${count} photos.`] }] },
      ...zones,
      { id: 'photos', title: 'Photos', page: 'photos', nav: 'Photos', breakBefore: true, blocks: [index] },
      { id: 'originals', title: 'Originals and their hashes', page: 'originals', nav: 'Originals', breakBefore: true, blocks: [list] },
    ],
  };
}

function zoneBlocks(photos: readonly DossierPhoto[]): Block[] {
  return [
    { type: 'paragraph', inline: ['Seen directly and by inspection camera. ', ...photos.slice(0, 4).map(({ caption }) => `${caption} `)] },
    { type: 'photos', look: 'large', figures: photos.map(({ id, caption }) => ({ photo: id, caption: [{ text: caption, strong: true }, ' Photo 10:12:41 by the phone, UTC+0.'], alt: caption })) },
    { type: 'table', caption: 'Openings', columns: [{ title: 'Opening', weight: 3 }, { title: 'State', weight: 4 }, { title: 'Photo', weight: 1 }], rows: photos.map(({ id }, index) => ({ cells: [{ inline: [`Plug, inner face ${index + 1}`] }, { inline: ['cracked, loose'], state: 'defect' as const }, { inline: [{ text: String(index + 1), href: `#photo-${id}` }] }] })) },
  ];
}
