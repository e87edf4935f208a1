import fc from 'fast-check';
import { expect, test } from 'vitest';
import { outcomes } from '../../../src/model/catalogue.ts';
import { openFonts } from '../../../src/print/pdf/fonts.ts';
import { breakLines, widestWord } from '../../../src/print/pdf/lines.ts';
import type { Line, Piece } from '../../../src/print/pdf/lines.ts';
import { shapePath } from '../../../src/print/pdf/shapes.ts';
import { hashOf } from '../sample-dossier.ts';

const fonts = openFonts();

function piece(text: string, more: Partial<Piece> = {}): Piece {
  return { text, face: 'regular', size: 10, colour: '#000000', ...more };
}

function textOf(line: Line): string {
  return line.fragments.map((fragment) => fragment.shaped.text).join('');
}

test('lines end after UAX #14: between words and after hyphens, not before full stops or inside brackets', () => {
  const lines = breakLines(fonts, [piece('a well-set line (of text) ends. Here')], 1).map(textOf);
  // Cut letter by letter; a wide line is whole.
  expect(lines.length).toBeGreaterThan(20);
  expect(breakLines(fonts, [piece('well-set line.')], 32).map(textOf)).toEqual(['well-', 'set ', 'line.']);
});

test('a number stays with its unit, its currency and the other end of its range', () => {
  for (const words of ['€ 55', '25 mm', '190 – 310', '64 %']) {
    const width = widestWord(fonts, [piece('somewhat longer')]) * 2;
    for (let filler = 1; filler < 40; filler += 1) {
      const lines = breakLines(fonts, [piece(`${'i'.repeat(filler)} ${words} and on`)], width).map(textOf);
      expect(lines.some((line) => line.includes(words))).toBe(true);
    }
  }
});

test('no letter is lost and no line is wider than asked, whatever the text', () => {
  const text = fc.string({ unit: fc.constantFrom('a', 'W', ' ', '-', '/', 'ж', 'ö', '\n', '.', 'x', '0') , maxLength: 120 });
  fc.assert(
    fc.property(text, text, fc.integer({ min: 20, max: 200 }), (first, second, width) => {
      const lines = breakLines(fonts, [piece(first), piece(second, { face: 'bold' })], width);
      expect(lines.map(textOf).join('')).toBe((fonts.clean(first, 'regular') + fonts.clean(second, 'bold')).replace(/\n/g, ' '));
      for (const line of lines) expect(line.width).toBeLessThanOrEqual(width + 0.001);
    }),
  );
});

test('a hash over several lines is shared out in eights', () => {
  const hash = hashOf('a');
  const lines = breakLines(fonts, [piece(hash)], 250).map(textOf);
  expect(lines.map((line) => line.length)).toEqual([32, 32]);
  expect(lines.join('')).toBe(hash);
});

test('a state keeps its shape and its word on one line', () => {
  for (let width = 48; width < 120; width += 3) {
    const lines = breakLines(fonts, [piece('some words '), piece('', { shape: 'defect' }), piece('defect')], width);
    const line = lines.find(({ fragments }) => fragments.some((fragment) => fragment.shape));
    expect(line?.fragments.at(-1)?.shaped.text).toMatch(/^d/);
  }
});

test('text is composed, and what is invisible or a control is taken out', () => {
  expect(fonts.clean('o\u0308\u00ad\u200d\ufe0f\u0007\t\r\nx\ufeff', 'regular')).toBe('ö \nx');
});

test('pairs of letters are kerned as the font says', () => {
  const pair = fonts.shape('AV', 'regular');
  const apart = fonts.shape('A', 'regular').width + fonts.shape('V', 'regular').width;
  expect(pair.width).toBeLessThan(apart - 10);
  expect(pair.kerns[1]).toBeCloseTo(apart - pair.width, 6);
});

test('each state has a shape of its own', () => {
  const paths = outcomes.map((outcome) => shapePath(outcome, 0, 0, 10));
  expect(new Set(paths).size).toBe(outcomes.length);
  // Filled or outlined: the difference that a grey print keeps.
  expect(shapePath('defect', 0, 0, 10)).toMatch(/f$/);
  expect(shapePath('not seen', 0, 0, 10)).toContain('] 0 d');
});
