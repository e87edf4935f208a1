import fc from 'fast-check';
import { PDFArray, PDFDict, PDFDocument, PDFHexString, PDFName, PDFNumber } from 'pdf-lib';
import { beforeAll, expect, test } from 'vitest';
import type { Block, BlockOf, Dossier } from '../../../src/model/dossier.ts';
import { drawnBar } from '../../../src/print/bars.ts';
import { openFonts } from '../../../src/print/pdf/fonts.ts';
import { layOut } from '../../../src/print/pdf/index.ts';
import type { Layout, RangeItem, TextItem } from '../../../src/print/pdf/items.ts';
import { geometryOf } from '../../../src/print/pdf/look.ts';
import { axisPath, barPath } from '../../../src/print/pdf/shapes.ts';
import { sampleDossier } from '../sample-dossier.ts';
import { sampleOutlook } from '../sample-outlook.ts';
import { dictionary, entry, poppler, pdfOf, rendered, saved, temporaryFolder } from './tools.ts';

const folder = temporaryFolder();
const geometry = geometryOf('A4');
const outlook = sampleOutlook('#outlook');
const bars = outlook.items.flatMap((item) => item.bars);
let dossier: Dossier;
let layout: Layout;
let file: string;
let pdf: PDFDocument;

/** A dossier of one section, without photos. */
function dossierOf(...blocks: Block[]): Dossier {
  return { ...sampleDossier(), photos: [], sections: [{ id: 'outlook', title: 'Outlook', page: 'index', breakBefore: true, blocks }] };
}

function laidOut(...blocks: Block[]): Layout {
  return layOut(dossierOf(...blocks), openFonts(), geometry, { role: 'Document', parent: null });
}

function plain(item: TextItem): string {
  return item.runs.map((run) => run.shaped.text).join('');
}

beforeAll(async () => {
  dossier = dossierOf(outlook);
  layout = laidOut(outlook);
  const bytes = await pdfOf(dossier, { pictureFolder: folder });
  file = saved(bytes, folder);
  pdf = await PDFDocument.load(bytes, { updateMetadata: false });
});

test('names, sentences, labels and numbers are words that can be searched', () => {
  const text = poppler('pdftotext', ['-enc', 'UTF-8', file, '-']);
  if (!text) return;
  const words = text.toString('utf8').replace(/\s+/g, ' ');
  expect(words).toContain(outlook.caption);
  for (const { name, bars: own } of outlook.items) {
    expect(words).toContain(name);
    for (const { text: said } of own) expect(words).toContain(said);
  }
  expect(words.match(/if left/g)).toHaveLength(bars.filter(({ label }) => label === 'if left').length);
  expect(words.match(/with the work done/g)).toHaveLength(bars.filter(({ label }) => label === 'with the work done').length);
  expect(words).toContain('dashed line');
  // Numbers of the scale: at the first and the last.
  expect(words.match(/\b0 25 50 75 100\b/g)).toHaveLength(2);
});

test('each bar is a figure with its label and numbers as text, and a place on the page', () => {
  const found: { alt: string; box: number[] }[] = [];
  const walk = (node: PDFDict): void => {
    const kids = node.lookup(PDFName.of('K'), PDFArray);
    if (entry(node, 'S') === PDFName.of('Figure')) {
      const alt = entry(node, 'Alt');
      const box = dictionary(node, 'A').lookup(PDFName.of('BBox'), PDFArray);
      found.push({ alt: alt instanceof PDFHexString ? alt.decodeText() : '', box: box.asArray().map((_, index) => box.lookup(index, PDFNumber).asNumber()) });
    }
    for (const [index] of kids.asArray().entries()) {
      const kid = kids.lookup(index);
      if (kid instanceof PDFDict && kid.has(PDFName.of('S'))) walk(kid);
    }
  };
  const root = dictionary(pdf.catalog, 'StructTreeRoot').lookup(PDFName.of('K'), PDFArray).lookup(0, PDFDict);
  walk(root);
  expect(found.map(({ alt }) => alt)).toEqual(bars.map(({ label, text }) => `${label}: ${text}`));
  for (const { box } of found) {
    const [left = 0, bottom = 0, right = 0, top = 0] = box;
    expect(left).toBeGreaterThanOrEqual(geometry.left - 0.01);
    expect(right).toBeLessThanOrEqual(geometry.left + geometry.bodyWidth + 0.01);
    expect(top - bottom).toBeGreaterThan(12);
    expect(bottom).toBeGreaterThan(0);
    expect(top).toBeLessThan(geometry.height);
  }
});

test('name, sentence and bars of an item stand on one page, wherever the page ends', () => {
  let turned = 0;
  for (let filler = 0; filler < 30; filler += 1) {
    const lines: Block = { type: 'code', text: Array.from({ length: filler + 12 }, () => 'filler').join('\n') };
    const { pages, anchors } = laidOut(lines, outlook);
    for (const item of outlook.items) {
      const holding = pages.filter(({ items }) => items.some((each) => each.kind === 'text' && item.name.startsWith(plain(each).trim()) && plain(each).trim().length > 5));
      expect(holding, item.name).toHaveLength(1);
      const [page] = holding;
      const drawn = page?.items.filter((each): each is RangeItem => each.kind === 'range' && item.bars.some((bar) => each.bar.text === bar.text && each.bar.label === bar.label)) ?? [];
      expect(drawn.length, item.name).toBeGreaterThanOrEqual(item.bars.length);
    }
    const [first, second] = ['outlook-outer-cell', 'outlook-inner-cell'].map((anchor) => anchors.get(anchor)?.page);
    if (first !== second) {
      turned += 1;
      // Where the outlook goes over to another page, that page says once more what the bars are about.
      const head = pages[second ?? 0]?.items.find((each): each is TextItem => each.kind === 'text');
      expect(head && plain(head)).toBe(`${outlook.caption}, continued`);
    }
  }
  expect(turned).toBeGreaterThan(0);
});

