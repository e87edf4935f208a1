import type { Inspection } from '../../model/inspection.ts';
import type { Notice } from '../../model/notice.ts';
import { zoneName } from '../../model/wording.ts';

/** A zone of this body with no line, no photo and no reason. */
export function zoneNotEntered({ job, zones }: Inspection): Notice[] {
  return zones
    .filter((zone) => !zone.entered)
    .map(({ zone }) => ({
      level: 'warning',
      rule: 'zone-not-entered',
      spot: { file: job.notes.file },
      found: `Nothing about “${zoneName(zone, job.settings.language)}”`,
      expected: 'a finding, a photo, or a reason why it was not seen',
      advice: `Write "# ${zoneName(zone, job.settings.language)}" and below it what was seen, or "- not seen:" with the reason.`,
    }));
}
