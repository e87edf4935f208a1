import type { Inspection, Outlook, Plan } from '../model/inspection.ts';
import { cautionsOf } from './cautions.ts';
import { orderNotices } from './order.ts';
import { partsOf } from './parts.ts';
import { stepsOf } from './steps.ts';
import { worksOf } from './works.ts';

/** First steps in order, the work and parts as written, the cautions that go with them, and notices about the order of work. */
export function plan(inspection: Inspection, outlook: Outlook): Plan {
  const steps = stepsOf(inspection, outlook);
  const work = inspection.zones.flatMap((zone) => worksOf(zone).map((one) => ({ zone: zone.zone.id, work: one })));
  return {
    steps,
    parts: partsOf(work),
    work,
    cautions: cautionsOf(inspection, steps, work),
    notices: orderNotices(inspection),
  };
}
