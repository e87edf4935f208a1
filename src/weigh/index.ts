import type { Catalogue, CavityRecord, Exposure } from '../model/catalogue.ts';
import { exposures } from '../model/catalogue.ts';
import type { CavityOutlook, Inspection, Observation, Outlook, RegisterRow, ZoneInspection } from '../model/inspection.ts';
import { badnessOf, conditionOf, findingCounts, worstCondition } from '../model/wording.ts';

/**
 * What was seen of every closed section: openings that let water in, drains that hold it back, what was not seen, and
 * the coating, metal and water inside. States only: how soon steel is through is not estimated here.
 */
export function weigh(inspection: Inspection): Outlook {
  const { catalogue } = inspection.job;
  return {
    cavities: inspection.zones.flatMap((zone) => zone.zone.record.cavities.map((cavity) => weighCavity(catalogue, zone, cavity))),
  };
}

function weighCavity(catalogue: Catalogue, zone: ZoneInspection, cavity: CavityRecord): CavityOutlook {
  const rows = zone.rows.filter((row) => row.cavity === cavity.id);
  const faulty = rows.filter((row) => row.outcome === 'defect' && row.seen).sort(worstFirst(catalogue));
  const inside = zone.observations.filter((one) => isInside(catalogue, one) && findingCounts(catalogue, one.finding) && concerns(zone, cavity, one));
  const conditionsOf = (type: string): string[] =>
    inside.filter((one) => one.part.type === type).flatMap((one) => one.finding.conditions);
  return {
    zone: zone.zone.id,
    cavity: cavity.id,
    name: cavity.name,
    carriesLoad: cavity.carriesLoad,
    letsIn: faulty.filter(letsIn).map((row) => row.id),
    holdsBack: faulty.filter((row) => holdsBack(catalogue, row)).map((row) => row.id),
    unseen: rows.filter((row) => !row.seen && row.outcome !== 'not fitted').map((row) => row.id),
    coating: worstCondition(catalogue, conditionsOf('coating'))?.id ?? null,
    metal: worstCondition(catalogue, conditionsOf('metal'))?.id ?? null,
    water: [...new Set(conditionsOf('water'))].sort((a, b) => badnessOf(catalogue, [b]) - badnessOf(catalogue, [a]) || (a < b ? -1 : 1)),
  };
}

/** Troubles of a drain that let water in rather than hold it back: the water runs into the section. */
const leaks = ['tube-off', 'missing', 'hole-enlarged'];

function holdsBack(catalogue: Catalogue, row: RegisterRow): boolean {
  return row.part.group === 'drain' && row.conditions.some((id) => !leaks.includes(id) && conditionOf(catalogue, id)?.outcome === 'defect');
}

function letsIn(row: RegisterRow): boolean {
  return row.part.group !== 'drain' || row.conditions.some((id) => leaks.includes(id));
}

function worstFirst(catalogue: Catalogue): (a: RegisterRow, b: RegisterRow) => number {
  return (a, b) =>
    badnessOf(catalogue, b.conditions) - badnessOf(catalogue, a.conditions) ||
    exposureRank(a.exposure) - exposureRank(b.exposure) ||
    (a.id < b.id ? -1 : 1);
}

function exposureRank(exposure: Exposure): number {
  return exposures.indexOf(exposure);
}

/** Outside coating and outer metal say nothing about the inside, except where a wall is weakened: any wall counts. */
function isInside(catalogue: Catalogue, one: Observation): boolean {
  if (one.part.type === 'water' || one.part.id.includes('inside')) return one.part.type !== 'repair';
  return one.part.type === 'metal' && one.finding.conditions.some((id) => conditionOf(catalogue, id)?.weakens);
}

/**
 * Whether an observation is about this cavity. A zone with one cavity leaves no choice; else the place, the opening it
 * was seen through, or a wall has to name it. A defect nobody can pin to one cavity is laid to each it could be in; a
 * sound finding is not, because that would call steel sound that nobody saw.
 */
function concerns(zone: ZoneInspection, cavity: CavityRecord, one: Observation): boolean {
  const all = zone.zone.record.cavities;
  if (all.length === 1) return true;
  const named = all.filter((candidate) => isNamed(zone, candidate, one));
  if (named.length > 0) return named.includes(cavity);
  return one.outcome === 'defect';
}

function isNamed(zone: ZoneInspection, cavity: CavityRecord, one: Observation): boolean {
  const { place } = one.finding.about;
  const words = [cavity.id.replaceAll('-', ' '), cavity.name.toLowerCase()];
  if (place && words.some((word) => place.includes(word))) return true;
  const { through } = one.finding.looked;
  if (through) return zone.rows.some((row) => row.cavity === cavity.id && row.place !== '' && through.toLowerCase().endsWith(row.place));
  return place !== '' && cavity.walls.some((wall) => place.includes(wall.toLowerCase()));
}
