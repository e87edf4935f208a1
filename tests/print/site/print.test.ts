import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { PDFDocument } from 'pdf-lib';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Dossier } from '../../../src/model/dossier.ts';
import { printSite } from '../../../src/print/site/index.ts';
import { dossierOf, judged } from '../../write/builders.ts';
import { canBrowse, launch, testWithoutBrowser, withPage } from '../../chromium.ts';
import { siteDossier, writeRenditions } from './dossier.ts';

const formats = ['A4', 'Letter'] as const;
const findings = readFileSync('sample-job/2026-03-14/findings.md', 'utf8');
const sample = dossierOf(judged(findings, [...new Set([...findings.matchAll(/\b(?:IMG|SC)_\d{4}/g)].map(([name]) => `${name}.jpg`))]));

/** More of everything a summary has than a page holds. */
function longDossier(): Dossier {
  const dossier = siteDossier();
  const much = (words: string, times: number): string => Array.from({ length: times }, (_, index) => `${words} ${index + 1}`).join(', ');
  const sections = structuredClone(dossier.sections);
  for (const block of sections.flatMap(({ blocks }) => blocks)) {
    if (block.type === 'steps') {
      const [first] = block.items;
      if (first) block.items = Array.from({ length: 40 }, (_, index) => ({ ...first, id: index === 0 ? first.id : `step-${index}`, title: [`Step ${index + 1}: ${much('plug missing at place', 9)}`] }));
    }
    if (block.type === 'facts' && block.look === 'key') for (const item of block.items) item.note = much('narrows the range at place', 8);
    if (block.type === 'paragraph' && block.tone === 'lead') block.inline = [much('The floor carries load and was patched at place', 20)];
  }
  return { ...dossier, title: much('Larkfield 1500, two-door saloon', 6), sections };
}

/** Words of a PDF's pages by poppler, an outside reader. */
function pagesOf(pdf: Buffer, folder: string): string[] {
  const file = path.join(folder, 'printed.pdf');
  writeFileSync(file, pdf);
  return execFileSync('pdftotext', [file, '-'], { encoding: 'utf8', maxBuffer: 1 << 26 }).split('\f').slice(0, -1);
}

/** Without spaces, as lines are broken anywhere, and without the hyphens poppler takes off with them. */
const close = (text: string): string => text.replaceAll(/[\s-]/g, '');

/** Presses the button with the browser's dialog away, and prints. */
async function summaryOf(page: Page, format: (typeof formats)[number]): Promise<Buffer> {
  await page.click('[data-print="brief"]');
  return page.pdf({ format, preferCSSPageSize: true });
}
const noDialog = (page: Page): Promise<unknown> => page.addInitScript(() => Object.assign(globalThis, { print: () => undefined }));

