import type { Inspection } from '../../model/inspection.ts';
import type { Notice } from '../../model/notice.ts';
import { isUnspoken } from '../../model/unspoken.ts';
import { zonePhrase } from '../../model/wording.ts';

/** A zone with photos and not a word: nothing in it is judged, and it does not count as seen. */
export function zoneWithoutWords({ job, zones }: Inspection): Notice[] {
  return zones
    .filter((zone) => isUnspoken(job.notes, zone))
    .map(({ zone }) => ({
      level: 'warning',
      rule: 'zone-without-words',
      spot: job.notes.zones.find((one) => one.zone === zone.id)?.heading.spot ?? { file: job.notes.file },
      found: `Photos of ${zonePhrase(zone, job.settings.language)}, and nothing written about it`,
      expected: 'what was seen, as in "- metal: sound"',
      advice: 'A photo alone counts as nothing seen: write what it shows, sound or not.',
    }));
}
