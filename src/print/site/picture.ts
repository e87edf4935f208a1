import type { DossierPhoto } from '../../model/dossier.ts';

/** How high a picture is for its width: the page gives each a width, so that none is too high and nothing of it is cut. */
export type Stature = 'wide' | 'square' | 'upright' | 'tall' | 'slim' | 'strip';

/** A photo as an `<img>` takes it. */
export interface Picture {
  /** Null where the photo cannot be shown: the flaw is printed in its place. */
  image: { src: string; srcset: string; width: number; height: number; large: string; stature: Stature } | null;
  /** Why it is not shown, printed in its place. */
  flaw: string;
}

/** Width a page asks for where the browser does not choose for itself. */
const ordinaryWidth = 960;

/** Looks out the renditions of a photo; `address` turns a file of the site into a link from the page. */
export function plannedPicture(photo: DossierPhoto, address: (file: string) => string): Picture {
  const renditions = [...photo.renditions].sort((a, b) => a.width - b.width);
  const large = renditions.at(-1);
  const ordinary = renditions.find((rendition) => rendition.width >= ordinaryWidth) ?? large;
  return {
    image:
      large && ordinary
        ? {
            src: address(ordinary.file),
            srcset: renditions.map((rendition) => `${address(rendition.file)} ${rendition.width}w`).join(', '),
            width: large.width,
            height: large.height,
            large: address(large.file),
            stature: statureOf(large.width / large.height),
          }
        : null,
    flaw: photo.flaw,
  };
}

/** Steps fit the usual shapes: 3:2 and 4:3 wide, 3:4 and 2:3 upright, 9:16 tall. */
function statureOf(ratio: number): Stature {
  if (ratio >= 1.2) return 'wide';
  if (ratio >= 0.9) return 'square';
  if (ratio >= 0.62) return 'upright';
  if (ratio >= 0.45) return 'tall';
  return ratio >= 0.25 ? 'slim' : 'strip';
}
