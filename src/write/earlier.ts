import type { Block, Inline } from '../model/dossier.ts';
import type { ZoneInspection } from '../model/inspection.ts';
import { clausesText, faultsOf } from '../model/faults.ts';
import { capital } from '../model/wording.ts';
import { prints } from './context.ts';
import type { Context } from './context.ts';
import { bullets, heading, link } from './inline.ts';
import { changeText, thingName, turnText, visitName } from './over-time.ts';
import { rustedClause } from './rusted.ts';
import { seenInPart, soundSoFar } from './say.ts';

/** "on 14 March 2026: scaling": what the last earlier visit that wrote about a zone found; empty where none did. */
export function lastLook(context: Context, id: string): string {
  const visit = context.earlier.findLast(({ inspection }) => inspection.zones.some((zone) => zone.zone.id === id && zone.entered));
  const zone = visit?.inspection.zones.find((one) => one.zone.id === id);
  if (!visit || !zone) return '';
  return `on ${visitName(visit)}: ${stateAndGist(context, zone)}`;
}

/** What earlier visits found of a zone, and what became of it since the last of them; nothing in an edition that does not compare visits. */
export function earlierBlocks(context: Context, zone: ZoneInspection): Block[] {
  if (!context.comparison || zone.carried || !(prints(context, 'changes') || prints(context, 'visits'))) return [];
  const found = context.earlier.flatMap((visit): Inline[] => {
    const one = visit.inspection.zones.find((other) => other.zone.id === zone.zone.id && other.entered);
    return one ? [[{ text: `${capital(visitName(visit))}: `, strong: true }, `${stateAndGist(context, one, 4)}.`]] : [];
  });
  const since = (context.comparison.between.at(-1)?.changes ?? []).filter((change) => change.zone === zone.zone.id).map((change): Inline => {
    const name = capital(thingName(context, change));
    return [change.after && context.rows.has(change.after.id) ? link(name, change.after.id) : name, `: ${changeText(change)}; `, { text: turnText(change.turn), strong: true }, '.'];
  });
  return found.length === 0 ? [] : [heading('On earlier visits'), ...bullets(found), ...(since.length === 0 ? [] : [heading('What became of it since'), ...bullets(since)])];
}

function stateAndGist(context: Context, zone: ZoneInspection, most = 2): string {
  const gist = gistOf(context, zone, most);
  return gist === '' ? zone.state : gist.startsWith(zone.state) ? gist : `${zone.state}, ${gist}`;
}

/** What is wrong in a zone in a few clauses, or what was not seen; empty where all that is known is sound. */
export function gistOf(context: Context, zone: ZoneInspection, most = 2): string {
  const faults = faultsOf(context.inspection.job.catalogue, zone, context.language);
  const rusted = rustedClause(zone.rusted);
  if (faults.length > 0 || rusted !== '') return [...(faults.length > 0 ? [clausesText(faults, most)] : []), ...(rusted === '' ? [] : [rusted])].join(', ');
  return zone.notSeen.map(({ entry }) => `not seen: ${entry.what || (seenInPart(zone) ? 'the rest of the zone' : 'the whole zone')}`)[0] ?? (zone.state === 'cannot tell' && soundSoFar(zone) ? 'what was seen is sound; the rest is open' : zone.photos.length > 0 && !seenInPart(zone) ? 'photographed, not judged' : '');
}
