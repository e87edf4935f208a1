import type { Inspection } from '../../model/inspection.ts';
import type { Notice } from '../../model/notice.ts';
import { partText, zonePhrase } from '../../model/wording.ts';

/** A defect that was seen and has no photo to show it. */
export function defectWithoutPhoto({ job, zones }: Inspection): Notice[] {
  const { language } = job.settings;
  return zones.flatMap((zone) => {
    const rows = zone.rows.map(({ part, place, outcome, photos, spot }) => ({ part, place, outcome, photos, spot }));
    const seen = zone.observations.map(({ part, finding, outcome, photos }) => ({ part, place: finding.about.place, outcome, photos, spot: finding.spot }));
    return [...rows, ...seen]
      .filter(({ outcome, photos }) => outcome === 'defect' && photos.length === 0)
      .map(({ part, place, spot }): Notice => ({
        level: 'note',
        rule: 'defect-without-photo',
        ...(spot ? { spot } : {}),
        found: `No photo of “${partText(part, place, language)}” of ${zonePhrase(zone.zone, language)}`,
        expected: 'a photo of each defect',
        advice: 'Take one, and write its name at the end of the line.',
      }));
  });
}
