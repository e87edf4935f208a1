import type { Photo } from '../../model/photo.ts';

/** Long names are cut so that file names and anchors made of them stay handy. */
const longest = 60;

/** `Türe links (2)` → `ture-links-2`; empty for a name without Latin letters or digits. */
function plainOf(name: string): string {
  return name
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/ß/g, 'ss')
    .replace(/[^a-z0-9]+/g, '-')
    .slice(0, longest)
    .replace(/^-+|-+$/g, '');
}

/** Of the file name; where that has no Latin letter or digit, `photo-` and the start of its hash. */
function slug(photo: Photo): string {
  const dot = photo.name.lastIndexOf('.');
  const plain = plainOf(dot > 0 ? photo.name.slice(0, dot) : photo.name);
  if (plain !== '') return plain;
  return photo.sha256 === '' ? 'photo' : `photo-${photo.sha256.slice(0, 8)}`;
}

/** The photos, in their order, each with an id of its own: the second of a name gets `-2`, those of an earlier visit begin with its name and two hyphens. */
export function giveIds(photos: Photo[], visit = ''): Photo[] {
  const start = visit === '' ? '' : `${plainOf(visit) || 'visit'}--`;
  const taken = new Set<string>();
  return photos.map((photo) => {
    const base = `${start}${slug(photo)}`;
    let id = base;
    for (let number = 2; taken.has(id); number++) id = `${base}-${number}`;
    taken.add(id);
    return { ...photo, id };
  });
}
