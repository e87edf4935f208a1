import type { Block, BlockOf, Section } from '../../model/dossier.ts';
import type { Step, ZoneInspection } from '../../model/inspection.ts';
import { capital, inSentence, rowIsStructure, termIn, zoneIsStructure, zonePhrase } from '../../model/wording.ts';
import { countText, coverageText, listText } from '../../units.ts';
import { nameOfZone } from '../context.ts';
import type { Context } from '../context.ts';
import { aside, bullets, lead, link, paragraph } from '../inline.ts';
import { proseBlocks } from '../prose.ts';
import { rustedSummary } from '../rusted.ts';
import { advises, carriedText, seenInPart, silentZones, visitDay } from '../say.ts';
import { costFact, lookFact, unseenCounts, unseenZonesText, weakestFact } from '../facts.ts';
import { examineText, phraseOf, weakText } from '../weak-steel.ts';

/** The answer in two sentences, four facts beside it, and the edition's opening words. */
export function summary(context: Context): Section {
  const coverage = capital(coverageText(context.inspection.coverage));
  const blocks: Block[] = [
    lead(advises(context) ? adviceSentence(context) : stateSentence(context)),
    ...rustedSummary(context),
    paragraph(unseenSentence(context)),
    ...(carriedText(context) === '' ? [] : [paragraph(`${capital(carriedText(context))}.`)]),
    keyFacts(context),
    ...outsideZones(context),
    aside(`${coverage}. What nobody saw counts as neither sound nor defective, and widens every range it touches.`),
    ...proseBlocks(context.edition.opening),
  ];
  return { id: 'summary', title: 'In short', page: 'index', nav: 'In short', breakBefore: false, blocks };
}

/** Findings under a heading that names no zone count nowhere above: said at once, and shown as typed. */
function outsideZones(context: Context): Block[] {
  const lines = context.inspection.job.notes.zones.filter((zone) => zone.zone === null).flatMap((zone) => zone.entries.filter((entry) => entry.type !== 'photo'));
  if (lines.length === 0) return [];
  return [paragraph(`${capital(countText(lines.length, 'finding stands', 'findings stand'))} under a heading that names no zone and ${lines.length === 1 ? 'is' : 'are'} in no count above:`), ...bullets(lines.slice(0, 5).map((line) => [line.text])), ...(lines.length > 5 ? [aside(`${lines.length - 5} more under `, link('Scope and limits', 'scope'), '.')] : [])];
}

/** What nobody saw: places written so, those that carry load first, then zones without a word. */
function unseenSentence(context: Context): string {
  const { coverage, zones } = context.inspection;
  const places = zones
    .flatMap((zone) => zone.notSeen.filter(({ entry }) => entry.about === null).map(({ entry }) => ({ what: !isWhole(entry.what) ? entry.what : seenInPart(zone) ? 'the rest' : '', zone, load: zoneIsStructure(zone) })))
    // What lies unseen beside defects in metal that carries load matters most.
    .sort((a, b) => Number(b.load) - Number(a.load) || defectsOf(b.zone) - defectsOf(a.zone));
  const kinds = [...new Set(places.map((place) => place.what))];
  const named = kinds.slice(0, 3).map((what) => {
    const list = phrasesOf(context, places.filter((place) => place.what === what).map((place) => place.zone));
    return what === '' ? `the whole of ${list}` : what === 'the rest' ? `the rest of ${list}` : `${list} (${what})`;
  });
  const further = places.filter((place) => kinds.indexOf(place.what) >= named.length).length;
  const more = further > 0 ? [countText(further, 'further place', 'further places')] : [];
  const said = [
    ...(named.length > 0 ? [`not seen: ${listText([...named, ...more])}`] : []),
    ...(silentZones(context) === '' ? [] : [silentZones(context)]),
  ];
  if (said.length > 0) return `${capital(said.join('; '))}.`;
  return coverage.kindsNotCounted > 0 ? `${capital(countText(coverage.kindsNotCounted, 'kind of opening was', 'kinds of opening were'))} not counted.` : 'Something was written about every zone.';
}

/** How many openings and observations of a zone are in trouble. */
function defectsOf(zone: ZoneInspection): number {
  return [...zone.rows, ...zone.observations].filter((one) => one.outcome === 'defect').length;
}

/** "the left and the right sill", where both sides are meant. */
function phrasesOf(context: Context, zones: readonly ZoneInspection[]): string {
  const records = [...new Set(zones.map((zone) => zone.zone.record))];
  return listText(records.map((record) => {
    const both = zones.filter((zone) => zone.zone.record === record);
    const [first] = both;
    if (both.length === 2) return `the left and the right ${inSentence(termIn(record.name, context.language))}`;
    return first ? zonePhrase(first.zone, context.language) : '';
  }));
}

function isWhole(what: string): boolean {
  return /^((the )?(whole )?zone|all|everything|)$/i.test(what.trim());
}

