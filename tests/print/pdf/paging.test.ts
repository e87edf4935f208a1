import { expect, test } from 'vitest';
import type { Block } from '../../../src/model/dossier.ts';
import { openFonts } from '../../../src/print/pdf/fonts.ts';
import type { Layout, PictureItem, Tag } from '../../../src/print/pdf/items.ts';
import { sampleDossier } from '../sample-dossier.ts';
import { sampleOutlook } from '../sample-outlook.ts';
import { heard, outside, placed, plain, textsOf } from './placed.ts';

/** Lines that stand before what is tested, so that it comes to each height of a page. */
const fillers = Array.from({ length: 36 }, (_, index) => 26 + index);
const fonts = openFonts();
const sentence = 'This is a sentence about what was seen in this place, and it is followed by another one. ';

function filler(lines: number): Block {
  return { type: 'code', text: Array.from({ length: lines + 1 }, () => 'filler').join('\n') };
}

function laidOut(blocks: Block[]): Layout {
  const { layout, geometry } = placed({ ...sampleDossier(), sections: [{ id: 'tested', title: 'Tested', page: 'tested', breakBefore: true, blocks }] }, 'A4', fonts);
  expect(outside(layout, geometry)).toEqual([]);
  return layout;
}

function pagesWith(layout: Layout, words: string): number[] {
  return layout.pages.flatMap(({ items }, index) => (textsOf(items).some((item) => item.tag.role !== 'Artifact' && plain(item).includes(words)) ? [index] : []));
}

/** Lines of each node of running text by page. */
function linesOf(layout: Layout): Map<Tag, number[]> {
  const lines = new Map<Tag, number[]>();
  layout.pages.forEach(({ items }, page) => {
    const heights = new Map<Tag, Set<number>>();
    for (const item of textsOf(items).filter(({ tag }) => tag.role === 'P')) heights.set(item.tag, (heights.get(item.tag) ?? new Set()).add(item.y));
    for (const [tag, on] of heights) {
      const counts = lines.get(tag) ?? [];
      counts[page] = on.size;
      lines.set(tag, counts);
    }
  });
  return lines;
}

test('a heading has two lines, a row of a table or an entry and more of a list with it', () => {
  const paragraph: Block = { type: 'paragraph', inline: ['First words. ', sentence.repeat(6)] };
  const row = (text: string): { cells: { inline: string[] }[] } => ({ cells: [{ inline: [text] }, { inline: ['more'] }] });
  const table: Block = { type: 'table', caption: 'What the rows are', columns: [{ title: 'Place', weight: 1 }, { title: 'More', weight: 1 }], rows: [row('First words.'), row('Second row'), row('Third row')] };
  const list: Block = { type: 'list', ordered: false, items: ['First words.', 'Second entry', 'Third entry'].map((text) => [{ type: 'paragraph', inline: [text] }]) };
  const intro: Block = { type: 'paragraph', inline: ['What follows is a list:'] };
  const line: Block = { type: 'paragraph', inline: ['First words.'] };
  const more: Block = { type: 'paragraph', inline: ['And more. ', sentence.repeat(4)] };
  const followers: Block[][] = [[paragraph], [table], [intro, list], [line, more]];
  for (const level of [3, 5] as const) {
    for (const lines of fillers) {
      for (const blocks of followers) {
        const layout = laidOut([filler(lines), { type: 'heading', level, text: 'A heading' }, ...blocks]);
        const [page] = pagesWith(layout, 'A heading');
        expect(pagesWith(layout, 'First words.')[0], `${lines} lines before`).toBe(page);
        if (blocks[1] === more) expect(pagesWith(layout, 'And more.')[0]).toBe(page);
        if (blocks[0] === table) expect([...pagesWith(layout, 'What the rows are'), ...pagesWith(layout, 'Second row')]).toEqual([page, page]);
        if (blocks[1] === list) expect([...pagesWith(layout, 'What follows'), ...pagesWith(layout, 'Second entry')]).toEqual([page, page]);
      }
    }
  }
});