if (!canBrowse() || spawnSync('pdftotext', ['-v']).error) testWithoutBrowser();
else {
  const folder = mkdtempSync(path.join(tmpdir(), 'sillbook-print-'));
  let browser: Browser;
  const at = (name: string): string => path.join(folder, name);
  beforeAll(async () => {
    for (const [name, dossier] of [['sample', sample], ['long', longDossier()]] as const) {
      await writeRenditions(dossier, at(name));
      await printSite(dossier, { work: at(`work-${name}`), out: at(name) });
    }
    browser = await launch();
  }, 120_000);
  afterAll(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  describe('the summary', () => {
    test.each(formats.flatMap((format) => ['index.html', 'whole.html'].map((file) => ({ format, file }))))('is one page of $format from $file: the answer, facts, first steps, limits, hash, a line to sign on', async ({ format, file }) => {
      await withPage(browser, at('sample'), file, { viewport: { width: 1280, height: 800 } }, async (page) => {
        const pages = pagesOf(await summaryOf(page, format), folder);
        expect(pages).toHaveLength(1);
        const text = close(pages[0] ?? '');
        const summary = sample.sections[0]?.blocks ?? [];
        const [lead] = summary.flatMap((block) => (block.type === 'paragraph' && block.tone === 'lead' ? [block.inline.map((run) => (typeof run === 'string' ? run : run.text)).join('')] : []));
        const facts = summary.flatMap((block) => (block.type === 'facts' ? block.items.map(({ term }) => term) : []));
        const steps = sample.sections.flatMap(({ blocks }) => blocks.flatMap((block) => (block.type === 'steps' ? block.items.map(({ title }) => title.map((run) => (typeof run === 'string' ? run : run.text)).join('')) : [])));
        expect(facts.length).toBeGreaterThan(3);
        for (const words of [sample.title, lead ?? 'no lead', ...facts, ...steps.slice(0, 3), sample.limits, sample.originals.listSha256, 'Signature', 'Draft, not issued', 'From above']) expect(text).toContain(close(words));
        // Neither the rest of the page nor what is for the screen.
        for (const words of ['First steps, in order', 'Print', 'as a PDF', 'Left side']) expect(text).not.toContain(close(words));
      }, noDialog);
    });

    test.each(formats)('of a dossier with too much of everything is still one page of %s, its sentences whole', async (format) => {
      await withPage(browser, at('long'), 'index.html', { viewport: { width: 1280, height: 800 } }, async (page) => {
        const pages = pagesOf(await summaryOf(page, format), folder);
        expect(pages).toHaveLength(1);
        const text = close(pages[0] ?? '');
        expect(text).toContain(close(longDossier().title));
        expect(text).toContain(close('was patched at place 20'));
        const shown = [1, 2, 3, 4, 5].filter((number) => text.includes(`Step${number}:`));
        expect(shown).toEqual([1, 2, 3, 4, 5].slice(0, shown.length));
        for (const number of shown) expect(text).toMatch(new RegExp(`Step${number}:(plugmissingatplace\\d,?){9}`));
        expect(text).toContain(`(${shown.length}of40;`);
      }, noDialog);
    });

    test('is measured alike on a phone', async () => {
      await withPage(browser, at('long'), 'index.html', { viewport: { width: 320, height: 640 } }, async (page) => {
        await page.click('.menu > summary');
        expect((await PDFDocument.load(await summaryOf(page, 'Letter'))).getPageCount()).toBe(1);
      }, noDialog);
    });

    test('weighs little: the drawing is lines, not pictures', async () => {
      await withPage(browser, at('sample'), 'index.html', { viewport: { width: 1280, height: 800 } }, async (page) => {
        expect((await summaryOf(page, 'A4')).length).toBeLessThan(1_500_000);
      }, noDialog);
    });

    test('changes nothing on the screen, and a print after it is of the whole page', async () => {
      await withPage(browser, at('sample'), 'index.html', { viewport: { width: 1280, height: 800 } }, async (page) => {
        const before = await page.screenshot();
        await page.click('[data-print="brief"]');
        await page.mouse.move(0, 0);
        await page.evaluate(() => (document.activeElement as HTMLElement | null)?.blur());
        expect((await page.screenshot()).equals(before)).toBe(true);
        expect((await PDFDocument.load(await page.pdf())).getPageCount()).toBe(1);
        // The browser has said that it has printed.
        expect((await PDFDocument.load(await page.pdf())).getPageCount()).toBeGreaterThan(3);
      }, noDialog);
    });

    test('without script there is no button, and a link to everything', async () => {
      await withPage(browser, at('sample'), 'index.html', { javaScriptEnabled: false }, async (page) => {
        expect(await page.locator('[data-print]:visible').count()).toBe(0);
        await page.click('text=Print everything');
        expect(page.url()).toMatch(/whole\.html$/);
      });
    });
  });

  /** Every word printers take from a block. */
  function wordsIn(tree: unknown): string[] {
    if (Array.isArray(tree)) return tree.flatMap(wordsIn);
    if (typeof tree === 'string') return tree.split(/\s+/);
    if (typeof tree !== 'object' || tree === null) return [];
    // Addresses, names of things, what is drawn or heard and not read.
    const silent = ['href', 'id', 'type', 'look', 'tone', 'photo', 'alt', 'zone', 'state', 'align', 'origin', 'figure', 'words', 'map', 'plot', 'bars'];
    return Object.entries(tree).flatMap(([key, value]) => (silent.includes(key) ? [] : wordsIn(value)));
  }

  describe('everything', () => {
    test.each(formats)('on %s: every word is there, no page nearly empty, nothing of the screen', async (format) => {
      await withPage(browser, at('sample'), 'whole.html', { viewport: { width: 1280, height: 800 }, colorScheme: 'dark' }, async (page) => {
        const pages = pagesOf(await page.pdf({ format, preferCSSPageSize: true }), folder);
        const head = close(`${sample.title} – all on one page`);
        // The running head and the number of the page stand in the margins, between the words of a sentence.
        const text = pages.map((words, index) => close(words).replace(head, '').replace(`${index + 1}/${pages.length}`, '')).join('');
        for (const [index, words] of pages.entries()) expect(close(words), `page ${index + 1}`).toContain(head);
        const words = new Set(sample.sections.flatMap(({ title, blocks }) => [...wordsIn(title), ...wordsIn(blocks)]));
        expect(words.size).toBeGreaterThan(1000);
        expect([...words].filter((word) => !text.includes(close(word)))).toEqual([]);
        // The last may be short, though never without a line of the dossier.
        const least = (index: number): number => (index === pages.length - 1 ? 45 : 60);
        const sparse = pages.flatMap((each, index) => (each.split(/\s+/).length < least(index) ? [`page ${index + 1}: ${each}`] : []));
        expect(sparse).toEqual([]);
        for (const screen of ['Skip to the text', 'Print everything', 'Choose files', 'page by page', 'Contents ↑', 'Link to this photo']) expect(text).not.toContain(close(screen));
        expect(text).not.toContain('(https://');
      });
    }, 60_000);

    test('rows and figures are whole, table heads stand again on each page, and what is folded is open', async () => {
      await withPage(browser, at('sample'), 'register.html', { viewport: { width: 1280, height: 800 } }, async (page) => {
        await page.evaluate(() => {
          const [folded, summary] = [document.createElement('details'), document.createElement('summary')];
          folded.append(summary, 'Words behind the fold.');
          document.querySelector('main')?.prepend(folded);
        });
        const pages = pagesOf(await page.pdf({ format: 'A4' }), folder);
        expect(pages.join(' ')).toContain('Words behind the fold.');
        const table = sample.sections.find(({ id }) => id === 'register')?.blocks.find((block) => block.type === 'table');
        const [second] = table?.columns.slice(1) ?? [];
        const rows = (table?.rows ?? []).length;
        expect(rows).toBeGreaterThan(40);
        expect(pages.filter((words) => words.includes(second?.title ?? 'no column')).length).toBeGreaterThan(1);
        await page.emulateMedia({ media: 'print' });
        expect(await page.evaluate(() => [...document.querySelectorAll('tr, figure')].filter((part) => getComputedStyle(part).breakInside !== 'avoid').length)).toBe(0);
      });
    });
  });
}
