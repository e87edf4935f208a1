import { expect, test } from 'vitest';
import { openingNamed } from '../../src/plan/suggested.ts';
import { partsOf } from '../../src/plan/parts.ts';
import { worksOf } from '../../src/model/zone-work.ts';
import { catalogue } from '../read/notes-helper.ts';
import { costed } from './cost-helper.ts';

/** "plug 25 mm × 2": what is suggested, by kind, size and cable. */
function suggested(findings: string): string[] {
  return costed(findings).estimate.suggested.map(({ part, size, cable, count, zones }) => `${[part.id, size, cable].filter((one) => one !== null).join(' ')} × ${count} for ${zones.join(', ')}`);
}

function written(findings: string): ReturnType<typeof partsOf> {
  const { inspection } = costed(findings);
  return partsOf(inspection.zones.flatMap((zone) => worksOf(zone).map((work) => ({ zone: zone.zone.id, work }))));
}

test('written parts are summed by name and size, with what they cost and what was used', () => {
  const [plug, ...others] = written('# Sill, left\n- do: fit plugs. 1 h\n  - part: plug 25 mm x 4, 1.90 each\n# Boot floor\n- do: fit plugs. 1 h\n  - part: Plug 25 mm x 2, 2.10 each\n  - part: plug 25 mm x 1\n  - done: 2026-05-02\n');
  expect(others).toEqual([]);
  expect(plug).toMatchObject({ count: 7, used: 3, unpriced: 1, zones: ['sill-left', 'boot-floor'], sums: [{ currency: 'EUR', amount: { low: 1_180, likely: 1_180, high: 1_180 } }] });
  expect(plug?.price).toBe('EUR 1.90 each; EUR 2.10 each; 1 without a price');
});

test('what the register calls for is suggested by kind and size', () => {
  expect(suggested('# Sill, left\n- plug 25 mm, inner face 1: cracked\n- plug 25 mm, inner face 2: missing\n- plug, inner face 3: perished\n- plug, inner face 4: sound\n# Boot floor\n- plug 25 mm, well: missing\n')).toEqual(['plug × 1 for sill-left', 'plug 25 mm × 3 for sill-left, boot-floor']);
  expect(suggested('# Bulkhead\n- grommet 19 mm, cable 8 mm, left: perished\n')).toEqual(['grommet 19 mm cable 8 mm × 1 for bulkhead']);
});

test('counted openings are suggested too; what nobody saw calls for nothing', () => {
  expect(suggested('# Sill, left\n- plugs: 6 expected, 1 sound, 2 missing, 1 cracked\n')).toEqual(['plug × 3 for sill-left']);
  expect(suggested('# Sill, left\n- plugs: 4 expected\n- plug, inner face 1: not seen\n- plug, inner face 2: missing. told by the seller\n- plug, inner face 3: in place\n')).toEqual([]);
  // A blocked drain takes cleaning and no new part.
  expect(suggested('# Sill, left\n- drain slot: blocked\n')).toEqual([]);
});

test('a written part of the same zone answers as many openings as it counts, and no more', () => {
  const sill = '# Sill, left\n- plug 25 mm, inner face 1: missing\n- plug 25 mm, inner face 2: missing\n- plug, inner face 3: missing\n';
  expect(suggested(`${sill}- do: fit plugs. 1 h\n  - part: plug 25 mm x 2\n`)).toEqual(['plug × 1 for sill-left']);
  // The third 25 mm plug is taken for the opening whose size nobody wrote.
  expect(suggested(`${sill}- do: fit plugs. 1 h\n  - part: blanking plug 25 mm x 3\n`)).toEqual([]);
  expect(suggested(`${sill}- do: fit plugs. 1 h\n  - part: plugs x 2\n`)).toHaveLength(1);
  // Another size, another kind and another zone answer nothing.
  expect(suggested('# Sill, left\n- plug 25 mm, inner face 1: missing\n- do: fit. 1 h\n  - part: plug 30 mm x 1\n  - part: grommet 25 mm x 1\n# Sill, right\n- do: fit. 1 h\n  - part: plug 25 mm x 1\n')).toEqual(['plug 25 mm × 1 for sill-left']);
  // 1 in = 25.4 mm exactly.
  expect(suggested('# Sill, left\n- plug 1 in, inner face 1: missing\n- do: fit. 1 h\n  - part: plug 25.4 mm x 1\n')).toEqual([]);
});

test('the kind a written part names is the longest spelling in it', () => {
  expect(['plug 25 mm', 'Blanking plugs 25 mm', 'grommet hole 19 mm, cable 8 mm', 'heater hose grommet', 'cavity wax', 'unplugged lamp'].map((name) => openingNamed(catalogue.parts, name)?.id ?? null)).toEqual(['plug', 'plug', 'grommet', 'pipe-grommet', null, null]);
});
