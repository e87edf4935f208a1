import { expect, test } from 'vitest';
import type { Dossier } from '../../src/model/dossier.ts';
import { editionIds } from '../../src/read/editions.ts';
import { dossierOf, everything, judged, wordsOf } from './builders.ts';

/** Spellings a reader in the United States takes for mistakes: general knowledge of English, no list of ours. */
const british = /\b(?:judgements?|(?:milli|centi)?metres?|litres?|galvanised|colou?rs?\b(?<=ours?)|grey|centres?|labour|vapours?|neighbours?|neighbouring|ageing|mould|fibres?|aluminium|sulphur|licence|recognised|neutralised?|organised|tyres?|kerb)\b/giu;

const typed = `# Ferring 1300

- built: 1971

## Visit

- seen: 2026-03-14
- by: R. Grey, Labour Lane Centre

## Sill, left

- blind plug, grey colour centre: missing
- metal inside: scaling, the neighbour said a litre of grey primer ran out
- opinion: a mould of aluminium fibre, in my judgement

> The colour of the tyre, and the centre of it, are grey.
`;

function britishIn(dossier: Dossier): string[] {
  const text = wordsOf(dossier);
  return [...text.matchAll(british)].map((match) => `${match[0]} in “${text.slice(Math.max(0, match.index - 40), match.index + 40)}”`);
}

test.each(editionIds())('our own sentences are spelled as the dossier’s language: %s', (edition) => {
  const other = britishIn(dossierOf(judged(everything, ['IMG_1.jpg'], { language: 'en-GB' }), edition));
  expect(other.length).toBeGreaterThan(3);
  const typedHere = new Set(everything.match(british) ?? []);
  const left = britishIn(dossierOf(judged(everything, ['IMG_1.jpg'], { language: 'en-US' }), edition)).filter((found) => !typedHere.has(found.split(' ')[0] ?? ''));
  // A title of a standard stays as its publisher spells it.
  expect(left.filter((found) => !found.includes('ASTM'))).toEqual([]);
});

test('what was typed, names of files and titles stay byte for byte, also inside our sentences', () => {
  const names = ['grey colour.jpg', 'Sill, left/centre.jpg'];
  const us = dossierOf(judged(typed, names, { language: 'en-US' }));
  const gb = dossierOf(judged(typed, names, { language: 'en-GB' }));
  expect(us.findings).toEqual(gb.findings);
  const text = wordsOf(us);
  for (const words of ['grey colour centre', 'the neighbour said a litre of grey primer ran out', 'a mould of aluminium fibre, in my judgement', 'The colour of the tyre, and the centre of it, are grey.', 'R. Grey, Labour Lane Centre', ...names]) {
    expect(text, words).toContain(words);
  }
  // The same word in a sentence of ours goes its own way.
  expect(text).toContain('our judgment');
  expect(text).not.toContain('our judgement');
});
