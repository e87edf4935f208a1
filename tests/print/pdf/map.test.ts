import { PDFArray, PDFDict, PDFDocument, PDFHexString, PDFName, PDFNumber } from 'pdf-lib';
import { beforeAll, describe, expect, test } from 'vitest';
import { outcomes } from '../../../src/model/catalogue.ts';
import type { Outcome } from '../../../src/model/catalogue.ts';
import type { Block } from '../../../src/model/dossier.ts';
import { drawnMap } from '../../../src/print/map/index.ts';
import { openFonts } from '../../../src/print/pdf/fonts.ts';
import { layOut } from '../../../src/print/pdf/index.ts';
import type { DrawingItem, Layout } from '../../../src/print/pdf/items.ts';
import { geometryOf } from '../../../src/print/pdf/look.ts';
import { areaPaths, operatorsOf } from '../../../src/print/pdf/map-paths.ts';
import { mapDossier } from '../map/dossier.ts';
import { builds, wholeMap } from '../map/maps.ts';
import { dictionary, entry, poppler, pdfOf, rendered, saved, temporaryFolder } from './tools.ts';

const folder = temporaryFolder();
const geometry = geometryOf('A4');
const map = wholeMap('pickup', true);
const dossier = mapDossier(map);
let file: string;
let pdf: PDFDocument;

function laidOut(given = dossier): Layout {
  return layOut(given, openFonts(), geometry, { role: 'Document', parent: null });
}

function drawingsOf({ pages }: Layout): { page: number; item: DrawingItem }[] {
  return pages.flatMap(({ items }, page) => items.flatMap((item) => (item.kind === 'drawing' ? [{ page, item }] : [])));
}

beforeAll(async () => {
  const bytes = await pdfOf(dossier, { pictureFolder: folder });
  file = saved(bytes, folder);
  pdf = await PDFDocument.load(bytes, { updateMetadata: false });
});

test('the map is one figure with a text alternative that names every zone in its state, and a place on the page', () => {
  const found: { alt: string; box: number[] }[] = [];
  const walk = (node: PDFDict): void => {
    if (entry(node, 'S') === PDFName.of('Figure')) {
      const alt = entry(node, 'Alt');
      const box = dictionary(node, 'A').lookup(PDFName.of('BBox'), PDFArray);
      found.push({ alt: alt instanceof PDFHexString ? alt.decodeText() : '', box: box.asArray().map((_, index) => box.lookup(index, PDFNumber).asNumber()) });
    }
    const kids = node.lookup(PDFName.of('K'), PDFArray);
    for (const [index] of kids.asArray().entries()) {
      const kid = kids.lookup(index);
      if (kid instanceof PDFDict && kid.has(PDFName.of('S'))) walk(kid);
    }
  };
  walk(dictionary(pdf.catalog, 'StructTreeRoot').lookup(PDFName.of('K'), PDFArray).lookup(0, PDFDict));
  const [figure] = found;
  expect(found).toHaveLength(1);
  for (const state of new Set(map.zones.map((zone) => zone.state))) {
    const said = new RegExp(`${state}: ([^.]*)\\.`, 'i').exec(figure?.alt ?? '')?.[1]?.split('; ');
    expect(said, state).toEqual(map.zones.filter((zone) => zone.state === state).map(({ name }) => name));
  }
  const [left = 0, bottom = 0, right = 0, top = 0] = figure?.box ?? [];
  expect([left, right]).toEqual([geometry.left, geometry.left + geometry.bodyWidth].map((x) => Math.round(x * 100) / 100));
  expect(bottom).toBeGreaterThan(geometry.height - geometry.bottom);
  expect(top).toBeLessThan(geometry.height);
});

test('titles, edges, names of defects and the key are words that can be searched; notes stand below', () => {
  const text = poppler('pdftotext', ['-enc', 'UTF-8', file, '-']);
  if (!text) return;
  const words = text.toString('utf8').replace(/\s+/g, ' ');
  for (const { title } of drawnMap(map).views) expect(words).toContain(title);
  for (const said of ['right side', 'left side', 'front', 'rear', ...outcomes, 'the driver’s, looking forward', 'Drawn on both sides']) expect(words).toContain(said);
});

