import type { Inline } from '../model/dossier.ts';
import type { RegisterRow, ZoneInspection } from '../model/inspection.ts';
import type { Looked, Origin, PhotoName } from '../model/notes.ts';
import { rustCounted, seenRust } from '../model/rusted-area.ts';
import { conditionsText, inSentence, partText, termIn, toldBy, wordsIn } from '../model/wording.ts';
import { countText, dateText, distanceText, listText } from '../units.ts';
import { prints } from './context.ts';
import type { Context } from './context.ts';
import { joined, link } from './inline.ts';

/** What to keep in mind before a reading is believed. */
export const readingTraps = 'A film reading means something only beside the same car’s own: old cars were filled and leaded from new, and edges and curves read wrong. Paint adds to an ultrasonic reading of steel unless the gauge reads echo to echo, and rough rust reads wrong. A reading holds for its spot and no further.';

/** "seen directly", "seen by inspection camera through inner face 2". What is taken where nothing was written, the method says. */
export function lookedText(context: Context, looked: Looked | null): string {
  if (looked === null) return '';
  const evidence = context.inspection.job.catalogue.evidence.find((one) => one.id === looked.evidence);
  const name = evidence ? inSentence(termIn(evidence.name, context.language)) : looked.evidence;
  const through = looked.through ? ` through ${looked.through}` : '';
  return `${name}${through}`;
}

/** "opinion", "told by seller"; nothing for a fact, which is the rule. */
export function originText(origin: Origin): string {
  return origin.kind === 'told' ? toldBy(origin.by) : origin.kind === 'opinion' ? 'opinion' : '';
}

/** What stands behind a row's state: conditions and details, or the reason it has none. */
export function stateWords(context: Context, row: RegisterRow): string {
  const conditions = conditionsText(context.inspection.job.catalogue, row.conditions, context.language);
  const details = row.details.join(', ');
  const said = [conditions, details].filter((text) => text !== '').join(', ');
  const reason = row.reason === '' ? '' : inSentence(row.reason);
  const toSee = row.toSee === '' || row.outcome === 'sound' || row.outcome === 'defect' ? '' : `to see it: ${row.toSee}`;
  const near = row.mounting ? `${distanceText(row.mounting.distanceMm, context.units)} from ${row.mounting.of}` : '';
  return [row.outcome === 'sound' ? said.replace(/^sound(, |$)/, '') : said, said === reason || reason === row.outcome ? '' : reason, toSee, near].filter((text) => text !== '').join('. ');
}

/** Conditions of a row, or the reason it has none: no details, no way to see it. */
export function shortState(context: Context, row: RegisterRow): string {
  const conditions = conditionsText(context.inspection.job.catalogue, row.conditions, context.language);
  const reason = row.outcome === 'sound' || row.outcome === 'defect' ? '' : inSentence(row.reason);
  const said = conditions === row.outcome ? '' : conditions;
  return said === '' && reason !== row.outcome ? reason : said;
}

/** "blind plug 25 mm, inner face 2", "cable grommet 19 mm, cable 8 mm, rear". */
export function rowName(context: Context, row: RegisterRow): string {
  const name = partText(row.part, '', context.language);
  const cables = [...new Set(row.findings.map((finding) => finding.about.cable ?? ''))];
  return [row.size ? `${name} ${row.size}` : name, ...cables, row.known === 'kind' ? wordsIn(row.place, context.language) : row.place, ...(row.known === 'kind' && row.outcome !== 'not fitted' ? ['number not known'] : [])].filter((part) => part !== '').join(', ');
}

/** Links to photos by file name. */
export function photoLinks(context: Context, ids: readonly string[]): Inline {
  return joined(ids.map((id) => [link(context.photos.get(id)?.photo.name ?? id, `photo-${id}`)]), ', ');
}

