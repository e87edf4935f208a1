import type { BlockOf, Inline, Section } from '../../model/dossier.ts';
import type { Caution } from '../../model/catalogue.ts';
import { termIn } from '../../model/wording.ts';
import { prints } from '../context.ts';
import type { Context } from '../context.ts';
import { aside, paragraph } from '../inline.ts';

/** The cautions that belong to this job. A caution never replaces the local rule. */
export function cautions(context: Context): Section {
  const all = context.inspection.job.catalogue.cautions.filter((one) => context.plan.cautions.includes(one.id));
  const section = { id: 'cautions', title: 'Cautions', page: prints(context, 'work') || prints(context, 'ledger') ? 'work' : 'about', nav: 'Cautions', breakBefore: false };
  if (all.length === 0) return { ...section, blocks: [paragraph('No caution on record goes with what was written. Follow your local codes, and have work done by people licensed to do it where they require it.')] };
  return {
    ...section,
    blocks: [
      aside('These go with the findings and the work above. They do not replace local rules and are no verdict on any law.'),
      ...all.map((one): BlockOf<'caution'> => ({
        type: 'caution',
        id: `caution-${one.id}`,
        title: termIn(one.name, context.language),
        when: one.when,
        points: one.points,
        source: sourceOf(one),
      })),
    ],
  };
}

function sourceOf(caution: Caution): Inline {
  return /^https?:\/\//.test(caution.link) ? [{ text: caution.source, href: caution.link }] : [caution.source];
}