test('no line of a paragraph stands alone on a page', () => {
  let parted = 0;
  for (const lines of fillers) {
    const layout = laidOut([filler(lines), ...[2, 3, 4, 9].map((count): Block => ({ type: 'paragraph', inline: [sentence.repeat(count)] })), { type: 'remark', origin: 'opinion', inline: [sentence.repeat(5)] }]);
    for (const counts of linesOf(layout).values()) {
      const onPages = counts.filter((count) => count > 0);
      if (onPages.length < 2) continue;
      parted += 1;
      expect(Math.min(...onPages)).toBeGreaterThan(1);
    }
  }
  expect(parted).toBeGreaterThan(10);
});

test('a row of a table lower than a page is not parted', () => {
  for (const lines of fillers) {
    const layout = laidOut([filler(lines), { type: 'table', caption: '', columns: [{ title: 'A', weight: 1 }, { title: 'B', weight: 1 }], rows: [1, 2, 3].map((row) => ({ cells: [{ inline: [`begin${row} `, sentence.repeat(7), `end${row}`] }, { inline: ['x'] }] })) }]);
    for (const row of [1, 2, 3]) expect(pagesWith(layout, `begin${row}`)).toEqual(pagesWith(layout, `end${row}`));
  }
});

/** Pictures of a zone of so many photos that begins below some lines, by page; `left` is the share of its page below the upper edge of its title. */
function picturesOf(lines: number, count: number): { title: number; left: number; pictures: (PictureItem & { page: number })[] } {
  const { photos } = sampleDossier();
  const figures = photos.slice(0, count).map(({ id }) => ({ photo: id, caption: ['What it shows.'], alt: id }));
  const blocks: Block[] = [{ type: 'paragraph', tone: 'quiet', inline: ['Carries load.'] }, { type: 'paragraph', inline: [sentence.repeat(2)] }, { type: 'photos', look: 'large', figures }, { type: 'paragraph', inline: [sentence.repeat(3)] }];
  const { layout, geometry } = placed({ ...sampleDossier(), sections: [
    { id: 'first', title: 'First', page: 'first', breakBefore: true, blocks: [filler(lines)] },
    { id: 'zone', title: 'A zone', page: 'zone', breakBefore: false, blocks },
  ] }, 'A4', fonts);
  const pictures = layout.pages.flatMap(({ items }, page) => items.flatMap((item) => (item.kind === 'picture' ? [{ ...item, page }] : [])));
  const { page: title, y } = layout.anchors.get('zone') ?? { page: -1, y: NaN };
  return { title, left: (geometry.bottom - y) / (geometry.bottom - geometry.top), pictures };
}

test('the first photos of a zone stand on the page of its title unless a third of the page before would be left empty, set lower by no more than three tenths where that is needed', () => {
  for (const count of [1, 2, 3, 6]) {
    const whole = picturesOf(0, count).pictures;
    let lowered = 0;
    for (let lines = 2; lines < 60; lines += 1) {
      const { title, left, pictures } = picturesOf(lines, count);
      expect(pictures).toHaveLength(count);
      expect(pictures[0]?.page).toBe(left > 0.3 && pictures[0]?.page !== title ? title + 1 : title);
      pictures.forEach(({ width, height }, index) => {
        const { width: most = 0, height: tall = 0 } = whole[index] ?? {};
        expect(height / width).toBeCloseTo(tall / most, 4);
        expect(height).toBeLessThanOrEqual(tall + 0.001);
        if (height < tall - 0.001) lowered += 1;
      });
      // Pictures of a row are as they were or set to one height, the tallest of the block to no less than seven tenths.
      expect(Math.max(...pictures.map(({ height }) => height))).toBeGreaterThan(0.699 * Math.max(...whole.map(({ height }) => height)));
    }
    expect(lowered, `${count} photos`).toBeGreaterThan(0);
  }
});

