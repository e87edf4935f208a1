import { expect, test } from 'vitest';
import type { Entry } from '../../src/model/notes.ts';
import type { ZoneInspection } from '../../src/model/inspection.ts';
import { place } from '../../src/place/index.ts';
import { finding, jobOf, mounting, remark, zoneNotes } from '../place/builders.ts';

/**
 * Source: UK MOT inspection manual for cars, Appendix A (Open Government Licence): the prescribed area is the load-bearing
 * structure within 30 cm of the mounting of a brake, steering, suspension or seat belt component, 30 cm included.
 */
const prescribedAreaMm = 300;

function boot(entries: Entry[]): ZoneInspection {
  const found = place(jobOf([zoneNotes('boot-floor', entries)])).zones.find(({ zone }) => zone.id === 'boot-floor');
  if (!found) throw new Error('no boot floor');
  return found;
}

test.each([
  [prescribedAreaMm - 1, true],
  [prescribedAreaMm, true],
  [prescribedAreaMm + 1, false],
])('at %d mm from a safety mounting, within the prescribed area: %s', (distanceMm, near) => {
  const zone = boot([finding('metal-inside, well: scaling'), mounting(distanceMm), finding('plug, floor 1: missing'), mounting(distanceMm)]);
  expect(zone.observations[0]).toMatchObject({ structure: near, mounting: { distanceMm, of: 'seat-belt bolt', near } });
  expect(zone.rows.find(({ place: where }) => where === 'floor 1')?.mounting).toEqual({ distanceMm, of: 'seat-belt bolt', near });
});

test('a mounting belongs to the finding right above it, the nearest of several, else to the zone', () => {
  const zone = boot([mounting(500), finding('plug, floor 1: missing'), mounting(400), mounting(220), finding('metal-inside: scaling'), remark('mats damp'), mounting(310)]);
  expect(zone.rows.find(({ place: where }) => where === 'floor 1')?.mounting).toMatchObject({ distanceMm: 220, near: true });
  expect(zone.observations[0]).toMatchObject({ structure: false, mounting: null });
  expect(zone.mountings.map(({ distanceMm }) => distanceMm)).toEqual([500, 310]);
  // The farther one of a finding is kept in its words.
  expect(zone.remarks.map(({ entry }) => entry.words)).toEqual(['mounting: 400 mm from seat-belt bolt', 'mats damp']);
});

test('a mounting near the zone makes all its metal structure', () => {
  expect(boot([mounting(300), finding('metal-inside: scaling')]).observations[0]?.structure).toBe(true);
});
