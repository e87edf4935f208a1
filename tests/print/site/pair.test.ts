import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, BrowserContextOptions, Locator, Page } from 'playwright-core';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { dossierSchema } from '../../../src/model/dossier.ts';
import { pairFrame } from '../../../src/print/pairs.ts';
import { anchorsOf } from '../../../src/print/site/anchors.ts';
import { printSite } from '../../../src/print/site/index.ts';
import { canBrowse, launch, testWithoutBrowser, withPage } from '../../chromium.ts';
import { writeRenditions } from './dossier.ts';
import { alike, greys, oneBroken, pairDossier, pairPhotos, unlike, unlikeTall, writePairPictures } from './pair-dossier.ts';

test('the made-up dossier is one, and its pair has an anchor', () => {
  expect(dossierSchema.safeParse(pairDossier()).error).toBeUndefined();
  expect(anchorsOf(pairDossier().sections).get('pair-plug-2')).toBe('pairs');
});

test('the frame is that of the later photo; one that cannot be shown leaves none', () => {
  const photos = new Map(pairPhotos.map((photo) => [photo.id, photo]));
  expect(pairFrame(alike, photos)).toEqual({ width: 1600, height: 1200, unlike: false });
  expect(pairFrame(unlike, photos)).toEqual({ width: 1600, height: 1200, unlike: true });
  expect(pairFrame(unlikeTall, photos)).toEqual({ width: 1200, height: 1600, unlike: true });
  expect(pairFrame(oneBroken, photos)).toBeNull();
  // A camera that rounds to a pixel more takes no other shape.
  const rounded = new Map([...photos, ['was-wide', { ...pairPhotos[0], renditions: [{ file: 'photos/a.jpg', width: 1600, height: 1203 }] }]]) as typeof photos;
  expect(pairFrame(alike, rounded)?.unlike).toBe(false);
});

