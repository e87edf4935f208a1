import { PDFArray, PDFDict, PDFDocument, PDFHexString, PDFName } from 'pdf-lib';
import { beforeAll, expect, test } from 'vitest';
import type { Block, Dossier } from '../../../src/model/dossier.ts';
import { drawnScale } from '../../../src/print/plots.ts';
import { openFonts } from '../../../src/print/pdf/fonts.ts';
import { layOut } from '../../../src/print/pdf/index.ts';
import type { DrawingItem, Layout, TextItem } from '../../../src/print/pdf/items.ts';
import { geometryOf } from '../../../src/print/pdf/look.ts';
import { plotPaths } from '../../../src/print/pdf/plots.ts';
import { sampleDossier } from '../sample-dossier.ts';
import { plotOf, samplePlots, sampleTimeline } from '../sample-plots.ts';
import { contentOf, dictionary, entry, poppler, pdfOf, rendered, saved, temporaryFolder } from './tools.ts';

const folder = temporaryFolder();
const geometry = geometryOf('A4');
const plots = samplePlots('#readings');
const day = sampleTimeline(['readings', 'readings', 'readings', 'readings']);
const items = plots.scales.flatMap((scale) => scale.items);
let file: string;
let layout: Layout;
let pdf: PDFDocument;

function dossierOf(...blocks: Block[]): Dossier {
  return { ...sampleDossier(), photos: [], sections: [{ id: 'readings', title: 'Readings', page: 'index', breakBefore: true, blocks }] };
}

function laidOut(...blocks: Block[]): Layout {
  return layOut(dossierOf(...blocks), openFonts(), geometry, { role: 'Document', parent: null });
}

const plain = (item: TextItem): string => item.runs.map((run) => run.shaped.text).join('');
const drawings = ({ pages }: Layout): DrawingItem[] => pages.flatMap((page) => page.items.filter((item) => item.kind === 'drawing'));

beforeAll(async () => {
  layout = laidOut(plots, day);
  const bytes = await pdfOf(dossierOf(plots, day), { pictureFolder: folder });
  file = saved(bytes, folder);
  pdf = await PDFDocument.load(bytes, { updateMetadata: false });
});

test('each reading and each row of a day is a figure with its sentence as alternative', () => {
  const found: string[] = [];
  const walk = (node: PDFDict): void => {
    const kids = node.lookup(PDFName.of('K'), PDFArray);
    if (entry(node, 'S') === PDFName.of('Figure')) {
      const alt = entry(node, 'Alt');
      found.push(alt instanceof PDFHexString ? alt.decodeText() : '');
      expect(dictionary(node, 'A').lookup(PDFName.of('BBox'), PDFArray).size()).toBe(4);
    }
    for (const [index] of kids.asArray().entries()) {
      const kid = kids.lookup(index);
      if (kid instanceof PDFDict && kid.has(PDFName.of('S'))) walk(kid);
    }
  };
  walk(dictionary(pdf.catalog, 'StructTreeRoot').lookup(PDFName.of('K'), PDFArray).lookup(0, PDFDict));
  expect(found).toEqual([...items.map(({ plot }) => plot.label), ...day.rows.map(({ name, text }) => `${name}: ${text}`)]);
});

test('names, numbers, sentences, marks and the scale are words that can be searched', () => {
  const text = poppler('pdftotext', ['-enc', 'UTF-8', file, '-']);
  if (!text) return;
  const words = text.toString('utf8').replace(/\s+/g, ' ');
  for (const said of [plots.caption, day.caption, day.label, 'Outlined dots do not count', '4.4 × the roof’s 118 µm', 'dashed: the roof, median 118 µm', '0 500 1000 1500 2000', '10:00 10:15 10:30']) expect(words).toContain(said);
  for (const { plot } of items) expect(words).toContain(plot.text);
});

test('ink stands where the values are: dots filled, outlined where they do not count', () => {
  const dpi = 288;
  const scale = dpi / 72;
  const all = layout.pages.map(({ items: placed }) => placed.filter((item): item is DrawingItem => item.kind === 'drawing'));
  const page = all.findIndex((found) => found.length > 0);
  expect(all[page]?.length).toBeGreaterThanOrEqual(items.length);
  const image = rendered(file, page + 1, dpi);
  if (!image) return;
  const shadeAt = (x: number, y: number): number => image.pixels[Math.round(y * scale) * image.width + Math.round(x * scale)] ?? -1;
  const drawn = plots.scales.flatMap(({ items: own }) => drawnScale(own).plots);
  const centreOf = (index: number, dot: number): number => {
    const item = all[page]?.[index];
    const plot = drawn[index];
    const at = plot?.dots[dot];
    if (!item || !plot || !at) throw new Error('a drawing is missing');
    const rise = plot.levels > 1 ? Math.min(3.7, 30 / (plot.levels - 1)) : 0;
    return shadeAt(item.x + (item.width * at.at) / 100, item.y + 6.8 + rise * (plot.levels - 1) - 3.2 - rise * at.level);
  };
  expect(centreOf(1, 0)).toBeLessThan(80);
  expect(centreOf(0, 0)).toBeLessThan(80);
  // The one that stands out, and those that do not count, are light inside.
  expect(centreOf(0, 4)).toBeGreaterThan(200);
  expect(centreOf(4, 0)).toBeGreaterThan(200);
  // Between two values far apart there is none.
  const [first] = all[page] ?? [];
  expect(shadeAt((first?.x ?? 0) + 0.8 * (first?.width ?? 0), (first?.y ?? 0) + 2)).toBeGreaterThan(200);
});

