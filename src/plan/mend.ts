import type { Inspection, Outlook, Step, ZoneInspection } from '../model/inspection.ts';
import type { Fault } from '../model/faults.ts';
import { clausesText, faultsOf } from '../model/faults.ts';
import { conditionText, inSentence, partText, termIn, worstCondition, zoneIsStructure, zoneName } from '../model/wording.ts';
import { worksOf } from '../model/zone-work.ts';
import { listText } from '../units.ts';
import { cavityPhrase } from './cavity.ts';
import { stepCautions } from './cautions.ts';
import { isExamined } from './examine.ts';
import { unclearIn } from './look.ts';
import type { Ranked } from './ranked.ts';
import { worthOf } from './worth.ts';
import { hoursLeft, sentence, workText } from './works.ts';

/** Clauses of a title; what goes beyond stands in the reason. */
const titled = 2;

/** One step a zone: its openings in trouble, its other defects, and the work written for it. Work that is done and answers no defect is no step any more. */
export function mendStep(inspection: Inspection, outlook: Outlook, zone: ZoneInspection, order: number): Ranked[] {
  const { catalogue, settings: { language } } = inspection.job;
  const faults = faultsOf(catalogue, zone, language, (one) => !isExamined(inspection, one));
  const works = worksOf(zone).filter((work) => !work.unplanned && (work.done.length === 0 || faults.length > 0));
  if (faults.length + works.length === 0) return [];
  const written = works.length > 0;
  const what = written ? workText(works) : remedyText(inspection, faults);
  const step: Step = {
    id: `step-${zone.zone.id}-mend`,
    zone: zone.zone.id,
    zones: [zone.zone.id],
    title: `${zoneName(zone.zone, language)}: ${faults.length > 0 ? clausesText(faults, titled) : 'work as written'}`,
    rank: 3,
    stopsWater: faults.some((fault) => fault.rows.length > 0),
    structure: faults.length > 0 ? faults.some((fault) => fault.structure) : zoneIsStructure(zone),
    outcome: faults.length > 0 ? 'defect' : zone.state,
    why: reasonText(inspection, outlook, zone, faults),
    what,
    suggested: !written && what !== '',
    hours: hoursLeft(works),
    worth: worthOf(inspection, outlook, zone, works.filter((work) => work.done.length === 0)),
    cautions: stepCautions(inspection, zone, what),
    answers: [...faults.flatMap((fault) => [...fault.rows, ...fault.observations]), ...unclearIn(zone)].map((one) => one.id),
  };
  // Of zones whose worst is equal, the one with more wrong comes first.
  const total = faults.reduce((sum, fault) => sum + fault.badness * (fault.rows.length + fault.observations.length), 0);
  return [{ step, value: 0, badness: Math.max(0, ...faults.map((fault) => fault.badness)) + total / 1e6, order }];
}

/** Which closed section the water gets into or stays in, what the worst condition means, and what the title leaves out. */
function reasonText(inspection: Inspection, outlook: Outlook, zone: ZoneInspection, faults: readonly Fault[]): string {
  const { catalogue, settings: { language } } = inspection.job;
  const ids = new Set(faults.flatMap((fault) => fault.rows).map((row) => row.id));
  const of = (rows: (one: Outlook['cavities'][number]) => string[]): Outlook['cavities'] =>
    outlook.cavities.filter((one) => one.zone === zone.zone.id && rows(one).some((id) => ids.has(id)));
  const letsIn = of((one) => one.letsIn);
  const holdsBack = of((one) => one.holdsBack);
  const worst = worstCondition(catalogue, (faults[0]?.rows.length ?? 0) > 0 ? faults.filter((fault) => fault.rows.length > 0).flatMap((fault) => fault.conditions) : faults.flatMap((fault) => fault.conditions));
  const more = faults.slice(titled).map((fault) => fault.text);
  const unclear = unclearIn(zone).map((one) => partText(one.part, 'finding' in one ? one.finding.about.place : one.place, language));
  return [
    letsIn.length > 0 ? `Water can get into ${cavityPhrase(zone.zone, letsIn, language)}.` : '',
    holdsBack.length > 0 ? `Water is held back in ${cavityPhrase(zone.zone, holdsBack, language)}.` : '',
    worst ? sentence(`${conditionText(catalogue, worst.id, language)}: ${inSentence(worst.meaning)}`) : '',
    more.length > 0 ? `Also found: ${more.join(', ')}.` : '',
    unclear.length > 0 ? `Without a clear answer: ${unclear.join('; ')}.` : '',
  ].filter((text) => text !== '').join(' ');
}

/** The usual remedy of each fault; where there are several, each named by its part. */
function remedyText(inspection: Inspection, faults: readonly Fault[]): string {
  const { catalogue, settings: { language } } = inspection.job;
  const all = faults.flatMap((fault) => {
    const remedy = worstCondition(catalogue, fault.conditions)?.remedy ?? '';
    return remedy === '' ? [] : [{ remedy, name: inSentence(termIn(fault.rows.length > 1 ? fault.part.plural : fault.part.name, language)) }];
  });
  const distinct = [...new Set(all.map((one) => one.remedy))];
  if (distinct.length <= 1) return sentence(distinct[0] ?? '');
  return distinct.map((remedy) => sentence(`${listText(all.filter((one) => one.remedy === remedy).map((one) => one.name))}: ${remedy}`)).join(' ');
}
