import type { Catalogue, CavityRecord } from '../model/catalogue.ts';
import type { Observation, ZoneInspection } from '../model/inspection.ts';
import { conditionOf, findingCounts } from '../model/wording.ts';

/** What was seen of the inside of a closed section: metal, coating and water, by grades that count. */
export function seenInside(catalogue: Catalogue, zone: ZoneInspection, cavity: CavityRecord): Observation[] {
  return zone.observations.filter((one) => isInside(catalogue, one) && findingCounts(catalogue, one.finding) && concerns(zone, cavity, one));
}

/** Outer metal of a wall that is visibly eaten, though not weakened: any wall that goes through counts. Sound outer metal says nothing. */
export function eatenOutside(catalogue: Catalogue, zone: ZoneInspection, cavity: CavityRecord): Observation[] {
  return zone.observations.filter((one) =>
    one.part.type === 'metal' && !isInside(catalogue, one) && one.finding.conditions.some((id) => id === 'scaling' || id === 'pitted') &&
    findingCounts(catalogue, one.finding) && concerns(zone, cavity, one));
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
  const named = namedSections(zone, one);
  if (named.length > 0) return named.includes(cavity);
  return one.outcome === 'defect';
}

/**
 * The closed sections an observation names, by the first of these that answers: their own name in its place, the opening it
 * was seen through, a wall, the first word of a wall ("outer face" of an outer sill). Empty where nothing tells.
 */
export function namedSections(zone: ZoneInspection, one: Observation): CavityRecord[] {
  const { cavities, openings } = zone.zone.record;
  const { place } = one.finding.about;
  const through = one.finding.looked.through?.toLowerCase() ?? '';
  const [first = ''] = place.split(/[\s,]+/);
  const ways: ((cavity: CavityRecord) => boolean)[] = [
    (cavity) => namesCavity(cavity, place),
    (cavity) => through !== '' && zone.rows.some((row) => row.cavity === cavity.id && row.place !== '' && through.endsWith(row.place)),
    // Openings that were only counted have no place of their own; the place such openings usually have tells.
    (cavity) => through !== '' && openings.some((opening) => opening.cavity === cavity.id && opening.place !== '' && through.startsWith(opening.place)),
    (cavity) => place !== '' && cavity.walls.some((wall) => place.includes(wall.toLowerCase())),
    (cavity) => /^(outer|inner|upper|lower)$/.test(first) && [cavity.name, ...cavity.walls].some((name) => name.toLowerCase().split(/\s+/)[0] === first),
  ];
  for (const names of ways) {
    const found = cavities.filter(names);
    if (found.length > 0) return found;
  }
  return [];
}

/** Whether a place names the cavity itself: "inner cell, middle". */
export function namesCavity(cavity: CavityRecord, place: string): boolean {
  return place !== '' && [cavity.id.replaceAll('-', ' '), cavity.name.toLowerCase()].some((word) => place.includes(word));
}

/**
 * Whether a place speaks of part of the section only: anything that is left when the names of the section and of its
 * walls are taken away. "Front half" leaves the rest unseen, "inner cell" does not.
 */
export function isPartOnly(cavity: CavityRecord, place: string): boolean {
  const names = [cavity.id.replaceAll('-', ' '), cavity.name, ...cavity.walls].map((name) => name.toLowerCase());
  const rest = names.reduce((text, name) => text.replaceAll(name, ' '), place);
  return rest.replace(/[\s,]+|\b(the|of|all|whole|inside|in|and)\b/g, '') !== '';
}
