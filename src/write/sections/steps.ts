import type { Inline, Section } from '../../model/dossier.ts';
import type { Step } from '../../model/inspection.ts';
import { hoursText } from '../../units.ts';
import type { Context } from '../context.ts';
import { aside, link, paragraph } from '../inline.ts';
import { cautionLinks } from '../say.ts';

/** The first steps in order. The inspector's work and the usual remedy are told apart in every step. */
export function steps(context: Context): Section {
  const { steps: all } = context.plan;
  const section = { id: 'steps', title: 'First steps, in order', page: 'index', nav: 'First steps', breakBefore: false };
  if (all.length === 0) return { ...section, blocks: [paragraph('No step follows from what was written.')] };
  return {
    ...section,
    blocks: [
      aside('Structure to be examined first, then water and drains, then the rest, then looks at what nobody saw. Where the inspector wrote no work, the usual remedy stands as a suggestion.'),
      { type: 'steps', items: all.map((step) => ({
        id: step.id,
        title: [step.zone === '' ? link(step.title, 'not-seen') : link(step.title, step.zone)],
        state: step.outcome,
        tags: tagsOf(context, step),
        why: step.why === '' ? [] : [step.why],
        what: whatOf(step),
        cautions: cautionLinks(context, step.cautions),
      })) },
    ],
  };
}

function tagsOf(context: Context, step: Step): string[] {
  if (!step.structure) return [];
  const near = step.answers.some((id) => context.rows.get(id)?.mounting?.near || context.observations.get(id)?.mounting?.near);
  return near ? ['structure', 'mounting within 30 cm'] : ['structure'];
}

function whatOf(step: Step): Inline {
  const hours = step.hours ? [` Time: ${hoursText(step.hours)}.`] : [];
  if (step.what === '') return ['What to do was not written, and there is no usual remedy on record.'];
  return step.suggested ? [{ text: 'Suggestion, the usual remedy: ', quiet: true }, step.what, ...hours] : [step.what, ...hours];
}
