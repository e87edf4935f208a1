import type { CavityOutlook } from '../model/inspection.ts';
import { capital, conditionsText, conditionText, inSentence, termIn } from '../model/wording.ts';
import { countText, listText } from '../units.ts';
import type { Context } from './context.ts';

/** Ways water gets in or is held back, as seen: "Water can get in by 3 plugs (missing, cracked), and 2 openings or kinds not seen could do either." */
export function waysText(context: Context, one: CavityOutlook): string {
  const ways = [rowsText(context, 'water can get in by ', one.letsIn), rowsText(context, 'water is held back by ', one.holdsBack)].filter((text) => text !== '');
  const unseen = one.unseen.length > 0 ? `, and ${countText(one.unseen.length, 'opening or kind', 'openings or kinds')} not seen could do either` : '';
  return `${ways.length > 0 ? capital(listText(ways)) : 'No opening was seen letting water in or holding it back'}${unseen}.`;
}

/** What a patch says of the steel behind it. */
function hidesText(metal: string | null): string {
  return metal !== null && ['patched', 'overlaid', 'filled'].includes(metal) ? ' (which hides the steel behind it: that counts as not seen)' : '';
}

/** "Metal: scaling; coating: not seen; water: not seen." */
export function insideText(context: Context, one: CavityOutlook): string {
  const { catalogue } = context.inspection.job;
  const elsewhere = context.zones.get(one.zone)?.observations.some((other) => other.part.id.includes('inside') && other.outcome !== 'not seen') ?? false;
  if (one.metal === null && one.coating === null && one.water.length === 0) return elsewhere ? 'Nothing that was seen inside is said to be of this section.' : 'Nothing inside was seen.';
  const name = (id: string | null): string => (id === null ? 'not seen' : conditionText(catalogue, id, context.language));
  const water = one.water.length > 0 ? conditionsText(catalogue, one.water, context.language) : 'not seen';
  return `Metal: ${name(one.metal)}${hidesText(one.metal)}; coating: ${name(one.coating)}; water: ${water}.`;
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
