import type { Inspection, Observation, Outlook, RegisterRow, Step, ZoneInspection } from '../model/inspection.ts';
import type { Work } from '../model/notes.ts';
import { badnessOf, conditionText, conditionsText, inSentence, partText, rowIsStructure, termIn, worstCondition, zoneIsStructure, zoneName, zonePhrase } from '../model/wording.ts';
import { listText } from '../units.ts';
import { isExamined } from './examine.ts';
import { stepCautions } from './cautions.ts';
import type { Ranked } from './ranked.ts';
import { hoursLeft, sentence, workKey, workText, worksOf } from './works.ts';

/** Rank 2, one step per kind of opening that is in trouble, and rank 3, one for all else of the zone. */
export function mendSteps(inspection: Inspection, outlook: Outlook, zone: ZoneInspection, order: number): Ranked[] {
  const { catalogue } = inspection.job;
  const faulty = zone.rows.filter((row) => row.outcome === 'defect');
  const kinds = [...new Set(faulty.map((row) => row.part.id))]
    .map((id) => faulty.filter((row) => row.part.id === id))
    .map((rows) => ({ rows, conditions: rows.flatMap((row) => row.conditions), structure: rows.some((row) => rowIsStructure(zone, row)) }))
    .map((kind) => ({ ...kind, badness: badnessOf(catalogue, kind.conditions) }))
    .sort((a, b) => Number(b.structure) - Number(a.structure) || b.badness - a.badness);
  const under = faulty.flatMap((row) => row.findings).flatMap((finding) => finding.work).map(workKey);
  const free = worksOf(zone).filter((work) => !under.includes(workKey(work)) && !underObservation(zone, work));
  const stops = kinds.map((kind, index) => {
    const own = worksOf(zone).filter((work) => kind.rows.some((row) => row.findings.some((finding) => finding.work.some((one) => workKey(one) === workKey(work)))));
    const works = index === 0 ? [...own, ...free] : own;
    const step = stopStep(inspection, outlook, zone, kind.rows, works);
    const see = works.length === 0 && free.length > 0;
    return { step: see ? { ...step, what: partOfAbove(inspection, zone), suggested: false } : step, badness: kind.badness, order };
  });
  return [...stops, ...otherStep(inspection, zone, order, { free: kinds.length === 0 ? free : [], above: kinds.length > 0 && free.length > 0 })];
}

function stopStep(inspection: Inspection, outlook: Outlook, zone: ZoneInspection, rows: readonly RegisterRow[], works: readonly Work[]): Step {
  const { catalogue, settings: { language } } = inspection.job;
  const conditions = rows.flatMap((row) => row.conditions);
  const part = rows[0]?.part.id ?? '';
  const written = works.length > 0;
  const what = written ? workText(works) : sentence(worstCondition(catalogue, conditions)?.remedy ?? '');
  return {
    id: `step-${zone.zone.id}-${part}`,
    zone: zone.zone.id,
    title: `${zoneName(zone.zone, language)}: ${kindText(inspection, zone, rows)}`,
    rank: 2,
    structure: rows.some((row) => rowIsStructure(zone, row)),
    outcome: 'defect',
    why: stopReason(inspection, outlook, zone, rows),
    what,
    suggested: !written && what !== '',
    hours: hoursLeft(works),
    cautions: stepCautions(inspection, zone, conditions, what),
    answers: rows.map((row) => row.id),
  };
}

/** "blind plug, inner face 2: missing", or "3 of 4 blind plugs: 2 missing, 1 cracked". */
function kindText(inspection: Inspection, zone: ZoneInspection, rows: readonly RegisterRow[]): string {
  const { catalogue, settings: { language } } = inspection.job;
  const [first] = rows;
  if (first === undefined) return '';
  if (rows.length === 1) return `${partText(first.part, first.place, language)}: ${conditionsText(catalogue, first.conditions, language)}`;
  const known = zone.rows.filter((row) => row.part.id === first.part.id && row.known !== 'kind' && row.outcome !== 'not fitted').length;
  const worst = rows.map((row) => row.conditions[0] ?? '');
  const kinds = [...new Set(worst)].sort((a, b) => badnessOf(catalogue, [b]) - badnessOf(catalogue, [a]));
  const counts = kinds.map((id) => `${worst.filter((one) => one === id).length} ${conditionText(catalogue, id, language)}`);
  const many = inSentence(termIn(first.part.plural, language));
  return `${rows.length === known ? `${known}` : `${rows.length} of ${known}`} ${many}: ${counts.join(', ')}`;
}

