import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, BrowserContextOptions, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Dossier } from '../../../src/model/dossier.ts';
import { printSite } from '../../../src/print/site/index.ts';
import { sitePages } from '../../../src/print/site/pages.ts';
import { words } from '../../../src/model/printed-words.ts';
import { takenWords } from '../../../templates/site/parts/said.ts';
import { canBrowse, launch, testWithoutBrowser, withPage } from '../../chromium.ts';
import { siteDossier, writeRenditions } from './dossier.ts';
import { pairDossier } from './pair-dossier.ts';

const long = 'A long caption, as somebody dictates it who stands in the cold and says everything twice. '.repeat(25);

/** The site's dossier with a long caption, a time as it is written, and one photo that has none. */
function dossier(): Dossier {
  const made = siteDossier();
  const [first, second] = made.photos;
  if (first) Object.assign(first, { taken: '10:12:04 on 14 March 2026, UTC+00:00', takenFrom: 'by the camera, clock set back by 1:13:20' });
  if (second) Object.assign(second, { taken: null, takenFrom: 'no time in the file' });
  for (const block of made.sections.flatMap(({ blocks }) => blocks)) {
    const figure = block.type === 'photos' && block.look === 'large' ? block.figures.find(({ photo }) => photo === 'img-4024') : undefined;
    figure?.caption.push(` ${long}`);
  }
  return made;
}

test('the time of a photo says where it comes from, and repeats nothing the caption has', () => {
  const [taken, takenFrom] = ['10:12:41 on 14 March 2026, UTC+00:00', 'by the camera, clock set back by 1:13:20'];
  expect(takenWords(words.taken, { taken, takenFrom, caption: ['Missing.'] })).toBe(`Taken ${taken}, ${takenFrom}`);
  expect(takenWords(words.taken, { taken, takenFrom, caption: ['Missing.', { text: ' IMG_4022.jpg, 10:12:41 on 14 March 2026.', quiet: true }] })).toBe(`Time: UTC+00:00, ${takenFrom}`);
  expect(takenWords(words.taken, { taken: '10:12:41 on 14 March 2026', takenFrom: 'by the camera, time zone not known', caption: ['10:12:41 on 14 March 2026'] })).toBe('Time: by the camera, time zone not known');
  expect(takenWords(words.taken, { taken: null, takenFrom: 'no time in the file', caption: ['Missing.'] })).toBe('Time of the photo: no time in the file');
  expect(takenWords(words.taken, { taken: null, takenFrom: 'no time in the file', caption: ['IMG_1.jpg, no time in the file.'] })).toBe('');
});

test('the lasting place of a photo is the index, from every page; else where it has an anchor; else there is none', () => {
  const figuresOf = (made: Dossier, page: string): (string | null)[] =>
    sitePages(made).pages.find((one) => one.path === page)?.sections.flatMap(({ blocks }) => blocks).flatMap((block) => (block.type === 'photos' ? block.figures : block.type === 'pair' ? [block.before] : []).map(({ permanent }) => permanent)) ?? [];
  expect(figuresOf(siteDossier(), 'zones/sill-left')[0]).toBe('../photos.html#index-img-4021');
  expect(figuresOf(siteDossier(), 'photos')[0]).toBe('#index-img-4021');
  const without = siteDossier();
  without.sections = without.sections.filter(({ page }) => page !== 'photos');
  expect(figuresOf(without, 'zones/sill-left').slice(0, 3)).toEqual(['#photo-img-4021', '#photo-img-4022', '#photo-img-4024']);
  const pairs = pairDossier();
  pairs.sections = pairs.sections.filter(({ page }) => page !== 'pair-photos');
  expect(figuresOf(pairDossier(), 'pairs')[0]).toBe('pair-photos.html#photo-was-wide');
  expect(figuresOf(pairs, 'pairs')[0]).toBeNull();
});

