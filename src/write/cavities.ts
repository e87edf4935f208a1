import type { Inline } from '../model/dossier.ts';
import type { CavityOutlook, ZoneInspection } from '../model/inspection.ts';
import { capital, conditionsText, conditionText, inSentence, termIn } from '../model/wording.ts';
import { countText, listText } from '../units.ts';
import type { Context } from './context.ts';

/** One line for each closed section of a zone anything is known of, and one that names the others. */
export function cavityLines(context: Context, zone: ZoneInspection): Inline[] {
  const all = context.outlook.cavities.filter((one) => one.zone === zone.zone.id);
  const known = all.filter(isKnown);
  const dark = all.filter((one) => !known.includes(one));
  const names = listText(dark.map((one) => inSentence(one.name)));
  return [...known.map((one) => cavityLine(context, one)), ...(dark.length === 0 ? [] : [[{ text: `Behind it: ${names}. `, strong: true as const }, 'Nothing was seen inside, and no opening was seen letting water in or holding it back.']])];
}

function isKnown(one: CavityOutlook): boolean {
  return one.letsIn.length + one.holdsBack.length + one.water.length > 0 || one.metal !== null || one.coating !== null;
}

function cavityLine(context: Context, one: CavityOutlook): Inline {
  const ways = [rowsText(context, 'water can get in by ', one.letsIn), rowsText(context, 'water is held back by ', one.holdsBack)].filter((text) => text !== '');
  const unseen = one.unseen.length > 0 ? `, and ${countText(one.unseen.length, 'opening or kind', 'openings or kinds')} not seen could do either` : '';
  return [
    { text: `Behind it: ${one.name}`, strong: true },
    `${one.carriesLoad ? ', carries load' : ''}. ${ways.length > 0 ? capital(listText(ways)) : 'No opening was seen letting water in or holding it back'}${unseen}. ${insideText(context, one)}`,
  ];
}

/** "Inside: metal scaling, coating not seen, water not seen." */
function insideText(context: Context, one: CavityOutlook): string {
  const { catalogue } = context.inspection.job;
  if (one.metal === null && one.coating === null && one.water.length === 0) return 'Nothing inside was seen.';
  const name = (id: string | null): string => (id === null ? 'not seen' : conditionText(catalogue, id, context.language));
  const water = one.water.length > 0 ? conditionsText(catalogue, one.water, context.language) : 'not seen';
  return `Metal inside: ${name(one.metal)}; coating: ${name(one.coating)}; water: ${water}.`;
}

/** "water can get in by 3 plugs (missing, cracked)": the rows stand in the table above. */
function rowsText(context: Context, opening: string, ids: readonly string[]): string {
  const rows = ids.flatMap((id) => context.rows.get(id) ?? []);
  const kinds = [...new Set(rows.map((row) => row.part))].map((part) => {
    const all = rows.filter((row) => row.part === part);
    const conditions = conditionsText(context.inspection.job.catalogue, [...new Set(all.flatMap((row) => row.conditions))], context.language);
    return `${all.length === 1 ? `the ${inSentence(termIn(part.name, context.language))}` : `${all.length} ${inSentence(termIn(part.plural, context.language))}`} (${conditions})`;
  });
  return kinds.length === 0 ? '' : `${opening}${listText(kinds)}`;
}
