import type { Inspection, Outlook, Plan, Step } from '../model/inspection.ts';
import { examineStep } from './examine.ts';
import { lookSteps } from './look.ts';
import { mendStep } from './mend.ts';
import { needsStep } from './needs.ts';
import type { Ranked } from './ranked.ts';

/**
 * The first steps: weakened steel in structure, then what has to come before other work, then work by what it is worth, then
 * looks by how much an hour of them narrows the range. What is worth the same is ordered by the worse condition, then from front to rear.
 */
export function stepsOf(inspection: Inspection, outlook: Outlook): Pick<Plan, 'steps' | 'orderedBy'> {
  const examine = inspection.zones.flatMap((zone, order) => examineStep(inspection, zone, order));
  const mend = inspection.zones.flatMap((zone, order) => mendStep(inspection, outlook, zone, order));
  const looks = lookSteps(inspection, outlook, new Set(mend.map(({ step }) => step.zone)));
  const orderedBy = mend.length > 0 && mend.every(({ step }) => step.worth === null || step.worth.perCost !== null) ? 'cost' : 'chance';
  const valued = mend.map((one) => ({ ...one, value: valueOf(one.step, orderedBy) }));
  const steps = [...examine, ...needsStep(inspection), ...valued, ...looks].sort(byWorth).map(({ step }) => step);
  return { steps, orderedBy };
}

function valueOf({ worth }: Step, orderedBy: Plan['orderedBy']): number {
  if (worth === null) return 0;
  return orderedBy === 'cost' ? (worth.perCost?.middle ?? 0) : worth.spared.middle;
}

function byWorth(a: Ranked, b: Ranked): number {
  return a.step.rank - b.step.rank ||
    (a.step.rank === 1 ? 0 : rounded(b.value) - rounded(a.value)) ||
    Number(b.step.structure) - Number(a.step.structure) ||
    b.badness - a.badness ||
    a.order - b.order ||
    (a.step.id < b.step.id ? -1 : 1);
}

/** Values that differ by less than anybody can tell are the same. */
function rounded(value: number): number {
  return Math.round(value * 1e4) / 1e4;
}
