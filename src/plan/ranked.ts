import type { Step } from '../model/inspection.ts';

/** A step with what decides its place among those of its rank. */
export interface Ranked {
  step: Step;
  badness: number;
  /** Position of the zone, front to rear. */
  order: number;
}
