import type { Notice } from '../model/notice.ts';
import type { Photo } from '../model/photo.ts';

/** Photos with the very bytes of one before them. Both stay, each where it was put. */
export function photosTwice(photos: readonly Photo[]): Notice[] {
  const first = new Map<string, Photo>();
  return photos.flatMap((photo): Notice[] => {
    const other = first.get(photo.sha256);
    if (!other) first.set(photo.sha256, photo);
    if (!other || photo.sha256 === '' || photo.bytes === 0) return [];
    return [
      {
        level: 'note',
        rule: 'photo-twice',
        spot: { file: photo.path },
        found: `The same file as ${other.name === photo.name ? other.path : other.name}`,
        advice: 'Both are shown where they stand; where it was copied twice by mistake, take one out.',
      },
    ];
  });
}
