import type { CavityRecord, ZoneRecord } from './catalogue.ts';
import { plainWords } from './zone-names.ts';

/** Words that do not tell one place of a panel from another. */
const general = new Set(['the', 'of', 'at', 'on', 'in', 'to', 'from', 'a', 'an', 'and', 'towards', 'toward', 'near', 'behind', 'face', 'side', 'skin', 'wall', 'panel', 'sheet', 'surface', 'half', 'third', 'part', 'area']);

/**
 * Whether two places of one zone can be one: the words of one are all among those of the other ("outer face" and "outer
 * face, rear"), in any order, general words and the zone's own name aside. A place without a word left can be anywhere.
 */
export function canBeSamePlace(zone: ZoneRecord, a: string, b: string): boolean {
  const [one, other] = [tellingWords(zone, a), tellingWords(zone, b)];
  const within = (some: readonly string[], all: readonly string[]): boolean => some.every((word) => all.includes(word));
  return within(one, other) || within(other, one);
}

/** The words of a place that tell it from others of its zone. */
export function tellingWords(zone: ZoneRecord, place: string): string[] {
  const own = new Set(plainWords(`${zone.name.gb} ${zone.name.us}`).split(' '));
  return plainWords(place).split(' ').filter((word) => word !== '' && !general.has(word) && !own.has(word));
}

/** Whether two places are in different closed sections of a zone: each names one or more, and none is common to both. */
export function inOtherCavity(zone: ZoneRecord, a: string, b: string): boolean {
  const [one, other] = [cavitiesNamed(zone, a), cavitiesNamed(zone, b)];
  return one.length > 0 && other.length > 0 && !one.some((cavity) => other.includes(cavity));
}

/** Sections a place names: by id, name or wall; or by "outer" and "inner", where the sections are told apart by these. */
function cavitiesNamed(zone: ZoneRecord, place: string): CavityRecord[] {
  const words = ` ${plainWords(place)} `;
  const has = (name: string): boolean => plainWords(name) !== '' && words.includes(` ${plainWords(name)} `);
  const named = zone.cavities.filter((cavity) => [cavity.id, cavity.name, ...cavity.walls].some(has));
  if (named.length > 0) return named;
  return zone.cavities.filter((cavity) => ['outer', 'inner'].some((word) => has(word) && plainWords(cavity.name).split(' ').includes(word)));
}
