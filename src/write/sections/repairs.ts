import type { Section } from '../../model/dossier.ts';
import { worstCondition } from '../../model/wording.ts';
import type { Context } from '../context.ts';
import { aside, paragraph } from '../inline.ts';
import { observationTable } from '../tables.ts';

/** Conditions of metal that are repairs, beside what was written as a sign of one. */
const repaired = ['patched', 'overlaid', 'filled', 'replaced'];

/** Signs of earlier repair, from all zones. */
export function repairs(context: Context): Section {
  const { catalogue } = context.inspection.job;
  const found = context.inspection.zones
    .flatMap((zone) => zone.observations)
    .filter((one) => one.part.type === 'repair' || repaired.includes(worstCondition(catalogue, one.finding.conditions)?.id ?? '') || one.finding.conditions.some((id) => repaired.includes(id)));
  const section = { id: 'repairs', title: 'Earlier repairs', page: 'register', nav: 'Earlier repairs', breakBefore: false };
  if (found.length === 0) return { ...section, blocks: [paragraph('No sign of an earlier repair was written down. That is no evidence that there was none.')] };
  return {
    ...section,
    blocks: [aside('A sign is a reason to look closer; what lies under it was not seen unless the line says so.'), ...observationTable(context, 'Signs of earlier repair', found)],
  };
}
