import type { CavityOutlook, Inspection } from '../model/inspection.ts';
import type { Notice } from '../model/notice.ts';
import { zonePhrase } from '../model/wording.ts';
import { seenInside } from './inside.ts';

/** Where the model would have had the steel through long ago, and it was seen not to be: said, and the low end of the rate taken. */
export function strainedNotices(inspection: Inspection, cavities: readonly CavityOutlook[]): Notice[] {
  return cavities.filter((one) => one.weighed.strained).flatMap((one): Notice[] => {
    const zone = inspection.zones.find((candidate) => candidate.zone.id === one.zone);
    const cavity = zone?.zone.record.cavities.find((candidate) => candidate.id === one.cavity);
    const inside = zone && cavity ? seenInside(inspection.job.catalogue, zone, cavity) : [];
    const spot = inside.find((candidate) => candidate.finding.conditions.some((id) => id === 'new' || id === 'replaced'))?.finding.spot;
    return zone === undefined ? [] : [{
      level: 'warning', rule: 'outlook-strained', ...(spot ? { spot } : {}),
      found: `Steel that fewer than 5 in 100 draws of the risk model expect to be whole (${one.name}, ${zonePhrase(zone.zone, inspection.job.settings.language)})`,
      expected: 'a date it was new, and surroundings, that fit what was seen',
      advice: 'Check the year and the surroundings; the outlook takes the low end of the rate until then.',
    }];
  });
}
