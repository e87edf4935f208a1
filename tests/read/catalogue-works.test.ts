import { expect, test } from 'vitest';
import type { WorkKind } from '../../src/model/catalogue.ts';
import { labours, workEffects } from '../../src/model/catalogue.ts';
import { whyOf } from '../../src/model/works.ts';
import { readCatalogue } from '../../src/read/catalogue/index.ts';

const catalogue = readCatalogue();

function kind(id: string): WorkKind {
  const found = catalogue.works.find((one) => one.id === id);
  if (!found) throw new Error(`no ${id}`);
  return found;
}

// The order of work that prevents damage: common practice, no source.
test('the usual order of work', () => {
  expect(catalogue.works.map((one) => one.id)).toEqual(
    ('inspect photograph battery-off fuel-out strip label brace clean dry open-drain cut patch replace-section replace-panel weld cool treat prime seal paint '
      + 'leak-test underseal wax wipe reopen-drain plug leave-open shut-drain membrane refit look-again').split(' '),
  );
});

test('the usual order breaks none of its own rules', () => {
  for (const one of catalogue.works) for (const id of one.after) expect(kind(id).order, `${one.id} after ${id}`).toBeLessThan(one.order);
});

test('every labour and every effect is used', () => {
  expect(new Set(catalogue.works.map((one) => one.labour))).toEqual(new Set(labours));
  expect(new Set(catalogue.works.map((one) => one.effect))).toEqual(new Set(workEffects));
});

test('heat comes before all it would burn, and only drying and cooling wait', () => {
  const hot = catalogue.works.filter((one) => one.hot).map((one) => one.id);
  expect(hot).toEqual(['cut', 'weld']);
  for (const id of ['treat', 'prime', 'seal', 'paint', 'underseal', 'wax', 'plug', 'refit']) expect(kind(id).after, id).toEqual(expect.arrayContaining(hot));
  expect(catalogue.works.filter((one) => one.waits).map((one) => one.id)).toEqual(['dry', 'cool']);
});

// Welding a seam or a nut is no patch, and a coat of paint outside protects nothing inside: our judgement.
test('an effect stands only where the word alone makes it sure', () => {
  const withEffect = catalogue.works.filter((one) => one.effect !== 'none').map((one) => `${one.id} ${one.effect}`);
  expect(withEffect).toEqual([
    'dry dries', 'open-drain opens drains', 'patch patches', 'replace-section replaces', 'replace-panel replaces', 'seal closes openings',
    'wax protects', 'reopen-drain opens drains', 'plug closes openings', 'membrane closes openings',
  ]);
});

test('whatever comes first, is needed, excluded or undone has a reason', () => {
  for (const one of catalogue.works) {
    for (const id of [...one.after, ...one.needs, ...one.against, ...one.undoes]) expect(whyOf(one, id), `${one.id} ${id}`).toMatch(/^[a-z].{10,}[^.]$/);
  }
  expect(whyOf(kind('wax'), 'weld')).toBe('heat burns wax and its vapour lights');
  expect(whyOf(kind('plug'), 'wax')).toBe('the lance needs the holes');
});
