import type { Block, BlockOf, Inline, Section } from '../../model/dossier.ts';
import type { Step } from '../../model/inspection.ts';
import { conditionOf, conditionText, rowIsStructure, zonePhrase } from '../../model/wording.ts';
import { countText, coverageText, listText } from '../../units.ts';
import { nameOfZone } from '../context.ts';
import type { Context } from '../context.ts';
import { lead, link } from '../inline.ts';
import { proseBlocks } from '../prose.ts';
import { advises, silentZones, visitDay } from '../say.ts';

/** The answer in two sentences, four facts beside it, and the edition's opening words. */
export function summary(context: Context): Section {
  const blocks: Block[] = [
    lead(advises(context) ? adviceSentence(context) : stateSentence(context), ' ', coverageSentence(context)),
    keyFacts(context),
    ...proseBlocks(context.edition.opening),
  ];
  return { id: 'summary', title: 'In short', page: 'index', nav: 'In short', breakBefore: false, blocks };
}

function coverageSentence(context: Context): string {
  const said = [coverageText(context.inspection.coverage), silentZones(context)].filter((text) => text !== '').join('; ');
  return `${said.charAt(0).toUpperCase()}${said.slice(1)}: what nobody saw counts as neither sound nor defective.`;
}

/** What to do first, from the first step of the plan. */
function adviceSentence(context: Context): string {
  const { steps } = context.plan;
  const examine = steps.filter((step) => step.rank === 1);
  if (examine.length > 0) {
    return `Steel written down as ${weakWords(context, examine)} carries load or stands near a safety mounting in ${places(context, examine)}: have it examined by someone licensed to before the car is driven or lifted.`;
  }
  const stop = steps.filter((step) => step.rank === 2);
  const [first] = stop;
  if (first) {
    const more = new Set(stop.map((step) => step.zone)).size - 1;
    const also = more > 0 ? `, and ${countText(more, 'further zone wants', 'further zones want')} the same` : '';
    return `The first thing to do is to keep water out of ${phrase(context, first.zone)} (${detail(context, first)})${also}.`;
  }
  const other = steps.find((step) => step.rank === 3);
  if (other) {
    return `Among what was seen, no opening was found letting water in or holding it back; the first thing to do is at ${phrase(context, other.zone)} (${detail(context, other)}).`;
  }
  if (nothingSeen(context)) return 'Nothing was seen of this body, so nothing can be said about it yet: the first thing to do is to look.';
  return steps.length > 0
    ? 'Nothing that lets water in, holds it back or weakens structure was found among what was seen: the first thing to do is to look at what nobody saw.'
    : 'Nothing that lets water in, holds it back or weakens structure was found, and every opening written about was seen.';
}

/** Condition at the date without advice, for readers who were not there and ask for none. */
function stateSentence(context: Context): string {
  if (nothingSeen(context)) return `Nothing was seen of this body ${visitDay(context)}, so nothing can be said about its condition.`;
  const { zones } = context.inspection;
  const rows = zones.flatMap((zone) => zone.rows).filter((row) => row.outcome === 'defect').length;
  const others = zones.flatMap((zone) => zone.observations).filter((one) => one.outcome === 'defect').length;
  const examine = context.plan.steps.filter((step) => step.rank === 1);
  const weak = examine.length === 0 ? '' : `; steel written down as ${weakWords(context, examine)} carries load or stands near a safety mounting in ${places(context, examine)}`;
  return `${capital(countText(rows, 'opening', 'openings'))} with a defect and ${countText(others, 'defect', 'defects')} of metal, coating, water or earlier repair were written down ${visitDay(context)}${weak}.`;
}

function nothingSeen(context: Context): boolean {
  const { coverage, zones } = context.inspection;
  return coverage.seen === 0 && zones.every((zone) => zone.observations.every((one) => one.outcome === 'not seen'));
}

function places(context: Context, steps: readonly Step[]): string {
  return listText([...new Set(steps.map((step) => phrase(context, step.zone)))]);
}

/** "holed or patched": what the findings call the steel that a licensed person should examine. */
function weakWords(context: Context, steps: readonly Step[]): string {
  const { catalogue } = context.inspection.job;
  const ids = steps.flatMap((step) => step.answers).flatMap((id) => [
    ...(context.observations.get(id)?.finding.conditions ?? []),
    ...(context.rows.get(id)?.findings.flatMap((finding) => finding.conditions) ?? []),
    ...(context.rows.get(id)?.conditions ?? []),
  ]);
  const weak = [...new Set(ids)].filter((id) => conditionOf(catalogue, id)?.weakens);
  return listText(weak.map((id) => conditionText(catalogue, id, context.language)), 'or');
}

function phrase(context: Context, id: string): string {
  const zone = context.zones.get(id);
  return zone ? zonePhrase(zone.zone, context.language) : 'zones nothing was written about';
}

/** A step's title without the zone it begins with. */
function detail(context: Context, step: Step): string {
  return step.title.replace(`${nameOfZone(context, step.zone)}: `, '');
}

function keyFacts(context: Context): BlockOf<'facts'> {
  const { coverage, zones } = context.inspection;
  const unseen = zones.flatMap((zone) => zone.rows).filter((row) => row.outcome === 'not seen' && row.known !== 'kind').length;
  const kinds = coverage.kindsNotCounted;
  const structural = zones.flatMap((zone) => [
    ...zone.rows.filter((row) => row.outcome === 'defect' && rowIsStructure(zone, row)),
    ...zone.observations.filter((one) => one.outcome === 'defect' && one.structure),
  ]).length;
  const written = zones.flatMap((zone) => zone.notSeen).filter(({ entry }) => entry.about === null).length;
  const places = written > 0 ? `; ${countText(written, 'place or zone', 'places or zones')} written as not seen` : '';
  const first = context.plan.steps[0];
  const items: BlockOf<'facts'>['items'] = [
    { term: 'Seen', value: [`${coverage.seen} of ${coverage.known} known ${coverage.known === 1 ? 'opening' : 'openings'}`], note: noteOfSeen(context) },
    { term: 'Not seen', value: [link(countText(unseen, 'known opening', 'known openings'), 'not-seen')], note: `and ${countText(kinds, 'kind of opening', 'kinds of opening')} not counted${places}` },
    { term: 'Structure or mountings concerned', value: [countText(structural, 'defect', 'defects')], note: 'in metal that carries load, or within 30 cm of a safety mounting, as far as seen' },
  ];
  if (advises(context) && first) items.push({ term: 'First step', value: firstStep(first) });
  return { type: 'facts', look: 'key', items };
}

function noteOfSeen(context: Context): string {
  const { cannotTell, notFitted } = context.inspection.coverage;
  return [
    `${countText(cannotTell, 'look', 'looks')} without a clear answer`,
    ...(notFitted > 0 ? [`${notFitted} not fitted to this body`] : []),
  ].join('; ');
}

function firstStep(step: Step): Inline {
  return [link(step.title, step.id)];
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
