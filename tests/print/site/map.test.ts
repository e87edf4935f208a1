import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { outcomes } from '../../../src/model/catalogue.ts';
import { dossierSchema } from '../../../src/model/dossier.ts';
import { drawnMap } from '../../../src/print/map/index.ts';
import { printSite } from '../../../src/print/site/index.ts';
import { mapDossier, placeless } from '../map/dossier.ts';
import { wholeMap } from '../map/maps.ts';
import { canBrowse, launch, testWithoutBrowser, withPage } from '../../chromium.ts';

const map = wholeMap('saloon', true);
const drawn = drawnMap(map);

test('the made-up dossier is one', () => {
  expect(dossierSchema.safeParse(mapDossier()).error).toBeUndefined();
});

if (!canBrowse()) testWithoutBrowser();
else {
  describe('in a browser, over file://', () => {
    const folder = mkdtempSync(path.join(tmpdir(), 'sillbook-map-'));
    const out = path.join(folder, 'out #1');
    let browser: Browser;
    beforeAll(async () => {
      await printSite(mapDossier(), { work: path.join(folder, 'work'), out });
      browser = await launch();
    }, 60_000);
    afterAll(async () => {
      await browser?.close();
      rmSync(folder, { recursive: true, force: true });
    });
    const onMap = (options: BrowserContextOptions, use: (page: Page) => Promise<void>): Promise<void> => withPage(browser, out, 'index.html', options, use);

    test('the tabulator goes to each zone once, view by view, front to rear, and shows where it is', async () => {
      const wanted = drawn.views.flatMap(({ areas }) => areas.filter(({ main, zone }) => main && !placeless.includes(zone)).map(({ heard }) => heard));
      expect(new Set(wanted).size).toBe(map.zones.length - placeless.length);
      await onMap({ viewport: { width: 1280, height: 800 } }, async (page) => {
        const accent = await page.evaluate(() => getComputedStyle(document.querySelector('main a') ?? document.body).color);
        await page.locator('.map').getByRole('link').first().focus();
        const gone: string[] = [];
        for (let step = 0; step < wanted.length; step += 1) {
          if (step > 0) await page.keyboard.press('Tab');
          const here = await page.evaluate(() => {
            const link = document.activeElement;
            const area = link?.querySelector('.area');
            const look = area ? getComputedStyle(area) : null;
            const box = link?.getBoundingClientRect();
            return { name: link?.getAttribute('aria-label') ?? '', stroke: look?.stroke, width: Number.parseFloat(look?.strokeWidth ?? '0'), outline: link ? getComputedStyle(link).outlineStyle : '', seen: box ? box.top >= 0 && box.bottom <= innerHeight : false };
          });
          gone.push(here.name);
          if (step > 0) expect(here, here.name).toMatchObject({ stroke: accent, width: 3, outline: 'solid', seen: true });
        }
        expect(gone).toEqual(wanted);
        await page.keyboard.press('Tab');
        expect(await page.evaluate(() => document.activeElement?.closest('.zones') !== null)).toBe(true);
      });
    });

    test('each zone is heard once, with its state in a word; one without a place here is no link', async () => {
      await onMap({}, async (page) => {
        const body = page.locator('.map');
        for (const { name, state, zone } of map.zones) {
          const heard = drawn.views.flatMap(({ areas }) => areas).find((area) => area.zone === zone)?.heard ?? '';
          expect(heard.startsWith(`${name}: ${state}`)).toBe(true);
          expect(await body.getByRole(placeless.includes(zone) ? 'img' : 'link', { name: heard, exact: true }).count(), heard).toBe(1);
        }
        const names = await page.evaluate(() => [...document.querySelectorAll('.map figure > svg')].map((svg) => svg.getAttribute('aria-label')));
        expect(names.map((name) => name?.split('.')[0])).toEqual(['Left side', 'Right side', 'From above', 'Floor and structure, from above']);
        for (const words of ['front', 'rear', 'left side', 'right side', 'the driver’s, looking forward', ...outcomes]) expect(await body.innerText()).toContain(words);
      });
    });

    test.each([320, 1280])('at %i px a press on an area hits that area, in every view, and leads to its zone', async (width) => {
      await onMap({ viewport: { width, height: 900 } }, async (page) => {
        expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
        const hits = await page.evaluate((labels) => [...document.querySelectorAll<SVGSVGElement>('.map figure > svg')].map((svg, view) => {
          svg.scrollIntoView({ block: 'center' });
          const matrix = svg.getScreenCTM();
          return (labels[view] ?? []).map(([x, y]) => {
            const point = new DOMPoint(x, y).matrixTransform(matrix ?? undefined);
            return document.elementFromPoint(point.x, point.y)?.closest('a, g')?.getAttribute('class') === 'names' ? 'names' : document.elementFromPoint(point.x, point.y)?.closest('a, g[fill], g[class]')?.querySelector('title')?.textContent ?? '';
          });
        }), drawn.views.map(({ areas }) => areas.map(({ label }) => [label[0], label[1]] as [number, number])));
        expect(hits).toEqual(drawn.views.map(({ areas }) => areas.map(({ heard }) => heard)));
        const sill = page.locator('.map a[href$="#sill-left"], .map a[href*="sill-left"]').first();
        await sill.click({ position: { x: 40, y: 4 } });
        expect(page.url()).toContain('/zones/sill-left.html');
      });
    });

    test('names stand on the drawing where they can be read, and not on a phone', async () => {
      for (const [width, shown] of [[1280, true], [700, true], [320, false]] as const) {
        await onMap({ viewport: { width, height: 800 } }, async (page) => {
          const sizes = await page.locator('.map text').evaluateAll((all) => all.map((text) => text.getBoundingClientRect().height).filter((height) => height > 0));
          expect(sizes.length > 0).toBe(shown);
          for (const size of sizes) expect(size).toBeGreaterThan(9);
          expect(await page.locator('.map figure > svg').first().evaluate((svg) => svg.getBoundingClientRect().width)).toBeGreaterThan(250);
        });
      }
    });

    test.each([['light', 'none'], ['dark', 'none'], ['light', 'active']] as const)('in grey no state looks like another: %s, forced colours %s', async (colorScheme, forcedColors) => {
      await onMap({ colorScheme, forcedColors, deviceScaleFactor: 2 }, async (page) => {
        const swatches = page.locator('.map .key svg.defect, .map .key svg.cannot-tell, .map .key svg.not-seen, .map .key svg.sound, .map .key svg.not-fitted');
        expect(await swatches.count()).toBe(outcomes.length);
        const greys = await Promise.all((await swatches.all()).map(async (swatch) => sharp(await swatch.screenshot()).greyscale().raw().toBuffer()));
        greys.forEach((one, at) => greys.slice(at + 1).forEach((other, next) => {
          const apart = one.reduce((sum, value, index) => sum + Number(Math.abs(value - (other[index] ?? 0)) > 24), 0) / one.length;
          // Our judgement: a twelfth of the pixels clearly lighter or darker is seen at a glance.
          expect(apart, `${at} and ${at + 1 + next}`).toBeGreaterThan(1 / 12);
        }));
      });
    });

    test('only what was not seen has a dashed edge', async () => {
      await onMap({}, async (page) => {
        const edges = await page.locator('.map figure .area').evaluateAll((all) => all.map((area) => [area.parentElement?.getAttribute('class'), getComputedStyle(area).strokeDasharray !== 'none'] as const));
        expect(edges).toHaveLength(drawn.views.reduce((sum, { areas }) => sum + areas.length, 0));
        for (const [state, dashed] of edges) expect(dashed, state ?? '').toBe(state === 'not-seen');
      });
    });

    test('in print the drawing is whole and light', async () => {
      await onMap({ colorScheme: 'dark' }, async (page) => {
        await page.emulateMedia({ media: 'print' });
        expect(await page.evaluate(() => getComputedStyle(document.querySelector('.map .outline') ?? document.body).fill)).toBe('rgb(255, 255, 255)');
        expect(await page.locator('.map figure > svg').count()).toBe(4);
      });
    });
  });
}
