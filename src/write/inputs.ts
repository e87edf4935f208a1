import type { Block, Inline } from '../model/dossier.ts';
import type { CavityOutlook, RegisterRow } from '../model/inspection.ts';
import type { RiskMixture, RiskValue } from '../model/risk.ts';
import { assumptionsOf } from '../model/risk.ts';
import { inputsMark, inSentence, partText, worstCondition } from '../model/wording.ts';
import { countText } from '../units.ts';
import { hasPage, nameOfZone, prints } from './context.ts';
import type { Context } from './context.ts';
import { cell, heading, joined, link, paragraph, table } from './inline.ts';
import { isFolded } from './tables.ts';

/** Rows named one by one; of more their number is said. */
const named = 6;

/** Where an assumption stands in the method. */
export function assumptionAnchor(id: string): string {
  return `assumption--${id}`;
}

/** Leads from a section's chances to what they rest on. */
export function inputsLink(context: Context, cavity: CavityOutlook): Inline {
  return hasInputs(context, cavity) ? [' ', link('What this rests on', inputsAnchor(cavity)), '.'] : [];
}

/** What the chances of each section rest on, each a link: what was seen to its line, what was not to its line, what was assumed to its numbers and source; what most sections rest on is said once. */
export function inputsTable(context: Context): Block[] {
  const cavities = context.outlook.cavities.filter((cavity) => hasInputs(context, cavity));
  if (cavities.length === 0) return [];
  const assumed = new Map(cavities.map((cavity) => [cavity, assumedInputs(context, cavity)]));
  const all = [...new Set([...assumed.values()].flat())];
  const common = all.filter((one) => [...assumed.values()].filter((some) => some.includes(one)).length > cavities.length / 2);
  const rows = cavities.map((cavity) => ({
    id: inputsAnchor(cavity),
    cells: [
      cell(link(nameOfZone(context, cavity.zone), cavity.zone), `: ${inSentence(cavity.name)}`),
      cell(...orNothing(seenInputs(context, cavity))),
      cell(...orNothing(unseenInputs(context, cavity))),
      cell(...orNothing((assumed.get(cavity) ?? []).filter((one) => !common.includes(one)).map(assumptionLink))),
    ],
  }));
  return [
    heading('What each section’s chances rest on'),
    paragraph('Sections of zones something was written about. To what stands here comes, for every one of them, the rate of rust in these surroundings and the age. Assumed of most of them, as far as something of them was not seen: ', ...joined(common.map(assumptionLink), '; '), '.'),
    ...table('Seen, not seen and assumed, section by section', [['Section', 4], ['Seen', 5], ['Not seen', 4], ['Assumed besides', 5]], rows),
  ];
}

function assumptionLink({ name, id }: RiskValue | RiskMixture): Inline {
  return [link(name.split(';')[0] ?? name, assumptionAnchor(id))];
}

function hasInputs(context: Context, { zone }: CavityOutlook): boolean {
  const found = context.zones.get(zone);
  return found !== undefined && hasPage(found) && prints(context, 'method');
}

function inputsAnchor({ zone, cavity }: CavityOutlook): string {
  return `${inputsMark}${zone}--${cavity}`;
}

function orNothing(parts: readonly Inline[]): Inline {
  return parts.length === 0 ? ['nothing'] : joined(parts, '; ');
}

function rowsOf(context: Context, ids: readonly string[]): RegisterRow[] {
  return ids.flatMap((id) => context.rows.get(id) ?? []);
}

function rowLinks(context: Context, rows: readonly RegisterRow[]): Inline[] {
  const links = rows.slice(0, named).map((row): Inline => [link(partText(row.part, row.place, context.language), row.id)]);
  return rows.length > named ? [...links, [`${rows.length - named} more`]] : links;
}

function seenInputs(context: Context, cavity: CavityOutlook): Inline[] {
  const zone = context.zones.get(cavity.zone);
  const inside = (zone?.observations ?? []).filter((one) => one.part.id.includes('inside') && one.outcome !== 'not seen' && one.finding.conditions.some((id) => id === cavity.metal || id === cavity.coating || cavity.water.includes(id)));
  return [
    ...rowLinks(context, rowsOf(context, [...cavity.letsIn, ...cavity.holdsBack])),
    ...inside.map((one): Inline => [link(partText(one.part, one.finding.about.place, context.language), one.id)]),
  ];
}

function unseenInputs(context: Context, cavity: CavityOutlook): Inline[] {
  const rows = rowsOf(context, cavity.unseen);
  const folded = rows.filter(isFolded);
  return [
    ...rowLinks(context, rows.filter((row) => !folded.includes(row))),
    ...(folded.length > 0 ? [[link(countText(folded.length, 'kind nobody counted', 'kinds nobody counted'), `${cavity.zone}--not-counted`)] as Inline] : []),
    ...(cavity.insideSeen === 'whole' ? [] : [[cavity.insideSeen === 'part' ? 'part of the inside' : 'the inside']]),
  ];
}

/** The assumptions this section alone brings in; those of rate, time and surroundings are in every section's. */
function assumedInputs(context: Context, cavity: CavityOutlook): (RiskValue | RiskMixture)[] {
  const { catalogue } = context.inspection.job;
  const all = assumptionsOf(catalogue.risk);
  const meant = (prefix: string, ids: readonly (string | null)[]): string[] => all.flatMap((one) => ('conditions' in one && one.id.startsWith(prefix) && one.conditions.some((id) => ids.includes(id)) ? [one.id] : []));
  const worst = rowsOf(context, cavity.letsIn).flatMap((row) => worstCondition(catalogue, row.conditions)?.id ?? []);
  const ids = new Set([
    'leak',
    ...meant('opening-', worst),
    ...(cavity.unseen.length > 0 ? ['unseen-plug', 'unseen-seam', 'unseen-hole', 'unseen-drain-blocked'] : []),
    ...meant('water-', cavity.water),
    ...(cavity.coating === null ? ['unseen-coating'] : meant('protection-', [cavity.coating])),
    ...(cavity.metal === null ? ['unseen-metal'] : meant('loss-', [cavity.metal])),
    'rate-spread',
    ...(cavity.measuredMm === null ? ['sheet'] : []),
  ]);
  return all.filter((one) => ids.has(one.id));
}
