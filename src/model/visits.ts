import type { Inspection, Outlook, Plan } from './inspection.ts';

/** A visit of the car, judged at its own date. */
export interface Visit {
  inspection: Inspection;
  outlook: Outlook;
  plan: Plan;
}
