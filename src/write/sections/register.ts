import type { Section } from '../../model/dossier.ts';
import { countText, coverageText } from '../../units.ts';
import type { Context } from '../context.ts';
import { aside, lead, paragraph } from '../inline.ts';
import { unseenCounts } from '../facts.ts';
import { outcomeCounts } from '../say.ts';
import { fullRegister } from '../tables.ts';

/** Every expected opening of every zone, once. */
export function register(context: Context): Section {
  const rows = context.inspection.zones.flatMap((zone) => zone.rows);
  const words = coverageText(context.inspection.coverage);
  return {
    id: 'register',
    title: 'Register of openings',
    page: 'register',
    nav: 'Register',
    breakBefore: false,
    blocks: rows.length === 0
      ? [lead(`${words.charAt(0).toUpperCase()}${words.slice(1)}.`), paragraph('No opening is expected on this body and none was written about.')]
      : [
          lead(`${words.charAt(0).toUpperCase()}${words.slice(1)}.`),
          aside(`${rows.length === 1 ? 'One line' : `${rows.length} lines`}: ${outcomeCounts(rows)}.${unseenText(context)} A kind nobody named or counted is one line, its number not known.`),
          ...fullRegister(context),
        ],
  };
}

/** What the lines not seen are: openings somebody named, or kinds nobody counted. */
function unseenText(context: Context): string {
  const { openings, kinds } = unseenCounts(context);
  if (openings === 0 || kinds.all === 0) return '';
  return ` Of those not seen, ${countText(openings, 'is a known opening', 'are known openings')} and ${countText(kinds.all, 'is a kind nobody counted', 'are kinds nobody counted')}.`;
}
