import type { Inspection } from '../model/inspection.ts';
import type { Notice } from '../model/notice.ts';
import { workKindOf } from '../model/works.ts';
import { worksOf } from '../model/zone-work.ts';
import { listText } from '../units.ts';

/** Work with one time for several kinds, of which one has a rate of its own: the general rate is taken, which is said. */
export function rateNotices(inspection: Inspection): Notice[] {
  const { catalogue, rates } = inspection.job;
  const works = inspection.zones.flatMap(worksOf).filter((work) => work.done.length === 0 && work.hours !== null && work.split.length === 0 && work.cost === null);
  return works.flatMap((work): Notice[] => {
    const labours = [...new Set(work.kinds.flatMap((id) => workKindOf(catalogue, id) ?? []).filter((kind) => !kind.waits).map((kind) => kind.labour))];
    const unused = rates.byKind.map(({ kind }) => kind).filter((kind) => labours.some((labour) => labour === kind));
    if (labours.length < 2 || unused.length === 0) return [];
    return [{
      level: 'note', rule: 'rate-not-used', spot: work.spot,
      found: `One time for ${listText(labours)}, so the rate of ${listText(unused)} is not used`,
      expected: 'a time for each kind, such as "cut 1 h, weld 3 h"',
      advice: 'The general rate counts until then.',
    }];
  });
}
