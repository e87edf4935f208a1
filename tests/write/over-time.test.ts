import { describe, expect, test } from 'vitest';
import { compare } from '../../src/compare/index.ts';
import type { Dossier, Section } from '../../src/model/dossier.ts';
import { dossierOf, judged, textOf } from './builders.ts';

const car = '# Car\n- car: Test 1, two-door saloon\n- built: 1971\n- body: saloon\n- mileage: 61,480 miles\n';
const march = `${car}# Visit
- seen: 2026-03-14
- by: R. Hollis
- for: the buyer, before purchase
# Sill, left
![plug, inner face 1: missing](before.jpg)
- plug, inner face 2: sound. pressed
- metal inside, inner cell: scaling. seen through inner face 1

The camera reached the rear end.
# Boot floor
- plug, well: perished
`;
const may = `${car.replace('61,480', '61,520')}# Visit
- seen: 2026-05-09
- by: R. Hollis
- for: the owner
# Sill, left
![plug, inner face 1: new. pressed](after.jpg)
- plug, inner face 2: sound. pressed
- metal inside, inner cell: holed. seen through inner face 1
- do: fit a plug. 1 h
  - done: 2026-05-02, fitted a new plug, by J. Arden
`;

function dossier(edition: string, texts: readonly string[] = [march, may], photos: readonly string[][] = [['before.jpg'], ['after.jpg']]): Dossier {
  const visits = texts.map((text, at) => judged(text, photos[at] ?? []));
  const current = visits.at(-1) ?? judged('');
  const all = visits.flatMap(({ inspection }) => inspection.photos).map(({ photo }) => [photo.id, { renditions: [{ file: `photos/${photo.id}-960.jpg`, width: 960, height: 720 }], flaw: '' }] as [string, { renditions: { file: string; width: number; height: number }[]; flaw: string }]);
  return dossierOf(current, edition, null, { earlier: visits.slice(0, -1), comparison: compare(visits), pictures: new Map(all) });
}

const section = (from: Dossier, id: string): Section | undefined => from.sections.find((one) => one.id === id);
const said = (from: Dossier, id: string): string => textOf(section(from, id)?.blocks ?? []);

test('of one visit there is nothing over time, in any edition', () => {
  for (const edition of ['purchase', 'progress', 'evidence', 'history']) {
    const ids = dossier(edition, [march]).sections.map(({ id }) => id);
    for (const id of ['visits', 'changes', 'pairs', 'lives', 'hindsight']) expect(ids, edition).not.toContain(id);
  }
});

describe('progress', () => {
  test('opens with what changed, before and now, and what came of it', () => {
    const text = said(dossier('progress'), 'changes');
    expect(text).toContain('Since 14 March 2026, of what was looked at: 1 worse and 1 replaced; 1 as it was.');
    expect(text).toMatch(/missing\s+new\s+replaced/);
    expect(text).toMatch(/scaling\s+holed\s+worse/);
    expect(text).toContain('Not looked at this time: one zone of which something was written on 14 March 2026: Boot floor');
  });

  test('shows the same opening before and after, with both days', () => {
    const [pair] = (section(dossier('progress'), 'pairs')?.blocks ?? []).filter((block) => block.type === 'pair');
    expect(pair).toMatchObject({ title: 'Sill, left: blind plug, inner face 1', before: { photo: 'before' }, after: { photo: 'after' } });
    expect(textOf(pair ? [pair] : [])).toContain('Before: 14 March 2026; after: 9 May 2026.');
  });

  test('what got better with no work written since says so', () => {
    const text = said(dossier('progress', [march, may.replace(/- do:.*\n.*\n/, '')]), 'changes');
    expect(text).toContain('replaced, no work written');
    expect(said(dossier('progress'), 'changes')).not.toContain('no work written');
  });
});

test('the page of a zone says what earlier visits found of it, and what became of it since; not in an edition that compares nothing', () => {
  const text = said(dossier('progress'), 'sill-left');
  expect(text).toMatch(/On earlier visits\s+14 March 2026: defect, .*missing.*scaling/s);
  expect(text).toContain('What became of it since');
  expect(text).toContain('Blind plug, inner face 1: missing, now new; replaced.');
  expect(said(dossier('purchase'), 'sill-left')).not.toContain('On earlier visits');
});

describe('history', () => {
  test('tells each visit in turn: who and why, what was done, what became of things, in whose words', () => {
    const text = said(dossier('history'), 'visits');
    const order = ['14 March 2026', 'R. Hollis looked at the car for the buyer, before purchase.', 'It stood at 61,480 miles.', 'What was found', 'missing', 'The camera reached the rear end.', '9 May 2026, 8 weeks later', 'It stood at 61,520 miles.', '(2 May 2026, J. Arden)', 'What had become of it since 14 March 2026'];
    const places = order.map((words) => text.toLowerCase().indexOf(words.toLowerCase()));
    expect(places.map((at, index) => (at < 0 ? order[index] : '')).filter((one) => one !== '')).toEqual([]);
    expect(places).toEqual(places.toSorted((a, b) => a - b));
  });

  test('gives every opening its life, visits that found the same together', () => {
    const text = said(dossier('history'), 'lives');
    expect(text).toContain('14 March 2026: missing. 9 May 2026: new.');
    expect(text).toContain('14 March 2026 and 9 May 2026: sound.');
    expect(text).toContain('14 March 2026: perished.');
  });

  test('shows a later look that speaks against an earlier outlook plainly', () => {
    const text = said(dossier('history'), 'hindsight');
    expect(text).toContain('1 was through');
    expect(text).toContain('through: against the outlook');
    expect(text).toMatch(/14 March 2026: \d+ to \d+ in 100; 9 May 2026: /);
  });

  test('carries the photos of every visit, those of the earlier named apart', () => {
    const { photos } = dossier('history', [march, may], [['before.jpg'], ['after.jpg']]);
    expect(photos.map(({ id }) => id)).toEqual(['before', 'after']);
  });
});
