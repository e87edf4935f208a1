import type { Step } from '../model/inspection.ts';

/** A step with what decides its place among those of its rank. */
export interface Ranked {
  step: Step;
  /** Looks: by how much an hour of looking narrows the range. Work: set when all of it is known. */
  value: number;
  badness: number;
  /** Position of the zone, front to rear. */
  order: number;
}