/** Which closed section the water gets into or stays in, from the outlook. */
function stopReason(inspection: Inspection, outlook: Outlook, zone: ZoneInspection, rows: readonly RegisterRow[]): string {
  const { catalogue } = inspection.job;
  const of = (ids: (one: Outlook['cavities'][number]) => string[]): Outlook['cavities'] =>
    outlook.cavities.filter((one) => one.zone === zone.zone.id && ids(one).some((id) => rows.some((row) => row.id === id)));
  const named = (cavities: Outlook['cavities']): string => listText(cavities.map((one) => `${inSentence(one.name)}${one.carriesLoad ? ' (carries load)' : ''}`));
  const letsIn = of((one) => one.letsIn);
  const holdsBack = of((one) => one.holdsBack);
  const worst = worstCondition(catalogue, rows.flatMap((row) => row.conditions));
  return [
    letsIn.length > 0 ? sentence(`As seen, water can get into: ${named(letsIn)}`) : '',
    holdsBack.length > 0 ? sentence(`As seen, water is held back in: ${named(holdsBack)}`) : '',
    worst ? sentence(worst.meaning) : '',
  ].filter((text) => text !== '').join(' ');
}

/** Work written for a zone as a whole stands in its first step; its other steps point there. */
function partOfAbove(inspection: Inspection, zone: ZoneInspection): string {
  return `See the work written for ${zonePhrase(zone.zone, inspection.job.settings.language)} above.`;
}

function underObservation(zone: ZoneInspection, work: Work): boolean {
  return zone.observations.some((one) => one.finding.work.some((nested) => workKey(nested) === workKey(work)));
}

/** Rank 3: what else was found or written to do in the zone. Work that is done and answers no defect is no step any more. */
function otherStep(inspection: Inspection, zone: ZoneInspection, order: number, { free, above }: { free: readonly Work[]; above: boolean }): Ranked[] {
  const { catalogue, settings: { language } } = inspection.job;
  const defects = zone.observations.filter((one) => one.outcome === 'defect' && !isExamined(inspection, one));
  const nested = worksOf(zone).filter((work) => underObservation(zone, work));
  const works = [...free, ...nested].filter((work) => work.done.length === 0 || defects.length > 0);
  if (defects.length + works.length === 0) return [];
  const conditions = defects.flatMap((one) => one.finding.conditions);
  const worst = worstCondition(catalogue, conditions);
  const written = works.length > 0;
  const what = written ? workText(works) : above ? partOfAbove(inspection, zone) : sentence(worst?.remedy ?? '');
  const found = defects.map((one) => observedText(inspection, one));
  const step: Step = {
    id: `step-${zone.zone.id}-other`,
    zone: zone.zone.id,
    title: `${zoneName(zone.zone, language)}: ${found[0] ?? 'work written'}${found.length > 1 ? ` and ${found.length - 1} more` : ''}`,
    rank: 3,
    structure: defects.length > 0 ? defects.some((one) => one.structure) : zoneIsStructure(zone),
    outcome: defects.length > 0 ? 'defect' : zone.state,
    why: [...found.slice(found.length > 1 ? 0 : 1).map(sentence), worst ? sentence(worst.meaning) : ''].filter((text) => text !== '').join(' '),
    what,
    suggested: !written && !above && what !== '',
    hours: hoursLeft(works),
    cautions: stepCautions(inspection, zone, conditions, what),
    answers: defects.map((one) => one.id),
  };
  return [{ step, badness: badnessOf(catalogue, conditions), order }];
}

function observedText(inspection: Inspection, one: Observation): string {
  const { catalogue, settings: { language } } = inspection.job;
  return `${partText(one.part, one.finding.about.place, language)}: ${conditionsText(catalogue, one.finding.conditions, language)}`;
}
