import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { PDFDocument, PDFDict, PDFName, PDFRawStream } from 'pdf-lib';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { canBrowse, launch, testWithoutBrowser } from '../../chromium.ts';
import { templates } from '../../../src/print/site/config.ts';
import { printSite } from '../../../src/print/site/index.ts';
import { sampleOutlook } from '../sample-outlook.ts';
import { contrast } from './contrast.ts';
import { photos, siteDossier, writeRenditions } from './dossier.ts';

const tokens = readFileSync(path.join(templates, 'styles/tokens.css'), 'utf8');

/** Colours of `:root`, light, and dark where the dark scheme sets them anew. */
function scheme(dark: boolean): Map<string, string> {
  const blocks = [...tokens.matchAll(/:root \{([^}]*)\}/g)].map(([, body = '']) => body);
  const read = (body = ''): [string, string][] => [...body.matchAll(/--([a-z]+): (#[0-9a-f]{6});/g)].map(([, name = '', value = '']) => [name, value]);
  return new Map([...read(blocks[0]), ...(dark ? read(blocks[1]) : [])]);
}

test('the contrast formula gives the values known for two greys on white', () => {
  // 4.54 and 4.48, either side of the 4.5 of WCAG 2.2 criterion 1.4.3; widely published values.
  expect(contrast('#767676', '#ffffff')).toBeCloseTo(4.54, 2);
  expect(contrast('#777777', '#ffffff')).toBeCloseTo(4.48, 2);
});

test.each([false, true])('every colour of words stands out from every ground they are set on, dark: %s', (dark) => {
  const colours = scheme(dark);
  for (const ground of ['paper', 'sheet', 'found']) {
    for (const ink of ['ink', 'soft', 'accent', 'defect', 'unseen', 'doubt', 'sound']) {
      expect(contrast(colours.get(ink) ?? '', colours.get(ground) ?? ''), `${ink} on ${ground}`).toBeGreaterThanOrEqual(4.5);
    }
    // Borders that carry meaning: WCAG 2.2 criterion 1.4.11 asks for 3.
    expect(contrast(colours.get('line') ?? '', colours.get(ground) ?? ''), `line on ${ground}`).toBeGreaterThanOrEqual(3);
  }
});

if (!canBrowse()) testWithoutBrowser();
else {
  describe('over file://, from a folder with a difficult name', () => {
    const folder = mkdtempSync(path.join(tmpdir(), 'sillbook-browser-'));
    const out = path.join(folder, 'mail dossier äö #1');
    const address = (file: string): string => pathToFileURL(path.join(out, file)).href;
    let browser: Browser;
    let files: string[] = [];

    beforeAll(async () => {
      await writeRenditions(siteDossier(), out);
      await printSite(siteDossier(), { work: path.join(folder, 'work'), out });
      files = readdirSync(out, { recursive: true, encoding: 'utf8' }).filter((file) => file.endsWith('.html')).sort();
      browser = await launch();
    }, 60_000);
    afterAll(async () => {
      await browser?.close();
      rmSync(folder, { recursive: true, force: true });
    });

    async function withPage(options: BrowserContextOptions, use: (page: Page, complaints: string[]) => Promise<void>): Promise<void> {
      const context = await browser.newContext(options);
      const complaints: string[] = [];
      const page = await context.newPage();
      page.on('console', (message) => complaints.push(`${message.type()}: ${message.text()}`));
      page.on('pageerror', (error) => complaints.push(error.message));
      page.on('request', (request) => {
        if (!request.url().startsWith(address('')) && !request.url().startsWith('data:')) complaints.push(`asks for ${request.url()}`);
      });
      page.on('requestfailed', (request) => request.failure()?.errorText === 'net::ERR_ABORTED' || complaints.push(`fails: ${request.url()}`));
      await use(page, complaints);
      await context.close();
      expect(complaints).toEqual([]);
    }

    async function showAllImages(page: Page): Promise<{ src: string; width: number }[]> {
      return page.evaluate(async () => {
        const images = [...document.images].filter((image) => !image.closest('dialog'));
        for (const image of images) image.loading = 'eager';
        await Promise.all(images.map((image) => image.decode().catch(() => undefined)));
        return images.map((image) => ({ src: image.currentSrc, width: image.naturalWidth }));
      });
    }

    test.each([320, 768, 1280])('every page at %i px: no complaint, no sideways scroll, every picture, every link arrives', async (width) => {
      await withPage({ viewport: { width, height: 800 } }, async (page) => {
        for (const file of files) {
          await page.goto(address(file));
          expect(await page.evaluate(() => document.documentElement.scrollWidth), file).toBeLessThanOrEqual(width);
          for (const image of await showAllImages(page)) expect(image.width, `${file}: ${image.src}`).toBeGreaterThan(0);
          const links = await page.evaluate(() => [...document.querySelectorAll('a')].map((link) => link.href).filter((href) => href.startsWith('file:')));
          expect(links.length, file).toBeGreaterThan(3);
          for (const link of new Set(links)) expect(existsSync(new URL(link.replace(/#[^#]*$/, ''))), `${file}: ${link}`).toBe(true);
        }
      });
    });

    test('a link to another page lands on its target, in view', async () => {
      await withPage({ viewport: { width: 1000, height: 700 } }, async (page) => {
        await page.goto(address('index.html'));
        await page.click('text=wax in a closed shell');
        expect(page.url()).toBe(`${address('cautions.html')}#caution-wax`);
        expect(await page.evaluate(() => document.querySelector(':target')?.id)).toBe('caution-wax');
      });
    });

    test('a photo opens in place, arrows go on, Esc closes and focus returns', async () => {
      await withPage({}, async (page) => {
        await page.goto(address('zones/sill-left.html'));
        await page.focus('#photo-img-4021 a.picture');
        await page.keyboard.press('Enter');
        const viewer = page.locator('dialog[open]');
        await viewer.waitFor();
        expect(await viewer.locator('img').getAttribute('alt')).toBe('Plugs, inner face: row of four holes, two without plug');
        await page.keyboard.press('ArrowRight');
        expect(await viewer.textContent()).toContain('Plug, inner face 2: missing.');
        expect(await viewer.locator('img').getAttribute('src')).toBe(address('photos/img-4022-1600.jpg'));
        await page.keyboard.press('ArrowLeft');
        await page.keyboard.press('ArrowLeft');
        expect(await viewer.textContent()).toContain('4 / 4');
        await page.keyboard.press('Escape');
        expect(await page.locator('dialog[open]').count()).toBe(0);
        expect(await page.evaluate(() => document.activeElement?.closest('figure')?.id)).toBe('photo-img-4021');
      });
    });

    test.each([320, 700, 1280])('the bars of an outlook at %i px: heard as label and numbers, on their scale, solid and hollow', async (width) => {
      await withPage({ viewport: { width, height: 800 } }, async (page) => {
        await page.goto(address('zones/sill-left.html'));
        const { items } = sampleOutlook();
        const heard = page.locator('.outlook').getByRole('img');
        const names = items.flatMap((item) => item.bars.map((bar) => `${bar.label}: ${bar.text}`));
        expect(await heard.count()).toBe(names.length);
        for (const [index, name] of names.entries()) expect(await heard.nth(index).getAttribute('aria-label')).toBe(name);
        const text = await page.innerText('.outlook');
        for (const words of [...items.map((item) => item.name), ...items.flatMap((item) => item.bars.map((bar) => bar.text)), 'dashed line']) expect(text).toContain(words);
        const bars = await heard.evaluateAll((drawings) =>
          drawings.map((drawing) => {
            const { left, right } = drawing.getBoundingClientRect();
            const parts = [...drawing.querySelectorAll('rect:not(.hollow), line, svg')].map((part) => part.getBoundingClientRect());
            const [thick] = [...drawing.querySelectorAll('svg, rect')];
            const filled = thick?.tagName === 'rect';
            return { left, right, from: Math.min(...parts.map((part) => part.left)), to: Math.max(...parts.map((part) => part.right)), thick: thick?.getBoundingClientRect().width ?? 0, filled };
          }),
        );
        for (const [index, { left, right, from, to, thick }] of bars.entries()) {
          expect(from, names[index]).toBeGreaterThanOrEqual(left - 0.01);
          expect(to, names[index]).toBeLessThanOrEqual(right + 0.01);
          expect(right, names[index]).toBeLessThanOrEqual(width);
          expect(right - left, names[index]).toBeGreaterThan(150);
          expect(thick, names[index]).toBeGreaterThan(4);
        }
        expect(bars.map((bar) => bar.filled)).toEqual(items.flatMap((item) => item.bars.map((_, index) => index === 0)));
      });
    });

    test.each([320, 768, 1280])('six key facts at %i px: no range is broken over two lines', async (width) => {
      await withPage({ viewport: { width, height: 800 } }, async (page) => {
        await page.goto(address('index.html'));
        const values = await page.locator('.facts.key dd:not(.note)').evaluateAll((all) =>
          all.map((value) => ({ text: value.textContent, lines: Math.round(value.clientHeight / Number.parseFloat(getComputedStyle(value).lineHeight)) })),
        );
        expect(values).toHaveLength(6);
        for (const { text, lines } of values) expect(lines, text).toBe(1);
      });
    });

    test('without script everything is there and a photo is a plain link', async () => {
      await withPage({ javaScriptEnabled: false }, async (page) => {
        await page.goto(address('zones/sill-left.html'));
        const text = await page.innerText('main');
        for (const words of ['hole <5 mm and <seam> open', 'Told by the owner', 'behind cover strip', 'Gauge on bare steel.']) expect(text).toContain(words);
        await page.click('#photo-img-4022 a.picture');
        expect(page.url()).toBe(address('photos/img-4022-1600.jpg'));
      });
    });

    test('the first stop of the Tab key leads past the head, and focus is seen', async () => {
      await withPage({}, async (page) => {
        await page.goto(address('index.html'));
        await page.keyboard.press('Tab');
        expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('Skip to the text');
        expect(await page.evaluate(() => document.activeElement?.getBoundingClientRect().left)).toBeGreaterThanOrEqual(0);
        await page.keyboard.press('Enter');
        expect(await page.evaluate(() => document.activeElement?.tagName)).toBe('MAIN');
      });
    });

    test('links and buttons outside of sentences are at least 24 px high', async () => {
      await withPage({ viewport: { width: 320, height: 800 } }, async (page) => {
        for (const file of files) {
          await page.goto(address(file));
          const small = await page.evaluate(() =>
            [...document.querySelectorAll('.parts a, .trail a, .neighbours a, .zones a, .picture')]
              .filter((link) => link.getBoundingClientRect().height < 24)
              .map((link) => link.outerHTML),
          );
          expect(small, file).toEqual([]);
        }
      });
    });

    test('a photo that has not come yet keeps its place', async () => {
      // Without script they stay lazy.
      await withPage({ viewport: { width: 320, height: 600 }, javaScriptEnabled: false }, async (page) => {
        await page.goto(address('zones/sill-left.html'));
        const shapes = await page.evaluate(() => [...document.querySelectorAll('figure img')].map((image) => Math.round((100 * image.clientWidth) / image.clientHeight)));
        expect(shapes).toEqual([133, 133, 75, 133]);
      });
    });

    test('dark on screen, light on paper', async () => {
      await withPage({ colorScheme: 'dark' }, async (page) => {
        await page.goto(address('index.html'));
        const ground = (): Promise<string> => page.evaluate(() => getComputedStyle(document.body).backgroundColor);
        expect(await ground()).toBe('rgb(20, 25, 29)');
        await page.emulateMedia({ media: 'print' });
        expect(await ground()).toBe('rgb(255, 255, 255)');
      });
    });

    test('on paper every photo is there, also those never scrolled to', async () => {
      await withPage({}, async (page) => {
        await page.goto(address('photos.html'));
        await page.waitForFunction(() => [...document.images].every((image) => image.complete && (image.naturalWidth > 0 || image.closest('dialog') !== null)));
        const printed = await PDFDocument.load(await page.pdf({ preferCSSPageSize: true, format: 'A4' }));
        const { width, height } = printed.getPage(0).getSize();
        // A4, ISO 216: 210 × 297 mm at 72 to the inch. The styles ask for no size: the printer has it.
        expect([Math.round(width), Math.round(height)]).toEqual([596, 843]);
        // Chromium writes equal pictures once; the photos differ in their grey.
        const pictures = printed.context
          .enumerateIndirectObjects()
          .map(([, object]) => (object instanceof PDFRawStream ? object.dict : undefined))
          .filter((dict): dict is PDFDict => dict?.get(PDFName.of('Subtype')) === PDFName.of('Image'));
        const shown = photos.filter((photo) => photo.renditions.length > 0).length;
        expect(await page.locator('figure img').count()).toBe(shown);
        expect(pictures).toHaveLength(shown);
      });
    });
  });
}
