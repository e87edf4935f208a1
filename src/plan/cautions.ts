import type { Inspection, Plan, Step, ZoneInspection } from '../model/inspection.ts';
import { conditionOf, zoneIsStructure } from '../model/wording.ts';

/** Words of the work that call for a caution, beside those the records name. Ids the catalogue lacks are left out. */
const byWord: readonly { word: RegExp; ids: RegExp }[] = [
  { word: /\b(weld|braz|grind|cut out|cutting)/i, ids: /weld|fume|^fire/ },
  { word: /\b(wax|aerosol|spray)/i, ids: /wax|aerosol/ },
  { word: /\b(paint|prim(e|er)|two-pack|2k)\b/i, ids: /paint|isocyanate/ },
  { word: /\b(lead|body solder)\b/i, ids: /lead/ },
  { word: /\b(underseal|asbestos)/i, ids: /asbestos|underseal/ },
  { word: /\b(drill|rivet|sand|scrape|wire brush)/i, ids: /dust|sharp/ },
];

/**
 * Ids of the cautions that belong to this job, in the catalogue's order: those of the steps and of the zones with
 * steps, those the written work calls for, and lifting wherever the car stood lifted or structure is concerned.
 */
export function cautionsOf(inspection: Inspection, steps: readonly Step[], work: Plan['work']): string[] {
  const { catalogue, notes } = inspection.job;
  const wanted = new Set(steps.flatMap((step) => step.cautions));
  const lifted = notes.visit.some((line) => /\b(stands?|lift|ramp|hoist|jack)/i.test(line.text));
  if (lifted || steps.some((step) => step.structure) || inspection.zones.some(zoneIsStructure)) {
    for (const caution of catalogue.cautions) if (/lift|jack/.test(caution.id)) wanted.add(caution.id);
  }
  for (const { work: one } of work) for (const id of cautionsOfWords(inspection, one.steps)) wanted.add(id);
  return catalogue.cautions.filter((caution) => wanted.has(caution.id)).map((caution) => caution.id);
}

/** Cautions that words of a work or remedy call for. */
export function cautionsOfWords(inspection: Inspection, words: string): string[] {
  const { cautions } = inspection.job.catalogue;
  return cautions.filter((caution) => byWord.some(({ word, ids }) => word.test(words) && ids.test(caution.id))).map((caution) => caution.id);
}

/** Cautions of conditions, without repeats, in the order of the catalogue. */
export function cautionsOfConditions(inspection: Inspection, conditions: readonly string[]): string[] {
  const { catalogue } = inspection.job;
  const wanted = new Set(conditions.flatMap((id) => conditionOf(catalogue, id)?.cautions ?? []));
  return catalogue.cautions.filter((caution) => wanted.has(caution.id)).map((caution) => caution.id);
}

/** Cautions of a step: of its conditions, its zone and its words, in the order of the catalogue. */
export function stepCautions(inspection: Inspection, zone: ZoneInspection, conditions: readonly string[], words: string): string[] {
  const wanted = new Set([
    ...cautionsOfConditions(inspection, conditions),
    ...zone.zone.record.cautions,
    ...cautionsOfWords(inspection, words),
  ]);
  return inspection.job.catalogue.cautions.filter((caution) => wanted.has(caution.id)).map((caution) => caution.id);
}
