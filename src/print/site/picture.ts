import type { DossierPhoto } from '../../model/dossier.ts';

/** A photo as an `<img>` takes it. */
export interface Picture {
  /** Null where the photo cannot be shown: the flaw is printed in its place. */
  image: { src: string; srcset: string; width: number; height: number; large: string } | null;
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
          }
        : null,
    flaw: photo.flaw,
  };
}
