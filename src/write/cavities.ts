import type { Inline } from '../model/dossier.ts';
import type { CavityOutlook, ZoneInspection } from '../model/inspection.ts';
import { conditionText, conditionsText } from '../model/wording.ts';
import { countText } from '../units.ts';
import type { Context } from './context.ts';
import { joined, link } from './inline.ts';
import { rowName } from './say.ts';

/** One line for each closed section of a zone: what lets water in, what holds it back, what was seen inside and what not. */
export function cavityLines(context: Context, zone: ZoneInspection): Inline[] {
  return context.outlook.cavities.filter((one) => one.zone === zone.zone.id).map((one) => cavityLine(context, one));
}

function cavityLine(context: Context, one: CavityOutlook): Inline {
  const { catalogue } = context.inspection.job;
  const name = (id: string | null): string => (id === null ? 'not seen' : conditionText(catalogue, id, context.language));
  const water = one.water.length > 0 ? conditionsText(catalogue, one.water, context.language) : 'not seen';
  return [
    { text: `${one.name.charAt(0).toUpperCase()}${one.name.slice(1)}`, strong: true },
    `${one.carriesLoad ? ', carries load' : ''}. `,
    ...rowsSentence(context, 'Water can get in, as seen, by ', one.letsIn, 'No opening was seen letting water in. '),
    ...rowsSentence(context, 'Water is held back, as seen, by ', one.holdsBack, 'No drain was seen holding water back. '),
    one.unseen.length > 0 ? `${countText(one.unseen.length, 'opening or kind', 'openings or kinds')} not seen could do either. `.replace(/^./, (letter) => letter.toUpperCase()) : '',
    `Metal inside: ${name(one.metal)}. Coating inside: ${name(one.coating)}. Water: ${water}.`,
  ];
}

function rowsSentence(context: Context, opening: string, ids: readonly string[], none: string): Inline {
  const rows = ids.flatMap((id) => context.rows.get(id) ?? []);
  if (rows.length === 0) return [none];
  const { catalogue } = context.inspection.job;
  const parts = rows.map((row): Inline => [link(rowName(context, row), row.id), ` (${conditionsText(catalogue, row.conditions, context.language)})`]);
  return [opening, ...joined(parts, '; '), '. '];
}
