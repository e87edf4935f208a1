import fc from 'fast-check';
import { expect, test } from 'vitest';
import { proseBlocks } from '../../src/write/prose.ts';
import { inlinesOf, textOf } from './builders.ts';

test('raw HTML keeps every character', () => {
  const text = 'hole <5 mm and <seam> open';
  expect(textOf(proseBlocks(text))).toBe(text);
  expect(textOf(proseBlocks('<div onclick="x()">hem</div>'))).toBe('<div onclick="x()">hem</div>');
});

test('only addresses a reader may follow become links', () => {
  const spans = proseBlocks('[a](https://example.org) [b](javascript:alert(1)) [c](mailto:x@example.org) [d](tel:1) [e](file:///etc) [f](#sill) <https://example.org/x>').flatMap(inlinesOf).flat();
  expect(spans.flatMap((part) => (typeof part === 'string' || !part.href ? [] : [part.href]))).toEqual(['https://example.org', 'mailto:x@example.org', 'tel:1', 'https://example.org/x']);
  expect(textOf(proseBlocks('[b](javascript:alert(1)) [f](#sill)'))).toBe('b (javascript:alert(1)) f (#sill)');
});

test('headings, lists, quotes, code, rules and breaks become blocks', () => {
  const blocks = proseBlocks('## A\n\n#### B\n\n- one\n  - two\n\n> said\n\n    code\n\n***\n\nline  \nbreak\nsoft');
  expect(blocks.map((block) => block.type)).toEqual(['heading', 'heading', 'list', 'quote', 'code', 'rule', 'paragraph']);
  expect(blocks[0]).toMatchObject({ level: 4 });
  expect(blocks[1]).toMatchObject({ level: 5 });
  expect(textOf(blocks.slice(6))).toBe('line\nbreak soft');
});

test('a list that starts at three says so', () => {
  expect(textOf(proseBlocks('3. third\n4. fourth'))).toBe('3. third\n4. fourth');
  expect(textOf(proseBlocks('1. first\n4. fourth'))).toBe('1. first\n4. fourth');
  expect(proseBlocks('1. first\n1. second')).toMatchObject([{ type: 'list', ordered: true }]);
});

test('emphasis nests, and a picture is its words and file name', () => {
  expect(proseBlocks('**a *b* `c`**')).toEqual([{ type: 'paragraph', inline: [{ text: 'a ', strong: true }, { text: 'b', strong: true, emphasis: true }, { text: ' ', strong: true }, { text: 'c', strong: true, code: true }] }]);
  expect(textOf(proseBlocks('![rust run](IMG_1.jpg)'))).toBe('rust run (IMG_1.jpg)');
});

test('a link within the words of a picture keeps its target', () => {
  expect(textOf(proseBlocks('![see [notes](https://example.org/a)](IMG_1.jpg)'))).toBe('see [notes](https://example.org/a) (IMG_1.jpg)');
});

test('definitions and titles are not lost', () => {
  const text = textOf(proseBlocks('see [the note][n] and [x](https://example.org "why")\n\n[n]: https://example.org/note "Title"'));
  for (const word of ['the note', 'why', 'https://example.org/note', 'Title']) expect(text).toContain(word);
});

test('all words survive whatever Markdown surrounds them', () => {
  const word = fc.stringMatching(/^[a-z]{2,8}$/);
  const piece = fc.tuple(word, fc.constantFrom('', '*', '**', '`', '~~', '_'), fc.constantFrom(' ', '\n', '\n\n', '\n- ', '\n> ', '\n1. ', '\n## ', '\n    ', ' <', '> ', ' [', '](x) ', '![', '\n***\n', '  \n', '\n| ', '\\\n', '\n```\n', ': ', '" ')).map(([text, mark, gap]) => ({ text, written: `${mark}${text}${mark}${gap}` }));
  fc.assert(fc.property(fc.array(piece, { minLength: 1, maxLength: 25 }), (pieces) => {
    const blocks = proseBlocks(pieces.map((one) => one.written).join(''));
    const hrefs = blocks.flatMap(inlinesOf).flat().flatMap((part) => (typeof part === 'string' ? [] : [part.href ?? '']));
    const out = `${textOf(blocks)} ${hrefs.join(' ')}`;
    for (const { text } of pieces) expect(out).toContain(text);
  }), { numRuns: 400 });
});
