import type { RegisterRow } from '../model/inspection.ts';
import type { Entry, Finding, Mounting } from '../model/notes.ts';

/**
 * Structure within this distance of a brake, steering, suspension or seat belt mounting belongs to the prescribed area,
 * the 30 cm themselves included: UK MOT inspection manual, cars, Appendix A.
 */
const nearMm = 300;

/** Distances from safety mountings as the lines of a zone give them. */
export interface Mountings {
  /** Of the finding written right above. */
  of: Map<Finding, Mounting[]>;
  /** Of the zone, where no finding stands right above. */
  ofZone: Mounting[];
}

/** Whether a distance from a safety mounting is within 30 cm, inclusive. */
export function isNear(distanceMm: number): boolean {
  return distanceMm <= nearMm;
}

/** Lays each mounting to the finding right above it, several below one another to the same, else to the zone. */
export function mountingsOf(entries: readonly Entry[]): Mountings {
  const result: Mountings = { of: new Map(), ofZone: [] };
  let above: Finding | null = null;
  for (const entry of entries) {
    if (entry.type !== 'mounting') {
      above = entry.type === 'finding' ? entry : null;
      continue;
    }
    if (!above) result.ofZone.push(entry);
    else result.of.set(above, [...(result.of.get(above) ?? []), entry]);
  }
  return result;
}

/** The nearest of several distances, null where there is none. */
export function nearestOf(mountings: readonly Mounting[]): RegisterRow['mounting'] {
  const nearest = mountings.toSorted((a, b) => a.distanceMm - b.distanceMm)[0];
  return nearest ? { distanceMm: nearest.distanceMm, of: nearest.of, near: isNear(nearest.distanceMm) } : null;
}
