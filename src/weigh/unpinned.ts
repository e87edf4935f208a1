import type { Inspection } from '../model/inspection.ts';
import type { Notice } from '../model/notice.ts';
import { findingCounts, partText, zonePhrase } from '../model/wording.ts';
import { listText } from '../units.ts';
import { namedSections, seenInside } from './inside.ts';

/** Looks at an inside, or at weakened steel, that name none of several sections: sound ones count for none, defects for each. */
export function unpinnedNotices(inspection: Inspection): Notice[] {
  const { catalogue, settings: { language } } = inspection.job;
  return inspection.zones.filter((zone) => zone.zone.record.cavities.length > 1).flatMap((zone) => {
    const counted = new Set(zone.zone.record.cavities.flatMap((cavity) => seenInside(catalogue, zone, cavity)));
    const open = zone.observations.filter((one) => (one.part.id.includes('inside') || counted.has(one)) && one.part.type !== 'water' && findingCounts(catalogue, one.finding) && one.outcome !== 'not seen' && namedSections(zone, one).length === 0);
    return open.map((one): Notice => ({
      level: 'note', rule: 'section-not-named', spot: one.finding.spot,
      found: `"${partText(one.part, one.finding.about.place, language)}" names none of the closed sections of ${zonePhrase(zone.zone, language)}`,
      expected: `${listText(zone.zone.record.cavities.map((cavity) => `"${one.part.name.gb.toLowerCase()}, ${cavity.name.toLowerCase()}"`), 'or')}, or the opening it was seen through`,
      advice: `It is printed, and counts for ${one.outcome === 'defect' ? 'each' : 'none'} of them in the outlook; name the section, or write one line for each.`,
    }));
  });
}
