import type { Inspection, Outlook, Step } from '../model/inspection.ts';
import { examineStep } from './examine.ts';
import { lookSteps } from './look.ts';
import { mendStep } from './mend.ts';

/**
 * The first steps: weakened steel in structure, then water, then the rest, then looks at what nobody saw. Inside a rank
 * structure comes first, then the worse condition, then the zone with more wrong, then the one nearer the front.
 */
export function stepsOf(inspection: Inspection, outlook: Outlook): Step[] {
  const examine = inspection.zones.flatMap((zone, order) => examineStep(inspection, zone, order));
  const mend = inspection.zones.flatMap((zone, order) => mendStep(inspection, outlook, zone, order));
  return [...examine, ...mend, ...lookSteps(inspection, new Set(mend.map(({ step }) => step.zone)))]
    .sort((a, b) =>
      a.step.rank - b.step.rank ||
      Number(b.step.structure) - Number(a.step.structure) ||
      b.badness - a.badness ||
      a.order - b.order ||
      (a.step.id < b.step.id ? -1 : 1))
    .map(({ step }) => step);
}
