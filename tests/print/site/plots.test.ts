import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { canBrowse, launch, testWithoutBrowser } from '../../chromium.ts';
import type { BlockOf, Dossier } from '../../../src/model/dossier.ts';
import { printSite } from '../../../src/print/site/index.ts';
import { samplePlots, sampleTimeline } from '../sample-plots.ts';
import { siteDossier, writeRenditions } from './dossier.ts';

const hostile = '</svg><script>alert(1)</script> & "quoted" <img src=x onerror=alert(1)>';
const folder = mkdtempSync(path.join(tmpdir(), 'sillbook-plots-'));
const out = path.join(folder, 'site');
const plots = samplePlots();
const day = sampleTimeline(['photo-img-4021', 'photo-img-4022', 'photo-img-4024']);

function hostilePlots(): BlockOf<'plots'> {
  const [scale] = plots.scales;
  const [item] = scale?.items ?? [];
  if (!scale || !item) throw new Error('the sample has a reading');
  const plot = { ...item.plot, text: hostile, label: hostile, marks: [{ at: 118, words: hostile }] };
  return { type: 'plots', caption: hostile, scales: [{ title: hostile, items: [{ name: [hostile], inline: [hostile], plot }] }] };
}

function made(): Dossier {
  const dossier = siteDossier();
  const page = (name: string, ...blocks: Dossier['sections'][number]['blocks']): Dossier['sections'][number] => ({ id: name, title: name, page: name, breakBefore: true, blocks });
  const bad = { ...day, caption: hostile, label: hostile, rows: day.rows.map((row) => ({ name: hostile, text: hostile, marks: row.marks.map((mark) => ({ ...mark, words: hostile })) })) };
  dossier.sections.push(page('readings', plots), page('day', day), page('hostile', hostilePlots(), bad));
  return dossier;
}

const htmlOf = (file: string): string => readFileSync(path.join(out, file), 'utf8');

beforeAll(async () => {
  await writeRenditions(made(), out);
  await printSite(made(), { work: path.join(folder, 'work'), out });
}, 60_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

test('each reading is heard once as a sentence, and stands beside its drawing in words', () => {
  const html = htmlOf('readings.html');
  for (const { title, items } of plots.scales) {
    expect(html).toContain(title);
    for (const { plot } of items) {
      expect(html.split(`aria-label="${plot.label}"`)).toHaveLength(2);
      for (const text of [plot.text, ...plot.marks.map(({ words }) => words)]) expect(html).toContain(text);
    }
  }
  expect(html).toContain('id="film-one"');
  for (const words of ['Each dot is one value', 'A hollow lozenge stands out', 'Outlined dots do not count']) expect(html).toContain(words);
});

test('every value is drawn once: a dot each, a lozenge for what stands out, outlined where it does not count', () => {
  const strips = htmlOf('readings.html').split(/class="strip(?: hollow)?"/).slice(1).map((strip) => strip.split('role="img"')[1]?.split('<div')[0] ?? '');
  const count = (strip: string, sign: string): number => strip.split(`class="${sign}"`).length - 1;
  expect(strips.map((strip) => [count(strip, 'dot'), count(strip, 'apart'), count(strip, 'reach')])).toEqual([[4, 1, 1], [1, 0, 0], [40, 0, 0], [5, 0, 1], [3, 0, 1]]);
  expect(htmlOf('readings.html').match(/class="strip hollow"/g)).toHaveLength(1);
});

test('the marks of a day lead to their photos, which the Tab key reaches below', () => {
  const html = htmlOf('day.html');
  for (const { figure, words } of day.rows.flatMap(({ marks }) => marks)) {
    expect(html).toMatch(new RegExp(`<a href="zones/sill-left\\.html#${figure}" tabindex="-1" aria-label="${words}">`));
  }
  expect(html).toContain('aria-label="Sill, left: 2 photos, 10:12 to 10:17"');
  expect(html).toContain(day.label);
});

test('words stay words, whatever they look like', () => {
  const html = htmlOf('hostile.html');
  expect(html.replaceAll(/="[^"]*"/g, '=""')).not.toMatch(/<script>|<img src=x|<\/svg><script/);
  // Caption, title, name, text, mark, sentence; caption, label, two rows of name, text and the words of three marks.
  expect(html.match(/&lt;\/svg&gt;&lt;script&gt;alert\(1\)/g)).toHaveLength(6 + 2 + 4 + 3);
});

test('no element has a style of its own', () => {
  for (const file of ['readings.html', 'day.html']) expect(htmlOf(file)).not.toMatch(/<[a-z]+[^>]*\sstyle=/);
});

if (!canBrowse()) testWithoutBrowser();
else {
  describe('in a browser', () => {
    let browser: Browser;
    beforeAll(async () => {
      browser = await launch();
    }, 60_000);
    afterAll(async () => browser?.close());

    async function onPage<T>(file: string, width: number, use: (page: Page) => Promise<T>): Promise<T> {
      const page = await browser.newPage({ viewport: { width, height: 800 } });
      await page.goto(pathToFileURL(path.join(out, file)).href);
      const result = await use(page);
      await page.close();
      return result;
    }

    test.each([320, 700, 1280])('at %i px nothing stands sideways, dots lie on their scale and lines run through them', async (width) => {
      for (const file of ['readings.html', 'day.html', 'hostile.html']) {
        expect(await onPage(file, width, (page) => page.evaluate(() => document.documentElement.scrollWidth)), file).toBeLessThanOrEqual(width);
      }
      const rows = await onPage('readings.html', width, (page) => page.locator('.plots li').evaluateAll((all) => all.map((row) => {
        const box = (element: Element | null): { left: number; right: number; top: number; bottom: number } => {
          const { left, right, top, bottom } = element?.getBoundingClientRect() ?? new DOMRect();
          return { left, right, top, bottom };
        };
        return { row: box(row), strip: box(row.querySelector('.strip')), lines: box(row.querySelector('.lines')), dots: [...row.querySelectorAll('.dot, .apart')].map(box) };
      })));
      expect(rows).toHaveLength(5);
      for (const { row, strip, lines, dots } of rows) {
        expect([lines.left, lines.right]).toEqual([strip.left, strip.right]);
        expect(lines.top).toBeGreaterThanOrEqual(row.top - 1);
        expect(lines.bottom).toBeLessThanOrEqual(row.bottom + 1);
        for (const dot of dots) {
          const middle = (dot.left + dot.right) / 2;
          expect(middle).toBeGreaterThanOrEqual(strip.left - 0.1);
          expect(middle).toBeLessThanOrEqual(strip.right + 0.1);
          expect(dot.top).toBeGreaterThanOrEqual(strip.top - 1);
          expect(dot.bottom).toBeLessThanOrEqual(strip.bottom);
        }
      }
      // Film of 1900 µm on a scale to 2000.
      const [first] = rows;
      const far = Math.max(...(first?.dots ?? []).map(({ left, right }) => (left + right) / 2));
      expect((far - (first?.strip.left ?? 0)) / ((first?.strip.right ?? 0) - (first?.strip.left ?? 0))).toBeCloseTo(0.95, 2);
    });

    test('a dot of the day leads to its photo', async () => {
      const arrived = await onPage('day.html', 1280, async (page) => {
        await page.locator('.timeline a .dot').nth(1).click();
        await page.waitForURL(/#photo-/);
        return page.evaluate(() => [location.hash, document.querySelector(':target')?.tagName]);
      });
      expect(arrived).toEqual(['#photo-img-4022', 'FIGURE']);
    });
  });
}
