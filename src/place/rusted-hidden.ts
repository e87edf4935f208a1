import type { PlacedPhoto } from '../model/inspection.ts';
import type { Mark } from '../model/notes.ts';
import type { Notice } from '../model/notice.ts';
import type { Region } from '../model/rusted-area.ts';

/** Counts and outlines of which a part is hidden in the published picture: nobody can count there again. */
export function hiddenInCounts(photos: readonly PlacedPhoto[]): Notice[] {
  const seen = new Set<Mark>();
  return photos.flatMap(({ marks }) => {
    const hidden = marks.filter(({ shape }) => shape === 'hide').map(({ numbers }) => boundsOf(numbers));
    return marks.flatMap((mark): Notice[] => {
      if (mark.rusted === undefined || seen.has(mark)) return [];
      seen.add(mark);
      const region = mark.rusted.how === 'points' ? mark.rusted.region : boundsOf(mark.numbers);
      if (!hidden.some((area) => overlap(area, region))) return [];
      return [{
        level: 'note',
        rule: 'rusted-area-hidden',
        spot: mark.spot,
        found: `A hidden area lies in what "${mark.label || mark.shape}" was counted or traced on`,
        expected: 'a region of which all is shown',
        advice: 'Nobody can count it again on the published picture; hide less, or choose a region beside it.',
      }];
    });
  });
}

/** The rectangle round points given as pairs. */
function boundsOf(numbers: readonly number[]): Region {
  const [xs, ys] = [0, 1].map((axis) => numbers.filter((_, index) => index % 2 === axis)) as [number[], number[]];
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

function overlap(one: Region, other: Region): boolean {
  return one[0] < other[2] && one[2] > other[0] && one[1] < other[3] && one[3] > other[1];
}
