import type { Inspection, Outlook, Plan } from '../model/inspection.ts';
import type { Range } from '../model/outlook.ts';
import { worksOf } from '../model/zone-work.ts';
import { lookAgainOf } from './again.ts';
import { cautionsOf } from './cautions.ts';
import { costOfHours, estimateOf } from './cost.ts';
import { orderNotices } from './order.ts';
import { partsOf } from './parts.ts';
import { rateNotices } from './rates.ts';
import { recordOf } from './record.ts';
import { stepsOf } from './steps.ts';

/**
 * First steps in order, the work and parts as written, the cautions that go with them, what was done at this visit and
 * at those before it, oldest first, and notices about the order of work over all of them.
 */
export function plan(inspection: Inspection, outlook: Outlook, earlier: readonly Inspection[] = []): Plan {
  const { steps, orderedBy } = stepsOf(inspection, outlook);
  const work = inspection.zones.flatMap((zone) => worksOf(zone).map((one) => ({ zone: zone.zone.id, work: one })));
  return {
    steps,
    orderedBy,
    parts: partsOf(work),
    work,
    expected: expectedCost(inspection, outlook),
    estimate: estimateOf(inspection),
    cautions: cautionsOf(inspection, steps, work),
    record: recordOf(inspection, earlier),
    again: lookAgainOf(inspection, earlier),
    notices: [...orderNotices(inspection, earlier), ...rateNotices(inspection)],
  };
}

function expectedCost(inspection: Inspection, outlook: Outlook): Plan['expected'] {
  const { hours } = outlook.car;
  const rate = costOfHours(inspection, { low: 1, likely: 1, high: 1 }, 'metal');
  if (rate === null) return { hours, cost: null, perHour: null };
  const priced = ({ low, middle, high }: Range): Range => ({ low: low * rate.likely, middle: middle * rate.likely, high: high * rate.likely });
  return { hours, cost: { currency: rate.currency, alike: priced(hours.alike), apart: priced(hours.apart) }, perHour: rate.likely };
}
