import { expect, test } from 'vitest';
import type { CavityOutlook } from '../../src/model/inspection.ts';
import { judged } from '../write/builders.ts';

function cavity(findings: string, zone: string, id: string): CavityOutlook {
  const found = judged(findings).outlook.cavities.find((one) => one.zone === zone && one.cavity === id);
  if (!found) throw new Error(`no cavity ${zone} ${id}`);
  return found;
}

test('every cavity of every zone has one outlook, in zone order', () => {
  const { inspection, outlook } = judged('# Car\n- body: saloon\n');
  const expected = inspection.zones.flatMap((zone) => zone.zone.record.cavities.map((one) => `${zone.zone.id}/${one.id}`));
  expect(outlook.cavities.map((one) => `${one.zone}/${one.cavity}`)).toEqual(expected);
  expect(outlook.cavities.every((one) => one.letsIn.length === 0 && one.metal === null && one.coating === null && one.water.length === 0)).toBe(true);
});

test('openings that let water in stand worst first', () => {
  const inner = cavity('# Sill, left\n- plug, inner face 1: loose\n- plug, inner face 2: missing\n- plug, inner face 3: sound\n', 'sill-left', 'inner-cell');
  expect(inner.letsIn).toEqual(['sill-left--plug--inner-face-2', 'sill-left--plug--inner-face-1']);
});

test('a blocked drain holds water back and lets none in; a tube that is off lets it in', () => {
  const outer = cavity('# Sill, left\n- drain slot, bottom seam: blocked\n', 'sill-left', 'outer-cell');
  expect(outer.holdsBack).toEqual(['sill-left--drain-slot--bottom-seam']);
  expect(outer.letsIn).toEqual([]);
  const scuttle = judged('# Scuttle\n- drain tube, left: tube off\n').outlook.cavities.filter((one) => one.zone === 'scuttle');
  expect(scuttle.flatMap((one) => one.letsIn)).toEqual(['scuttle--drain-tube--left']);
  expect(scuttle.flatMap((one) => one.holdsBack)).toEqual([]);
});

test('what is not seen is unseen in its cavity, what is not fitted is not', () => {
  const inner = cavity('# Sill, left\n- plug, inner face 1: not seen. too dark\n- not fitted: plug, inner face 2\n', 'sill-left', 'inner-cell');
  expect(inner.unseen).toContain('sill-left--plug--inner-face-1');
  expect(inner.unseen).not.toContain('sill-left--plug--inner-face-2');
});

test('metal seen through an opening belongs to the cavity it leads to', () => {
  const text = '# Sill, left\n- plug, inner face 2: missing\n- metal inside, middle: sound. seen through inner face 2\n';
  expect(cavity(text, 'sill-left', 'inner-cell').metal).toBe('sound');
  expect(cavity(text, 'sill-left', 'outer-cell').metal).toBeNull();
});

test('a defect nobody can pin to one cavity is laid to each, a sound finding to none', () => {
  for (const id of ['inner-cell', 'outer-cell']) {
    expect(cavity('# Sill, left\n- metal inside, middle: scaling\n', 'sill-left', id).metal).toBe('scaling');
    expect(cavity('# Sill, left\n- metal inside, middle: sound\n', 'sill-left', id).metal).toBeNull();
  }
});

test('hearsay and opinion are no sight of the inside', () => {
  expect(cavity('# Sill, left\n- coating inside, inner cell: wax good. told by seller\n', 'sill-left', 'inner-cell').coating).toBeNull();
});

test('sound outer metal says nothing about the inside', () => {
  expect(cavity('# Sill, left\n- metal, outer sill: sound\n', 'sill-left', 'outer-cell').metal).toBeNull();
  expect(cavity('# Sill, left\n- metal, outer sill: holed\n', 'sill-left', 'outer-cell').metal).toBe('holed');
});
