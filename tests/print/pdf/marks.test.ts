import { createHash } from 'node:crypto';
import { readFileSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { PDFArray, PDFDict, PDFDocument, PDFName, PDFNumber, PDFRawStream } from 'pdf-lib';
import { beforeAll, expect, test } from 'vitest';
import { dossierSchema } from '../../../src/model/dossier.ts';
import { openFonts } from '../../../src/print/pdf/fonts.ts';
import { layOut } from '../../../src/print/pdf/index.ts';
import type { Layout, PictureItem, TextItem } from '../../../src/print/pdf/items.ts';
import { geometryOf } from '../../../src/print/pdf/look.ts';
import { markOperators } from '../../../src/print/pdf/marks.ts';
import { drawnMarks } from '../../../src/print/marks.ts';
import { everyMark, markedDossier } from '../marked-dossier.ts';
import { writeSamplePictures } from '../sample-dossier.ts';
import { contentOf, dictionary, entry, poppler, pdfOf, rendered, saved, temporaryFolder } from './tools.ts';

const folder = temporaryFolder();
const geometry = geometryOf('A4');
let file: string;
let pdf: PDFDocument;
let layout: Layout;
/** Pictures in drawing order, with their page. */
let pictures: { page: number; item: PictureItem }[];

beforeAll(async () => {
  await writeSamplePictures(folder);
  const bytes = await pdfOf(markedDossier(), { pictureFolder: folder });
  file = saved(bytes, folder);
  pdf = await PDFDocument.load(bytes, { updateMetadata: false });
  layout = layOut(markedDossier(), openFonts(), geometry, { role: 'Document', parent: null });
  pictures = layout.pages.flatMap(({ items }, page) => items.flatMap((item) => (item.kind === 'picture' ? [{ page, item }] : [])));
});

test('the made-up dossier is one', () => {
  expect(dossierSchema.safeParse(markedDossier()).error).toBeUndefined();
});

test('each shape is drawn twice, dark and wide, then light and thin, clipped to its picture', () => {
  const [first] = pictures;
  const content = contentOf(pdf, first?.page ?? 0);
  const { x = 0, y = 0, width = 0, height = 0 } = first?.item ?? {};
  const clip = /q ([\d.]+) ([\d.]+) ([\d.]+) ([\d.]+) re W n 1 j 1 J\n([^]*?)\nQ\n/.exec(content);
  const box = clip?.slice(1, 5).map(Number) ?? [];
  [x, geometry.height - y - height, width, height].forEach((value, index) => expect(box[index]).toBeCloseTo(value, 2));
  const drawn = clip?.[5] ?? '';
  const pens = [...drawn.matchAll(/([\d.]+ [\d.]+ [\d.]+) RG ([\d.]+) w (?:0 J \[[\d. ]+\] 0 d )?([^w]*?) S\b/g)].map(([, colour, pen, path]) => ({ colour, pen: Number(pen), path }));
  expect(pens).toHaveLength(2 * everyMark.length);
  for (let index = 0; index < pens.length; index += 2) {
    const [casing, line] = pens.slice(index, index + 2);
    expect(line?.path).toBe(casing?.path);
    expect(line?.colour).toBe('1 1 1');
    expect(casing?.pen).toBeGreaterThan((line?.pen ?? 0) + 1);
  }
  expect(drawn.match(/ B$/gm)).toHaveLength(everyMark.length);
  expect(drawn).not.toMatch(/NaN|undefined|e-/);
  // Saved and restored in pairs on the whole page.
  expect(content.match(/(?<![^\s])q(?![^\s])/g)?.length).toBe(content.match(/(?<![^\s])Q(?![^\s])/g)?.length);
});

test('marks and numbers stand in the mark of their figure, whose box is the picture', () => {
  for (const { page } of pictures) {
    const content = contentOf(pdf, page);
    for (const [, inside = ''] of content.matchAll(/\/Figure <<\/MCID \d+>> BDC\n([^]*?)EMC\n/g)) {
      expect(inside.match(/ Do Q/g)).toHaveLength(1);
      expect(inside.indexOf('re W n')).toBeGreaterThan(inside.indexOf(' Do Q'));
    }
    const outside = content.replaceAll(/\/Figure <<\/MCID \d+>> BDC\n[^]*?EMC\n/g, '');
    expect(outside).not.toContain('re W n');
  }
  const boxes: number[][] = [];
  const walk = (node: PDFDict): void => {
    const kids = node.lookup(PDFName.of('K'), PDFArray);
    if (entry(node, 'S') === PDFName.of('Figure')) boxes.push(dictionary(node, 'A').lookup(PDFName.of('BBox'), PDFArray).asArray().map((_, index) => dictionary(node, 'A').lookup(PDFName.of('BBox'), PDFArray).lookup(index, PDFNumber).asNumber()));
    for (const [index] of kids.asArray().entries()) {
      const kid = kids.lookup(index);
      if (kid instanceof PDFDict && kid.has(PDFName.of('S'))) walk(kid);
    }
  };
  walk(dictionary(pdf.catalog, 'StructTreeRoot').lookup(PDFName.of('K'), PDFArray).lookup(0, PDFDict));
  expect(boxes).toHaveLength(4);
  for (const [index, { item }] of pictures.entries()) {
    [item.x, geometry.height - item.y - item.height, item.x + item.width, geometry.height - item.y].forEach((value, side) => expect(boxes[index]?.[side]).toBeCloseTo(value, 1));
  }
});

test('each number stands whole in its picture, at its disc; a lone mark has none', () => {
  for (const { page, item } of pictures) {
    const numbers = (layout.pages[page]?.items ?? []).filter((each): each is TextItem => each.kind === 'text' && each.tag === item.tag);
    expect(numbers.map(({ runs }) => runs[0]?.shaped.text)).toEqual((item.marks?.length ?? 0) > 1 ? ['1', '2', '3', '4', '5', '6'] : []);
    for (const { x, y, runs: [run] } of numbers) {
      const [width, size] = [((run?.shaped.width ?? 0) * (run?.size ?? 0)) / 1000, run?.size ?? 0];
      expect(x).toBeGreaterThan(item.x);
      expect(x + width).toBeLessThan(item.x + item.width);
      expect(y - size).toBeGreaterThan(item.y);
      expect(y).toBeLessThan(item.y + item.height);
    }
  }
});

test('ink: each mark is a light line between dark ones where it should be, and no pixel outside of the pictures changes', async () => {
  const dpi = 200;
  const scale = dpi / 72;
  const bare = markedDossier();
  for (const photo of bare.photos) delete photo.marks;
  const without = saved(await pdfOf(bare, { pictureFolder: folder }), folder, 'without.pdf');
  for (const page of new Set(pictures.map((each) => each.page))) {
    const [image, plain] = [rendered(file, page + 1, dpi), rendered(without, page + 1, dpi)];
    if (!image || !plain) return;
    const at = (x: number, y: number): number => image.pixels[Math.round(y) * image.width + Math.round(x)] ?? -1;
    const items = pictures.filter((each) => each.page === page).map(({ item }) => item);
    for (const item of items.filter(({ width, marks }) => width > 150 && (marks?.length ?? 0) > 1)) {
      // Halfway along a line of each: fractions of the picture, and the way across the line.
      const spots: [x: number, y: number, across: [number, number]][] = [
        [0.25 - 0.1, 0.25, [1, 0]], [0.82, 0.1 + (0.2 * 0.08) / 0.3, [0.45, 0.89]], [0.75, 0.5, [0, 1]], [0.3, 0.93, [0, 1]], [0.2, 0.525, [0.24, 0.97]],
      ];
      for (const [x, y, [dx, dy]] of spots) {
        const profile = Array.from({ length: 25 }, (_, step) => at((item.x + x * item.width) * scale + (step - 12) * 0.5 * dx, (item.y + y * item.height) * scale + (step - 12) * 0.5 * dy));
        const lightest = Math.max(...profile.slice(8, 17));
        expect(lightest, `${x} ${y}: ${profile.join(' ')}`).toBeGreaterThan(200);
        const peak = profile.indexOf(lightest);
        expect(Math.min(...profile.slice(0, peak)), `${x} ${y}: ${profile.join(' ')}`).toBeLessThan(70);
        expect(Math.min(...profile.slice(peak)), `${x} ${y}: ${profile.join(' ')}`).toBeLessThan(70);
      }
    }
    let [changed, astray] = [0, 0];
    image.pixels.forEach((value, index) => {
      if (value === plain.pixels[index]) return;
      changed += 1;
      const [x, y] = [(index % image.width) / scale, Math.floor(index / image.width) / scale];
      // A pixel of the edge belongs to both.
      if (!items.some((item) => x > item.x - 0.8 && x < item.x + item.width + 0.8 && y > item.y - 0.8 && y < item.y + item.height + 0.8)) astray += 1;
    });
    expect(changed).toBeGreaterThan(2000);
    expect(astray).toBe(0);
  }
});

test('the pictures themselves stay as they are: each stream is its rendition byte for byte', () => {
  const files = new Set(readdirSync(path.join(folder, 'photos')).map((name) => createHash('sha256').update(readFileSync(path.join(folder, 'photos', name))).digest('hex')));
  const streams = pdf.context.enumerateIndirectObjects().flatMap(([, object]) => (object instanceof PDFRawStream && object.dict.get(PDFName.of('Subtype')) === PDFName.of('Image') ? [createHash('sha256').update(object.contents).digest('hex')] : []));
  expect(streams).toHaveLength(4);
  for (const stream of streams) expect(files).toContain(stream);
});

test('the words of the captions are there to be searched, beside the numbers', () => {
  const text = poppler('pdftotext', ['-enc', 'UTF-8', file, '-']);
  if (text) expect(text.toString('utf8').replace(/\s+/g, ' ')).toContain('Marks of a1.');
});

test('marks of a picture a few points wide are drawn without a figure that is none', () => {
  const frame = { x: 60, y: 100, width: 4, height: 300 };
  const path = markOperators(drawnMarks(everyMark, frame.width, frame.height), frame, 842);
  expect(path).toContain(' S\n');
  expect(path).not.toMatch(/NaN|Infinity|e-/);
});
