import { expect, test } from 'vitest';
import { outcomes } from '../../../src/model/catalogue.ts';
import { zoneMapSchema } from '../../../src/model/zone-map.ts';
import { drawnMap } from '../../../src/print/map/index.ts';
import type { DrawnView } from '../../../src/print/map/index.ts';
import { builds, catalogue, holds, mapOf, ringsOf, wholeMap } from './maps.ts';

test('the made-up maps are maps', () => {
  for (const { body, rearDoors } of builds) expect(zoneMapSchema.safeParse(wholeMap(body, rearDoors)).error).toBeUndefined();
});

test('an area is heard as its zone, its state in a word, and what matters in it', () => {
  const map = wholeMap('saloon', false);
  expect(new Set(map.zones.map(({ state }) => state))).toEqual(new Set(outcomes));
  for (const view of drawnMap(map).views) {
    for (const { zone, state, heard } of view.areas) {
      const { name = '', state: own, gist = '' } = map.zones.find((one) => one.zone === zone) ?? {};
      expect(state).toBe(own);
      expect(heard).toBe(`${name}: ${state}${gist === '' ? '' : `, ${gist}`}`);
    }
  }
  // What was written as not seen does not say so twice.
  const sill = mapOf('saloon', false, catalogue.zones.filter(({ id }) => id === 'sill'), 'not seen');
  sill.zones[0] = { ...sill.zones[0], zone: 'sill-left', name: 'Sill, left', state: 'not seen', structure: true, gist: 'not seen: the rear third' };
  expect(drawnMap(sill).views[0]?.areas[0]?.heard).toBe('Sill, left: not seen, the rear third');
});

test('every zone nobody saw is named in the text alternative', () => {
  for (const { body, rearDoors } of builds) {
    const map = wholeMap(body, rearDoors, 'not seen');
    const { alt, states } = drawnMap(map);
    expect(states).toEqual(['not seen']);
    for (const { name } of map.zones) expect(alt).toContain(name);
    expect(alt).toContain('Not seen: ');
  }
});

test('a zone the body has no place for is named in words with its state, not lost', () => {
  const offered = mapOf('saloon', false, catalogue.zones.filter(({ id }) => ['tailgate', 'sill', 'ladder-frame'].includes(id)), 'defect');
  const { notes, alt } = drawnMap(offered);
  expect(notes.join(' ')).toContain('ladder rail, left (defect); ladder rail, right (defect); tailgate (defect)');
  expect(alt).toContain('Tailgate');
});

test('a body without a drawing is drawn as a saloon, and that is said; so is any doubt', () => {
  const map = { ...wholeMap('saloon', false), body: 'hovercraft', bodyName: 'hovercraft', doubt: 'The body type is not known.' };
  const { views, notes } = drawnMap(map);
  expect(views.map(({ areas }) => areas.length)).toEqual(drawnMap(wholeMap('saloon', false)).views.map(({ areas }) => areas.length));
  expect(notes[0]).toBe('The body type is not known.');
  expect(notes.join(' ')).toContain('no drawing of this type of body yet (hovercraft)');
});

test('what sits on one side, not known which, is drawn on both, and that is said', () => {
  const { views, notes } = drawnMap(wholeMap('van', false));
  for (const zone of ['fuel-filler', 'sliding-door-rail']) for (const at of [0, 1]) expect(views[at]?.areas.some((area) => area.zone === zone), zone).toBe(true);
  expect(notes.join(' ')).toContain('Drawn on both sides, as the side is not written: sliding-door runner, fuel filler pocket.');
});

test('left and right cannot be mistaken: words at the edges of each view', () => {
  const views = new Map(drawnMap(wholeMap('pickup', true)).views.map((view) => [view.id, view]));
  expect([...views.keys()]).toEqual(['left', 'right', 'above', 'floor', 'frame']);
  // Seen from its left a car points left, from its right it points right: so do people who look at one.
  expect([views.get('left')?.front, views.get('right')?.front]).toEqual(['left', 'right']);
  for (const id of ['above', 'floor', 'frame'] as const) expect(views.get(id)?.edges).toEqual({ top: 'right side', left: 'front', bottom: 'left side', right: 'rear' });
  const lamp = (id: 'left' | 'right'): number => views.get(id)?.areas.find(({ zone }) => zone.startsWith('headlamp'))?.label[0] ?? 0;
  expect(lamp('left')).toBeLessThan(100);
  expect(lamp('right')).toBeGreaterThan(400);
});

const letter = 0.6;

/** Boxes of the names of a view, by the widths they are set with. */
function boxes({ labels }: DrawnView, size: number): { zone: string; left: number; right: number; top: number; bottom: number }[] {
  return labels.map(({ zone, lines, at: [x, y] }) => {
    const half = (Math.max(...lines.map((line) => line.length)) * size * letter) / 2;
    return { zone, left: x - half, right: x + half, top: y - size * 0.75, bottom: y + (lines.length - 1) * size * 1.15 + size * 0.2 };
  });
}

test.each([8, 11, 14])('names of defects at size %i: within the view, clear of each other, each leading to its area', (size) => {
  let set = 0;
  for (const { body, rearDoors } of builds) {
    for (const state of ['defect', undefined] as const) {
      const { views } = drawnMap(wholeMap(body, rearDoors, state), size);
      for (const view of views) {
        const all = boxes(view, size);
        const [left, top, width, height] = view.frame;
        all.forEach((one, at) => {
          expect(Math.min(one.left - left, left + width - one.right, one.top - top, top + height - one.bottom), `${body} ${view.id} ${one.zone}`).toBeGreaterThanOrEqual(-0.5);
          for (const other of all.slice(at + 1).filter((each) => (view.labels[at]?.leader === null) === (view.labels.find(({ zone }) => zone === each.zone)?.leader === null))) {
            const apart = one.right <= other.left + 0.5 || other.right <= one.left + 0.5 || one.bottom <= other.top + 0.5 || other.bottom <= one.top + 0.5;
            expect(apart, `${body} ${view.id}: ${one.zone}, ${other.zone}`).toBe(true);
          }
        });
        for (const { zone, leader, at } of view.labels) {
          const area = view.areas.find((one) => one.zone === zone);
          expect(area?.state).toBe('defect');
          expect(area?.main).toBe(true);
          expect(holds(ringsOf(area?.d ?? ''), leader ? leader[1] : [at[0], at[1] - size * 0.35])).toBe(true);
          set += 1;
        }
      }
    }
  }
  expect(set).toBeGreaterThan(200);
});

test('only defects are named on the drawing, and a drawing without any has no room for names', () => {
  const { views } = drawnMap(wholeMap('saloon', true, 'sound'));
  for (const { labels, frame } of views) {
    expect(labels).toEqual([]);
    expect(frame[1]).toBe(0);
  }
});

test('views that stand side by side are of one height, so that the ground is level', () => {
  for (const { body, rearDoors } of builds) {
    const [left, right, above, floor] = drawnMap(wholeMap(body, rearDoors)).views;
    expect(left?.frame).toEqual(right?.frame);
    expect(above?.frame).toEqual(floor?.frame);
  }
});

test('the same map gives the same drawing, whatever was drawn before', () => {
  const first = JSON.stringify(drawnMap(wholeMap('estate', true)));
  drawnMap(wholeMap('estate', false, 'defect'), 20);
  drawnMap(wholeMap('estate', true, 'sound'), 20);
  expect(JSON.stringify(drawnMap(wholeMap('estate', true)))).toBe(first);
});