describe.each(builds)('$body, rear doors: $rearDoors', ({ body, rearDoors }) => {
  test('the whole figure with its key stands on one page, in plain operators', () => {
    const [drawing, ...more] = drawingsOf(laidOut(mapDossier(wholeMap(body, rearDoors))));
    expect(more).toEqual([]);
    const { item } = drawing as { item: DrawingItem };
    expect(item.y).toBeGreaterThanOrEqual(geometry.top);
    expect(item.y + item.height).toBeLessThanOrEqual(geometry.bottom);
    expect(item.paths).not.toMatch(/NaN|Infinity|undefined|\de[-+]?\d/);
    // Every q has its Q, so that nothing drawn later is clipped.
    expect(item.paths.match(/\bq\b/g)).toHaveLength(item.paths.match(/\bQ\b/g)?.length ?? 0);
    const points = [...item.paths.matchAll(/(-?[\d.]+) (-?[\d.]+) m\b/g)].map(([, x, y]) => [Number(x), Number(y)] as const);
    expect(points.length).toBeGreaterThan(200);
  });
});

test('wherever a page ends, the map stays whole', () => {
  let turned = 0;
  for (let filler = 10; filler < 50; filler += 5) {
    const lines: Block = { type: 'code', text: Array.from({ length: filler }, () => 'filler').join('\n') };
    const [zones, ...rest] = dossier.sections;
    if (!zones) throw new Error('no section');
    const [{ page, item } = { page: -1, item: null }] = drawingsOf(laidOut({ ...dossier, sections: [{ ...zones, blocks: [lines, ...zones.blocks] }, ...rest] }));
    expect((item?.y ?? 0) + (item?.height ?? 0)).toBeLessThanOrEqual(geometry.bottom);
    turned = Math.max(turned, page);
  }
  expect(turned).toBeGreaterThan(2);
});

test('path data becomes operators point by point, upside down', () => {
  expect(operatorsOf('M0 0L10 0C10 5 5 10 0 10Z', { scale: 0.5, x: 100, y: 20 })).toBe('100 -20 m 105 -20 l 105 -22.5 102.5 -25 100 -25 c h');
});

test('each state has a pattern of its own, and only what was not seen a dashed edge', () => {
  const square = { d: 'M0 0L40 0L40 20L0 20Z', detail: '' };
  const drawn = outcomes.map((state: Outcome) => areaPaths({ ...square, state }, { scale: 1, x: 0, y: 0 }).replace(/[\d.]+ [\d.]+ [\d.]+ (rg|RG)/g, ''));
  expect(new Set(drawn).size).toBe(outcomes.length);
  outcomes.forEach((state, at) => {
    const edge = drawn[at]?.split('\n').at(-2) ?? '';
    expect(edge.includes('] 0 d'), state).toBe(state === 'not seen');
  });
});

test('in a grey print no state of the key looks like another', () => {
  const layout = laidOut();
  const [{ page, item } = { page: 0, item: null }] = drawingsOf(layout);
  const states = layout.pages[page]?.items.flatMap((each) => (each.kind === 'state' && item && each.y > item.y && each.y < item.y + item.height ? [each] : [])) ?? [];
  expect(states).toHaveLength(outcomes.length);
  const dots = 220 / 72;
  const image = rendered(file, page + 1, 220);
  if (!image) return;
  const swatches = states.map(({ x, y }) => {
    // Left of the state's shape, 22 by 10 points.
    const [left, top] = [Math.round((x - 27) * dots), Math.round((y - 1.3) * dots)];
    return Array.from({ length: 26 * 62 }, (_, at) => image.pixels[(top + Math.floor(at / 62)) * image.width + left + (at % 62)] ?? 255);
  });
  swatches.forEach((one, at) => swatches.slice(at + 1).forEach((other, next) => {
    const apart = one.filter((value, index) => Math.abs(value - (other[index] ?? 0)) > 16).length / one.length;
    // Our judgement: a twelfth of the dots clearly lighter or darker is seen at a glance.
    expect(apart, `${states[at]?.outcome} and ${states[at + 1 + next]?.outcome}`).toBeGreaterThan(1 / 12);
  }));
});
