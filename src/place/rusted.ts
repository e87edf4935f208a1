import type { RustedMeasure } from '../model/inspection.ts';
import type { Entry, Mark, PhotoName } from '../model/notes.ts';
import type { Corner, RustedArea } from '../model/rusted-area.ts';
import { rustedByOutlines, rustedByPoints } from '../model/rusted-area.ts';
import { spotText } from './spots.ts';

/** Outlines of one region are put together up to so many corners, which is more than anybody draws; beyond, each stands by itself. */
const mostTogether = 1000;

/**
 * The rusted areas that a zone's lines count or trace, in the order written. Outlines of one region under one picture are
 * one area, overlaps once; every point count stands by itself.
 */
export function rustedOf(entries: readonly Entry[], idsOf: (names: readonly PhotoName[]) => string[]): RustedMeasure[] {
  const seen = new Set<string>();
  return entries.flatMap((entry): RustedMeasure[] => {
    if (entry.type !== 'finding' && entry.type !== 'photo') return [];
    // A line that names three openings carries its marks three times.
    const marks = entry.marks.filter((mark) => mark.rusted !== undefined && !seen.has(keyOf(mark)));
    for (const mark of marks) seen.add(keyOf(mark));
    // Marks stand under a picture: the one with words, else the first photo of the line.
    const name = entry.photos.find(({ alt }) => alt !== '') ?? entry.photos[0];
    const names = name === undefined ? [] : [name];
    return together(marks).flatMap((group) => {
      const area = areaOf(group);
      const words = group.map((mark) => mark.rusted?.words ?? '').filter((text) => text !== '').join('; ');
      return area === null ? [] : [{ area, photos: idsOf(names), names, origin: entry.origin, words, spots: group.map(({ spot }) => spot) }];
    });
  });
}

function keyOf({ spot }: Mark): string {
  return `${spotText(spot)}:${spot.column ?? 0}`;
}

/** Each point count, and the outlines of each region, where the first of them stands. */
function together(marks: readonly Mark[]): Mark[][] {
  const regions = new Map<string, Mark[]>();
  for (const mark of marks) {
    if (mark.rusted?.how !== 'outline') continue;
    const key = mark.rusted.region.join(' ');
    regions.set(key, [...(regions.get(key) ?? []), mark]);
  }
  return marks.flatMap((mark): Mark[][] => {
    if (mark.rusted?.how !== 'outline') return [[mark]];
    const group = regions.get(mark.rusted.region.join(' ')) ?? [];
    if (group.flatMap(cornersOf).length > mostTogether) return [[mark]];
    return group[0] === mark ? [group] : [];
  });
}

function cornersOf({ rusted }: Mark): readonly Corner[] {
  return rusted?.how === 'outline' ? rusted.corners : [];
}

function areaOf(group: readonly Mark[]): RustedArea | null {
  const said = group[0]?.rusted;
  if (said === undefined) return null;
  return said.how === 'points' ? rustedByPoints(said.region, said.hits, said.points) : rustedByOutlines(said.region, group.map(cornersOf));
}