if (!canBrowse()) testWithoutBrowser();
else {
  describe('in a browser, over file://', () => {
    const folder = mkdtempSync(path.join(tmpdir(), 'sillbook-viewer-'));
    const out = path.join(folder, 'mail dossier äö #1');
    const address = (file: string): string => pathToFileURL(path.join(out, file)).href;
    let browser: Browser;
    beforeAll(async () => {
      await writeRenditions(dossier(), out);
      await printSite(dossier(), { work: path.join(folder, 'work'), out });
      browser = await launch();
    });
    afterAll(async () => {
      await browser?.close();
      rmSync(folder, { recursive: true, force: true });
    });
    const onZone = (options: BrowserContextOptions, use: (page: Page, asked: string[]) => Promise<void>): Promise<void> => withPage(browser, out, 'zones/sill-left.html', options, use);
    const nameOf = (page: Page): Promise<string | null> => page.locator('dialog[open]').getAttribute('aria-label');
    const boxOf = (place: Locator): Promise<DOMRect> => place.evaluate((element) => element.getBoundingClientRect().toJSON() as DOMRect);

    test('Home, End and the arrows go where they say, round at the ends; the name heard is photo, count and finding', async () => {
      await onZone({}, async (page) => {
        await page.focus('#photo-img-4022 a.picture');
        await page.keyboard.press('Enter');
        expect(await nameOf(page)).toBe('Photo 2 of 4: Plug, inner face 2: missing, rust run below');
        expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('Next');
        await page.keyboard.press('End');
        expect(await nameOf(page)).toBe('Photo 4 of 4: Inside, towards the rear: scaling');
        expect(await page.getByRole('button').allTextContents()).toEqual(['Previous', 'First', 'Close']);
        await page.keyboard.press('ArrowRight');
        expect(await nameOf(page)).toContain('Photo 1 of 4');
        expect(await page.getByRole('button').allTextContents()).toEqual(['Last', 'Next', 'Close']);
        // What has the focus goes on, as its label says.
        await page.keyboard.press('Space');
        expect(await nameOf(page)).toContain('Photo 2 of 4');
        await page.keyboard.press('Home');
        expect(await nameOf(page)).toContain('Photo 1 of 4');
        expect(await page.locator('dialog [aria-live]').innerText()).toContain('Photo 1 of 4.');
        await page.keyboard.press('Control+ArrowRight');
        expect(await nameOf(page)).toContain('Photo 1 of 4');
      });
    });

    test.each(['keyboard', 'mouse'])('by %s: the page behind is out of reach, and focus returns to the photo it came from', async (way) => {
      await onZone({}, async (page) => {
        const link = page.locator('#photo-img-4024 a.picture');
        await (way === 'mouse' ? link.click() : link.press('Enter'));
        // Through all that can have the focus, and round again.
        for (let stop = 0; stop < 12; stop += 1) {
          await page.keyboard.press('Tab');
          expect(await page.evaluate(() => document.activeElement === document.body || document.activeElement?.closest('dialog') !== null)).toBe(true);
        }
        await page.keyboard.press('ArrowRight');
        await (way === 'mouse' ? page.getByRole('button', { name: 'Close' }).click() : page.keyboard.press('Escape'));
        expect(await page.locator('dialog[open]').count()).toBe(0);
        expect(await page.locator('dialog').count()).toBe(1);
        expect(await page.evaluate(() => document.activeElement?.closest('figure')?.id)).toBe('photo-img-4024');
      });
    });

    test('the time and where it comes from stand below the caption', async () => {
      await onZone({}, async (page) => {
        await page.locator('#photo-img-4021 a.picture').click();
        const caption = page.locator('dialog .caption');
        expect(await caption.innerText()).toMatch(/Plugs, inner face: two of four missing\.\s+Taken 10:12:04 on 14 March 2026, UTC\+00:00, by the camera, clock set back by 1:13:20\.$/);
        await page.keyboard.press('ArrowRight');
        expect(await caption.innerText()).toMatch(/Time of the photo: no time in the file\.$/);
      });
    });

    test('the link to a photo closes the viewer and leads to its place in the index, which opens nothing by itself', async () => {
      await onZone({}, async (page) => {
        await page.locator('#photo-img-4022 a.picture').click();
        await page.getByRole('link', { name: 'Link to this photo' }).click();
        await page.waitForURL('**/photos.html*');
        expect(page.url()).toBe(`${address('photos.html')}#index-img-4022`);
        expect(await page.evaluate(() => document.querySelector(':target')?.id)).toBe('index-img-4022');
        expect(await page.locator('dialog[open]').count()).toBe(0);
        // From the index itself: the same place.
        await page.locator('#index-img-4035 a.picture').click();
        await page.getByRole('link', { name: 'Link to this photo' }).click();
        expect(page.url()).toBe(`${address('photos.html')}#index-img-4035`);
        expect(await page.locator('dialog[open]').count()).toBe(0);
        expect(await page.evaluate(() => document.querySelector(':target')?.id)).toBe('index-img-4035');
      });
    });

    test('the neighbours are fetched before they are asked for, and no others', async () => {
      await onZone({}, async (page, asked) => {
        await page.locator('#photo-img-4021 a.picture').scrollIntoViewIfNeeded();
        await page.waitForFunction(() => [...document.images].every((image) => image.complete));
        asked.length = 0;
        const neighbours = Promise.all(['img-4022-1600', 'sc-0008-1600'].map((name) => page.waitForRequest((request) => request.url().endsWith(`/photos/${name}.jpg`))));
        await page.locator('#photo-img-4021 a.picture').click();
        await neighbours;
        expect(asked.filter((url) => url.endsWith('/photos/img-4024-960.jpg'))).toEqual([]);
      });
    });

    test.each([
      { width: 1280, height: 720 },
      { width: 320, height: 568 },
      { width: 568, height: 320 },
    ])('at $width × $height an upright photo with a long caption is whole, its words scroll, nothing lies over anything', async (viewport) => {
      await onZone({ viewport }, async (page) => {
        await page.locator('#photo-img-4024 a.picture').click();
        const dialog = page.locator('dialog[open]');
        await dialog.locator('img').evaluate((image: HTMLImageElement) => image.decode());
        const [bar, picture, caption, more] = await Promise.all(['.bar', '.frame', '.caption', '.more'].map((part) => boxOf(dialog.locator(part))));
        if (!bar || !picture || !caption || !more) throw new Error('a part is missing');
        expect(picture.width / picture.height).toBeCloseTo(3 / 4, 1);
        expect(picture.height).toBeGreaterThanOrEqual(140);
        for (const [upper, lower] of [[bar, picture], [picture, caption], [caption, more]] as const) expect(upper.bottom).toBeLessThanOrEqual(lower.top + 0.5);
        for (const part of [bar, picture, caption, more]) {
          expect(part.left).toBeGreaterThanOrEqual(0);
          expect(part.right).toBeLessThanOrEqual(viewport.width);
        }
        expect(await dialog.evaluate((element) => element.scrollWidth - element.clientWidth)).toBe(0);
        // A low window is scrolled as a whole, a high one in the caption only.
        const scrolls = viewport.height < 480 ? dialog : dialog.locator('.caption');
        if (viewport.height >= 480) {
          expect(more.bottom).toBeLessThanOrEqual(viewport.height);
          expect(await scrolls.getAttribute('tabindex')).toBe('0');
          await scrolls.focus();
          await page.keyboard.press('End');
          expect(await nameOf(page)).toContain('Photo 3 of 4');
        } else await scrolls.evaluate((element) => element.scrollTo(0, element.scrollHeight));
        await page.waitForFunction((element) => element !== null && element.scrollTop > 0 && element.scrollTop + element.clientHeight >= element.scrollHeight - 2, await scrolls.elementHandle());
      });
    });

    // A window of 1280 × 720 at 400 %: WCAG 2.2 criterion 1.4.10, Reflow.
    test('at 400 % everything can be scrolled to, and nothing sideways', async () => {
      await onZone({ viewport: { width: 320, height: 180 } }, async (page) => {
        await page.locator('#photo-img-4024 a.picture').click();
        const dialog = page.locator('dialog[open]');
        expect(await dialog.evaluate((element) => element.scrollWidth - element.clientWidth)).toBe(0);
        for (const part of ['img', '.more a >> nth=1', '.bar button >> nth=2']) {
          const place = dialog.locator(part);
          await place.scrollIntoViewIfNeeded();
          const { top, bottom, height } = await boxOf(place);
          expect(height, part).toBeGreaterThanOrEqual(24);
          expect(Math.min(bottom, 180) - Math.max(top, 0), part).toBeGreaterThanOrEqual(24);
        }
        expect(await dialog.locator('.caption').evaluate((caption) => caption.getBoundingClientRect().height)).toBeGreaterThan(1000);
      });
    });

    test.each([[320, 44], [1280, 24]])('at %i px buttons are at least %i px high, links 24', async (width, least) => {
      await onZone({ viewport: { width, height: 700 } }, async (page) => {
        await page.locator('#photo-img-4021 a.picture').click();
        const heights = (place: string): Promise<number[]> => page.locator(place).evaluateAll((all) => all.map((one) => one.getBoundingClientRect().height));
        const buttons = await heights('dialog button');
        expect(buttons).toHaveLength(3);
        for (const height of buttons) expect(height).toBeGreaterThanOrEqual(least);
        for (const height of await heights('dialog .more a')) expect(height).toBeGreaterThanOrEqual(24);
      });
    });

    test('nothing moves by itself', async () => {
      await onZone({}, async (page) => {
        await page.locator('#photo-img-4021 a.picture').click();
        await page.keyboard.press('ArrowRight');
        expect(await page.evaluate(() => document.getAnimations().length)).toBe(0);
      });
    });
  });
}
