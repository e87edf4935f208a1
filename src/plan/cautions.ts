import type { Inspection, Plan, Step, ZoneInspection } from '../model/inspection.ts';
import { conditionOf, zoneIsStructure } from '../model/wording.ts';

/** Words of the work that call for a caution. Ids the catalogue lacks are left out. */
const byWord: readonly { word: RegExp; step: RegExp; job: RegExp }[] = [
  { word: /\b(weld|braz|grind|cut (?:out|back)|cutting)/i, step: /^welding$/, job: /weld|fume|^fire/ },
  { word: /\b(wax|aerosol|spray)/i, step: /wax|aerosol/, job: /wax|aerosol/ },
  { word: /\b(paint|prim(e|er)|two-pack|2k)\b/i, step: /isocyanate/, job: /paint|isocyanate/ },
  { word: /\b(lead|body solder)\b/i, step: /lead/, job: /lead/ },
  { word: /\basbestos/i, step: /asbestos/, job: /asbestos/ },
  { word: /\bunderseal/i, step: /asbestos/, job: /asbestos|underseal/ },
  { word: /\b(drill|rivet|sand|scrape|wire brush)/i, step: /dust|sharp/, job: /dust|sharp/ },
];

/** Zone cautions that go with any work or look there, others only where the words say so. */
const always = /lift|jack/;
/** Work that makes heat or sparks, for zones near fuel. */
const hot = /\b(weld|braz|grind|cut|drill|burn|heat|torch)/i;

/**
 * Ids of the cautions that belong to this job, in the catalogue's order: those of the steps and of the defects, those the
 * work calls for, and lifting wherever the car stood lifted or structure is concerned.
 */
export function cautionsOf(inspection: Inspection, steps: readonly Step[], work: Plan['work']): string[] {
  const { catalogue, notes } = inspection.job;
  const wanted = new Set(steps.flatMap((step) => step.cautions));
  const lifted = notes.visit.some((line) => /\b(stands?|lift|ramp|hoist|jack)/i.test(line.text));
  if (lifted || steps.some((step) => step.structure) || inspection.zones.some(zoneIsStructure)) {
    for (const caution of catalogue.cautions) if (/lift|jack/.test(caution.id)) wanted.add(caution.id);
  }
  const said = [...work.map((one) => one.work.steps), ...steps.map((step) => step.what)];
  for (const { word, job } of byWord) {
    if (said.some((words) => word.test(words))) for (const { id } of catalogue.cautions) if (job.test(id)) wanted.add(id);
  }
  for (const id of conditionCautions(inspection)) wanted.add(id);
  return catalogue.cautions.filter((caution) => wanted.has(caution.id)).map((caution) => caution.id);
}

function conditionCautions(inspection: Inspection): string[] {
  const { catalogue } = inspection.job;
  const found = inspection.zones.flatMap((zone) => [
    ...zone.rows.filter((row) => row.outcome === 'defect').flatMap((row) => row.conditions),
    ...zone.observations.filter((one) => one.outcome !== 'sound').flatMap((one) => one.finding.conditions),
  ]);
  return found.flatMap((id) => conditionOf(catalogue, id)?.cautions ?? []);
}

/** Cautions of one step, in the catalogue's order: what its words call for, and what goes with any work in the zone. */
export function stepCautions(inspection: Inspection, zone: ZoneInspection, words: string): string[] {
  return inOrder(inspection, (id) => (zone.zone.record.cautions.includes(id) && (always.test(id) || (/^fire/.test(id) && hot.test(words)))) || byWord.some(({ word, step }) => word.test(words) && step.test(id)));
}

/** Cautions of an examination of weakened steel: lifting, and the welding that may follow. */
export function examineCautions(inspection: Inspection): string[] {
  return inOrder(inspection, (id) => /lift|jack|^welding$/.test(id));
}

/** Cautions of looks at several zones. */
export function lookCautions(inspection: Inspection, zones: readonly ZoneInspection[], words: string): string[] {
  const wanted = new Set(zones.flatMap((zone) => stepCautions(inspection, zone, words)));
  return inOrder(inspection, (id) => wanted.has(id));
}

function inOrder(inspection: Inspection, wanted: (id: string) => boolean): string[] {
  return inspection.job.catalogue.cautions.map((caution) => caution.id).filter(wanted);
}
