import fc from 'fast-check';
import { expect, test } from 'vitest';
import { labourOf } from '../../src/plan/labour.ts';
import { catalogue, inspected, plannedWork } from './order-helper.ts';

/** "weld 3 sill-left", waiting marked. */
function rows(findings: string): string[] {
  return labourOf(catalogue, plannedWork(inspected(findings))).map(({ labour, hours, zones, waits }) => `${labour.join(' + ') || 'unnamed'} ${hours.likely} ${zones.join(', ')}${waits ? ' waiting' : ''}`);
}

test('hours are summed by kind of labour over the zones', () => {
  expect(rows('# Sill, left\n- do: clean 1 h, weld 3 h, wax 0.5 h\n# Sill, right\n- do: weld. 2 h\n')).toEqual(['clean 1 sill-left', 'weld 5 sill-left, sill-right', 'wax 0.5 sill-left']);
});

test('one time for several kinds is one row of all of them, never divided', () => {
  expect(rows('# Sill, left\n- do: wash out, dry, wax, fit 4 plugs. 2-3 h\n')).toEqual(['clean + wax + refit 2.5 sill-left']);
  expect(rows('# Sill, left\n- do: clean, weld 3 h, wax 1 h\n')).toEqual(['clean + weld 3 sill-left', 'wax 1 sill-left']);
});

test('kinds of work of one labour are one row of it', () => {
  expect(rows('# Sill, left\n- do: prime 1 h, paint 2 h, seal 1 h\n')).toEqual(['seal 1 sill-left', 'paint 3 sill-left']);
});

test('waiting is told apart and is no labour', () => {
  expect(rows('# Sill, left\n- do: wash out 1 h, dry 24 h, wax 2 h\n')).toEqual(['clean 1 sill-left', 'wax 2 sill-left', 'dry 24 sill-left waiting']);
  expect(rows('# Sill, left\n- do: dry. 24 h\n# Sill, right\n- do: dry. 12 h\n')).toEqual(['dry 36 sill-left, sill-right waiting']);
});

test('what is done, and what has no hours, has no row; unknown words have one of their own', () => {
  expect(rows('# Sill, left\n- do: weld. 3 h\n  - done: 2026-05-02, welded\n- do: wax\n- do: turn it over. 2 h\n')).toEqual(['unnamed 2 sill-left']);
});

test('no hour is lost or counted twice', () => {
  const step = fc.tuple(fc.constantFrom('clean', 'weld', 'wax', 'prime', 'fit 4 plugs', 'turn it over'), fc.integer({ min: 1, max: 9 }));
  fc.assert(fc.property(fc.array(step, { minLength: 1, maxLength: 6 }), (steps) => {
    const line = steps.map(([words, hours]) => `${words} ${hours} h`).join(', ');
    const all = labourOf(catalogue, plannedWork(inspected(`# Sill, left\n- do: ${line}\n`)));
    expect(all.reduce((sum, row) => sum + row.hours.likely, 0)).toBeCloseTo(steps.reduce((sum, [, hours]) => sum + hours, 0));
    expect(all.reduce((sum, row) => sum + row.hours.high, 0)).toBeCloseTo(steps.reduce((sum, [, hours]) => sum + hours * 1.4, 0));
  }), { numRuns: 40 });
});
