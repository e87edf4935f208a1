import { PDFArray, PDFDict, PDFDocument, PDFName } from 'pdf-lib';
import { beforeAll, expect, test } from 'vitest';
import type { Dossier } from '../../../src/model/dossier.ts';
import { openFonts } from '../../../src/print/pdf/fonts.ts';
import { layOut } from '../../../src/print/pdf/index.ts';
import type { Item, Layout, PictureItem } from '../../../src/print/pdf/items.ts';
import { geometryOf } from '../../../src/print/pdf/look.ts';
import { pairDossier, writePairPictures } from '../site/pair-dossier.ts';
import { dictionary, entry, poppler, pdfOf, rendered, saved, temporaryFolder } from './tools.ts';

const folder = temporaryFolder();
const geometry = geometryOf('A4');
let file: string;
let pdf: PDFDocument;

/** The pairs alone, without the sheet of their photos. */
function dossier(): Dossier {
  const made = pairDossier(true);
  return { ...made, sections: made.sections.slice(0, 1) };
}

function laidOut(made: Dossier): Layout {
  return layOut(made, openFonts(), geometry, { role: 'Document', parent: null });
}

interface Placed {
  page: number;
  item: Item;
}

function itemsOf(layout: Layout): Placed[] {
  return layout.pages.flatMap(({ items }, page) => items.map((item) => ({ page, item })));
}

function pictureOf(all: readonly Placed[], id: string, which = 0): { page: number; item: PictureItem } {
  const found = all.filter((one): one is { page: number; item: PictureItem } => one.item.kind === 'picture' && one.item.file.startsWith(`photos/${id}-`))[which];
  if (!found) throw new Error(`${id} is not drawn`);
  return found;
}

function textsOf(all: readonly Placed[], words: string): Placed[] {
  return all.filter(({ item }) => item.kind === 'text' && item.runs.map((run) => run.shaped.text).join('').includes(words));
}

beforeAll(async () => {
  await writePairPictures(folder);
  const bytes = await pdfOf(dossier(), { pictureFolder: folder });
  file = saved(bytes, folder);
  pdf = await PDFDocument.load(bytes, { updateMetadata: false });
});

test('two photos of one shape stand abreast, as large as each other, each over its caption', () => {
  const all = itemsOf(laidOut(dossier()));
  const [before, after] = [pictureOf(all, 'was-wide'), pictureOf(all, 'now-wide')];
  expect(after.page).toBe(before.page);
  expect(after.item.y).toBeCloseTo(before.item.y, 3);
  expect(after.item.x).toBeGreaterThan(before.item.x + before.item.width);
  expect([after.item.width, after.item.height]).toEqual([before.item.width, before.item.height]);
  expect(after.item.width / after.item.height).toBeCloseTo(4 / 3, 2);
  for (const [picture, words] of [[before, 'Before. Plug missing.'], [after, 'After. New plug of 25 mm.']] as const) {
    const [caption] = textsOf(all, words);
    expect(caption?.page).toBe(picture.page);
    expect(caption?.item.x).toBeCloseTo(picture.item.x, 3);
    expect(caption?.item.y).toBeGreaterThan(picture.item.y + picture.item.height);
  }
});

test('photos of two shapes are whole in frames of the later, and that is said with them, once for each such pair', () => {
  const all = itemsOf(laidOut(dossier()));
  const tallInWide = [pictureOf(all, 'was-tall'), pictureOf(all, 'now-wide', 1)] as const;
  const wideInTall = [pictureOf(all, 'was-wide', 1), pictureOf(all, 'now-tall')] as const;
  for (const [[before, after], ratio] of [[tallInWide, 3 / 4], [wideInTall, 4 / 3]] as const) {
    expect(before.item.width / before.item.height).toBeCloseTo(ratio, 2);
    expect(after.item.width / after.item.height).toBeCloseTo(1 / ratio, 2);
    expect(before.item.width).toBeLessThanOrEqual(after.item.width + 0.01);
    expect(before.item.height).toBeLessThanOrEqual(after.item.height + 0.01);
    // Half way down both.
    expect(before.item.y + before.item.height / 2).toBeCloseTo(after.item.y + after.item.height / 2, 2);
    expect(after.item.x).toBeGreaterThan(before.item.x + before.item.width);
  }
  expect(textsOf(all, 'The two photos differ in shape')).toHaveLength(2);
});