/** Links to photos, then the names as written that stand for no photo of the job. */
export function photoCell(context: Context, ids: readonly string[], names: readonly PhotoName[]): Inline {
  const unfound = new Set(names.flatMap((name) => (context.inspection.unfound.has(name) ? [`photo ${name.text} ${context.inspection.unfound.get(name)}`] : [])));
  return joined([...ids.map((id) => photoLinks(context, [id])), ...[...unfound].map((text): Inline => [text])], ', ');
}

/** "Cautions: lifting, welding." as links; empty where there are none. */
export function cautionLinks(context: Context, ids: readonly string[]): Inline {
  const known = ids.flatMap((id) => context.inspection.job.catalogue.cautions.filter((caution) => caution.id === id));
  if (known.length === 0) return [];
  return ['Cautions first: ', ...joined(known.map((one) => [link(inSentence(termIn(one.name, context.language)), `caution-${one.id}`)]), ', '), '.'];
}

/** "on 14 March 2026", or that no date was written. */
export function visitDay(context: Context): string {
  const { seen } = context.inspection.job.notes;
  return seen ? `on ${dateText(seen.date)}` : 'on a day not written';
}

/** Zones nothing was written about, in words: "nothing was written about 14 of 40 zones". */
export function silentZones(context: Context): string {
  const { zones } = context.inspection;
  const silent = zones.filter((zone) => !zone.entered).length;
  if (silent === 0) return '';
  if (silent === zones.length) return 'nothing was written about any zone';
  return `nothing was written about ${silent} of ${countText(zones.length, 'zone', 'zones')}${lookedBefore(context)}`;
}

/** ", of which 15 were looked at on an earlier visit", where the dossier is of one visit alone. */
function lookedBefore({ inspection, earlier }: Context): string {
  const before = inspection.zones.filter((zone) => !zone.entered && earlier.some((visit) => visit.inspection.zones.some((one) => one.zone.id === zone.zone.id && one.entered))).length;
  return before === 0 ? '' : `, of which ${before} ${before === 1 ? 'was' : 'were'} looked at on an earlier visit`;
}

/** "on 14 March 2026", of a zone that stands as an earlier visit found it; empty for those of the newest. */
export function carriedDay({ carried }: ZoneInspection): string {
  if (!carried) return '';
  return carried.date === null ? `at the visit “${carried.visit}”` : `on ${dateText(carried.date)}`;
}

/** "15 zones stand as they were last looked at, on 14 March 2026"; empty where none does. */
export function carriedText({ inspection }: Context): string {
  const carried = inspection.zones.filter((zone) => zone.carried);
  if (carried.length === 0) return '';
  const days = [...new Set(carried.map(carriedDay))];
  return `${countText(carried.length, 'zone was', 'zones were')} not looked at on this visit and ${carried.length === 1 ? 'stands' : 'stand'} as last found, ${listText(days)}: what was seen then may have gone on since`;
}

/** Whether the edition prints the steps: where it does not, no sentence gives advice. */
export function advises(context: Context): boolean {
  return prints(context, 'steps');
}

/** "1 missing, 2 sound": outcomes of rows counted, worst first, in words. */
export function outcomeCounts(rows: readonly RegisterRow[]): string {
  const order = ['defect', 'cannot tell', 'not seen', 'sound', 'not fitted'] as const;
  return listText(order.flatMap((outcome) => {
    const count = rows.filter((row) => row.outcome === outcome).length;
    return count === 0 ? [] : [`${count} ${outcome}`];
  }));
}

/** Whether anything at all of a zone was seen. */
export function seenInPart(zone: ZoneInspection): boolean {
  return zone.coverage.seen > 0 || zone.observations.some((one) => one.outcome !== 'not seen') || rustCounted(zone.rusted).length > 0;
}

/** Whether nothing seen in a zone was unclear: it is no sound zone only because not all of it was seen. */
export function soundSoFar(zone: ZoneInspection): boolean {
  // A region without rust is not what was found sound.
  const looked = zone.coverage.seen > 0 || zone.observations.some((one) => one.outcome !== 'not seen');
  return looked && !seenRust(zone.rusted) && [...zone.rows, ...zone.observations].every((one) => one.outcome !== 'cannot tell' && one.outcome !== 'defect');
}
