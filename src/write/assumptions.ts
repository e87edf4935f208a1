import type { Block, BlockOf } from '../model/dossier.ts';
import type { RiskMixture, RiskValue } from '../model/risk.ts';
import { assumptionsOf } from '../model/risk.ts';
import { capital } from '../model/wording.ts';
import { countText, listText, numberText } from '../units.ts';
import type { Context } from './context.ts';
import { assumptionAnchor } from './inputs.ts';
import { aside, bullets, cell, heading, paragraph, table } from './inline.ts';

type Row = BlockOf<'table'>['rows'][number];

/** How the outlook is worked out: the logic, what it is not, what it took of this car's surroundings, and every assumption. */
export function outlookMethod(context: Context): Block[] {
  const { risk } = context.inspection.job.catalogue;
  return [
    heading('The outlook'),
    paragraph(`Shared risk model, version ${context.outlook.model}. Nothing published gives rates of rust inside the closed sections of cars. The outlook is built from published pieces for how rust goes on, and from judgement for the rest; each number stands below with its source or the words “our judgement”.`),
    ...bullets([
      ['Water has to get in, and protection has to be lost: a closed, drained and dry section hardly rusts, however old it is (ISO 12944-3:1998, clause 5.7). The chance that water gets in is worked out over all openings of the section and their places.'],
      ['Wetness, salt and drains set a class of rates. The classes are those of ISO 9223:2012, used only as an agreed scale: that standard is about coupons in open air and does not rate this car. The loss goes on as a power of time, straight from 20 years on (ISO 9224:2012).'],
      ['Loss so far is taken from what was seen of the metal, or from a usable thickness reading; age alone says nothing, as a plug may have been gone for a month or for forty years. Where a section is known to have been new or treated in a year, the same course is run from then, given that it was seen not to be through.'],
      ['What was seen is taken as seen. What was not seen is drawn from how such things usually turn out, never taken as fair. What was told or inferred counts as not seen.'],
      ['What is not known (judgements between their low and high, states nobody saw) is drawn 64 times; what varies (rate, exponent, protection) 256 times in each. A range holds eight in ten of the 64; the dashed line of a bar reaches from everything unseen at its best to everything unseen at its worst. All sections share the same draws, so that like sections get like answers.'],
      ['“With the work done” uses the same draws with new plugs, open drains and new protection. Care never gives back steel that is gone; a patch or a new piece starts anew. Wax over rust protects for a shorter time than over clean metal.'],
      ['Hours to cut out and replace a section are those of its record, our judgement. What is spared is the difference of two chances times those hours.'],
    ]),
    paragraph(surroundingsText(context)),
    ...changedText(context),
    heading('Limits of the outlook'),
    ...bullets([
      ['It is a ranking aid: it says which section wants work or a look first, and how sure that is. It is no prediction for this car.'],
      ['It is no structural certificate and no verdict on roadworthiness. Structure that is holed, thin or badly patched has to be examined by someone licensed to, whatever a range says.'],
      ['A word of likelihood never stands without its numbers. The words are those of the IPCC guidance note on uncertainty (Mastrandrea and others, 2010): very unlikely 0 to 10 in 100, unlikely 0 to 33, about as likely as not 33 to 66, likely 66 to 100, very likely 90 to 100.'],
      ['Likelihood and consequence are not put into a grid of colours: such grids rank wrongly (Cox 2008, Risk Analysis 28(2)).'],
      ['Crash damage, poor repairs and stray leaks the findings do not name are not in it.'],
    ]),
    heading('Every assumption, and what it does to the answer'),
    aside(`${capital(countText(assumptionsOf(risk).length, 'assumption', 'assumptions'))}. Last column: of the ${context.outlook.car.sections} closed sections, how many would be expected through within ten years if left, with that assumption at its low and at its high end (a mixture: its best state half as common again, and half as common). The largest effect stands first, and “hardly any” is a difference of less than a tenth; it is worked out with fewer draws than the outlook.`),
    ...table('Assumptions of the shared risk model', [['Assumption', 4], ['Low, likely, high', 4], ['Reason and source', 6], ['Through, at low and at high>', 2]], rowsOf(context)),
  ];
}

function rowsOf(context: Context): Row[] {
  const { risk } = context.inspection.job.catalogue;
  const effects = new Map(context.outlook.sensitivity.map((one, index) => [one.id, { ...one, index }]));
  const place = (id: string): number => effects.get(id)?.index ?? Number.MAX_SAFE_INTEGER;
  return [...assumptionsOf(risk)].sort((a, b) => place(a.id) - place(b.id)).map((one) => {
    const effect = effects.get(one.id);
    return { id: assumptionAnchor(one.id), cells: [
      cell(capital(one.name)),
      cell(numbersText(one)),
      cell(`${capital(one.why)} (${one.source}).`),
      cell(effect && Math.abs(effect.low - effect.high) >= 0.05 ? `${numberText(effect.low, 1)}; ${numberText(effect.high, 1)}` : 'hardly any'),
    ] };
  });
}

/** "0.85 / 0.95 / 0.99", or each state with its share in 100. */
function numbersText(one: RiskValue | RiskMixture): string {
  if ('shares' in one) return one.states.map((state, index) => `${state.replaceAll('-', ' ')} ${numberText((one.shares[index] ?? 0) * 100, 1)}`).join(', ') + ' in 100';
  const { low, likely, high, unit, spread } = one;
  const numbers = low === high ? numberText(likely, 3) : [low, likely, high].map((number) => numberText(number, 3)).join(' / ');
  return `${numbers}${unit ? ` ${unit}` : ''}${spread > 0 ? `; varies with a sigma of ${numberText(spread, 3)}` : ''}`;
}

/** What the car stands in, as taken. */
function surroundingsText(context: Context): string {
  const { salt, kept, air } = context.outlook.car.surroundings;
  const keptText = kept === 'unseen' ? 'where the car is kept was not written, so it was drawn from what is usual' : `kept: ${{ heated: 'inside, heated', inside: 'inside', outside: 'outside', coast: 'near the coast' }[kept] ?? kept}`;
  const saltText = salt === 'unseen' ? 'winter salt was not written, so it was drawn from what is usual' : `winter salt: ${salt}`;
  const airText = air === null ? '' : ` The air as written gives steel in the open a first-year rate of ${numberText(air.rateUm, 1)} µm by the dose-response function of ISO 9223:2012 (class ${air.rateClass}); a wet section counts no lower.`;
  return `Surroundings taken for this car: ${keptText}; ${saltText}.${airText}`;
}

function changedText(context: Context): Block[] {
  const { risk } = context.inspection.job.catalogue;
  if (risk.changed.length === 0) return [];
  const named = risk.changed.map(({ id, was }) => {
    const one = assumptionsOf(risk).find((candidate) => candidate.id === id);
    return `${one?.name ?? id} (was ${was.map((number) => numberText(number, 3)).join(' / ')})`;
  });
  return [paragraph({ text: 'Changed by this job: ', strong: true }, `${listText(named)}. The numbers of this dossier are not those of the model as it is shared.`)];
}
