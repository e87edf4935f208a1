import { expect, test } from 'vitest';
import { blockSchema } from '../../src/model/dossier.ts';
import type { BlockOf, Section } from '../../src/model/dossier.ts';
import { rangeBarSchema } from '../../src/model/range-bar.ts';
import type { RangeBar } from '../../src/model/range-bar.ts';
import { anchorsOf, settleLinks } from '../../src/write/inline.ts';

const bar: RangeBar = { label: 'if left', best: 4, low: 12, middle: 20, high: 31, worst: 66, text: '12 to 31 in 100; with everything unseen at its best 4, at its worst 66' };
const outlook: BlockOf<'outlook'> = {
  type: 'outlook',
  caption: 'Chance that the steel is through within five years, in 100',
  items: [
    { id: 'outer-cell', name: 'Outer cell', inline: [{ text: 'gone', href: '#nowhere' }, ' and ', { text: 'there', href: '#inner-cell' }], bars: [bar] },
    { id: 'inner-cell', name: 'Inner cell', inline: ['Sound.'], bars: [bar, { ...bar, label: 'with the work done' }] },
  ],
};
const step: BlockOf<'steps'>['items'][number] = { id: 'step-1', title: ['Wash out'], state: 'defect', tags: [], why: ['Wet.'], what: ['Dry it.'], cautions: [] };

function sectionOf(...blocks: Section['blocks']): Section {
  return { id: 'sill', title: 'Sill', page: 'index', breakBefore: false, blocks };
}

test('an outlook can be linked to, item by item', () => {
  expect(anchorsOf([sectionOf(outlook)])).toEqual(['sill', 'outer-cell', 'inner-cell']);
});

test('a link to what this edition does not print leaves its words, in an outlook and in the numbers of a step', () => {
  const figures = [{ text: 'in 100', href: '#gone' }, ' or so'];
  const [section] = settleLinks([sectionOf(outlook, { type: 'steps', items: [{ ...step, figures }, { ...step, id: 'step-2' }] })]);
  const [first, second] = section?.blocks ?? [];
  expect(first?.type === 'outlook' && first.items[0]?.inline).toEqual(['gone', ' and ', { text: 'there', href: '#inner-cell' }]);
  expect(second?.type === 'steps' && second.items.map((item) => item.figures)).toEqual([['in 100', ' or so'], undefined]);
  for (const block of [first, second]) expect(blockSchema.safeParse(block).error).toBeUndefined();
});

test('a bar runs from 0 to 100 and its values rise; equal ones are allowed', () => {
  const fits = (given: Partial<RangeBar>): boolean => rangeBarSchema.safeParse({ ...bar, ...given }).success;
  expect(fits({})).toBe(true);
  expect(fits({ best: 0, low: 0, middle: 0, high: 0, worst: 0 })).toBe(true);
  expect(fits({ best: 100, low: 100, middle: 100, high: 100, worst: 100 })).toBe(true);
  for (const wrong of [{ best: -1 }, { worst: 100.1 }, { best: 13 }, { low: 21 }, { middle: 32 }, { high: 67 }, { middle: Number.NaN }]) expect(fits(wrong), JSON.stringify(wrong)).toBe(false);
  expect(blockSchema.safeParse({ ...outlook, items: [{ ...outlook.items[0], bars: [] }] }).success).toBe(false);
  expect(blockSchema.safeParse({ ...outlook, items: [{ ...outlook.items[0], bars: [bar, bar, bar] }] }).success).toBe(false);
});
