import type { Inspection } from '../../model/inspection.ts';
import type { Notice } from '../../model/notice.ts';

/** A photo no rule puts to a zone or view. It stays in the photo index. */
export function photoNotPlaced({ photos }: Inspection): Notice[] {
  return photos
    .filter((placed) => placed.rule === null)
    .map(({ photo, reason }) => ({
      level: 'warning',
      rule: 'photo-not-placed',
      spot: { file: photo.path },
      found: `Photo ${photo.path} stands in no zone: ${reason}`,
      expected: 'a photo named in the findings, or in a folder with the name of a zone',
      advice: `Write "![](${photo.name})" under its zone.`,
    }));
}
