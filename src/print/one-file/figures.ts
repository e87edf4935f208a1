import type { Block, Dossier, DossierPhoto, Figure } from '../../model/dossier.ts';
import type { SiteFigure } from '../site/data.ts';
import { plannedPicture } from '../site/picture.ts';

/** How large a picture of the one-file edition is: once in full, elsewhere smaller, or as a thumbnail in the photo index. */
export const sizes = ['full', 'again', 'small'] as const;
export type Size = (typeof sizes)[number];

/** In place of a picture until it is made: a `data:` address that holds nothing but its number and size. In an attribute no typed quote can stand, so nothing typed is taken for one. */
export const placeholder = /src="data:,(\d+)-(full|again|small)"/g;

/**
 * How figures show their photos in one file: in full where a photo is compared, else where it first stands large, else in the
 * index; everywhere else small. Marks are in the pixels, and every picture leads to the figure that has it in full.
 */
export function plannedFigures({ sections, photos }: Pick<Dossier, 'sections' | 'photos'>): (figure: Figure, photo: DossierPhoto) => Pick<SiteFigure, 'id' | 'picture' | 'marks'> {
  const numbers = new Map(photos.map(({ id }, number) => [id, number]));
  const uses = sections.flatMap(({ blocks }) => blocks.flatMap(usesIn));
  const full = new Map<string, Use>();
  for (const use of uses) {
    const best = full.get(use.figure.photo);
    if (!best || use.rank < best.rank) full.set(use.figure.photo, use);
  }
  const indexed = new Set(uses.filter(({ rank }) => rank === 2).map(({ figure }) => figure));
  const shown = new Set<string>();
  return (figure, photo) => {
    const number = numbers.get(photo.id) ?? 0;
    const best = full.get(photo.id);
    const inFull = best?.figure === figure && !shown.has(photo.id);
    if (inFull) shown.add(photo.id);
    // No anchor of a dossier has an underscore.
    const own = `picture_${number}`;
    const { image, flaw } = plannedPicture(photo, (file) => file);
    const size: Size = inFull ? 'full' : indexed.has(figure) ? 'small' : 'again';
    const picture = { image: image && { ...image, src: `data:,${number}-${size}`, srcset: '', large: `#${best?.id ?? own}` }, flaw };
    return { id: inFull && image && best.id === undefined ? own : null, picture, marks: null };
  };
}

interface Use {
  figure: Figure;
  /** Its anchor, where it has one. */
  id: string | undefined;
  /** The lower, the more it wants the picture in full: compared, large, in the index. */
  rank: 0 | 1 | 2;
}

/** Figures of a block in the order they are printed. */
function usesIn(block: Block): Use[] {
  switch (block.type) {
    case 'photos':
      return block.figures.map((figure) => ({ figure, id: figure.id, rank: block.look === 'index' ? 2 : 1 }));
    case 'pair':
      return [...[block.before, block.after].map((figure): Use => ({ figure, id: undefined, rank: 0 })), ...(block.during ?? []).map((figure): Use => ({ figure, id: undefined, rank: 1 }))];
    case 'list':
      return block.items.flatMap((item) => item.flatMap(usesIn));
    case 'quote':
      return block.blocks.flatMap(usesIn);
    default:
      return [];
  }
}
