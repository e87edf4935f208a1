import type { Outcome, Part } from '../model/catalogue.ts';
import type { Block, BlockOf, Cell } from '../model/dossier.ts';
import type { ZoneInspection } from '../model/inspection.ts';
import { capital, conditionsText, inSentence, termIn } from '../model/wording.ts';
import { byCodeUnit } from '../model/order.ts';
import type { Context } from './context.ts';
import { cell, link, table } from './inline.ts';
import { isFolded } from './tables.ts';

/** What was found of one part on one side: the outcome, the words, where it is. */
interface Found {
  outcome: Outcome;
  words: string;
  place: string;
  anchor: string;
}

const worstFirst: readonly Outcome[] = ['defect', 'cannot tell', 'not seen', 'sound', 'not fitted'];

/**
 * A zone beside the same zone on the other side, a line for each kind of thing written about on either; left stands
 * left. No block where the zone has no other side, or nothing was written about one of them.
 */
export function sidesTable(context: Context, zone: ZoneInspection): Block[] {
  const partner = zone.partner === null ? undefined : context.zones.get(zone.partner);
  if (!partner?.entered || !zone.entered) return [];
  const [left, right] = zone.zone.side === 'left' ? [zone, partner] : [partner, zone];
  const parts = new Map([...partsOf(left), ...partsOf(right)].map((part) => [part.id, part]));
  const rows = [...parts.values()].sort((a, b) => kindOrder(a) - kindOrder(b)).map((part): BlockOf<'table'>['rows'][number] => ({
    cells: [cell(capital(inSentence(termIn(part.name, context.language)))), sideCell(found(context, left, part)), sideCell(found(context, right, part))],
  }));
  return table('Left and right beside each other', [['What', 4], ['Left', 7], ['Right', 7]], rows);
}

/** Openings before the rest, each in the order written. */
function kindOrder(part: Part): number {
  return part.type === 'opening' ? 0 : 1;
}

function partsOf(zone: ZoneInspection): Part[] {
  return [...zone.rows.filter((row) => !isFolded(row)), ...zone.observations].map((one) => one.part);
}

function found(context: Context, zone: ZoneInspection, part: Part): Found[] {
  const say = (conditions: readonly string[], outcome: Outcome): string => conditionsText(context.inspection.job.catalogue, conditions, context.language) || outcome;
  const rows = zone.rows.filter((row) => row.part.id === part.id && !isFolded(row)).map((row): Found => ({
    outcome: row.outcome,
    words: say(row.conditions, row.outcome),
    // The places of a count are its numbers, which say nothing beside the other side.
    place: row.known === 'counted' ? '' : row.place,
    anchor: row.id,
  }));
  const others = zone.observations.filter((one) => one.part.id === part.id).map((one): Found => ({
    outcome: one.outcome, words: say(one.finding.conditions, one.outcome), place: one.finding.about.place, anchor: one.id,
  }));
  return [...rows, ...others];
}

/** The worst state, then the words with their count or their places: "2 missing, 1 cracked, 1 sound". */
function sideCell(all: readonly Found[]): Cell {
  if (all.length === 0) return cell({ text: 'nothing written', quiet: true });
  const state = worstFirst.find((outcome) => all.some((one) => one.outcome === outcome)) ?? 'not seen';
  const kinds = [...new Set(all.map((one) => one.words))].sort((a, b) => rank(all, a) - rank(all, b) || byCodeUnit(a, b));
  const [only] = kinds;
  if (all.length === 1 && only === state) return { state, inline: all[0]?.place ? [link(all[0].place, all[0].anchor)] : [] };
  const inline = kinds.flatMap((words, index): Cell['inline'] => {
    const same = all.filter((one) => one.words === words);
    const places = same.map((one) => one.place);
    const count = all.length > 1 && places.includes('') ? `${same.length} ` : '';
    const [first] = same;
    return [...(index > 0 ? ['; '] : []), first ? link(`${count}${words}`, first.anchor) : words, ...(places.includes('') ? [] : [` (${places.join('; ')})`])];
  });
  return { state, inline };
}

function rank(all: readonly Found[], words: string): number {
  return worstFirst.indexOf(all.find((one) => one.words === words)?.outcome ?? 'not fitted');
}
