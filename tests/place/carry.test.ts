import { expect, test } from 'vitest';
import { carry } from '../../src/place/carry.ts';
import { judged } from '../write/builders.ts';

const visit = (day: string, zones: string): ReturnType<typeof judged>['inspection'] => judged(`# Car\n- body: saloon\n# Visit\n- seen: ${day}\n${zones}`).inspection;
const march = visit('2026-03-14', '# Sill, left\n- plug, inner face 1: missing\n# Boot floor\n- plug, well: perished\n');
const may = visit('2026-05-09', '# Sill, left\n- drain slot, bottom seam: open\n');

const zoneOf = (inspection: typeof march, id: string) => inspection.zones.find(({ zone }) => zone.id === id);

test('a zone the newest visit did not enter stands as the last visit that did found it, with its day', () => {
  const whole = carry(may, [march]);
  expect(zoneOf(whole, 'boot-floor')).toMatchObject({ entered: true, state: 'defect', carried: { date: '2026-03-14' } });
  expect(whole.coverage.known).toBe(2);
});

test('nothing is mixed within a zone: what the newest visit did not write of it is not known by it', () => {
  const sill = zoneOf(carry(may, [march]), 'sill-left');
  expect(sill?.carried).toBeUndefined();
  expect(sill?.rows.filter((row) => row.known === 'named').map((row) => row.part.id)).toEqual(['drain-slot']);
});

test('the last of several looks counts, and a zone nobody ever entered stays not seen', () => {
  const july = visit('2026-07-01', '# Boot floor\n- plug, well: new. pressed\n');
  const whole = carry(visit('2026-09-01', '# Sill, left\n- plug, inner face 1: new. pressed\n'), [march, july]);
  expect(zoneOf(whole, 'boot-floor')).toMatchObject({ carried: { date: '2026-07-01' } });
  expect(zoneOf(whole, 'boot-floor')?.rows.find((row) => row.known === 'named')?.conditions).toEqual(['new']);
  expect(zoneOf(whole, 'roof')).toMatchObject({ entered: false, state: 'not seen' });
});

test('of one visit nothing is carried', () => {
  expect(carry(march, []).zones).toEqual(march.zones);
});
