import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { editionIds } from '../../src/read/editions.ts';
import { dateText } from '../../src/units.ts';
import { findingLines } from '../read/notes-helper.ts';
import { dossierOf, everything, inlinesOf, judged, wordsOf } from './builders.ts';

/** Words no section of a dossier has of its own, so that a lost one shows. */
const strange = ['zebra', 'Lion', 'QUAGGA', 'gnu', 'émeu', '狐'];
const word = fc.constantFrom(...strange);
const parts = ['plug 25 mm, inner face 1', 'plugs', 'drain slot', 'metal inside', 'metal inside, middle', 'coating inside', 'water inside', 'seam', 'grommet 19 mm, cable 8 mm, rear, wheel spray', 'blanking plug, front', 'end cap', 'gizmo'];
const states = ['sound', 'perished, loose', 'missing', 'blcoked', 'not seen', 'not fitted', '2 sound, 1 missing', '4 expected, 2 missing', 'gone', 'blocked by wax', ''];
const tails = ['', '. pressed', '. inferred from neighbours', '. told by the seller', '. told by seller, who has gone', '. IMG_1', '. IMG_9', '. IMG_1-3', '. seen through inner face 2', '. to see it: lift, 1 h'];
const keys = ['told, seller', 'told', 'opinion', 'again', 'ask', 'kept', 'invoice', 'baseline', 'was', 'do', 'part', 'done', 'mounting', 'not seen', 'not fitted', 'expected', 'view front', 'view', 'steel, outer face', 'film', 'ring 0.1 0.1 0.1', 'arrow 0.1 0.1 to 0.2 0.3', 'box 0.1 0.1 0.3 0.3', 'scale 0.1 0.1 to 0.2 0.1', 'ring 0.1 0.1 0', 'hide 0.1 0.1 0.2 0.2', 'by', 'place', 'seen', 'built', 'labour', 'clock', 'body', 'car', 'owner'];
const values = ['', '22 cm from bolt', '2026-10', '2026-05-02, waxed', '9 plugs', '0.62 mm, 0.60 mm', '480 um', 'wax. 2-3 h', 'plug 25 mm x 4, 1.90 each', 'drain tube', 'plug, inner face 1', 'IMG_1', 'IMG_9', 'scope +1:13:20', '1971', '2026-03-14 10:00-11:00', '2026-03-14 10:00-11:00, Europe/Dublin', 'rear third', 'saloon'];
const headings = ['# Sill, left', '# Sill, right (10:12)', '# left rocker', '# Boot floor', '# Garden shed', '# Sill', '# Car', '# Visit', '# Rates', '## deeper'];
const odd = fc.oneof(
  fc.tuple(fc.constantFrom(...parts), fc.constantFrom(...states), fc.constantFrom(...tails), word, fc.boolean()).map(([part, state, tail, one, end]) => (end ? `- ${part}: ${state}${tail}. ${one}` : `- ${part}: ${state}, ${one}${tail}`)),
  fc.tuple(fc.constantFrom(...keys), fc.constantFrom(...values), fc.constantFrom(' ', ', ', '. '), word).map(([key, value, joint, one]) => `- ${key}: ${value}${joint}${one}`),
  fc.tuple(fc.constantFrom(...headings), fc.option(word)).map(([heading, one]) => (one === null ? heading : `${heading} ${one}`)),
  fc.tuple(word, word).map(([alt, name]) => `![plug, inner face 1: missing. ${alt}](${name}.jpg)`),
  word.map((name) => `![](${name}.jpg)`),
);
const anyLines = fc.array(fc.oneof({ weight: 1, arbitrary: fc.constantFrom(...headings) }, { weight: 2, arbitrary: findingLines }, { weight: 4, arbitrary: odd }), { maxLength: 24 });

/** Signs of Markdown, numbers of list items and coordinates of marks are not words; keys stand in the dossier's own words. */
function wordsTyped(findings: string): string[] {
  const plain = findings
    .replaceAll('\0', ' ')
    .replace(/^([\s>*+-]*)(\d{1,3}[.)](?=\s|$)[\s>*+-]*)+/gm, '$1')
    .replace(/\b(ring|arrow|box|scale|hide)( 0(\.\d+)?| to)+/g, ' ');
  return tokens(plain);
}

function tokens(text: string): string[] {
  return text.normalize('NFC').replace(/\b\d{4}-\d{2}(-\d{2})?\b/g, dateText).replace(/\bum\b/g, 'µm').toLowerCase().match(/[\p{L}\p{M}\p{N}]+/gu) ?? [];
}

/** Words of the format: what they open is printed under a title of its own. A zone is named in the dossier's kind of English. */
const ofFormat = ['car', 'visit', 'rates', 'x', 'each', 'view', 'ask', 'baseline', 'ring', 'arrow', 'box', 'hide', 'kept', 'invoice', 'expected', 'do', 'was', 'again', 'mounting', 'done', 'part', 'fitted', 'told', 'rocker'];

function lost(findings: string, photos: readonly string[] = []): string[] {
  const from = judged(findings, photos);
  return editionIds().flatMap((edition) => {
    const dossier = dossierOf(from, edition);
    const links = dossier.sections.flatMap((section) => section.blocks).flatMap(inlinesOf).flat().flatMap((part) => (typeof part === 'string' || part.href?.startsWith('#') ? [] : [part.href ?? '']));
    const printed = new Set(tokens([wordsOf(dossier), ...links].join('\n')));
    return [...new Set(wordsTyped(findings))].filter((one) => !printed.has(one) && !ofFormat.includes(one)).map((one) => `${edition}: ${one}`);
  });
}

test('every word of the sample, and of a bit of everything, stands in every edition', () => {
  expect(lost(readFileSync('sample-job/2026-03-14/findings.md', 'utf8'))).toEqual([]);
  expect(lost(everything, ['IMG_1.jpg'])).toEqual([]);
});

test('every word of whatever was typed stands in every edition', () => {
  fc.assert(
    fc.property(anyLines, fc.subarray(['IMG_1.jpg', 'x/IMG_2.jpg', 'zebra.jpg', 'sill left/a.jpg']), (lines, photos) => {
      expect(lost(lines.join('\n'), photos)).toEqual([]);
    }),
    { numRuns: 400 },
  );
});
