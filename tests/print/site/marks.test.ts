import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, BrowserContextOptions, Locator, Page } from 'playwright-core';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { canBrowse, launch, testWithoutBrowser } from '../../chromium.ts';
import type { Dossier } from '../../../src/model/dossier.ts';
import { printSite } from '../../../src/print/site/index.ts';
import { siteMarks } from '../../../src/print/site/marks.ts';
import { everyMark, markedDossier } from '../marked-dossier.ts';
import { sampleDossier, writeSamplePictures } from '../sample-dossier.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'sillbook-marks-'));
const out = path.join(folder, 'out');

/** The marked photos, one without a mark, and a marked one that cannot be shown. */
function dossier(): Dossier {
  const made = markedDossier();
  const [plain, broken] = ['a2', 'a7'].map((id) => sampleDossier().photos.find((photo) => photo.id === id));
  if (!plain || !broken) throw new Error('the sample has changed');
  made.photos.push(plain, { ...broken, marks: everyMark });
  const figures = [plain, broken].map(({ id }) => ({ photo: id, alt: id, caption: [`Photo ${id}.`] }));
  made.sections[0]?.blocks.push({ type: 'photos', look: 'large', figures });
  return made;
}

let html: string;
beforeAll(async () => {
  await writeSamplePictures(out);
  await printSite(dossier(), { work: path.join(folder, 'work'), out });
  html = readFileSync(path.join(out, 'index.html'), 'utf8');
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

test('marks lie over the picture inside its link, unheard, without a style of their own, and only where there is a picture', () => {
  const overlays = [...html.matchAll(/<img [^>]*>\s*<svg class="marks" aria-hidden="true" focusable="false">([^]*?)<\/svg>\s*<\/a>/g)];
  expect(overlays).toHaveLength(4);
  expect(html.match(/<svg class="marks"/g)).toHaveLength(4);
  expect(html).not.toMatch(/\sstyle="|NaN/);
  expect(html).toContain('viewBox="0 0 1600 1200" preserveAspectRatio="none"');
  expect(html).toContain('viewBox="0 0 1200 1600" preserveAspectRatio="none"');
  // Two lines for each mark, of the photo with every shape and of the lone ring, each large and in the index.
  expect(html.match(/<path class="casing"/g)).toHaveLength(2 * (everyMark.length + 1));
  expect(html.match(/<path class="line( dashed)?"/g)).toHaveLength(2 * (everyMark.length + 1));
  expect(html.match(/<svg class="disc"/g)).toHaveLength(2 * everyMark.length);
});

test('a path has the figures of the marks, in pixels of the largest picture', () => {
  const photo = dossier().photos[0];
  expect(photo && siteMarks(photo)?.lines.map(({ d }) => d)).toEqual([
    'M240 300a160 160 0 1 0 320 0a160 160 0 1 0 -320 0Z',
    expect.stringMatching(/^M1440 120L960 360M[\d.]+ [\d.]+L960 360L[\d.]+ [\d.]+$/),
    'M1440 840L960 840L960 600L1440 600Z',
    'M160 1116L800 1116M160 1084L160 1148M800 1084L800 1148',
    'M160 660L480 600L640 840L320 960Z',
    'M1040 936L1520 936L1520 1140L1040 1140Z',
  ]);
});

if (!canBrowse()) testWithoutBrowser();
else {
  describe('in a browser', () => {
    let browser: Browser;
    beforeAll(async () => {
      browser = await launch();
    });
    afterAll(() => browser?.close());

    async function withPage(options: BrowserContextOptions, use: (page: Page) => Promise<void>): Promise<void> {
      const context = await browser.newContext(options);
      const page = await context.newPage();
      const complaints: string[] = [];
      page.on('console', (message) => complaints.push(message.text()));
      page.on('pageerror', (error) => complaints.push(error.message));
      await page.goto(pathToFileURL(path.join(out, 'index.html')).href);
      await page.evaluate(() => Promise.all([...document.images].map((image) => ((image.loading = 'eager'), image.decode().catch(() => undefined)))));
      await use(page);
      await context.close();
      expect(complaints).toEqual([]);
    }

    /** Pictures and the marks over them: edges, and those of each disc. */
    async function framesIn(place: Locator): Promise<{ picture: number[]; marks: number[]; ratio: number; discs: number[][] }[]> {
      return place.evaluateAll((all) =>
        all.map((overlay) => {
          const edges = (element: Element | null | undefined): number[] => {
            const { left = 0, top = 0, right = 0, bottom = 0 } = element?.getBoundingClientRect() ?? {};
            return [left, top, right, bottom];
          };
          const image = overlay.parentElement?.querySelector('img');
          // Where the corners of the picture, in its own pixels, come to lie for the lines over it.
          const shown = overlay.querySelector('path')?.getScreenCTM();
          const [, , width = 0, height = 0] = (overlay.querySelector('[viewBox]')?.getAttribute('viewBox') ?? '').split(' ').map(Number);
          const corners = [[0, 0], [width, height]].flatMap(([x, y]) => {
            const { x: across, y: down } = new DOMPoint(x, y).matrixTransform(shown ?? undefined);
            return [across, down];
          });
          return { picture: edges(image), marks: corners, ratio: (image?.naturalWidth ?? 0) / (image?.naturalHeight ?? 1), discs: [...overlay.querySelectorAll('circle')].map(edges) };
        }),
      );
    }

    function expectInPlace(frames: Awaited<ReturnType<typeof framesIn>>, count: number): void {
      expect(frames).toHaveLength(count);
      for (const { picture, marks, ratio, discs } of frames) {
        picture.forEach((edge, side) => expect(marks[side]).toBeCloseTo(edge, 0));
        const [left = 0, top = 0, right = 0, bottom = 0] = picture;
        expect(right - left).toBeGreaterThan(50);
        // The frame has the picture's own shape, so that nothing is shifted in it.
        expect((right - left) / (bottom - top)).toBeCloseTo(ratio, 1);
        for (const [x1 = 0, y1 = 0, x2 = 0, y2 = 0] of discs) {
          for (const inside of [x1 - left, y1 - top, right - x2, bottom - y2]) expect(inside).toBeGreaterThan(-1);
          expect(x2 - x1).toBeGreaterThan(13);
          expect(x2 - x1).toBeLessThan(22);
        }
      }
    }

    /** A light line with dark on either side, across the left rim of the ring and the upper edge of the box. */
    async function expectInk(page: Page, picture: Locator): Promise<void> {
      const { data, info } = await sharp(await picture.screenshot()).greyscale().raw().toBuffer({ resolveWithObject: true });
      for (const [x, y, dx, dy] of [[0.15, 0.25, 1, 0], [0.75, 0.5, 0, 1]] as const) {
        const profile = Array.from({ length: 17 }, (_, step) => data[(Math.round(y * info.height) + (step - 8) * dy) * info.width + Math.round(x * info.width) + (step - 8) * dx] ?? 0);
        const lightest = Math.max(...profile.slice(5, 12));
        const peak = profile.indexOf(lightest);
        expect(lightest, `${page.viewportSize()?.width}: ${profile.join(' ')}`).toBeGreaterThan(190);
        for (const side of [profile.slice(0, peak), profile.slice(peak)]) expect(Math.min(...side), profile.join(' ')).toBeLessThan(75);
      }
    }

    test.each([320, 700, 1280])('at %i px they lie where the picture lies, light on dark, numbers of one size whole in it', async (width) => {
      await withPage({ viewport: { width, height: 800 } }, async (page) => {
        expectInPlace(await framesIn(page.locator('.marks')), 4);
        await expectInk(page, page.locator('.large .picture').first());
        expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
      });
    });

    test('an upright picture is not higher than a screen, and its link is as wide as itself', async () => {
      await withPage({ viewport: { width: 1280, height: 900 } }, async (page) => {
        const [wide, upright] = await page.locator('.index .picture').evaluateAll((links) => links.map((link) => ({ width: link.clientWidth, height: link.clientHeight })));
        expect((wide?.width ?? 0) / (wide?.height ?? 1)).toBeCloseTo(4 / 3, 1);
        expect((upright?.width ?? 0) / (upright?.height ?? 1)).toBeCloseTo(3 / 4, 1);
        expect(upright?.height).toBeLessThan(17.5 * 16);
      });
    });

    test.each([{ width: 320, height: 640 }, { width: 1280, height: 800 }, { width: 800, height: 420 }])('the enlarged picture has them too, and says where the one without is: $width × $height', async (viewport) => {
      await withPage({ viewport }, async (page) => {
        await page.locator('.large .picture').first().click();
        const viewer = page.locator('dialog[open]');
        await viewer.locator('img').evaluate((image: HTMLImageElement) => image.decode());
        expectInPlace(await framesIn(viewer.locator('.marks')), 1);
        const [picture, caption] = await viewer.locator('.frame, .caption').evaluateAll((parts) => parts.map((part) => part.getBoundingClientRect().toJSON() as DOMRect));
        expect(picture?.bottom).toBeLessThanOrEqual((caption?.top ?? 0) + 0.5);
        const unmarked = viewer.getByRole('link', { name: 'without marks' });
        expect(await unmarked.getAttribute('href')).toBe(pathToFileURL(path.join(out, 'photos/a1-1600.jpg')).href);
        await page.keyboard.press('ArrowRight');
        await viewer.locator('img').evaluate((image: HTMLImageElement) => image.decode());
        expectInPlace(await framesIn(viewer.locator('.marks')), 1);
        await page.keyboard.press('ArrowLeft');
        await page.keyboard.press('ArrowLeft');
        expect(await viewer.locator('img').getAttribute('src')).toBe(pathToFileURL(path.join(out, 'photos/a2-1600.jpg')).href);
        expect(await viewer.locator('.marks').count()).toBe(0);
        expect(await viewer.getByRole('link', { name: 'The picture by itself', exact: true }).count()).toBe(1);
      });
    });

    test.each<[string, BrowserContextOptions]>([['dark', { colorScheme: 'dark' }], ['forced colours', { forcedColors: 'active' }]])('the same colours over the same photo: %s', async (_name, options) => {
      await withPage({ ...options, viewport: { width: 900, height: 800 } }, async (page) => {
        await expectInk(page, page.locator('.large .picture').first());
      });
    });

    test('on paper they are there, over the picture', async () => {
      await withPage({ viewport: { width: 700, height: 800 } }, async (page) => {
        await page.emulateMedia({ media: 'print' });
        expectInPlace(await framesIn(page.locator('.marks')), 4);
        await expectInk(page, page.locator('.large .picture').first());
      });
    });

    test('without script a photo is a plain link to the picture without marks', async () => {
      await withPage({ javaScriptEnabled: false }, async (page) => {
        await page.locator('.large .picture').first().click();
        expect(page.url()).toBe(pathToFileURL(path.join(out, 'photos/a1-1600.jpg')).href);
      });
    });
  });
}
