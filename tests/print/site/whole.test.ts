import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Dossier } from '../../../src/model/dossier.ts';
import type { SiteFigure, SitePage } from '../../../src/print/site/data.ts';
import { printSite } from '../../../src/print/site/index.ts';
import { sitePages } from '../../../src/print/site/pages.ts';
import { siteDossier, writeRenditions } from './dossier.ts';
import { pairDossier, pairPhotos } from './pair-dossier.ts';

/** All values of a name in a tree of plain data. */
function valuesOf(name: string, tree: unknown): unknown[] {
  if (Array.isArray(tree)) return tree.flatMap((one) => valuesOf(name, one));
  if (typeof tree !== 'object' || tree === null) return [];
  return Object.entries(tree).flatMap(([key, value]) => (key === name ? [value] : valuesOf(name, value)));
}

function pageOf(dossier: Dossier, form: SitePage['form']): SitePage {
  const page = sitePages(dossier, { pdf: 'dossier.pdf', oneFile: 'alone' }).pages.find((one) => one.form === form);
  if (!page) throw new Error(`No page is ${form}`);
  return page;
}

test('the page with everything has each section once, in the order of the dossier, and its links stay on it', () => {
  const dossier = siteDossier();
  const page = pageOf(dossier, 'whole');
  expect(page.sections.map(({ id }) => id)).toEqual(dossier.sections.map(({ id }) => id));
  const inside = valuesOf('href', page.sections).filter((href) => !/^https?:/.test(String(href)));
  expect(inside.length).toBeGreaterThan(10);
  expect(inside.filter((href) => !String(href).startsWith('#'))).toEqual([]);
  expect(page.navigation.every(({ href }) => href.startsWith('#'))).toBe(true);
  expect(page).toMatchObject({ path: 'whole', whole: 'index.html', pdf: 'dossier.pdf', find: 'find.html', trail: [], previous: null, next: null });
});

test('every other page leads to it, from where it stands', () => {
  const links = new Map(sitePages(siteDossier()).pages.map((page) => [page.path, page.whole]));
  expect([links.get('index'), links.get('zones/sill-left'), links.get('find')]).toEqual(['whole.html', '../whole.html', 'whole.html']);
});

test('a dossier page named "whole" keeps its name', () => {
  const dossier = siteDossier();
  const sections = [...dossier.sections, { id: 'own', title: 'Own', page: 'whole', breakBefore: false, blocks: [] }];
  const { pages } = sitePages({ ...dossier, sections });
  expect(pages.find((page) => page.form === 'whole')?.path).toBe('whole-all');
  expect(pages.find(({ path: name }) => name === 'whole')?.here).toBe('Own');
});

test('in one file each photo is in full once, where it is compared or large before where it is listed, and all others lead there', () => {
  for (const dossier of [siteDossier(), pairDossier()]) {
    const page = pageOf(dossier, 'one file');
    const figures = [...valuesOf('figures', page.sections), ...valuesOf('during', page.sections)].flat().concat(valuesOf('before', page.sections), valuesOf('after', page.sections)) as SiteFigure[];
    const shown = figures.filter((figure) => figure?.picture?.image);
    const sources = shown.map(({ picture }) => picture.image?.src ?? '');
    for (const [number, photo] of dossier.photos.entries()) {
      const all = sources.filter((src) => src.startsWith(`data:,${number}-`));
      expect(all.filter((src) => src.endsWith('-full')), photo.id).toHaveLength(all.length > 0 ? 1 : 0);
    }
    for (const { id, picture: { image } } of shown) {
      const number = /^data:,(\d+)-/.exec(image?.src ?? '')?.[1];
      const full = shown.find((figure) => figure.picture.image?.src === `data:,${number}-full`);
      expect(image?.large).toBe(`#${full?.id}`);
      if (image?.src.endsWith('-full')) expect(id).not.toBeNull();
      expect(image?.srcset).toBe('');
    }
  }
});

test('a photo of two pairs is in full in the first, and neither a thumbnail nor a second copy in the other', () => {
  const dossier = pairDossier();
  const number = dossier.photos.findIndex(({ id }) => id === 'was-wide');
  const pairs = pageOf(dossier, 'one file').sections.flatMap(({ blocks }) => blocks).filter((block) => block.type === 'pair');
  expect(pairs.flatMap((pair) => [pair.before, pair.after]).map(({ picture }) => picture.image?.src).filter((src) => src?.startsWith(`data:,${number}-`))).toEqual([`data:,${number}-full`, `data:,${number}-again`]);
});

test('in one file nothing leads out of it, and marks are not drawn over a picture', () => {
  const page = pageOf(pairDossier(), 'one file');
  expect(page).toMatchObject({ home: null, find: null, index: null, pdf: null, whole: null });
  const out = valuesOf('href', page).filter((href) => !/^(#|https?:|mailto:|tel:)/.test(String(href)));
  expect(out).toEqual([]);
  expect(valuesOf('marks', page).filter((marks) => marks !== null)).toEqual([]);
});

describe('built', () => {
  const folder = mkdtempSync(path.join(tmpdir(), 'sillbook-whole-'));
  const dossier = pairDossier();
  let page: string | null = null;
  beforeAll(async () => {
    await writeRenditions(dossier, path.join(folder, 'out'));
    page = await printSite(dossier, { work: path.join(folder, 'work'), out: path.join(folder, 'out'), oneFile: 'alone.html' });
  }, 60_000);
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  test('the page for one file is handed back, and not left beside the others', () => {
    expect(page).toContain('<h2');
    expect(() => readFileSync(path.join(folder, 'out', 'alone.html'))).toThrow();
    const shown = [...dossier.photos].filter(({ renditions }) => renditions.length > 0).length;
    expect(page?.match(/src="data:,\d+-full"/g)).toHaveLength(shown);
    expect(pairPhotos.length).toBeGreaterThan(3);
  });

  test('all that the other pages say stands on the page with everything', () => {
    const textOf = (html: string): string => (/<main[\s\S]*?<\/main>/.exec(html)?.[0] ?? '').replace(/<(title|style|script)[^>]*>[\s\S]*?<\/\1>/g, ' ').replace(/<[^>]*>/g, ' ');
    const whole = new Set(textOf(readFileSync(path.join(folder, 'out', 'whole.html'), 'utf8')).split(/\s+/));
    for (const file of ['index.html', 'zones/sill-left.html', 'pairs.html', 'cautions.html']) {
      const words = textOf(readFileSync(path.join(folder, 'out', file), 'utf8').replace(/<nav[\s\S]*?<\/nav>/g, ' ')).split(/\s+/);
      expect(words.length, file).toBeGreaterThan(40);
      expect(words.filter((word) => !whole.has(word)), file).toEqual([]);
    }
  });
});
