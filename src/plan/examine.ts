import type { Inspection, Observation, RegisterRow, Step, ZoneInspection } from '../model/inspection.ts';
import type { Finding } from '../model/notes.ts';
import { badnessOf, conditionOf, conditionText, conditionsText, inSentence, partText, rowIsStructure, toldBy, worstCondition, zoneName } from '../model/wording.ts';
import { examineCautions } from './cautions.ts';
import type { Ranked } from './ranked.ts';
import { sentence } from './works.ts';

/** Rank 1: weakened steel in structure or near a mounting, one step a zone, whoever said it: nobody drives on hearsay. */
export function examineStep(inspection: Inspection, zone: ZoneInspection, order: number): Ranked[] {
  const { catalogue, settings } = inspection.job;
  const observations = zone.observations.filter((one) => one.structure && one.outcome !== 'sound' && weakens(inspection, one.finding.conditions));
  const rows = zone.rows.filter((row) => rowIsStructure(zone, row) && weakens(inspection, conditionsOfRow(row)));
  if (observations.length + rows.length === 0) return [];
  const conditions = [...observations.flatMap((one) => one.finding.conditions), ...rows.flatMap(conditionsOfRow)];
  const said = [
    ...observations.map((one) => observationText(inspection, one)),
    ...rows.map((row) => `${partText(row.part, row.place, settings.language)}: ${conditionsText(catalogue, conditionsOfRow(row), settings.language)}`),
  ];
  const worst = worstCondition(catalogue, conditions.filter((id) => conditionOf(catalogue, id)?.weakens));
  const meaning = worst ? `${conditionText(catalogue, worst.id, settings.language)}: ${inSentence(worst.meaning)}` : '';
  const seen = observations.some((one) => one.outcome === 'defect') || rows.some((row) => row.outcome === 'defect');
  const step: Step = {
    id: `step-${zone.zone.id}-examine`,
    zone: zone.zone.id,
    zones: [zone.zone.id],
    title: `${zoneName(zone.zone, settings.language)}: have the steel examined`,
    rank: 1,
    structure: true,
    outcome: seen ? 'defect' : 'cannot tell',
    why: [...said, meaning].filter((text) => text !== '').map(sentence).join(' '),
    what: 'Have it examined by someone licensed to before the car is driven or lifted.',
    suggested: false,
    hours: null,
    stopsWater: false,
    worth: null,
    cautions: examineCautions(inspection),
    answers: [...observations.map((one) => one.id), ...rows.map((row) => row.id)],
  };
  return [{ step, value: 0, badness: badnessOf(catalogue, conditions), order }];
}

/** Whether an observation is answered by the examination, and so needs no further step of its own. */
export function isExamined(inspection: Inspection, one: Observation): boolean {
  return one.structure && one.outcome !== 'sound' && weakens(inspection, one.finding.conditions);
}

function observationText(inspection: Inspection, one: Observation): string {
  const { catalogue, settings } = inspection.job;
  const near = one.mounting?.near ? `, within 30 cm of ${one.mounting.of}` : '';
  const text = `${partText(one.part, one.finding.about.place, settings.language)}: ${conditionsText(catalogue, one.finding.conditions, settings.language)}${near}`;
  return `${text}${originText(one.finding)}`;
}

function originText(finding: Finding): string {
  if (finding.origin.kind === 'told') return ` (${toldBy(finding.origin.by)}, not seen)`;
  return finding.origin.kind === 'opinion' ? ' (opinion)' : '';
}

/** Told rows may carry their conditions in the finding only. */
function conditionsOfRow(row: RegisterRow): string[] {
  return [...new Set([...row.conditions, ...row.findings.flatMap((finding) => finding.conditions)])];
}

function weakens(inspection: Inspection, conditions: readonly string[]): boolean {
  return conditions.some((id) => conditionOf(inspection.job.catalogue, id)?.weakens);
}
