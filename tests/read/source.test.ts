import { readFileSync } from 'node:fs';
import path from 'node:path';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { decode, tidy } from '../../src/read/notes/source.ts';

const zone = (words: string): boolean => /^(sill|car)/i.test(words.trim());
const mended = (text: string): string => tidy('findings.md', text, zone).text;

test('bullets of phones become list items', () => {
  expect(mended('• plug: sound\n– plug: loose\n* plug: missing\n•plug: cracked')).toBe('- plug: sound\n- plug: loose\n- plug: missing\n- plug: cracked');
});

test('a pasted indent does not turn a list into code, and depth survives', () => {
  expect(mended('        - do: wax\n            - part: plug\n        - plug: sound')).toBe('- do: wax\n  - part: plug\n- plug: sound');
  expect(mended('\t- do: wax\n\t\t- part: plug')).toBe('- do: wax\n  - part: plug');
});

test('a bare # is a heading only where it names something', () => {
  expect(mended('#Sill left\n#1 priority')).toBe('# Sill left\n#1 priority');
});

test('a rule of hyphens under text stays text', () => {
  expect(mended('some words\n---\n\nmore')).toBe('some words\n\\---\n\nmore');
});

test('picture targets with spaces are wrapped', () => {
  expect(mended('![a](my photo (1).jpg) and ![b](c.jpg)')).toBe('![a](<my photo (1).jpg>) and ![b](c.jpg)');
});

test('a position is the line and column on disk, whatever was mended', () => {
  const text = '\uFEFF#Sill left\r\n\t• plug:\u00A0missing\r\n';
  const source = tidy('findings.md', text, zone);
  expect(source.text).toBe('# Sill left\n- plug: missing\n');
  expect(source.spot(source.text.indexOf('Sill'))).toEqual({ file: 'findings.md', line: 1, column: 2 });
  expect(source.spot(source.text.indexOf('plug'))).toEqual({ file: 'findings.md', line: 2, column: 4 });
  expect(source.spot(source.text.indexOf('missing'))).toEqual({ file: 'findings.md', line: 2, column: 10 });
});

test('every character that is kept points at itself on disk', () => {
  fc.assert(
    fc.property(fc.array(fc.constantFrom('- a b', '    • plug: x', '#Sill', 'text', '---', '![x](a b.jpg)', '  ![y](c.jpg)', '\t- q', '', '  more', '1. y'), { maxLength: 12 }), (lines) => {
      const source = tidy('f', lines.join('\r\n'), zone);
      for (let offset = 0; offset < source.text.length; offset += 1) {
        const unit = source.text[offset] ?? '';
        if (!/[\p{L}\p{N}]/u.test(unit)) continue;
        const { line = 0, column = 0 } = source.spot(offset);
        expect(lines[line - 1]?.[column - 1]).toBe(unit);
      }
      const letters = (text: string): string => text.replace(/[^\p{L}\p{N}]/gu, '');
      expect(letters(source.text)).toBe(letters(lines.join('')));
    }),
    { numRuns: 500 },
  );
});

test('UTF-16 and damaged bytes', () => {
  expect(decode(new Uint8Array([0xff, 0xfe, 0x61, 0])).text).toBe('a');
  expect(decode(new Uint8Array([0x61, 0xff]))).toEqual({ text: 'a\uFFFD', damaged: true });
});

test('the sample findings stay as they are', () => {
  const text = readFileSync(path.join('sample-job/2026-03-14', 'findings.md'), 'utf8');
  expect(mended(text)).toBe(text);
});