/** What matters most, from the first step of the plan. */
function adviceSentence(context: Context): string {
  const { steps } = context.plan;
  const examine = steps.filter((step) => step.rank === 1);
  const stop = steps.filter((step) => step.rank === 3 && step.stopsWater);
  const [first] = stop;
  if (examine.length > 0) {
    const next = first ? ` Next comes ${phraseOf(context, first.zone)}: ${detail(context, first)}.` : '';
    return `${weakText(context, examine)}: ${examineText(examine)}${next}`;
  }
  if (first) {
    const more = new Set(stop.map((step) => step.zone)).size - 1;
    const also = more > 0 ? `, and ${countText(more, 'further zone wants', 'further zones want')} the same` : '';
    const held = context.outlook.cavities.filter((one) => one.zone === first.zone);
    const only = held.some((one) => one.holdsBack.length > 0) && held.every((one) => one.letsIn.length === 0);
    return `The first thing to do is to ${only ? 'let water out of' : 'keep water out of'} ${phraseOf(context, first.zone)} (${detail(context, first)})${also}.`;
  }
  const other = steps.find((step) => step.rank === 3 && !step.stopsWater);
  if (other) {
    return `Among what was seen, no opening was found letting water in or holding it back; the first thing to do is at ${phraseOf(context, other.zone)} (${detail(context, other)}).`;
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
  const weak = examine.length === 0 ? '' : ` ${weakText(context, examine)}.`;
  return `${capital(countText(rows, 'opening', 'openings'))} with a defect and ${countText(others, 'defect', 'defects')} of metal, coating, water or earlier repair were written down ${visitDay(context)}.${weak}`;
}

function nothingSeen(context: Context): boolean {
  return !context.inspection.zones.some(seenInPart);
}

/** A step's title without the zone it begins with. */
function detail(context: Context, step: Step): string {
  return step.title.replace(`${nameOfZone(context, step.zone)}: `, '');
}

function keyFacts(context: Context): BlockOf<'facts'> {
  const sure = [unseenFact(context), seenFact(context)];
  const items = advises(context) ? [...weakestFact(context), ...costFact(context), ...lookFact(context), ...sure] : [...sure, ...weakestFact(context), loadFact(context)];
  return { type: 'facts', look: 'key', items };
}

type Fact = BlockOf<'facts'>['items'][number];

function seenFact(context: Context): Fact {
  const { zones } = context.inspection;
  const { seen, known, cannotTell, notFitted } = context.inspection.coverage;
  const notes = [
    ...(cannotTell > 0 ? [`${countText(cannotTell, 'look', 'looks')} without a clear answer`] : []),
    ...(notFitted > 0 ? [`${notFitted} not fitted to this body`] : []),
  ];
  return { term: 'Seen', value: [`${zones.length - unseenZones(zones)} of ${countText(zones.length, 'zone', 'zones')}, ${seen} of ${known} known ${known === 1 ? 'opening' : 'openings'}`], ...(notes.length > 0 ? { note: notes.join('; ') } : {}) };
}

function unseenFact(context: Context): Fact {
  const { coverage, zones } = context.inspection;
  const counts = unseenCounts(context);
  const openings = `${counts.openings} of ${countText(coverage.known, 'known opening', 'known openings')}`;
  const value = counts.zones.all > 0 ? `${counts.zones.all} of ${countText(zones.length, 'zone', 'zones')}` : openings;
  const besides = [
    ...(counts.zones.all > 0 && counts.openings > 0 ? [openings] : []),
    ...(counts.places > 0 ? [countText(counts.places, 'place of another zone', 'places of other zones')] : []),
    ...(counts.kinds.all > 0 ? [`${countText(counts.kinds.all, 'kind of opening', 'kinds of opening')} nobody counted`] : []),
  ];
  const note = [...(counts.zones.all > 0 ? [`nothing of them was seen (${unseenZonesText(counts)})`] : []), ...(besides.length > 0 ? [`besides, ${listText(besides)}`] : [])].join('; ');
  return { term: 'Not seen', value: [link(value, 'not-seen')], ...(note === '' ? {} : { note }) };
}

/** Zones of which nothing was seen, written about or not. */
function unseenZones(zones: readonly ZoneInspection[]): number {
  return zones.filter((zone) => zone.state === 'not seen').length;
}

function loadFact(context: Context): Fact {
  const { zones } = context.inspection;
  const defective = zones.filter((zone) => zone.rows.some((row) => row.outcome === 'defect' && rowIsStructure(zone, row)) || zone.observations.some((one) => one.outcome === 'defect' && one.structure));
  const looked = zones.filter((zone) => zone.entered && (zoneIsStructure(zone) || defective.includes(zone))).length;
  return {
    term: 'Load-carrying zones with a defect',
    value: [looked === 0 ? 'none written about' : `${defective.length} of the ${looked} written about`],
    note: 'in metal that carries load, or within 30 cm of a safety mounting',
  };
}
