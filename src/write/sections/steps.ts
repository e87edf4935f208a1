import type { Block, BlockOf, Inline, Section } from '../../model/dossier.ts';
import type { Step } from '../../model/inspection.ts';
import { hoursText } from '../../units.ts';
import type { Context } from '../context.ts';
import { aside, cell, link, paragraph, table } from '../inline.ts';
import { cautionLinks } from '../say.ts';

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
      aside('Structure to be examined comes first, then water and drains, then the rest, then looks at what nobody saw. Where the inspector wrote no work, the usual remedy stands as a suggestion.'),
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
    why: step.why === '' ? [] : [step.why],
    what: whatOf(step),
    cautions: cautionLinks(context, step.cautions),
  };
}

function titleLink(step: Step): Inline[number] {
  return link(step.title, step.zone === '' ? 'not-seen' : step.zone);
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
  if (!step.structure) return [];
  const near = step.answers.some((id) => context.rows.get(id)?.mounting?.near || context.observations.get(id)?.mounting?.near) || step.zones.some((id) => context.zones.get(id)?.mountings.some((mounting) => mounting.distanceMm <= 300));
  return near ? ['structure', 'mounting within 30 cm'] : ['structure'];
}

/** A way to see something often carries its time as written; then it is not said twice. */
function whatOf(step: Step): Inline {
  const timed = step.rank === 4 && /\d\s*h\b/.test(step.what);
  const hours = step.hours && !timed ? [` Time: ${hoursText(step.hours)}.`] : [];
  if (step.what === '') return ['What to do was not written, and there is no usual remedy on record.'];
  return step.suggested ? [{ text: 'Suggestion, the usual remedy: ', quiet: true }, step.what, ...hours] : [step.what, ...hours];
}
