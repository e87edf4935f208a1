import type { BlockOf, Section } from '../../model/dossier.ts';
import { inSentence, termIn } from '../../model/wording.ts';
import type { Context } from '../context.ts';
import { bullets, cell, heading, paragraph, table } from '../inline.ts';

/** How outcomes, coverage and evidence come about, what is not done, and where the words of the trade come from. */
export function method(context: Context): Section {
  return {
    id: 'method',
    title: 'How this was worked out',
    page: 'method',
    nav: 'Method',
    breakBefore: true,
    blocks: [
      heading('States'),
      ...bullets([
        ['Sound: seen, and does what it is there for. Defect: seen, and does not. Cannot tell: looked at without a clear answer, with the reason. Not fitted: this body never had it. Not seen: nobody looked, or could not, with the reason.'],
        ['Of several conditions written of one opening the worst counts. The order from best to worst is our judgement.'],
        ['A zone is called sound only where all that is known of it was seen and found sound.'],
      ]),
      heading('Coverage'),
      paragraph('Each zone has the kinds of opening such a shell usually has. An opening is known when the findings name or count it. A kind nobody named or counted is one line, its number not known, and stands outside the count. What somebody told, or what was inferred, is not seen.'),
      heading('How a thing was looked at'),
      paragraph('Best first. Where the findings do not say, seen directly is taken, and the line says so.'),
      ...evidence(context),
      heading('Order of the first steps'),
      paragraph('Steel that is holed, thin, crushed, patched or covered over, in structure or within 30 cm of a safety mounting comes first, then openings that let water in and drains that hold it back, then other work and defects, then looks at what nobody saw. Inside each, structure comes first, then the worse condition, then the zone nearer the front. The distance of 30 cm is the one the UK MOT inspection manual uses in its Appendix A; other countries have other rules.'),
      heading('What is not done'),
      ...bullets([
        ['No likelihood is given: how soon steel is through is not estimated in this version.'],
        ['No roadworthiness is judged and no opinion is given of what the car is worth.'],
        ['No photo is judged by a program: what a photo shows is what the inspector wrote.'],
        ['No visit is compared with another in this version.'],
      ]),
      heading('Sources'),
      paragraph('Records of zones, openings, conditions and cautions rest on these:'),
      ...sources(context),
    ],
  };
}

function evidence(context: Context): BlockOf<'table'>[] {
  const rows = context.inspection.job.catalogue.evidence.map((one) => ({
    cells: [cell(String(one.grade)), cell(inSentence(termIn(one.name, context.language))), cell(one.counts ? 'yes' : 'no')],
  }));
  return table('Ways of looking', [['Order>', 1], ['How', 6], ['Counts as seen', 2]], rows).filter((block) => block.type === 'table');
}

function sources(context: Context): BlockOf<'table'>[] {
  const { zones, parts, conditions, cautions, evidence: ways, reasons, views, bodies } = context.inspection.job.catalogue;
  const all = [...zones, ...parts, ...conditions, ...cautions, ...ways, ...reasons, ...views, ...bodies].map((record) => record.source);
  const distinct = [...new Set(all)].sort();
  const rows = distinct.map((source) => ({ cells: [cell(source), cell(String(all.filter((one) => one === source).length))] }));
  return table('Sources of the records', [['Source', 8], ['Records>', 1]], rows).filter((block) => block.type === 'table');
}