test('a section that begins a page does so unless half of the page before would be left empty', () => {
  for (const [lines, page] of [[3, 2], [50, 3]] as const) {
    const sections = ['one', 'two'].map((id) => ({ id, title: id, page: id, breakBefore: true, blocks: [filler(lines)] }));
    const { layout } = placed({ ...sampleDossier(), sections });
    expect(layout.anchors.get('one')?.page).toBe(2);
    expect(layout.anchors.get('two')?.page).toBe(page);
  }
});

test('how bars are read is said in full once, and by its page at every other outlook', () => {
  const [first, second] = [sampleOutlook(), sampleOutlook()];
  for (const item of second.items) delete item.id;
  const layout = laidOut([first, filler(40), second]);
  const all = heard(layout);
  expect(all.match(/Thethickline/g)).toHaveLength(1);
  expect(all.match(/howtoreadthebars:page/g)).toHaveLength(1);
  const number = layout.pages.flatMap(({ items }) => textsOf(items).flatMap(({ runs }) => runs.flatMap((run) => (run.inText && run.pageOf ? [run.pageOf] : []))));
  expect(number).toHaveLength(1);
  expect(layout.anchors.get(number[0] ?? '')?.page).toBe(pagesWith(layout, 'The thick line')[0]);
});

test('the page after the cover holds the summary with the first steps, a line each, and is one page', () => {
  const dossier = sampleDossier();
  const { layout } = placed(dossier);
  expect(layout.anchors.get('summary')?.page).toBe(1);
  const words = textsOf(layout.pages[1]?.items ?? []).map(plain).join('');
  expect(words).toContain('First steps, in order');
  for (const step of dossier.sections[1]?.blocks.flatMap((block) => (block.type === 'steps' ? block.items : [])) ?? []) expect(words).toContain(step.title.join(''));
  expect(words).toContain(dossier.coverage.words);
  expect(plain(textsOf(layout.pages[2]?.items ?? [])[0] as never)).toBe('Contents');
});

test('a summary that fills its page keeps all its words and goes without the list of steps', () => {
  const dossier = sampleDossier();
  dossier.sections[0]?.blocks.push(...Array.from({ length: 9 }, (_, index): Block => ({ type: 'paragraph', inline: [`Part ${index}. `, sentence.repeat(4)] })));
  const { layout } = placed(dossier);
  for (let part = 0; part < 9; part += 1) expect(pagesWith(layout, `Part ${part}.`)).toHaveLength(1);
  const contents = pagesWith(layout, 'Contents')[0] ?? 0;
  expect(pagesWith(layout, 'Left sill, inner face: wash out').every((page) => page > contents)).toBe(true);
});

test('small groups of an index stand side by side, each below its own heading in one line and read as a whole', () => {
  const { photos } = sampleDossier();
  const name = (index: number): string => `Group ${index}, right · one photo`;
  const blocks = photos.slice(0, 5).flatMap(({ id }, index): Block[] => [{ type: 'heading', level: 3, text: name(index), id: `group-${index}` }, { type: 'photos', look: 'index', figures: [{ photo: id, id: `shown-${id}`, caption: [`Caption ${index}.`], alt: id }] }]);
  const layout = laidOut(blocks);
  const spoken = [0, 1, 2, 3, 4].map((index) => `${name(index)}Caption ${index}.`);
  expect(heard(layout)).toContain(spoken.join('').replace(/\s+/g, ''));
  const heights = [0, 1, 2, 3, 4].map((index) => layout.anchors.get(`group-${index}`)?.y ?? 0);
  expect([heights[1], heights[3]]).toEqual([heights[0], heights[2]]);
  expect([heights[2], heights[4]].every((height, index) => (height ?? 0) > (heights[2 * index] ?? 0))).toBe(true);
  const lines = layout.pages.flatMap(({ items }) => textsOf(items).filter(({ tag }) => tag.role === 'H2' || tag.role === 'H3').map((item) => plain(item).trim()));
  expect(lines).toEqual([0, 1, 2, 3, 4].map(name));
  expect(layout.outline.filter(({ text }) => text.startsWith('Group')).map(({ text }) => text)).toEqual([0, 1, 2, 3, 4].map(name));
});
