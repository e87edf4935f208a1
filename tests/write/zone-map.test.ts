import { expect, test } from 'vitest';
import type { BlockOf } from '../../src/model/dossier.ts';
import { drawnMap } from '../../src/print/map/index.ts';
import { dossierOf, judged } from './builders.ts';

/** The map and the list, which stand in two sections here. */
function zonesBlock(findings: string, language: 'en-GB' | 'en-US' = 'en-GB'): BlockOf<'zones'> {
  const blocks = dossierOf(judged(findings, [], { language })).sections.flatMap((section) => section.blocks);
  const found = blocks.filter((block): block is BlockOf<'zones'> => block.type === 'zones');
  const map = found.find((block) => block.map)?.map;
  if (!map) throw new Error('no map');
  return { type: 'zones', map, items: found.flatMap(({ items }) => items) };
}

test('the map has every zone of the body, those nobody wrote about as not seen, and says so', () => {
  const { map, items } = zonesBlock('# Car\n- body: saloon\n- doors: 2\n\n# Sill, left\n\n- plug, inner face: missing\n');
  expect(items.map(({ zone }) => zone)).toEqual(['sill-left']);
  const sill = map?.zones.find(({ zone }) => zone === 'sill-left');
  expect(sill).toMatchObject({ state: 'defect', name: 'Sill, left', structure: true });
  expect(sill?.gist).toContain('missing');
  const others = map?.zones.filter(({ zone }) => zone !== 'sill-left') ?? [];
  expect(others.length).toBeGreaterThan(35);
  for (const zone of others) expect(zone).toMatchObject({ state: 'not seen', gist: 'nothing was written about it' });
  expect(map).toMatchObject({ body: 'saloon', rearDoors: false, doubt: '' });
});

test('with nothing written at all the map stands, without a list', () => {
  const { map, items } = zonesBlock('# Car\n- body: van\n');
  expect(items).toEqual([]);
  expect(map?.zones.every(({ state }) => state === 'not seen')).toBe(true);
});

test('four doors are drawn where the car is said to have them, or a rear door was written about', () => {
  expect(zonesBlock('# Car\n- body: saloon\n- doors: 4\n').map?.rearDoors).toBe(true);
  expect(zonesBlock('# Car\n- body: saloon\n\n# Rear door, left\n\n- drain slot: blocked\n').map?.rearDoors).toBe(true);
});

test.each(['', '# Car\n- body: boat\n'])('an unknown body is drawn as the usual saloon, in words: %j', (findings) => {
  const { map } = zonesBlock(`${findings}\n# Sill, left\n\n- plug: missing\n`);
  expect(map?.body).toBe('saloon');
  expect(map && drawnMap(map).notes[0]).toMatch(/^The body type is not known: a saloon is drawn/);
});

test('a zone this body lacks, written about all the same, is named below the drawing', () => {
  const { map } = zonesBlock('# Car\n- body: saloon\n\n# Tailgate\n\n- drain slot: blocked\n');
  expect(map && drawnMap(map).notes.join(' ')).toContain('tailgate (defect)');
});

test('names are in the language of the dossier', () => {
  const { map } = zonesBlock('# Car\n- body: saloon\n', 'en-US');
  expect(map?.bodyName).toBe('sedan');
  expect(map?.zones.map(({ name }) => name)).toContain('Rocker, left');
});