if (!canBrowse()) testWithoutBrowser();
else {
  describe('in a browser, over file://', () => {
    const folder = mkdtempSync(path.join(tmpdir(), 'sillbook-pair-'));
    const out = path.join(folder, 'out #1');
    let browser: Browser;
    beforeAll(async () => {
      await writeRenditions(pairDossier(), out);
      await writePairPictures(out);
      await printSite(pairDossier(), { work: path.join(folder, 'work'), out });
      browser = await launch();
    });
    afterAll(async () => {
      await browser?.close();
      rmSync(folder, { recursive: true, force: true });
    });
    async function onPairs(options: BrowserContextOptions, use: (page: Page) => Promise<void>): Promise<void> {
      await withPage(browser, out, 'pairs.html', options, async (page) => {
        if (options.javaScriptEnabled !== false) await page.evaluate(() => Promise.all([...document.images].map((image) => ((image.loading = 'eager'), image.decode().catch(() => undefined)))));
        await use(page);
      });
    }
    const pairOf = (page: Page, title: string): Locator => page.getByRole('group', { name: title, exact: true });
    const boxOf = (place: Locator): Promise<DOMRect> => place.evaluate((element) => element.getBoundingClientRect().toJSON() as DOMRect);

    /** What is seen of a pair at so many hundredths of the frame's width, half way down. */
    async function seenAt(page: Page, pair: Locator, shares: readonly number[]): Promise<string[]> {
      const frame = await boxOf(pair.locator('.after .plate'));
      const top = frame.top + (await page.evaluate(() => scrollY));
      const { data, info } = await sharp(await page.screenshot({ fullPage: true })).greyscale().raw().toBuffer({ resolveWithObject: true });
      return shares.map((share) => {
        const grey = data[Math.round(top + frame.height * 0.8) * info.width + Math.round(frame.left + (frame.width * share) / 100)] ?? 0;
        const near = (wanted: number): boolean => Math.abs(grey - wanted) < 12;
        return near(greys['was-wide']) ? 'before' : near(greys['now-wide']) ? 'after' : 'paper';
      });
    }

    test.each([320, 1280])('at %i px the range moves the line between the two, by keyboard, and the buttons go to its ends', async (width) => {
      await onPairs({ viewport: { width, height: 800 } }, async (page) => {
        const pair = pairOf(page, alike.title);
        const range = pair.getByRole('slider', { name: 'Width of the photo before, from the left, in 100' });
        const pressed = (): Promise<string[]> => pair.locator('button[aria-pressed="true"]').allInnerTexts();
        const shares = [3, 30, 46, 54, 70, 97];
        expect(await seenAt(page, pair, shares)).toEqual(['before', 'before', 'before', 'after', 'after', 'after']);
        expect(await pressed()).toEqual(['Both']);
        await range.focus();
        for (let step = 0; step < 10; step += 1) await page.keyboard.press('ArrowRight');
        expect(await range.inputValue()).toBe('60');
        expect(await seenAt(page, pair, [...shares, 58, 62])).toEqual(['before', 'before', 'before', 'before', 'after', 'after', 'before', 'after']);
        await page.keyboard.press('Home');
        expect(await seenAt(page, pair, shares)).toEqual(shares.map(() => 'after'));
        expect(await pressed()).toEqual(['After']);
        await page.keyboard.press('End');
        expect(await seenAt(page, pair, shares)).toEqual(shares.map(() => 'before'));
        expect(await pressed()).toEqual(['Before']);
        for (const [name, value] of [['After', '0'], ['Both', '50'], ['Before', '100']] as const) {
          await pair.getByRole('button', { name, exact: true }).press('Enter');
          expect(await range.inputValue()).toBe(value);
          expect(await pressed()).toEqual([name]);
        }
        expect(await seenAt(page, pair, shares)).toEqual(shares.map(() => 'before'));
        // The other pairs stay as they are.
        expect(await pairOf(page, unlike.title).getByRole('slider').inputValue()).toBe('50');
        expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
        for (const control of await pair.locator('.controls button, .controls input').all()) expect((await boxOf(control)).height).toBeGreaterThanOrEqual(width === 320 ? 44 : 24);
      });
    });

    test.each([320, 700, 1280])('at %i px photos of two shapes share a frame of the later, whole, in the middle, and that is said', async (width) => {
      await onPairs({ viewport: { width, height: 800 } }, async (page) => {
        for (const [block, ratio, other] of [[unlike, 4 / 3, 3 / 4], [unlikeTall, 3 / 4, 4 / 3]] as const) {
          const pair = pairOf(page, block.title);
          const [frame, later, earlier] = await Promise.all(['.after .plate', '.after img', '.before img'].map((part) => boxOf(pair.locator(part))));
          if (!frame || !later || !earlier) throw new Error('a part is missing');
          expect(frame.width / frame.height).toBeCloseTo(ratio, 1);
          for (const edge of ['left', 'top', 'right', 'bottom'] as const) expect(later[edge]).toBeCloseTo(frame[edge], -0.5);
          expect(earlier.width / earlier.height).toBeCloseTo(other, 1);
          expect(earlier.left - frame.left).toBeCloseTo(frame.right - earlier.right, -0.5);
          expect(earlier.top - frame.top).toBeCloseTo(frame.bottom - earlier.bottom, -0.5);
          expect(Math.min(earlier.left - frame.left, earlier.top - frame.top)).toBeGreaterThan(-1);
          // Filled in one direction.
          expect(Math.min(earlier.left - frame.left, earlier.top - frame.top)).toBeLessThan(1);
          expect(await pair.innerText()).toContain('The two photos differ in shape: the earlier one stands whole in a frame of the shape of the later.');
        }
        expect(await pairOf(page, alike.title).innerText()).not.toContain('differ in shape');
        // Beside the tall photo in the wide frame the later one does not look out.
        const pair = pairOf(page, unlike.title);
        await pair.getByRole('button', { name: 'Before', exact: true }).click();
        expect(await seenAt(page, pair, [5, 50, 95])).toEqual(['paper', 'before', 'paper']);
      });
    });

    test('marks stay over their photo in the frame, when the window is made narrower too', async () => {
      await onPairs({ viewport: { width: 1280, height: 800 } }, async (page) => {
        for (const width of [1280, 640, 320]) {
          await page.setViewportSize({ width, height: 800 });
          for (const block of [alike, unlikeTall]) {
            const side = pairOf(page, block.title).locator('.before');
            const [picture, ring] = [await boxOf(side.locator('img')), await boxOf(side.locator('path.line'))];
            expect((ring.left + ring.right) / 2 - picture.left).toBeCloseTo(picture.width / 4, -0.5);
            expect((ring.top + ring.bottom) / 2 - picture.top).toBeCloseTo(picture.height / 2, -0.5);
          }
        }
      });
    });

    test('marks stay over their photo in the viewer while its window changes', async () => {
      await onPairs({ viewport: { width: 1280, height: 800 } }, async (page) => {
        await pairOf(page, alike.title).getByRole('button', { name: 'Before', exact: true }).click();
        await pairOf(page, alike.title).locator('.before a.picture').click();
        for (const viewport of [{ width: 1280, height: 800 }, { width: 320, height: 568 }, { width: 900, height: 420 }]) {
          await page.setViewportSize(viewport);
          const [picture, ring] = [await boxOf(page.locator('dialog[open] img')), await boxOf(page.locator('dialog[open] path.line'))];
          expect((ring.left + ring.right) / 2 - picture.left).toBeCloseTo(picture.width / 4, -0.5);
          expect((ring.top + ring.bottom) / 2 - picture.top).toBeCloseTo(picture.height / 2, -0.5);
          expect(picture.bottom).toBeLessThanOrEqual((await boxOf(page.locator('dialog[open] .caption'))).top + 0.5);
        }
      });
    });

    test('a press on either side of the line opens the photo seen there', async () => {
      await onPairs({ viewport: { width: 1280, height: 900 } }, async (page) => {
        const frame = pairOf(page, alike.title).locator('.after .plate');
        const { width = 0, height = 0 } = (await frame.boundingBox()) ?? {};
        for (const [share, alt] of [[0.2, 'Plug missing, the photo'], [0.8, 'New plug of 25 mm, the photo']] as const) {
          await frame.click({ position: { x: width * share, y: height / 2 }, force: true });
          expect(await page.locator('dialog[open] img').getAttribute('alt')).toBe(alt);
          expect(await page.locator('dialog[open] .caption').innerText()).toMatch(/(Before|After)\. /);
          await page.keyboard.press('Escape');
        }
      });
    });

    test('where one cannot be shown both stand side by side, with the reason and no range', async () => {
      await onPairs({}, async (page) => {
        const pair = pairOf(page, oneBroken.title);
        expect(await pair.getByRole('slider').count()).toBe(0);
        expect(await pair.innerText()).toContain('The file ends before its first line.');
        const [left, right] = await Promise.all(['.before', '.after'].map((side) => boxOf(pair.locator(side))));
        expect(left?.right).toBeLessThanOrEqual(right?.left ?? 0);
      });
    });

    /** Both whole, beside or below each other, with their captions. */
    async function expectApart(page: Page, stacked: boolean): Promise<void> {
      for (const block of [alike, unlike, unlikeTall]) {
        const pair = pairOf(page, block.title);
        const [before, after, was, now] = await Promise.all(['.before img', '.after img', '.before figcaption', '.after figcaption'].map((part) => boxOf(pair.locator(part))));
        if (!before || !after || !was || !now) throw new Error('a part is missing');
        for (const picture of [before, after]) expect(picture.width).toBeGreaterThan(40);
        expect(was.top).toBeGreaterThanOrEqual(before.bottom - 1);
        expect(now.top).toBeGreaterThanOrEqual(after.bottom - 1);
        if (stacked) expect(after.top).toBeGreaterThanOrEqual(was.bottom);
        else expect(after.left).toBeGreaterThanOrEqual(before.right);
        expect(await pair.locator('.before .plate').evaluate((plate) => getComputedStyle(plate).clipPath)).toBe('none');
        expect(await pair.getByRole('slider').count()).toBe(0);
      }
    }

    test.each([[1280, false], [320, true]])('without script at %i px both are there, uncut, one below the other: %s', async (width, stacked) => {
      await onPairs({ viewport: { width, height: 800 }, javaScriptEnabled: false }, async (page) => {
        for (const title of [alike.title, unlike.title, unlikeTall.title]) await pairOf(page, title).scrollIntoViewIfNeeded();
        await expectApart(page, stacked);
        expect(await pairOf(page, alike.title).innerText()).toMatch(/Before\. Plug missing\.\s+After\. New plug of 25 mm\.\s+Between the two\s+Hole primed\.\s+Before: 14 March 2026; after: 2 May 2026\. In Sill, left\./);
        await pairOf(page, alike.title).locator('.before a.picture').click();
        expect(page.url()).toBe(`${pathToFileURL(out).href}/photos/was-wide-1600.jpg`);
      });
    });

    test('on paper both stand side by side, wherever the line was', async () => {
      await onPairs({ viewport: { width: 700, height: 800 } }, async (page) => {
        await pairOf(page, unlike.title).getByRole('button', { name: 'After', exact: true }).click();
        await page.emulateMedia({ media: 'print' });
        await expectApart(page, false);
      });
    });

    test('no style attribute stands in the pages, and styles and script are under 50 kB', () => {
      const html = readFileSync(path.join(out, 'pairs.html'), 'utf8');
      expect(html).not.toMatch(/\sstyle="/);
      const inside = [...html.matchAll(/<(style|script)\b[^>]*>([^]*?)<\/\1>/g)].map(([, , text = '']) => text);
      expect(Buffer.byteLength(inside.join(''))).toBeLessThan(50_000);
    });
  });
}
