import type { Inspection, RegisterRow } from '../../model/inspection.ts';
import type { Notice } from '../../model/notice.ts';
import { isUnspoken } from '../../model/unspoken.ts';
import type { Language } from '../../model/wording.ts';
import { inSentence, partText, termIn, wordsIn, zoneName } from '../../model/wording.ts';
import { countText, listText } from '../../units.ts';

/** Openings of a zone that was written about, neither seen nor with a reason: one notice for each zone. */
export function openingNotExplained({ job, zones }: Inspection): Notice[] {
  const { language } = job.settings;
  return zones.flatMap((zone): Notice[] => {
    const open = zone.rows.filter((row) => row.outcome === 'not seen' && row.reason === 'nothing written');
    // Where not a word was written, that is said instead.
    if (!zone.entered || open.length === 0 || isUnspoken(job.notes, zone)) return [];
    return [
      {
        level: 'note',
        rule: 'opening-not-explained',
        spot: job.notes.zones.find((one) => one.zone === zone.zone.id)?.heading.spot ?? { file: job.notes.file },
        found: `Nothing about ${listText(namesOf(open, language))} of “${zoneName(zone.zone, language)}”`,
        expected: 'a state or a reason for each opening',
        advice: 'Look and write what was seen, or "- not seen:" or "- not fitted:" with its name.',
      },
    ];
  });
}

/** Kinds by their names; what a count left over as a number of them. */
function namesOf(rows: readonly RegisterRow[], language: Language): string[] {
  const names = rows.map(({ part, place, known }) => {
    if (known !== 'counted') return partText(part, wordsIn(place, language), language);
    const count = rows.filter((row) => row.known === 'counted' && row.part.id === part.id).length;
    return countText(count, `more ${inSentence(termIn(part.name, language))}`, inSentence(termIn(part.plural, language)));
  });
  return [...new Set(names)];
}
