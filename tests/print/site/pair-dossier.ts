import { mkdir } from 'node:fs/promises';
import path from 'node:path';
import sharp from 'sharp';
import type { BlockOf, Dossier, DossierPhoto, Figure, Section } from '../../../src/model/dossier.ts';
import { siteDossier } from './dossier.ts';

// Invented, as everything of the site's dossier. Before is dark, after is light, so that a pixel tells which is seen.

type Size = readonly [width: number, height: number];
const wide: readonly Size[] = [[480, 360], [1600, 1200]];
const tall: readonly Size[] = [[480, 640], [1200, 1600]];

function photo(id: string, sizes: readonly Size[], more: Partial<DossierPhoto> = {}): DossierPhoto {
  return {
    id, file: `photos/${id}.jpg`, bytes: 4321, sha256: 'ab'.repeat(32), zones: ['sill-left'], placed: 'named in a finding',
    taken: '10:12:41 on 14 March 2026, UTC+00:00', takenFrom: 'by the camera, clock set back by 1:13:20', camera: 'Oriole P3', caption: '',
    renditions: sizes.map(([width, height]) => ({ file: `photos/${id}-${width}.jpg`, width, height })), flaw: '', hints: [], ...more,
  };
}

/** Photos of the pairs; their grey by id. */
export const greys = { 'was-wide': 40, 'was-tall': 40, 'now-wide': 220, 'now-tall': 220, between: 130 } as const;
const ring = { shape: 'ring', numbers: [0.25, 0.5, 0.1], number: 1, label: 'open hole' } as const;
export const pairPhotos: DossierPhoto[] = [
  photo('was-wide', wide, { marks: [{ ...ring, numbers: [...ring.numbers] }] }),
  photo('was-tall', tall),
  photo('now-wide', wide),
  photo('now-tall', tall),
  photo('between', wide, { taken: null, takenFrom: 'no time in the file' }),
  photo('broken', [], { flaw: 'The file ends before its first line.' }),
];

const figure = (photo: string, words: string): Figure => ({ photo, alt: `${words}, the photo`, caption: [{ text: `${words}.`, strong: true }] });

export const alike: BlockOf<'pair'> = {
  type: 'pair', id: 'pair-plug-2', title: 'Plug, inner face 2',
  before: figure('was-wide', 'Plug missing'), after: figure('now-wide', 'New plug of 25 mm'), during: [figure('between', 'Hole primed')],
  caption: ['Before: 14 March 2026; after: 2 May 2026. In ', { text: 'Sill, left', href: '#sill-left' }, '.'],
};
/** A tall photo in a wide frame. */
export const unlike: BlockOf<'pair'> = { type: 'pair', title: 'Outer face', before: figure('was-tall', 'Scaling'), after: figure('now-wide', 'Primed'), caption: [] };
/** A wide photo in a tall frame. */
export const unlikeTall: BlockOf<'pair'> = { type: 'pair', title: 'Front end', before: figure('was-wide', 'Open'), after: figure('now-tall', 'Shut'), caption: [] };
export const oneBroken: BlockOf<'pair'> = { type: 'pair', title: 'Rear end', before: figure('broken', 'Not to be opened'), after: figure('now-wide', 'Waxed'), caption: [] };

/** The site's dossier with a page of pairs, and their photos in the index; or with these sections alone. */
export function pairDossier(alone = false): Dossier {
  const dossier = siteDossier();
  const pairs: Section = { id: 'pairs', title: 'Before and after', page: alone ? 'index' : 'pairs', nav: 'Before and after', breakBefore: true, blocks: [alike, unlike, unlikeTall, oneBroken] };
  const sheet: Section = {
    id: 'pair-photos', title: 'Photos of the pairs', page: alone ? 'index' : 'pair-photos', breakBefore: true,
    blocks: [{ type: 'photos', look: 'index', figures: pairPhotos.map(({ id }) => ({ id: `photo-${id}`, photo: id, alt: `Photo ${id}`, caption: [id] })) }],
  };
  const sections = [pairs, sheet];
  if (!alone) return { ...dossier, photos: [...dossier.photos, ...pairPhotos], sections: [...dossier.sections, ...sections] };
  const plain = sections.map((section) => ({ ...section, blocks: section.blocks.map((block) => (block === alike ? { ...alike, caption: ['Before: 14 March 2026; after: 2 May 2026.'] } : block)) }));
  return { ...dossier, photos: pairPhotos, sections: plain };
}

/** Puts their pictures where they belong. */
export async function writePairPictures(out: string): Promise<void> {
  await mkdir(path.join(out, 'photos'), { recursive: true });
  for (const { id, renditions } of pairPhotos) {
    const grey = Object.entries(greys).find(([name]) => name === id)?.[1] ?? 0;
    for (const { file, width, height } of renditions) {
      await sharp({ create: { width, height, channels: 3, background: { r: grey, g: grey, b: grey } } }).jpeg().toFile(path.join(out, file));
    }
  }
}
