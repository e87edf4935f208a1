import type { Inspection, ZoneInspection } from '../model/inspection.ts';
import { coverageSum } from './coverage.ts';

/**
 * A car as it is known by all its visits: zones that the newest did not enter stand as the last visit that did found them,
 * marked with its day. Nothing is mixed within a zone, and what was last seen is not said to be so still.
 */
export function carry(current: Inspection, earlier: readonly Inspection[]): Inspection {
  const zones = current.zones.map((zone) => (zone.entered ? zone : (lastLook(earlier, zone.zone.id) ?? zone)));
  const known = new Set(zones.map(({ zone }) => zone.id));
  const further = earlier.flatMap((visit) => visit.zones).filter((zone) => zone.entered && !known.has(zone.zone.id)).map(({ zone }) => zone.id);
  const all = [...zones, ...[...new Set(further)].flatMap((id) => lastLook(earlier, id) ?? [])].toSorted((a, b) => a.zone.record.order - b.zone.record.order);
  return {
    ...current,
    zones: all,
    coverage: coverageSum(all.map((zone) => zone.coverage)),
    filmBaseline: current.filmBaseline ?? earlier.findLast((visit) => visit.filmBaseline !== null)?.filmBaseline ?? null,
    unfound: new Map([...earlier.flatMap((visit) => [...visit.unfound]), ...current.unfound]),
  };
}

function lastLook(earlier: readonly Inspection[], id: string): ZoneInspection | null {
  const visit = earlier.findLast((one) => one.zones.some((zone) => zone.zone.id === id && zone.entered));
  const zone = visit?.zones.find((one) => one.zone.id === id);
  return visit && zone ? { ...zone, carried: { date: visit.job.notes.seen?.date ?? null, visit: visit.job.visit ?? '' } } : null;
}