/** Left and right ends of everything painted by path operators, pens included. */
function painted(path: string): { left: number; right: number; filled: number } {
  let [left, right, filled, pen] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 0, 0];
  const reach = (...values: number[]): void => {
    left = Math.min(left, ...values);
    right = Math.max(right, ...values);
  };
  for (const [, value = ''] of path.matchAll(/([\d.]+) w\b/g)) pen = Number(value);
  // Lines along the scale end where they end; upright ones are as wide as their pen.
  for (const [, x1, y1, x2, y2] of path.matchAll(/(-?[\d.]+) (-?[\d.]+) m (-?[\d.]+) (-?[\d.]+) l/g)) {
    const half = y1 === y2 ? 0 : pen / 2;
    reach(Number(x1) - half, Number(x2) - half, Number(x1) + half, Number(x2) + half);
  }
  for (const [, x = '', width = '', paint] of path.matchAll(/(-?[\d.]+) -?[\d.]+ (-?[\d.]+) -?[\d.]+ re ([fS])/g)) {
    const half = paint === 'S' ? pen / 2 : 0;
    reach(Number(x) - half, Number(x) + Number(width) + half);
    filled = Math.max(filled, Number(width) + 2 * half);
  }
  return { left, right, filled };
}

test('whatever the numbers, a bar stays on its scale and can be seen', () => {
  const five = fc.array(fc.oneof(fc.constantFrom(0, 100), fc.double({ min: 0, max: 100, noNaN: true })), { minLength: 5, maxLength: 5 }).map((values) => values.toSorted((a, b) => a - b));
  fc.assert(
    fc.property(five, fc.boolean(), fc.double({ min: 60, max: 400, noNaN: true }), ([best = 0, low = 0, middle = 0, high = 0, worst = 0], hollow, width) => {
      const bar = drawnBar({ label: '', text: '', best, low, middle, high, worst }, hollow ? 1 : 0);
      const path = barPath(bar, 40, 700, width);
      const { left, right, filled } = painted(path);
      expect(path).not.toMatch(/NaN|e-/);
      expect(left).toBeGreaterThanOrEqual(40 - 0.002);
      expect(right).toBeLessThanOrEqual(40 + width + 0.002);
      expect(filled).toBeGreaterThanOrEqual(Math.max(0.025, (high - low) / 100) * width - 0.01);
    }),
    { examples: [0, 0.4, 50, 99.9, 100].flatMap((value): [number[], boolean, number][] => [false, true].map((hollow) => [[value, value, value, value, value], hollow, 180])) },
  );
  const axis = painted(axisPath(40, 700, 200));
  expect([axis.left, axis.right]).toEqual([40, 240]);
});

test('in a grey print the first bar is solid and the second hollow', () => {
  const scale = 200 / 72;
  const shade = new Map<boolean, number>();
  for (const [index, { items }] of layout.pages.entries()) {
    const wide = items.filter((item): item is RangeItem => item.kind === 'range' && item.bar.high - item.bar.low > 60);
    if (wide.length === 0) continue;
    const image = rendered(file, index + 1, 200);
    if (!image) return;
    for (const { x, y, scale: axis, bar } of wide) {
      // Halfway between the low end and the middle, at the height of the thick line.
      const across = (x + axis.dx + (axis.width * (bar.low + bar.middle)) / 200) * scale;
      const down = (y + axis.dy + 6.4) * scale;
      shade.set(bar.hollow, image.pixels[Math.round(down) * image.width + Math.round(across)] ?? -1);
    }
  }
  expect(shade.get(false)).toBeLessThan(80);
  expect(shade.get(true)).toBeGreaterThan(200);
});

test('an item taller than a page loses no word', () => {
  const words = Array.from({ length: 900 }, (_, index) => `word${index}`);
  const [item] = outlook.items as [BlockOf<'outlook'>['items'][number]];
  const [bar] = item.bars as [(typeof bars)[number]];
  const { pages } = laidOut({ ...outlook, items: [{ ...item, bars: [{ ...bar, text: words.join(' ') }] }] });
  const printed = pages.flatMap(({ items }) => items.flatMap((each) => (each.kind === 'text' && each.tag.role === 'Figure' ? [plain(each)] : []))).join(' ').match(/word\d+/g);
  expect(printed).toEqual(words);
});

test('the numbers of a step stand between what to do and its cautions', () => {
  const words = layOut(sampleDossier(), openFonts(), geometry, { role: 'Document', parent: null }).pages.flatMap(({ items }) => items.flatMap((item) => (item.kind === 'text' ? [plain(item)] : []))).join('');
  const [what, figures, cautions] = ['Wash out, dry, four plugs', 'with the work: ', 'Before you spray: '].map((start) => words.indexOf(start)) as [number, number, number];
  expect(what).toBeGreaterThan(0);
  expect(figures).toBeGreaterThan(what);
  expect(cautions).toBeGreaterThan(figures);
});
