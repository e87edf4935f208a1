import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { canBrowse, testWithoutBrowser, withPage } from '../../chromium.ts';
import { builtAndBrowsed, kinds, layOutAll, pagesIn } from './bars.ts';
import type { Kind } from './bars.ts';
import { contrast } from './contrast.ts';
import { focusStop, outOfPage, smallTargets } from './bars-in-page.ts';
import type { FocusStop } from './bars-in-page.ts';

/** Stops of one page that are looked at: past these a page has more of the same. The overview has the drawing. */
const mostStops = (name: string): number => (name === 'overview' ? 200 : 60);

if (!canBrowse()) testWithoutBrowser();
else {
  const given = builtAndBrowsed();
  const open = (kind: Kind, options: { width: number; height: number; deviceScaleFactor?: number; colorScheme?: 'light' | 'dark' }, use: (page: Page) => Promise<void>): Promise<void> => {
    const { width, height, ...more } = options;
    return withPage(given.browser, given.built[kind.site], kind.file, { viewport: { width, height }, ...more }, async (page) => {
      await kind.first?.(page);
      await use(page);
    });
  };

  describe('reflow, WCAG 2.2 criterion 1.4.10', () => {
    // 1280 by 800 px at 400 % are 320 by 200 px of the style sheet, four device pixels each way.
    test.each([
      { name: '320 px', width: 320, height: 640 },
      { name: '1280 px at 400 %', width: 320, height: 200, deviceScaleFactor: 4 },
      { name: '1280 px', width: 1280, height: 800 },
    ])('no page is scrolled sideways at $name, with words of any length, nor with the letters wide apart', async ({ width, height, deviceScaleFactor = 1 }) => {
      for (const root of [given.built.sample, given.built.long]) {
        await withPage(given.browser, root, 'index.html', { viewport: { width, height }, deviceScaleFactor }, async (page) => {
          const home = page.url().replace('index.html', '');
          for (const file of pagesIn(root)) {
            await page.goto(home + file);
            await layOutAll(page);
            expect(await page.evaluate(outOfPage), file).toEqual([]);
            if (root === given.built.long) continue;
            // Criterion 1.4.12: distances a reader may set.
            await page.evaluate(() => {
              const sheet = new CSSStyleSheet();
              sheet.replaceSync('* { line-height: 1.5 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important } p { margin-bottom: 2em !important }');
              document.adoptedStyleSheets.push(sheet);
            });
            expect(await page.evaluate(() => document.documentElement.scrollWidth), `${file}, letters apart`).toBeLessThanOrEqual(width);
          }
        });
      }
    });
  });

  describe('focus, WCAG 2.2 criteria 2.4.7, 2.4.11 and 1.4.11', () => {
    const looks = [
      { width: 1280, height: 800, colorScheme: 'light' },
      { width: 320, height: 640, colorScheme: 'dark' },
    ] as const;
    test.each(looks)('every stop of the Tab key is seen and nothing lies over it, at $width px, $colorScheme', async (look) => {
      // All on one page has the parts of the others.
      for (const kind of kinds.filter(({ name }) => name !== 'whole')) {
        await open(kind, look, async (page) => {
          await layOutAll(page);
          const faults: string[] = [];
          let stops = 0;
          for (; stops < mostStops(kind.name); stops += 1) {
            // A photo opened by keyboard has the focus on the first stop already.
            if (stops > 0 || kind.name !== 'a photo over the page') await page.keyboard.press('Tab');
            const stop = await page.evaluate(focusStop);
            if (stop === null) break;
            for (const { colour, grounds } of stop.rings) {
              for (const ground of grounds) if (contrast(colour, ground) < 3) faults.push(`${stop.what}: ${colour} on ${ground}`);
            }
            if (stop.rings.length === 0) faults.push(`${stop.what}: nothing shows the focus`);
            if (stop.covered !== null) faults.push(`${stop.what}: ${stop.covered}`);
          }
          expect(faults, kind.name).toEqual([]);
          // On a phone the parts are behind their summary.
          expect(stops, kind.name).toBeGreaterThan(3);
        });
      }
    });
  });

  test('a stop without a ring, with a faint one, or under a bar is noticed', async () => {
    await withPage(given.browser, given.built.sample, 'about.html', {}, async (page) => {
      const stopWith = async (css: string): Promise<FocusStop | null> => {
        await page.evaluate((rules) => {
          const sheet = new CSSStyleSheet();
          sheet.replaceSync(rules);
          document.adoptedStyleSheets = [sheet];
        }, css);
        await page.keyboard.press('Tab');
        return page.evaluate(focusStop);
      };
      expect((await stopWith(':focus-visible { outline: none }'))?.rings).toEqual([]);
      const [faint] = (await stopWith(':focus-visible { outline: 3px solid #dddddd }'))?.rings ?? [];
      expect(contrast(faint?.colour ?? '', faint?.grounds[0] ?? '')).toBeLessThan(3);
      expect((await stopWith('footer { position: fixed; inset: 0; z-index: 9 }'))?.covered).toMatch(/^<(footer|p)/);
    });
  });

  describe('the first screen of a phone', () => {
    test.each([320, 390])('at %i px little stands before the content, and the parts unfold', async (width) => {
      for (const kind of kinds.filter(({ site }) => site === 'sample')) {
        await open(kind, { width, height: 800 }, async (page) => {
          // Two lines of title and one of status at most.
          expect(await page.evaluate(() => (document.querySelector('.mast')?.getBoundingClientRect().bottom ?? 999) + scrollY), kind.name).toBeLessThanOrEqual(100);
        });
      }
    });
  });

  describe('targets, WCAG 2.2 criterion 2.5.8', () => {
    test.each([320, 1280])('at %i px each is 24 px either way, or falls under a named exemption', async (width) => {
      for (const kind of kinds) {
        await open(kind, { width, height: 800 }, async (page) => {
          await layOutAll(page);
          const { small, targets } = await page.evaluate(smallTargets);
          expect(small, kind.name).toEqual([]);
          expect(targets, kind.name).toBeGreaterThan(3);
        });
      }
    });
  });
}
