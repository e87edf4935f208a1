import { outcomes, zonesOf } from '../../../src/model/catalogue.ts';
import type { Outcome, ZoneRecord } from '../../../src/model/catalogue.ts';
import type { ZoneMap } from '../../../src/model/zone-map.ts';
import { readCatalogue } from '../../../src/read/catalogue/index.ts';

export const catalogue = readCatalogue();

/** Every body of the catalogue, with two doors and with four. */
export const builds: readonly { body: string; rearDoors: boolean }[] = catalogue.bodies.flatMap(({ id }) => [false, true].map((rearDoors) => ({ body: id, rearDoors })));

/** Ids of the zones expected on a body. */
export function expectedZones(body: string, rearDoors: boolean): string[] {
  return catalogue.zones.filter((record) => record.bodies.includes(body) && (rearDoors || !record.rearDoors)).flatMap(zonesOf).map((zone) => zone.id);
}

/** A map of a body with some records' zones; states by the place in the list, or one for all. */
export function mapOf(body: string, rearDoors: boolean, records: readonly ZoneRecord[], state?: Outcome): ZoneMap {
  const zones = records.flatMap(zonesOf).map((zone, index) => ({
    zone: zone.id, name: zone.name, state: state ?? outcomes[index % outcomes.length] ?? 'not seen', structure: zone.record.carries === 'structure', gist: index % 2 === 0 ? 'plug missing' : '',
  }));
  return { body, bodyName: body, rearDoors, doubt: '', zones };
}

/** The map of a body with the zones expected on it. */
export function wholeMap(body: string, rearDoors: boolean, state?: Outcome): ZoneMap {
  const expected = new Set(expectedZones(body, rearDoors));
  return mapOf(body, rearDoors, catalogue.zones.filter((record) => zonesOf(record).some((zone) => expected.has(zone.id))).toSorted((a, b) => a.order - b.order), state);
}

type Point = [number, number];

/** Corner points of path data with M, L, C, Z, curves in small steps: a reading of the path apart from the one under test. */
export function ringsOf(d: string): Point[][] {
  const rings: Point[][] = [];
  for (const [, command, rest = ''] of d.matchAll(/([MLCZ])([^MLCZ]*)/g)) {
    const numbers = rest.trim() === '' ? [] : rest.trim().split(' ').map(Number);
    const ring = rings.at(-1);
    const [ax = 0, ay = 0] = ring?.at(-1) ?? [];
    if (command === 'M') rings.push([[numbers[0] ?? 0, numbers[1] ?? 0]]);
    if (command === 'L') ring?.push([numbers[0] ?? 0, numbers[1] ?? 0]);
    if (command === 'C') {
      const [bx = 0, by = 0, cx = 0, cy = 0, dx = 0, dy = 0] = numbers;
      for (let step = 1; step <= 12; step += 1) {
        const t = step / 12;
        const u = 1 - t;
        ring?.push([u ** 3 * ax + 3 * u * u * t * bx + 3 * u * t * t * cx + t ** 3 * dx, u ** 3 * ay + 3 * u * u * t * by + 3 * u * t * t * cy + t ** 3 * dy]);
      }
    }
  }
  return rings;
}

/** Even-odd rule: a ray to the right crosses the edges an odd number of times. */
export function holds(rings: readonly (readonly Point[])[], [x, y]: readonly [number, number]): boolean {
  let crossings = 0;
  for (const ring of rings) {
    ring.forEach(([ax, ay], index) => {
      const [bx, by] = ring[(index + 1) % ring.length] ?? [ax, ay];
      if (ay <= y !== by <= y && ax + ((y - ay) / (by - ay)) * (bx - ax) > x) crossings += 1;
    });
  }
  return crossings % 2 === 1;
}
