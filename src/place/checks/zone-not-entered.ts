import type { Inspection } from '../../model/inspection.ts';
import type { Notice } from '../../model/notice.ts';
import { zoneName } from '../../model/wording.ts';
import { countText } from '../../units.ts';

/** A zone of this body with no line, no photo and no reason. At a later visit, which seldom goes round the whole car, all of them are one note. */
export function zoneNotEntered({ job, zones }: Inspection): Notice[] {
  const left = zones.filter((zone) => !zone.entered);
  const { language } = job.settings;
  if (job.lookedBefore && left.length > 0) {
    const before = left.filter(({ zone }) => job.lookedBefore?.includes(zone.id)).length;
    const found = `Nothing about ${countText(left.length, 'zone', 'zones')} at this visit${before === 0 ? '' : `, of which ${before} ${before === 1 ? 'was' : 'were'} written about at an earlier one`}`;
    return [{ level: 'note', rule: 'zones-left', spot: { file: job.notes.file }, found, advice: 'They count as not seen on this day; what was found of them before stands under its own date.' }];
  }
  return left.map(({ zone }) => ({
    level: 'warning',
    rule: 'zone-not-entered',
    spot: { file: job.notes.file },
    found: `Nothing about “${zoneName(zone, language)}”`,
    expected: 'a finding, a photo, or a reason why it was not seen',
    advice: `Write "# ${zoneName(zone, language)}" and below it what was seen, or "- not seen:" with the reason.`,
  }));
}
