import type { Block, Section } from '../../model/dossier.ts';
import { inSentence, termIn } from '../../model/wording.ts';
import type { Context } from '../context.ts';
import { robustRule } from '../readings.ts';
import { outlookMethod } from '../assumptions.ts';
import { inputsTable } from '../inputs.ts';
import { readingTraps } from '../say.ts';
import { bullets, cell, heading, paragraph, table } from '../inline.ts';

/** How outcomes, coverage and evidence come about, what is not done, and where the words of the trade come from. */
export function method(context: Context): Section {
  return {
    id: 'method',
    title: 'How this was worked out',
    page: 'method',
    nav: 'Method',
    breakBefore: false,
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
      paragraph(`${evidenceText(context)} Where the findings do not say, “seen directly” is taken. A line is fact, seen by the inspector, unless it says “opinion” or “told by”. Hours in brackets beside a single time as written are our range for it: a fifth less to two fifths more.`),
      heading('Measuring'),
      paragraph(readingTraps),
      paragraph(`Film is compared only with the median of readings on panels that the findings name as baseline. ${robustRule} Steel read by ultrasound counts as thickness left only where neither face was seen rough, scaled, pitted, thin or holed and nothing lies over it; a reading that was told never does.`),
      heading('Order of the first steps'),
      paragraph('Steel that is holed, thin, crushed, patched or covered over, in structure or within 30 cm of a safety mounting comes first. Then comes what has to be done before other work; then work by the cost of cutting out and replacing it is expected to spare within five years for each unit of what it costs, or, where not everything has a price and a rate, by how many closed sections it is expected to spare; then looks at what nobody saw, by how much an hour of each narrows the range. What is worth the same: structure first, then the worse condition, then the zone nearer the front. The distance of 30 cm is the one the UK MOT inspection manual uses in its Appendix A; other countries have other rules.'),
      ...outlookMethod(context),
      ...inputsTable(context),
      ...overTime(context),
      heading('What is not done'),
      ...bullets([
        ['No roadworthiness is judged and no opinion is given of what the car is worth.'],
        ['No photo is judged by a program: what a photo shows is what the inspector wrote.'],
      ]),
      heading('Sources'),
      ...sources(context),
    ],
  };
}

/** How visits are compared; nothing where there is one. */
function overTime({ comparison }: Context): Block[] {
  if (!comparison) return [];
  return [
    heading('From visit to visit'),
    paragraph('An opening is the same where zone, kind and place are, or where the findings say what it was called before. Better and worse go by the worst condition written, a defect being worse than none. Steel within 0.1 mm, hardness within 5 Shore A and water within 5 mm of the value before count as unchanged, film within a tenth of it and at least 15 µm: two readings of one place differ by as much anyway (our judgement). A film that is thicker or thinner is neither better nor worse.'),
  ];
}

/** "taken apart and seen; seen directly; …", then those that do not count. */
function evidenceText(context: Context): string {
  const name = (counts: boolean): string => context.inspection.job.catalogue.evidence.filter((one) => one.counts === counts).map((one) => inSentence(termIn(one.name, context.language))).join('; ');
  return `Best first: ${name(true)}. These do not count as seen: ${name(false)}.`;
}

/** Records that name a publication; the others are counted in one line. */
function sources(context: Context): Block[] {
  const { zones, parts, conditions, cautions, evidence: ways, reasons, views, bodies, works, materials } = context.inspection.job.catalogue;
  const all = [...zones, ...parts, ...conditions, ...cautions, ...ways, ...reasons, ...views, ...bodies, ...works, ...materials].map((record) => record.source);
  const published = [...new Set(all)].filter(isPublished).sort();
  const rows = published.map((source) => ({ cells: [cell(source), cell(String(all.filter((one) => one === source).length))] }));
  return [
    paragraph(`Of the ${all.length} records of zones, openings, conditions, work and cautions, ${all.filter((one) => !isPublished(one)).length} rest on common practice, without a published source, or on our judgement; the others name one:`),
    ...table('Sources of the records', [['Source', 8], ['Records>', 1]], rows),
  ];
}

/** A published source is named by an abbreviation or number of its publisher, such as HSE or ISO 2178. */
function isPublished(source: string): boolean {
  return /[A-Z]{2,}/.test(source);
}