test('operators are plain numbers, and stay within the scale', () => {
  for (const values of [[0], [0, 0, 0], [1, 1_000_000], Array.from({ length: 300 }, () => 5), [0.0001]]) {
    const { ticks, plots: [plot] } = drawnScale([{ name: [''], inline: [], plot: plotOf('', values, { counts: values.length < 3 }) }]);
    if (!plot) throw new Error('a reading is drawn');
    const { height, paths } = plotPaths(plot, ticks, 180, 20);
    expect(paths).not.toMatch(/NaN|Infinity|undefined|e[-+]\d/);
    expect(height).toBeLessThan(60);
    for (const [, x = ''] of paths.matchAll(/(-?[\d.]+) -?[\d.]+ [ml]\b/g)) {
      expect(Number(x)).toBeGreaterThanOrEqual(-2.6);
      expect(Number(x)).toBeLessThanOrEqual(182.6);
    }
  }
});

test('a reading stays whole on its page, and a page that goes on has the scale again', () => {
  let turned = 0;
  for (let filler = 0; filler < 40; filler += 3) {
    const lines: Block = { type: 'code', text: Array.from({ length: filler + 12 }, () => 'filler').join('\n') };
    const made = laidOut(lines, plots);
    for (const { plot } of items) {
      const on = made.pages.filter(({ items: placed }) => placed.some((item) => item.kind === 'drawing' && item.tag.alt === plot.label));
      expect(on, plot.label).toHaveLength(1);
      expect(on[0]?.items.some((item) => item.kind === 'text' && item.tag.alt === plot.label)).toBe(true);
    }
    const again = made.pages.filter(({ items: placed }) => placed.some((item) => item.kind === 'text' && plain(item) === 'Film, in µm, continued'));
    turned += again.length;
  }
  expect(turned).toBeGreaterThan(0);
});

test('a sentence taller than a page loses no word', () => {
  const words = Array.from({ length: 1500 }, (_, index) => `word${index}`);
  const [scale] = plots.scales;
  const [item] = scale?.items ?? [];
  if (!scale || !item) throw new Error('the sample has a reading');
  const made = laidOut({ ...plots, scales: [{ ...scale, items: [{ ...item, inline: [words.join(' ')] }] }] });
  const printed = made.pages.flatMap(({ items: placed }) => placed.flatMap((each) => (each.kind === 'text' ? [plain(each)] : []))).join(' ').match(/word\d+/g);
  expect(printed).toEqual(words);
});

test('whatever the words are, they reach the page as words', () => {
  const hostile = ') Tj ET Q <</Evil true>> \\ \u0000 BDC';
  const [scale] = plots.scales;
  const [item] = scale?.items ?? [];
  if (!scale || !item) throw new Error('the sample has a reading');
  const bad: Block = { ...plots, caption: hostile, scales: [{ title: hostile, items: [{ name: [hostile], inline: [hostile], plot: { ...item.plot, text: hostile, label: hostile } }] }] };
  return pdfOf(dossierOf(bad, { ...day, caption: hostile, label: hostile, rows: [{ name: hostile, text: hostile, marks: day.rows[0]?.marks ?? [] }] }), { pictureFolder: folder }).then(async (bytes) => {
    const read = await PDFDocument.load(bytes, { updateMetadata: false });
    for (let page = 0; page < read.getPageCount(); page += 1) expect(contentOf(read, page)).not.toContain('Evil');
    expect(drawings(laidOut(bad)).map(({ tag }) => tag.alt)).toEqual([hostile]);
  });
});

test('headings of the photo index keep with their photos', () => {
  const photos = sampleDossier().photos.slice(0, 2).map(({ id }) => ({ photo: id, caption: ['found'], alt: 'found' }));
  for (let filler = 20; filler < 56; filler += 1) {
    const blocks: Block[] = [{ type: 'code', text: Array.from({ length: filler }, () => 'filler').join('\n') }, { type: 'heading', level: 3, text: '10:12 · Sill, left' }, { type: 'photos', look: 'index', figures: photos }];
    const { pages } = layOut({ ...sampleDossier(), sections: [{ id: 'photos', title: 'Photos', page: 'photos', breakBefore: true, blocks }] }, openFonts(), geometry, { role: 'Document', parent: null });
    const holding = pages.find(({ items: placed }) => placed.some((item) => item.kind === 'text' && plain(item).startsWith('10:12 ')));
    expect(holding?.items.some((item) => item.kind === 'picture'), String(filler)).toBe(true);
  }
});
