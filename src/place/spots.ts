import type { Notice, Spot } from '../model/notice.ts';
import { byCodeUnit } from '../model/order.ts';

/** "findings.md:21" for inside a sentence. */
export function spotText(spot: Spot): string {
  return spot.line === undefined ? spot.file : `${spot.file}:${spot.line}`;
}

/** Orders points of files; those without a line come first in their file. */
export function bySpot(a: Spot, b: Spot): number {
  return byCodeUnit(a.file, b.file) || (a.line ?? 0) - (b.line ?? 0) || (a.column ?? 0) - (b.column ?? 0);
}

/**
 * Orders notices by where they point, those that point nowhere last, and says each once: a line that names three
 * openings would else say three times that its photo is missing.
 */
export function sortedNotices(notices: readonly Notice[]): Notice[] {
  const once = new Map(notices.map((notice) => [`${notice.rule} ${notice.found} ${JSON.stringify(notice.spot)}`, notice]));
  return [...once.values()].sort((a, b) => {
    if (a.spot && b.spot) return bySpot(a.spot, b.spot) || byCodeUnit(a.rule, b.rule);
    if (a.spot || b.spot) return a.spot ? -1 : 1;
    return byCodeUnit(a.rule, b.rule);
  });
}
