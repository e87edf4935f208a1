import { expect, test } from 'vitest';
import { threeOf } from '../../src/plan/quantities.ts';
import { costed, linesOf } from './cost-helper.ts';

const own = { materials: { wax: { filmUm: 50, solidsPercent: 40, lossPercent: 0, pricePerLitre: 20 } } };

test('wax by the closed sections of the zone, with what the settings say of it', () => {
  const { estimate, inspection } = costed('# Sill, left\n- do: wax. 1 h\n', own);
  const area = inspection.zones.find((zone) => zone.zone.id === 'sill-left')?.zone.record.cavities.reduce((sum, cavity) => sum + cavity.areaM2, 0) ?? 0;
  const [need] = estimate.materials;
  expect(need?.cavities).toEqual(['outer-cell', 'inner-cell']);
  expect(need?.areaM2).toBeCloseTo(area, 9);
  // An eighth of a litre for each square metre.
  expect(need?.litres.likely).toBeCloseTo(area / 8, 9);
  expect(need?.litres.low).toBe(need?.litres.high);
  expect(need?.wetFilmUm.likely).toBeCloseTo(125, 9);
  const line = estimate.lines.find((one) => one.kind === 'material');
  expect(line?.amount?.likely).toBe(Math.round((area / 8) * 2_000));
});

test('only the closed section the words name', () => {
  expect(costed('# Sill, left\n- do: wax the inner cell. 1 h\n').estimate.materials.map((need) => need.cavities)).toEqual([['inner-cell']]);
});

test('without settings the judged range holds, and thin film, much solids and little loss make the low end', () => {
  const { estimate } = costed('# Sill, left\n- do: wax. 1 h\n');
  const [need] = estimate.materials;
  expect(need && need.litres.low < need.litres.likely && need.litres.likely < need.litres.high).toBe(true);
  if (!need) return;
  expect(need.litres.low).toBeCloseTo((need.areaM2 * need.filmUm.low) / (10 * need.solidsPercent.high * (1 - need.lossPercent.low / 100)), 9);
  expect(need.litres.high).toBeCloseTo((need.areaM2 * need.filmUm.high) / (10 * need.solidsPercent.low * (1 - need.lossPercent.high / 100)), 9);
});

test('a part line that names the material is priced in its place, and it is never counted twice', () => {
  const kinds = (part: string): string[] => linesOf(`- do: wax. 1 h\n${part}`, '- labour: 50', own).map(([kind]) => kind);
  expect(kinds('')).toEqual(['labour', 'material']);
  expect(kinds('  - part: cavity wax 1 l x 1, 18.50 each')).toEqual(['labour', 'part']);
  expect(kinds('  - part: Wax x 2')).toEqual(['labour', 'part']);
  // A plug for a wax hole is no wax, and waxed paper is none either.
  expect(kinds('  - part: wax hole plug 10 mm x 2')).toEqual(['labour', 'part', 'material']);
  expect(kinds('  - part: waxed paper x 2')).toEqual(['labour', 'part', 'material']);
  const { estimate } = costed('# Sill, left\n- do: wax. 1 h\n  - part: wax x 1, 3 each\n', own);
  expect(estimate.materials.map((need) => need.named)).toEqual([true]);
});

test('a quantity is priced only where a price for a litre is set, and is unpriced otherwise', () => {
  expect(linesOf('- do: wax. 1-1 h')).toEqual([['labour', 'labour, wax', [5_000, 5_000, 5_000]], ['material', 'cavity wax', 'no price for a litre']]);
  expect(linesOf('- do: wax. 1-1 h', '- rounding: down', { ...own, currency: undefined })[1]).toEqual(['material', 'cavity wax', 'no currency']);
  expect(linesOf('- do: prime and paint. 1-1 h').map(([kind, name]) => `${kind} ${name}`)).toEqual(['labour labour, paint', 'material paint']);
});

test('work that is done, or that only takes wax off, calls for none', () => {
  expect(costed('# Sill, left\n- do: wax. 1 h\n  - done: 2026-05-02, waxed\n').estimate.materials).toEqual([]);
  expect(costed('# Sill, left\n- do: wash the old wax out. 1 h\n').estimate.materials).toEqual([]);
});

test('one number, two or three stand for low, likely and high', () => {
  expect([threeOf(5), threeOf([4, 8]), threeOf([4, 5, 8])]).toEqual([{ low: 5, likely: 5, high: 5 }, { low: 4, likely: 6, high: 8 }, { low: 4, likely: 5, high: 8 }]);
});
