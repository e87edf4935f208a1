import type { Block, BlockOf, Inline, Section } from '../../model/dossier.ts';
import type { Step } from '../../model/inspection.ts';
import { capital, inSentence } from '../../model/wording.ts';
import { amountRangeText, hoursText, roughAmountText, roughHoursText } from '../../units.ts';
import type { Context } from '../context.ts';
import { aside, cell, link, paragraph, table } from '../inline.ts';
import { nextLook } from '../facts.ts';
import { chanceText, fiveYears, hasUnseen, looksByWorth } from '../outlook.ts';
import { cautionLinks } from '../say.ts';

/** The step that gathers zones nothing was written about. */
const silentStep = 'step-look-silent';
/** Steps shown in full; the rest follow as a table. */
const inFull = 8;

/** The first steps in order. The inspector's work and the usual remedy are told apart in every step. */
export function steps(context: Context): Section {
  const { steps: all } = context.plan;
  const section = { id: 'steps', title: 'First steps, in order', page: 'index', nav: 'First steps', breakBefore: false };
  if (all.length === 0) return { ...section, blocks: [paragraph('No step follows from what was written.')] };
  return {
    ...section,
    blocks: [
      ...howMany(all),
      ...looksFirst(context),
      aside(orderText(context)),
      { type: 'steps', items: all.slice(0, inFull).map((step) => itemOf(context, step)) },
      ...then(all.slice(inFull)),
    ],
  };
}

function itemOf(context: Context, step: Step): BlockOf<'steps'>['items'][number] {
  return {
    id: step.id,
    title: [titleLink(step)],
    state: step.outcome,
    tags: tagsOf(context, step),
    why: whyOf(step),
    what: whatOf(step),
    ...figuresOf(context, step),
    cautions: cautionLinks(context, step.cautions),
  };
}

/** How many there are, where not all of them stand in full. */
function howMany(all: readonly Step[]): Block[] {
  const next = all[inFull];
  if (!next) return [];
  return [paragraph(`${inFull} of ${all.length} steps stand here in full; `, link(all.length - inFull === 1 ? 'the last follows in a line' : `the other ${all.length - inFull} follow in a line each`, next.id), '.')];
}

/** The next look, which this list names later: where it stands there, and why so late. */
function looksFirst(context: Context): Block[] {
  const [pair] = looksByWorth(context);
  if (!pair) return [];
  const [look] = pair;
  const { steps: all } = context.plan;
  const own = all.findIndex((step) => step.rank === 4 && step.zones.includes(look.zone));
  const at = own >= 0 ? own : all.findIndex((step) => step.id === silentStep);
  const step = all[at];
  const place: Inline = !step ? [] : own >= 0 ? [' It is part of ', link(`step ${at + 1}`, step.id), ': looks stand after the work, as they mend nothing.'] : [' It is part of ', link(`step ${at + 1}`, step.id), ': looks stand after the work, as they mend nothing, and zones nothing was written about stand last and together, whatever a look at one of them is worth.'];
  return [paragraph('The look to take next, before any work and before buying, is ', ...nextLook(context), ', as an hour of it narrows the range most.', ...place)];
}

/** Before other work by its nature, and not by what it is worth. */
function whyOf(step: Step): Inline {
  const early = step.rank === 2 ? ['They stand before the work they belong to, as that work is spoiled, or does damage, without them.'] : [];
  return [[step.why, ...early].filter((text) => text !== '').join(' ')].filter((text) => text !== '');
}

/** By what the steps are ordered, and why not by cost where they are not. */
function orderText(context: Context): string {
  const by = context.plan.orderedBy === 'cost'
    ? 'by the cost of cutting out and replacing it spares within five years, for what it costs now'
    : 'by how many closed sections it is expected to spare within five years (not every work has a price and a rate, so cost cannot order it)';
  return `Structure to be examined comes first, then what the work as written needs besides, then work ${by}, then looks at what nobody saw, by how much an hour of each narrows the range. Where the inspector wrote no work, the usual remedy stands as a suggestion.`;
}

/** What mending is about in numbers: the section that gains most, what is spared, what it costs. */
function figuresOf(context: Context, step: Step): { figures?: Inline } {
  const { worth } = step;
  const cavity = worth ? context.outlook.cavities.find((one) => one.zone === step.zone && one.cavity === worth.cavity) : undefined;
  const left = cavity?.weighed.left.chances[fiveYears];
  const done = cavity?.weighed.done?.chances[fiveYears];
  if (!worth || !cavity || !left || !done) return {};
  const unseen = hasUnseen(cavity);
  const spares = worth.sparedCost === null
    ? `It spares ${roughHoursText(worth.sparedHours.low, worth.sparedHours.high)} of cutting out and replacing on average`
    : `It spares ${roughAmountText(worth.sparedCost.low, worth.sparedCost.high, worth.sparedCost.currency)} of cutting out and replacing on average`;
  const costs = worth.cost === null ? 'what it costs is not known, as something of it has no price' : `it costs ${amountRangeText(worth.cost.low, worth.cost.high, worth.cost.currency)} before tax`;
  return { figures: [`${capital(inSentence(cavity.name))}: if left, ${chanceText(left, unseen)}; with the work done, ${chanceText(done, unseen)}. ${spares}; ${costs}.`] };
}

function titleLink(step: Step): Inline[number] {
  return link(step.title, step.zone !== '' ? step.zone : step.rank === 2 ? 'work' : 'not-seen');
}

/** The steps after the first, a line each; the zone's page says the rest. */
function then(rest: readonly Step[]): Block[] {
  const rows = rest.map((step, index): BlockOf<'table'>['rows'][number] => ({
    id: step.id,
    cells: [cell(`${inFull + index + 1}. `, titleLink(step)), cell(step.rank === 4 && step.zones.length > 0 && /\bh\b|^To see/.test(step.what) ? step.what : firstSentence(step.why)), cell(step.hours ? hoursText(step.hours) : 'not written')],
  }));
  return rows.length === 0 ? [] : table('Then, in this order', [['Step', 6], ['Why, or how to see it', 6], ['Time', 3]], rows);
}

function firstSentence(text: string): string {
  return /^.+?[.!?](?= [A-Z]|$)/.exec(text)?.[0] ?? text;
}

function tagsOf(context: Context, step: Step): string[] {
  // What belongs to several works is in no one place.
  if (!step.structure || step.rank === 2) return [];
  const near = step.answers.some((id) => context.rows.get(id)?.mounting?.near || context.observations.get(id)?.mounting?.near) || step.zones.some((id) => context.zones.get(id)?.mountings.some((mounting) => mounting.distanceMm <= 300));
  return near ? ['structure', 'mounting within 30 cm'] : ['structure'];
}

/** A way to see something often carries its time as written; then it is not said twice. */
function whatOf(step: Step): Inline {
  const timed = step.rank === 4 && /\d\s*h\b/.test(step.what);
  const hours = step.hours && !timed ? [` Time: ${hoursText(step.hours)}.`] : [];
  if (step.what === '') return ['What to do was not written, and there is no usual remedy on record.'];
  return step.suggested ? [{ text: step.rank === 2 ? 'Suggestion, the usual order: ' : 'Suggestion, the usual remedy: ', quiet: true }, step.what, ...hours] : [step.what, ...hours];
}
