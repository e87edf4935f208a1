import type { DossierMark } from '../../src/model/dossier-mark.ts';
import type { Dossier, DossierPhoto } from '../../src/model/dossier.ts';
import { sampleDossier } from './sample-dossier.ts';

/** One of each shape, apart from each other, so that each can be looked for by itself. */
export const everyMark: DossierMark[] = [
  { shape: 'ring', numbers: [0.25, 0.25, 0.1], number: 1, label: 'open hole' },
  { shape: 'arrow', numbers: [0.9, 0.1, 0.6, 0.3], number: 2, label: 'rust run' },
  { shape: 'box', numbers: [0.9, 0.7, 0.6, 0.5], number: 3, label: 'patch' },
  { shape: 'scale', numbers: [0.1, 0.93, 0.5, 0.93], number: 4, label: '50 mm' },
  { shape: 'outline', numbers: [0.1, 0.55, 0.3, 0.5, 0.4, 0.7, 0.2, 0.8], number: 5, label: 'rust' },
  { shape: 'grid frame', numbers: [0.65, 0.78, 0.95, 0.95], number: 6, label: '34 of 100' },
];

/**
 * A dossier of one section: a wide photo with every shape, an upright one with a lone ring that hangs over its edge, both
 * large and in an index.
 */
export function markedDossier(): Dossier {
  const dossier = sampleDossier();
  const marksOf: Record<string, DossierMark[]> = { a1: everyMark, a3: [{ shape: 'ring', numbers: [0.95, 0.5, 0.3], number: 1, label: 'over the edge' }] };
  const photos = dossier.photos.filter(({ id }) => id in marksOf).map((photo): DossierPhoto => ({ ...photo, marks: marksOf[photo.id] ?? [] }));
  const figures = photos.map(({ id }) => ({ photo: id, alt: `Photo ${id}`, caption: [`Marks of ${id}.`] }));
  return {
    ...dossier,
    photos,
    sections: [
      {
        id: 'marked', title: 'Marked', page: 'index', nav: 'Marked', breakBefore: true,
        blocks: [{ type: 'photos', look: 'large', figures }, { type: 'photos', look: 'index', figures: figures.map((figure) => ({ ...figure, id: `photo-${figure.photo}` })) }],
      },
    ],
  };
}
