import { beforeAll, expect, test } from 'vitest';
import { openFonts } from '../../../src/print/pdf/fonts.ts';
import { layOut } from '../../../src/print/pdf/index.ts';
import type { Item, Layout, TextItem } from '../../../src/print/pdf/items.ts';
import { geometryOf } from '../../../src/print/pdf/look.ts';
import { sampleDossier, writeSamplePictures } from '../sample-dossier.ts';
import { pdfOf, rendered, saved, temporaryFolder } from './tools.ts';

const folder = temporaryFolder();
const geometry = geometryOf('A4');
let layout: Layout;

beforeAll(async () => {
  await writeSamplePictures(folder);
  layout = layOut(sampleDossier(), openFonts(), geometry, { role: 'Document', parent: null });
});

function textWidth(item: TextItem): number {
  return item.runs.reduce((sum, run) => sum + (run.shaped.width * run.size) / 1000, 0);
}

function plain(item: TextItem): string {
  return item.runs.map((run) => run.shaped.text).join('');
}

function textsOf(items: readonly Item[]): TextItem[] {
  return items.filter((item) => item.kind === 'text');
}

for (const size of ['A4', 'Letter'] as const) {
  test(`nothing is clipped on ${size}: all stands between the margins`, () => {
    const page = geometryOf(size);
    const { pages } = layOut(sampleDossier(), openFonts(), page, { role: 'Document', parent: null });
    const right = page.left + page.bodyWidth + 0.01;
    for (const { items } of pages) {
      for (const item of items) {
        // Spaces at the end of a line may hang out, words may not.
        const width = item.kind === 'text' ? textWidth({ ...item, runs: item.runs.slice(0, -1) }) : item.kind === 'state' ? item.size : item.width;
        expect(item.x).toBeGreaterThanOrEqual(page.left);
        expect(item.x + width).toBeLessThanOrEqual(right);
        expect(item.y).toBeGreaterThanOrEqual(page.top - 0.01);
        const height = item.kind === 'text' || item.kind === 'state' ? 0 : item.height;
        expect(item.y + height).toBeLessThanOrEqual(page.bottom + 3);
      }
    }
  });
}

test('no heading is stranded: below each stands text or a picture on the same page', () => {
  for (const { text, at } of layout.outline) {
    const items = layout.pages[at.page]?.items ?? [];
    const heading = items.findIndex((item) => item.kind === 'text' && /^H\d$/.test(item.tag.role) && text.startsWith(plain(item).trim().slice(0, 8)));
    expect(heading, text).toBeGreaterThanOrEqual(0);
    const after = items.slice(heading + 1).filter((item) => (item.kind === 'text' && !/^H\d$/.test(item.tag.role)) || item.kind === 'picture');
    expect(after.length, text).toBeGreaterThan(0);
  }
});

test('the head of a long table stands on each of its pages, and no hash is cut by a page', () => {
  const pages = layout.pages.filter(({ items }) => textsOf(items).some((item) => plain(item).startsWith('photos/2026-03-14/IMG_')));
  expect(pages.length).toBeGreaterThan(2);
  let rows = 0;
  for (const { items } of pages) {
    const texts = textsOf(items);
    expect(texts.filter((item) => plain(item).trim() === 'SHA-256')).toHaveLength(1);
    rows += texts.filter((item) => plain(item).startsWith('photos/2026-03-14/IMG_')).length;
    const letters = texts.map(plain).filter((text) => /^[0-9a-f]{8,}$/.test(text)).join('').length;
    expect(letters % 64).toBe(0);
  }
  expect(rows).toBe(90);
});

test('page numbers in contents, zones and the page after the cover are those of what they name', () => {
  const numbers = layout.pages.flatMap(({ items }) => textsOf(items).flatMap((item) => item.runs.flatMap((run) => (run.pageOf ? [run.pageOf] : []))));
  // Sections, zones; first steps with their title.
  expect(numbers).toHaveLength(8 + 5 + 4);
  for (const anchor of numbers) expect(layout.anchors.has(anchor)).toBe(true);
});

test('a row taller than a page is parted and keeps every word', () => {
  const dossier = sampleDossier();
  const words = Array.from({ length: 1500 }, (_, index) => `word${index}`);
  dossier.sections.push({ id: 'tall', title: 'Tall', page: 'tall', breakBefore: false, blocks: [{ type: 'table', caption: '', columns: [{ title: 'A', weight: 1 }, { title: 'B', weight: 1 }], rows: [{ cells: [{ inline: [words.join(' ')] }, { inline: ['short'] }] }] }] });
  const { pages } = layOut(dossier, openFonts(), geometry, { role: 'Document', parent: null });
  const printed = pages.flatMap(({ items }) => textsOf(items).filter((item) => item.tag.role === 'TD').map(plain)).join('').match(/word\d+/g);
  expect(printed).toEqual(words);
});

test('all words are ink: the letters of the subset fonts show when a page is rendered', async () => {
  const file = saved(await pdfOf(sampleDossier(), { pictureFolder: folder }), folder);
  const dpi = 100;
  let lines = 0;
  for (const [index, { items, head, foot }] of layout.pages.entries()) {
    const image = rendered(file, index + 1, dpi);
    if (!image) return;
    for (const item of textsOf([...items, ...head, ...foot])) {
      const size = item.runs[0]?.size ?? 0;
      // A page number is narrower than the room that is kept for it.
      if (!/[\p{L}\p{N}]{3}/u.test(plain(item)) || item.runs.some((run) => run.pageOf)) continue;
      const share = darkShare(image, dpi / 72, { x: item.x, y: item.y - size * 0.7, width: textWidth(item), height: size * 0.7 });
      // Noto Sans covers a fifth to a third of the box between baseline and ascender; grey letters count as dark.
      expect(share, `page ${index + 1}: ${plain(item)}`).toBeGreaterThan(0.1);
      lines += 1;
    }
  }
  expect(lines).toBeGreaterThan(400);
});

function darkShare(image: { width: number; pixels: Uint8Array }, scale: number, box: { x: number; y: number; width: number; height: number }): number {
  let dark = 0;
  let all = 0;
  for (let y = Math.floor(box.y * scale); y < (box.y + box.height) * scale; y += 1) {
    for (let x = Math.floor(box.x * scale); x < (box.x + box.width) * scale; x += 1) {
      all += 1;
      if ((image.pixels[y * image.width + x] ?? 255) < 190) dark += 1;
    }
  }
  return all === 0 ? 0 : dark / all;
}
