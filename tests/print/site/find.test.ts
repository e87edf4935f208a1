import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { canBrowse, launch, testWithoutBrowser } from '../../chromium.ts';
import type { Dossier } from '../../../src/model/dossier.ts';
import { printSite } from '../../../src/print/site/index.ts';
import { hostile, hostileDossier, largeDossier } from './find-dossier.ts';

const beside = ['dossier.json', 'dossier.schema.json', 'originals-sha256.txt', 'work.csv', 'parts.csv'];

if (!canBrowse()) testWithoutBrowser();
else {
  describe('finding, over file://', () => {
    const folder = mkdtempSync(path.join(tmpdir(), 'sillbook-find-'));
    const out = path.join(folder, 'mail dossier äö #1');
    const large = path.join(folder, 'large');
    const address = (file: string, from = out): string => {
      const [name = '', hash] = file.split('#');
      return pathToFileURL(path.join(from, name)).href + (hash === undefined ? '' : `#${hash}`);
    };
    let browser: Browser;
    let dossier: Dossier;

    beforeAll(async () => {
      dossier = hostileDossier();
      await printSite(dossier, { work: path.join(folder, 'work'), out, beside });
      await printSite(largeDossier(), { work: path.join(folder, 'work'), out: large, beside });
      browser = await launch();
    }, 90_000);
    afterAll(async () => {
      await browser?.close();
      rmSync(folder, { recursive: true, force: true });
    });

    async function withPage(options: BrowserContextOptions, use: (page: Page) => Promise<void>): Promise<void> {
      const context = await browser.newContext({ viewport: { width: 1280, height: 900 }, ...options });
      const complaints: string[] = [];
      const page = await context.newPage();
      page.on('console', (message) => complaints.push(`${message.type()}: ${message.text()}`));
      page.on('pageerror', (error) => complaints.push(error.message));
      page.on('dialog', (dialog) => complaints.push(`dialog: ${dialog.message()}`));
      await use(page);
      await context.close();
      expect(complaints).toEqual([]);
    }

    const shown = (page: Page): Promise<string[]> => page.evaluate(() => [...document.querySelectorAll('.find-list li:not([hidden])')].filter((line) => !line.closest('.find-group')?.hasAttribute('hidden')).map((line) => line.textContent));
    const status = (page: Page): Promise<string> => page.innerText('.find-answer [role="status"]');
    const number = (text: string | null): number => Number(/\d+(?=\)?$)/.exec(text ?? '')?.[0]);

    test('words narrow the list, hits are marked, groups without hits go', async () => {
      await withPage({}, async (page) => {
        await page.goto(address('find.html'));
        const all = (await shown(page)).length;
        expect(await status(page)).toBe(`${all} lines.`);
        await page.fill('#Find_words', 'missing rust run');
        const hits = await shown(page);
        expect(hits.length).toBeGreaterThan(0);
        expect(hits.every((text) => /missing/i.test(text) && /rust run/i.test(text))).toBe(true);
        expect(await status(page)).toBe(`${hits.length} of ${all} lines.`);
        expect(await page.locator('.find-list mark').allInnerTexts()).toEqual(expect.arrayContaining(['missing', 'Rust', 'run']));
        expect(await page.locator('.find-group:visible').count()).toBeLessThan(await page.locator('.find-group').count());
        await page.click('text=Clear all');
        expect((await shown(page)).length).toBe(all);
        expect(await page.locator('.find-list mark').count()).toBe(0);
        expect(page.url()).toBe(address('find.html'));
        expect(await page.evaluate(() => document.activeElement?.id)).toBe('Find_words');
      });
    });

    test('British and American: rocker finds sills, and says so', async () => {
      await withPage({}, async (page) => {
        await page.goto(address('find.html#q=rocker+bung'));
        expect((await shown(page)).some((text) => text.startsWith('blind plug 25 mm, inner face 2'))).toBe(true);
        expect(await status(page)).toContain('“rocker” also stands for sill.');
        expect(await page.locator('.find-group:visible').first().innerText()).toContain('Sill, left');
      });
    });

    test('each number beside a filter is the number of lines it leaves, and kinds and zones add up', async () => {
      await withPage({}, async (page) => {
        await page.goto(address('find.html#q=plug'));
        const hits = (await shown(page)).length;
        const numbers = async (name: string): Promise<number[]> => (await page.locator(`select[name="${name}"] option:not([value=""])`).allInnerTexts()).map(number);
        const sum = (all: number[]): number => all.reduce((total, each) => total + each, 0);
        expect(sum(await numbers('kind'))).toBe(hits);
        expect(sum(await numbers('zone'))).toBeGreaterThanOrEqual(hits);
        for (const state of ['defect', 'cannot-tell', 'not-seen', 'sound', 'not-fitted']) {
          const box = page.locator(`input[value="${state}"]`);
          const promised = number(await box.locator('xpath=..').innerText());
          await box.check();
          expect((await shown(page)).length, state).toBe(promised);
          await box.uncheck();
        }
        for (const value of ['opening', 'photo', 'words']) {
          const promised = number(await page.locator(`select[name="kind"] option[value="${value}"]`).innerText());
          await page.selectOption('select[name="kind"]', value);
          expect((await shown(page)).length, value).toBe(promised);
        }
      });
    });

    test('the register leads to exactly its lines of one state', async () => {
      await withPage({}, async (page) => {
        await page.goto(address('register.html'));
        await page.locator('.counts-by-state a', { hasText: 'not seen' }).click();
        await page.waitForLoadState('load');
        expect(page.url()).toBe(address('find.html#kind=opening&state=not-seen'));
        expect((await shown(page)).length).toBe(dossier.register.filter((row) => row.outcome === 'not seen').length);
        expect(await page.isChecked('input[value="not-seen"]')).toBe(true);
      });
    });

    test('the choice stands in the address: the same from cold, by hand, after going away and back', async () => {
      await withPage({}, async (page) => {
        await page.goto(address('find.html'));
        await page.fill('#Find_words', '“inner face” pl');
        await page.selectOption('select[name="zone"]', 'sill-left');
        await page.selectOption('select[name="part"]', 'plug');
        await page.check('input[value="defect"]');
        await page.check('input[value="not-seen"]');
        await page.check('input[name="load"]');
        const url = page.url();
        const hits = await shown(page);
        expect(hits).toHaveLength(2);
        expect(url).toContain('state=defect,not-seen');
        const cold = await page.context().newPage();
        await cold.goto(url);
        expect(await shown(cold)).toEqual(hits);
        expect(await cold.inputValue('#Find_words')).toBe('“inner face” pl');
        await cold.evaluate(() => (location.hash = '#zone=sill-right'));
        await expect.poll(() => cold.inputValue('select[name="zone"]')).toBe('sill-right');
        expect(await cold.inputValue('#Find_words')).toBe('');
        await page.locator('.find-list li:not([hidden]) a').first().click();
        await page.waitForLoadState('load');
        await page.waitForURL(/sill-left\.html#sill-left--plug--inner-face-1$/);
        await page.goBack();
        expect(page.url()).toBe(url);
        await expect.poll(() => shown(page)).toEqual(hits);
      });
    });

    test('what an old link names and this dossier lacks is said, not passed over', async () => {
      await withPage({}, async (page) => {
        await page.goto(address('find.html#zone=frunk&state=defect'));
        expect(await status(page)).toContain('left out of the choice: frunk.');
        expect(await page.isChecked('input[value="defect"]')).toBe(true);
      });
    });

    test('nothing found says what to do, and leads to what was not seen', async () => {
      await withPage({}, async (page) => {
        await page.goto(address('find.html#q=zebra'));
        expect(await shown(page)).toEqual([]);
        expect(await page.innerText('.find-nothing')).toMatch(/Nothing found\. Take a filter off/);
        await page.click('text=Show all that was not seen');
        await expect.poll(async () => (await shown(page)).length).toBeGreaterThan(dossier.register.filter((row) => row.outcome === 'not seen').length - 1);
        expect(await page.isVisible('.find-nothing')).toBe(false);
      });
    });

    test('by keyboard alone: the key, words, a filter, a line; never while typing, and it can be switched off', async () => {
      await withPage({}, async (page) => {
        await page.goto(address('zones/sill-left.html'));
        await page.keyboard.press('/');
        expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('Find');
        await page.keyboard.press('Enter');
        await page.waitForURL(/find\.html$/);
        await page.keyboard.press('/');
        await page.keyboard.type('1/4 plug');
        expect(await page.inputValue('#Find_words')).toBe('1/4 plug');
        await page.fill('#Find_words', 'plug');
        await page.keyboard.press('Enter');
        await page.keyboard.press('Tab');
        await page.keyboard.press('Space');
        await expect.poll(() => page.url()).toBe(address('find.html#q=plug&state=defect'));
        for (let steps = 0; steps < 40 && !(await page.evaluate(() => document.activeElement?.closest('.find-list li') !== null)); steps += 1) await page.keyboard.press('Tab');
        const target = await page.evaluate(() => (document.activeElement as HTMLAnchorElement).href);
        expect(await page.evaluate(() => getComputedStyle(document.activeElement ?? document.body).outlineStyle)).toBe('solid');
        await page.keyboard.press('Enter');
        await page.waitForURL(target);
        await page.goto(address('find.html'));
        await page.uncheck('.find-key input');
        await page.goto(address('zones/sill-left.html'));
        // What one page stores reaches the next a moment later, where it has a process of its own.
        await page.waitForFunction(() => localStorage.length > 0);
        await page.keyboard.press('/');
        expect(await page.evaluate(() => document.activeElement?.tagName)).toBe('BODY');
      });
    });

    test('hostile words neither run nor vanish, and are found', async () => {
      await withPage({}, async (page) => {
        await page.goto(address('find.html'));
        const text = (await shown(page)).join('\n');
        for (const words of hostile) expect(text.replace(/\s+/g, ' ')).toContain(words);
        expect(await page.evaluate(() => document.querySelectorAll('.find-list img, .find-list script').length)).toBe(0);
        for (const typed of ['<img src=x onerror', '</script><script>', '"a "quoted" word"', 'verylonglong', '🔩', 'العتبة', 'turned‬ round']) {
          await page.fill('#Find_words', typed);
          expect((await shown(page)).length, typed).toBeGreaterThan(0);
          expect(await page.locator('.find-list mark').count(), typed).toBeGreaterThan(0);
        }
        await page.fill('#Find_words', '');
        expect((await shown(page)).join('\n')).toBe(text);
        await page.goto(address(`find.html#q=${encodeURIComponent('<img src=x onerror="document.title=\'taken\'">')}&zone=${encodeURIComponent('<b>x</b>')}`));
        expect(await status(page)).toContain('<b>x</b>');
        expect(await page.title()).toMatch(/^Find – /);
      });
    });

    test('without script it is the whole list, each line a link that arrives', async () => {
      await withPage({ javaScriptEnabled: false }, async (page) => {
        await page.goto(address('find.html'));
        expect(await page.isVisible('.find-form')).toBe(false);
        expect(await page.isVisible('.find-key')).toBe(false);
        // Not the inner text, which leaves out what is not laid out yet; finding in the page does not.
        const text = (await page.textContent('main')) ?? '';
        for (const { id } of dossier.photos) expect(text).toContain(id.toUpperCase().replace('-', '_'));
        await page.click('a[href="zones/sill-left.html#sill-left--plug--inner-face-2"]');
        expect(page.url()).toBe(address('zones/sill-left.html#sill-left--plug--inner-face-2'));
      });
    });

    test.each(['light', 'dark'] as const)('a link to a row from cold: in view, with room above it, and marked, %s', async (colorScheme) => {
      for (const [file, id] of [['zones/sill-left.html', 'sill-left--plug--inner-face-2'], ['zones/sill-left.html', 'sill-left--the-camera-went-in-through'], ['zones/sill-left.html', 'sill-left--reading--steel--outer-face'], ['index.html', 'step-sill-left-mend'], ['photos.html', 'photo-img-4022'], ['register.html', 'front-panel--not-counted']] as const) {
        await withPage({ colorScheme, viewport: { width: 1000, height: 700 } }, async (page) => {
          await page.goto(address(`${file}#${id}`));
          const target = await page.evaluate(() => {
            const element = document.querySelector(':target');
            const box = element?.getBoundingClientRect();
            return { id: element?.id, top: box?.top ?? -1, shadow: element ? getComputedStyle(element).boxShadow : '', ground: element ? getComputedStyle(element).backgroundColor : '', accent: getComputedStyle(document.documentElement).getPropertyValue('--accent') };
          });
          expect(target.id).toBe(id);
          expect(target.top, id).toBeGreaterThanOrEqual(0);
          expect(target.top, id).toBeLessThan(700);
          // The bar has the colour of links, which stands out from every ground at 4.5 to 1.
          const channels = [1, 3, 5].map((at) => Number.parseInt(target.accent.trim().slice(at, at + 2), 16)).join(', ');
          expect(target.shadow, id).toContain(`rgb(${channels})`);
          expect(target.ground, id).not.toBe('rgba(0, 0, 0, 0)');
        });
      }
    });

    test('at 320 px nothing scrolls sideways, filters fold and open, targets are large enough', async () => {
      await withPage({ viewport: { width: 320, height: 700 } }, async (page) => {
        await page.goto(address('find.html'));
        const width = (): Promise<number> => page.evaluate(() => document.documentElement.scrollWidth);
        expect(await width()).toBeLessThanOrEqual(320);
        expect(await page.isVisible('select[name="zone"]')).toBe(false);
        expect(await page.evaluate(() => document.querySelector('.find-list li')?.getBoundingClientRect().top ?? 999)).toBeLessThan(560);
        expect(await page.innerText('.find-more > summary')).toBe('Filters none on');
        await page.click('.find-more > summary');
        expect(await page.isVisible('select[name="zone"]')).toBe(true);
        await page.fill('#Find_words', 'verylong');
        expect(await width()).toBeLessThanOrEqual(320);
        const small = await page.evaluate(() => [...document.querySelectorAll('.find-form :is(label:has([type="checkbox"]), select, button, summary, input[type="search"]), .find-key')].filter((element) => element.getBoundingClientRect().height < 24).map((element) => element.outerHTML));
        expect(small).toEqual([]);
        await page.goto(address('find.html#state=not-seen'));
        await page.reload();
        expect(await page.isVisible('input[value="not-seen"]')).toBe(true);
      });
    });

    test('a car with 400 rows and 300 photos: the page stays under 600 kB, and still finds', async () => {
      const html = readFileSync(path.join(large, 'find.html'));
      expect(html.length).toBeLessThan(600_000);
      await withPage({}, async (page) => {
        await page.goto(address('find.html', large));
        const all = (await shown(page)).length;
        await page.fill('#Find_words', 'plug');
        const some = (await shown(page)).length;
        expect(some).toBeGreaterThan(0);
        expect(some).toBeLessThan(all);
        await page.fill('#Find_words', 'xyzzy');
        expect(await shown(page)).toHaveLength(0);
      });
    });
  });
}
