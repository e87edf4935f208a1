import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import type { Block, Dossier } from '../../../src/model/dossier.ts';
import { openFonts } from '../../../src/print/pdf/fonts.ts';
import { pairDossier } from '../site/pair-dossier.ts';
import { placed, plain, textsOf } from './placed.ts';

const fonts = openFonts();

/** Pages of which more than a third (or `most`) is left empty although what comes next begins no page of its own; the last page aside. */
function gaps(dossier: Dossier, size: 'A4' | 'Letter', most = 1 / 3): string[] {
  const { layout, geometry } = placed(dossier, size, fonts);
  const breaks = new Set(['Contents', ...dossier.sections.filter(({ breakBefore }) => breakBefore).map(({ title }) => title)]);
  return layout.pages.slice(0, -1).flatMap(({ items }, index) => {
    const lowest = Math.max(...items.map((item) => item.y + (item.kind === 'text' || item.kind === 'state' ? 0 : item.height)));
    const share = (geometry.bottom - lowest) / (geometry.bottom - geometry.top);
    const next = layout.outline.find(({ level, at }) => level === 1 && at.page === index + 1 && at.y < geometry.top);
    const first = textsOf(layout.pages[index + 1]?.items ?? [])[0];
    return share <= most || (next && breaks.has(next.text)) ? [] : [`page ${index + 1} of ${size}: ${Math.round(share * 100)} % empty before ${first ? plain(first) : 'nothing'}`];
  });
}

test('no page of the sample is more than a third empty without reason', () => {
  const dossier = JSON.parse(readFileSync('sample-job/expected/dossier.json', 'utf8')) as Dossier;
  expect([...gaps(dossier, 'A4'), ...gaps(dossier, 'Letter')]).toEqual([]);
});

// A pair with a photo between its two is whole on its page even so: our judgement.
test('nor is one more than two fifths empty before a pair with a photo between, wherever it begins', () => {
  const made = pairDossier(true);
  const [pairs] = made.sections;
  for (let lines = 0; lines < 60; lines += 3) {
    const before: Block = { type: 'code', text: Array.from({ length: lines + 1 }, () => 'filler').join('\n') };
    const dossier = { ...made, sections: pairs ? [{ ...pairs, blocks: [before, ...pairs.blocks.filter((block) => block.type === 'pair' && block.title !== 'Front end')] }] : [] };
    expect([...gaps(dossier, 'A4', 0.4), ...gaps(dossier, 'Letter', 0.4)], `${lines} lines`).toEqual([]);
  }
});

test('a contents list a few lines too long for a page is set closer, not on two', () => {
  const made = pairDossier(true);
  for (const count of [20, 34, 36, 40, 44]) {
    const sections = Array.from({ length: count }, (_, index) => ({ id: `s${index}`, title: `Section ${index}`, page: 'index', breakBefore: index === 0, blocks: [{ type: 'paragraph' as const, inline: ['Words.'] }] }));
    const { layout } = placed({ ...made, photos: [], sections }, 'Letter', fonts);
    expect(layout.anchors.get('s0')?.page, `${count} sections`).toBe(2);
  }
});

test('a section goes on where the one before ends rather than leave a few lines on a last page', () => {
  const made = pairDossier(true);
  const filled = (id: string, lines: number): Dossier['sections'][number] => ({ id, title: id, page: id, breakBefore: true, blocks: [{ type: 'code', text: Array.from({ length: lines }, () => 'filler').join('\n') }] });
  const pagesOf = (second: number): number => placed({ ...made, photos: [], sections: [filled('one', 32), filled('two', second)] }, 'A4', fonts).layout.pages.length;
  // Alone: 32 lines take more than half a page and less than three quarters; 58 take a page and some lines.
  expect(pagesOf(20)).toBe(4);
  expect(pagesOf(58)).toBe(4);
});
