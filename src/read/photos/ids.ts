import type { Photo } from '../../model/photo.ts';

/** Long names are cut so that file names and anchors made of them stay handy. */
const longest = 60;

/** `Türe links (2).jpg` → `ture-links-2`; a name without Latin letters or digits → `photo-` and the start of its hash. */
function slug(photo: Photo): string {
  const dot = photo.name.lastIndexOf('.');
  const stem = dot > 0 ? photo.name.slice(0, dot) : photo.name;
  const plain = stem
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/ß/g, 'ss')
    .replace(/[^a-z0-9]+/g, '-')
    .slice(0, longest)
    .replace(/^-+|-+$/g, '');
  if (plain !== '') return plain;
  return photo.sha256 === '' ? 'photo' : `photo-${photo.sha256.slice(0, 8)}`;
}

/** The photos, in their order, each with an id of its own: the second of a name gets `-2`. */
export function giveIds(photos: Photo[]): Photo[] {
  const taken = new Set<string>();
  return photos.map((photo) => {
    const base = slug(photo);
    let id = base;
    for (let number = 2; taken.has(id); number++) id = `${base}-${number}`;
    taken.add(id);
    return { ...photo, id };
  });
}
