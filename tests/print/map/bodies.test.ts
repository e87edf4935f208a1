import { describe, expect, test } from 'vitest';
import { drawnBodies, drawnMap } from '../../../src/print/map/index.ts';
import type { DrawnView } from '../../../src/print/map/index.ts';
import { builds, catalogue, expectedZones, holds, mapOf, ringsOf, wholeMap } from './maps.ts';

const plain = /^(?:M-?\d+(?:\.\d)? -?\d+(?:\.\d)?(?:L-?\d+(?:\.\d)? -?\d+(?:\.\d)?|C-?\d+(?:\.\d)?(?: -?\d+(?:\.\d)?){5})*Z?)+$/;

function pathsOf(views: readonly DrawnView[]): string[] {
  return views.flatMap((view) => [...view.ink.map(({ d }) => d), ...view.areas.flatMap(({ d, detail }) => (detail === '' ? [d] : [d, detail]))]);
}

function numbersOf(d: string): number[] {
  return (d.match(/-?\d+(?:\.\d+)?/g) ?? []).map(Number);
}

/** Left, right, top and bottom of path data, handles of curves included: nothing of a curve leaves them. */
function boundsOf(d: string): { left: number; right: number; top: number; bottom: number } {
  const numbers = numbersOf(d);
  const [xs, ys] = [numbers.filter((_, at) => at % 2 === 0), numbers.filter((_, at) => at % 2 === 1)];
  return { left: Math.min(...xs), right: Math.max(...xs), top: Math.min(...ys), bottom: Math.max(...ys) };
}

test('there is a drawing of every body of the catalogue', () => {
  expect([...drawnBodies].sort()).toEqual(catalogue.bodies.map(({ id }) => id).sort());
});

describe.each(builds)('$body, rear doors: $rearDoors', ({ body, rearDoors }) => {
  const drawn = drawnMap(wholeMap(body, rearDoors));

  test('every zone expected on it has an area, and is reached in just one view', () => {
    const expected = expectedZones(body, rearDoors);
    const areas = drawn.views.flatMap((view) => view.areas);
    expect([...new Set(areas.map(({ zone }) => zone))].sort()).toEqual([...expected].sort());
    expect(areas.filter(({ main }) => main).map(({ zone }) => zone).sort()).toEqual([...expected].sort());
    expect(drawn.notes.join(' ')).not.toContain('Not on the drawing');
  });

  test('a zone has one area in a view, and none that the body lacks has any', () => {
    // Offered every zone of the catalogue, it draws only its own.
    const offered = drawnMap(mapOf(body, rearDoors, catalogue.zones));
    for (const view of offered.views) {
      const zones = view.areas.map(({ zone }) => zone);
      expect(new Set(zones).size, view.id).toBe(zones.length);
      expect(zones.filter((zone) => !expectedZones(body, rearDoors).includes(zone)), view.id).toEqual([]);
    }
  });

  test('paths have absolute M, L, C, Z and plain decimals only, and stay within their view', () => {
    for (const d of pathsOf(drawn.views)) expect(d).toMatch(plain);
    for (const view of drawn.views) {
      const [, , width] = view.frame;
      for (const { zone, d } of view.areas) {
        const { left, right, top, bottom } = boundsOf(d);
        expect(Math.min(left, width - right, top), `${view.id} ${zone}`).toBeGreaterThan(0);
        expect(bottom, `${view.id} ${zone}`).toBeLessThan(view.frame[1] + view.frame[3]);
      }
    }
  });

  test('left and right mirror each other, in plans and from side to side', () => {
    for (const view of drawn.views.filter(({ id }) => id !== 'left' && id !== 'right')) {
      const outline = boundsOf(view.ink.find(({ pen }) => pen === 'outline')?.d ?? '');
      const middle = outline.top + outline.bottom;
      const lefts = view.areas.filter(({ zone }) => zone.endsWith('-left'));
      expect(lefts.length, view.id).toBeGreaterThanOrEqual(3);
      for (const { zone, d } of lefts) {
        const other = view.areas.find((area) => area.zone === zone.replace(/left$/, 'right'));
        expect(other, zone).toBeDefined();
        // Seen from above with the front to the left, the car's left is below.
        expect(boundsOf(d).top, zone).toBeGreaterThan(boundsOf(other?.d ?? '').top);
        numbersOf(d).forEach((value, at) => {
          const mirrored = numbersOf(other?.d ?? '')[at] ?? Number.NaN;
          expect(Math.abs(at % 2 === 0 ? value - mirrored : value + mirrored - middle), `${view.id} ${zone}`).toBeLessThan(0.25);
        });
      }
    }
    const [left, right] = drawn.views;
    expect(left?.areas.map(({ zone }) => zone.replace(/-left$/, ''))).toEqual(right?.areas.map(({ zone }) => zone.replace(/-right$/, '')));
    left?.areas.forEach(({ d }, at) => {
      const mirrored = numbersOf(right?.areas[at]?.d ?? '');
      numbersOf(d).forEach((value, index) => expect(Math.abs(index % 2 === 0 ? value + (mirrored[index] ?? 0) - left.frame[2] : value - (mirrored[index] ?? 0))).toBeLessThan(0.25));
    });
  });

  test('the label point of an area lies in it, and in no other', () => {
    for (const view of drawn.views) {
      const rings = view.areas.map(({ d }) => ringsOf(d));
      view.areas.forEach(({ zone, label }, at) => {
        expect(rings.flatMap((ring, other) => (holds(ring, label) ? [view.areas[other]?.zone] : [])), `${view.id} ${zone}`).toEqual([view.areas[at]?.zone]);
      });
    }
  });

  test('areas of one view lie beside each other, never over each other', () => {
    for (const view of drawn.views) {
      const areas = view.areas.map(({ zone, d }) => ({ zone, rings: ringsOf(d), bounds: boundsOf(d) }));
      const twice = new Map<string, number>();
      for (let x = 1; x < view.frame[2]; x += 2.3) {
        for (let y = 1; y < view.frame[3]; y += 1.9) {
          const here = areas.filter(({ rings, bounds }) => x >= bounds.left && x <= bounds.right && y >= bounds.top && y <= bounds.bottom && holds(rings, [x, y])).map(({ zone }) => zone);
          if (here.length > 1) twice.set(here.join(' and '), (twice.get(here.join(' and ')) ?? 0) + 1);
        }
      }
      expect([...twice], view.id).toEqual([]);
    }
  });

  test('one scale for all views: the wheels stand at the same places along the car', () => {
    const places = drawn.views.filter(({ id }) => id !== 'above').map((view) => {
      const wheels = view.ink.filter(({ pen }) => pen === (view.id === 'left' || view.id === 'right' ? 'wheel' : 'ghost')).flatMap(({ d }) => ringsOf(d)).filter((ring) => ring.length > 4);
      const centres = wheels.map((ring) => { const xs = ring.map(([x]) => x); return Math.round((Math.min(...xs) + Math.max(...xs)) / 2); });
      return [...new Set(centres)].sort((a, b) => a - b);
    });
    expect(places[0]).toHaveLength(2);
    for (const place of places) expect(place).toEqual(places[0]);
    expect(new Set(drawn.views.map(({ frame: [, , width] }) => width)).size).toBe(1);
  });
});

test('a body on a frame of its own has a view of the frame, others have none', () => {
  const framed = builds.filter(({ body, rearDoors }) => drawnMap(wholeMap(body, rearDoors)).views.some(({ id }) => id === 'frame')).map(({ body }) => body);
  expect([...new Set(framed)].sort()).toEqual(['pickup', 'separate-chassis']);
});