test('a pair stays on one page with its title, what lies between and its words, wherever it begins', () => {
  for (let lines = 0; lines < 40; lines += 4) {
    const made = dossier();
    made.sections[0]?.blocks.unshift(...Array.from({ length: lines }, () => ({ type: 'paragraph' as const, inline: ['A line before.'] })));
    const all = itemsOf(laidOut(made));
    const pages = [
      ...textsOf(all, 'Plug, inner face 2'), ...textsOf(all, 'Before. Plug missing.'), ...textsOf(all, 'Between the two. Hole primed.'), ...textsOf(all, 'Before: 14 March 2026'),
    ].map(({ page }) => page);
    expect(pages, `${lines} lines`).toHaveLength(4);
    expect(new Set([...pages, pictureOf(all, 'was-wide').page, pictureOf(all, 'now-wide').page, pictureOf(all, 'between').page]).size, `${lines} lines`).toBe(1);
  }
});

test('each photo is a figure of its own in the structure tree, with its text', () => {
  const texts: string[] = [];
  const walk = (node: PDFDict): void => {
    if (entry(node, 'S') === PDFName.of('Figure')) {
      texts.push((entry(node, 'Alt') as unknown as { decodeText(): string }).decodeText());
      expect(dictionary(node, 'A').lookup(PDFName.of('BBox'), PDFArray).size()).toBe(4);
    }
    const kids = node.lookup(PDFName.of('K'), PDFArray);
    for (const index of kids.asArray().keys()) {
      const kid = kids.lookup(index);
      if (kid instanceof PDFDict && kid.has(PDFName.of('S'))) walk(kid);
    }
  };
  walk(dictionary(pdf.catalog, 'StructTreeRoot').lookup(PDFName.of('K'), PDFArray).lookup(0, PDFDict));
  // Of the last pair one cannot be shown: its words stand in its place.
  expect(texts).toEqual(['Plug missing', 'New plug of 25 mm', 'Hole primed', 'Scaling', 'Primed', 'Open', 'Shut', 'Waxed'].map((words) => `${words}, the photo`));
});

test('a link leads to the pair, and why one is not shown can be read', () => {
  const made = dossier();
  made.sections[0]?.blocks.unshift({ type: 'paragraph', inline: [{ text: 'the pair', href: '#pair-plug-2' }] });
  const layout = laidOut(made);
  expect(layout.anchors.get('pair-plug-2')?.page).toBe(pictureOf(itemsOf(layout), 'was-wide').page);
  const text = poppler('pdftotext', ['-enc', 'UTF-8', file, '-']);
  if (text) expect(text.toString('utf8').replace(/\s+/g, ' ')).toContain('The file ends before its first line.');
});

test('on the page both greys are where they are laid out', () => {
  const all = itemsOf(laidOut(dossier()));
  const dpi = 36;
  const [before, after] = [pictureOf(all, 'was-wide'), pictureOf(all, 'now-wide')];
  const image = rendered(file, before.page + 1, dpi);
  if (!image) return;
  const greyAt = ({ x, y, width, height }: PictureItem, across: number): number => image.pixels[Math.round(((y + height * 0.85) * dpi) / 72) * image.width + Math.round(((x + width * across) * dpi) / 72)] ?? -1;
  for (const across of [0.05, 0.95]) {
    expect(greyAt(before.item, across)).toBeLessThan(70);
    expect(greyAt(after.item, across)).toBeGreaterThan(200);
    expect(greyAt(after.item, across)).toBeLessThan(240);
  }
});
