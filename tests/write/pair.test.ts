import { expect, test } from 'vitest';
import { blockSchema } from '../../src/model/dossier.ts';
import type { Figure } from '../../src/model/dossier.ts';
import { anchorsOf, settleLinks } from '../../src/write/inline.ts';
import { leftover } from '../../src/write/leftover.ts';
import { pairBlock } from '../../src/write/pair.ts';
import { textOf } from './builders.ts';

const figure = (photo: string): Figure => ({ photo, alt: `Alt of ${photo}`, caption: [`Caption of ${photo}.`] });
const about = { title: 'Plug, inner face 2', beforeOn: '2026-03-14', afterOn: '2026-05-02' };

test('a pair is a block of the closed set, with its dates in words and every photo once', () => {
  const block = pairBlock(figure('a'), figure('b'), { ...about, id: 'pair-1', words: ['Missing, then new.'], during: [figure('a'), figure('c'), figure('b')] });
  expect(blockSchema.safeParse(block).error).toBeUndefined();
  expect(block?.during?.map(({ photo }) => photo)).toEqual(['c']);
  expect(block && textOf([block])).toContain('Missing, then new. Before: 14 March 2026; after: 2 May 2026.');
});

test('nothing between is no empty list, and the words are the dates alone', () => {
  const block = pairBlock(figure('a'), figure('b'), { ...about, during: [figure('b')] });
  expect(blockSchema.safeParse(block).error).toBeUndefined();
  expect(block).not.toHaveProperty('during');
  expect(block?.caption).toEqual([{ text: 'Before: 14 March 2026; after: 2 May 2026.', quiet: true }]);
});

test.each([
  ['2026-03-14', '2026-03-14', 'Both on 14 March 2026.'],
  [null, '2026-05-02', 'Before: date not known; after: 2 May 2026.'],
  [null, null, 'Before: date not known; after: date not known.'],
])('from %s to %s: %s', (beforeOn, afterOn, said) => {
  expect(pairBlock(figure('a'), figure('b'), { ...about, beforeOn, afterOn })?.caption).toEqual([{ text: said, quiet: true }]);
});

test('one photo is no pair', () => {
  expect(pairBlock(figure('a'), figure('a'), about)).toBeNull();
});

test('links of its captions are settled, its anchor is known, and its words count as printed', () => {
  const linking = { ...figure('b'), caption: [{ text: 'elsewhere', href: '#nowhere' }, { text: ' and here', href: '#pair-1' }] };
  const block = pairBlock(figure('a'), linking, { ...about, id: 'pair-1', during: [{ ...linking, photo: 'c' }] });
  if (!block) throw new Error('two photos are a pair');
  const [section] = settleLinks([{ id: 'work', title: 'Work', page: 'work', breakBefore: false, blocks: [block] }]);
  const settled = section?.blocks[0];
  const caption = ['elsewhere', { text: ' and here', href: '#pair-1' }];
  expect(settled).toMatchObject({ after: { caption }, during: [{ caption }] });
  expect(section && anchorsOf([section])).toEqual(['work', 'pair-1']);
  const line = { text: 'elsewhere, Caption of a, Plug', spot: { file: 'findings.md', line: 1 } };
  expect(leftover([line], [block])).toEqual([]);
  expect(leftover([{ ...line, text: 'elsewhere, drain' }], [block])).toHaveLength(1);
});
