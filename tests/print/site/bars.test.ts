import { execFileSync, spawnSync } from 'node:child_process';
import { readFileSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import sharp from 'sharp';
import { describe, expect, test } from 'vitest';
import { canBrowse, testWithoutBrowser, withPage } from '../../chromium.ts';
import type { Block, Figure } from '../../../src/model/dossier.ts';
import { outcomes } from '../../../src/model/catalogue.ts';
import { builtAndBrowsed, kinds, layOutAll, scrollThrough } from './bars.ts';
import { contrast } from './contrast.ts';

function figuresOf(block: Block): Figure[] {
  if (block.type === 'photos') return block.figures;
  return block.type === 'pair' ? [block.before, block.after, ...(block.during ?? [])] : [];
}
const bare = (text: string): string => text.toLowerCase().replaceAll(/[^\p{L}\p{N}]+/gu, ' ').trim();

/** Marks of a picture as ink and no ink: what is left of it when colour and grey say nothing. */
async function inkOf(png: Buffer): Promise<boolean[]> {
  const { data } = await sharp(png).greyscale().resize(72, 32, { fit: 'fill' }).raw().toBuffer({ resolveWithObject: true });
  const [least, most] = [Math.min(...data), Math.max(...data)];
  return [...data].map((value) => value < (least + most) / 2);
}

if (!canBrowse()) testWithoutBrowser();
else {
  const given = builtAndBrowsed();
  const open = (file: string, options: Parameters<typeof withPage>[3], use: (page: Page, asked: string[]) => Promise<void>): Promise<void> => withPage(given.browser, given.built.sample, file, options, use);

  describe('weight', () => {
    // Our judgement what screens there are: a plain one, a fine one, a phone's.
    test.each([
      { screen: 'a plain screen', viewport: { width: 1280, height: 900 }, deviceScaleFactor: 1 },
      { screen: 'a fine screen', viewport: { width: 1280, height: 900 }, deviceScaleFactor: 2 },
      { screen: 'a phone', viewport: { width: 390, height: 844 }, deviceScaleFactor: 3 },
    ])('of all that the overview and a zone fetch on $screen before anything is clicked', async ({ screen: _, ...options }) => {
      for (const file of given.built.files.filter((name) => name === 'index.html' || (name.startsWith('zones/') && readFileSync(path.join(given.built.sample, name), 'utf8').includes('<img')))) {
        await open(file, options, async (page, asked) => {
          await scrollThrough(page);
          const bytes = [...new Set(asked.filter((url) => url.startsWith('file:')))].reduce((sum, url) => sum + statSync(fileURLToPath(url)).size, 0);
          expect(bytes, file).toBeGreaterThan(10_000);
          expect(bytes, file).toBeLessThanOrEqual(file === 'index.html' ? 500_000 : 2_000_000);
          const pictures = await page.locator('main img').evaluateAll((images) => images.filter((image) => image instanceof HTMLImageElement && image.naturalWidth === 0).length);
          expect(pictures, `${file}: pictures that did not come`).toBe(0);
        });
      }
    });

    test('styles and script are 50 KB at most on every page, pictures have width and height, and the first is not lazy', async () => {
      // As it came: the script fetches all pictures at once.
      await open('index.html', { javaScriptEnabled: false }, async (page) => {
        const home = page.url().replace('index.html', '');
        let pictures = 0;
        for (const file of given.built.files) {
          await page.goto(home + file);
          const { inside, images } = await page.evaluate(() => ({
            inside: [...document.querySelectorAll('style, script')].reduce((sum, part) => sum + new TextEncoder().encode(part.textContent).length, 0),
            images: [...document.querySelectorAll('main img')].map((image) => ({ sides: [Number(image.getAttribute('width')), Number(image.getAttribute('height'))], lazy: image.getAttribute('loading') === 'lazy' })),
          }));
          expect(inside, file).toBeGreaterThan(10_000);
          expect(inside, file).toBeLessThanOrEqual(50_000);
          for (const { sides } of images) for (const side of sides) expect(side, file).toBeGreaterThan(0);
          expect(images[0]?.lazy ?? false, file).toBe(false);
          pictures += images.length;
        }
        expect(pictures).toBeGreaterThan(40);
      });
    });
  });

  test('no page, and nothing a reader does first on it, complains or asks for anything outside of the folder', async () => {
    // withPage fails on either.
    await open('index.html', {}, async (page, asked) => {
      const home = page.url().replace('index.html', '');
      expect(home).toContain('/mail%20dossier%20%C3%A4%C3%B6%20%231/');
      for (const file of given.built.files) await page.goto(home + file);
      expect(asked.filter((url) => url.endsWith('.html')).length).toBeGreaterThan(given.built.files.length);
      for (const { file, first, site } of kinds) {
        if (site !== 'sample' || !first) continue;
        await page.goto(home + file);
        await first(page);
      }
    });
  });

  describe('alternative texts', () => {
    test('of each photo is the one the dossier has, in every place it is shown', async () => {
      const { sections } = given.built.dossier;
      await open('index.html', {}, async (page) => {
        const home = page.url().replace('index.html', '');
        for (const name of new Set(sections.map((section) => section.page))) {
          const figures = sections.filter((section) => section.page === name).flatMap((section) => section.blocks.flatMap(figuresOf));
          await page.goto(`${home}${name}.html`);
          const said = await page.evaluate(() => [...document.querySelectorAll('main figure img, main .no-picture')].map((picture) => picture.getAttribute('alt') ?? picture.getAttribute('aria-label')));
          expect(said, name).toEqual(figures.map(({ alt }) => alt));
        }
      });
    });

    test('is the finding as it was typed', () => {
      // ![a place: what is found](a photo), of the findings file.
      const typed = given.built.dossier.findings.flatMap(({ text }) => [...text.matchAll(/!\[([^\]]+)\]\(([^)]+)\)/g)].map(([, words = '', file = '']) => ({ words: bare(words.replace(/ \d+ mm(?=,)/, '')), file })));
      expect(typed.length).toBeGreaterThan(10);
      const figures = given.built.dossier.sections.flatMap((section) => section.blocks.flatMap(figuresOf));
      for (const { words, file } of typed) {
        const ids = given.built.dossier.photos.filter((photo) => path.basename(photo.file) === file).map(({ id }) => id);
        const alts = figures.filter(({ photo }) => ids.includes(photo)).map(({ alt }) => bare(alt));
        expect(alts.length, file).toBeGreaterThan(1);
        for (const alt of alts) expect(alt, file).toContain(words);
      }
    });
  });

  describe('states in grey', () => {
    /** Each state's sign beside its word, and its pattern in the key of the drawing; as on grey paper. */
    async function signs(page: Page, selector: string): Promise<Map<string, boolean[]>> {
      const found = new Map<string, boolean[]>();
      for (const state of outcomes) {
        const part = page.locator(`${selector.replace('STATE', state.replace(' ', '-'))} >> visible=true`).first();
        if ((await part.count()) > 0) found.set(state, await inkOf(await part.screenshot()));
      }
      return found;
    }
    function tellApart(found: Map<string, boolean[]>, least: number): void {
      for (const [one, ink] of found) {
        for (const [other, otherInk] of found) {
          if (one >= other) continue;
          const differ = ink.filter((dark, index) => dark !== otherInk[index]).length / ink.length;
          expect(differ, `${one} and ${other}: share of the sign that is ink in one only`).toBeGreaterThan(least);
        }
      }
    }

    test('the signs differ in shape, and each has its word', async () => {
      await open('register.html', { deviceScaleFactor: 4 }, async (page) => {
        await page.emulateMedia({ media: 'print' });
        const found = await signs(page, 'main .state.STATE svg');
        expect([...found.keys()].sort()).toEqual([...outcomes].sort());
        tellApart(found, 0.08);
        const words = await page.locator('.state').evaluateAll((all) => all.map((state) => `${[...state.classList].filter((name) => name !== 'state').join(' ').replace('-', ' ')}: ${state.textContent}`));
        for (const said of words) expect(said).toMatch(/^(.+): \1$/);
      });
    });

    test('the patterns of the drawing differ without colour, are drawn with 3 to 1, and stand in words', async () => {
      for (const colorScheme of ['light', 'dark'] as const) {
        await open('index.html', { deviceScaleFactor: 4, colorScheme }, async (page) => {
          // No zone of the sample is sound or not fitted as a whole: their entries of the key are made of two others.
          await page.evaluate(() => {
            for (const [at, state] of ['sound', 'not-fitted'].entries()) {
              const sample = document.querySelectorAll('.map .key > li')[at]?.cloneNode(true) as HTMLElement;
              const swatch = sample.querySelector('svg');
              swatch?.setAttribute('class', state);
              swatch?.removeAttribute('fill');
              if (state !== 'sound') swatch?.setAttribute('fill', `url(#map-${state})`);
              document.querySelector('.map .key')?.append(sample);
            }
          });
          // Outlines and most of the ground are alike; our judgement how much has to differ.
          tellApart(await signs(page, '.map .key svg.STATE'), 0.04);
          // WCAG 2.2 criterion 1.4.11: what is needed to understand a drawing.
          const drawn = await page.evaluate(() =>
            [...document.querySelectorAll('.map .key > li > svg')].map((swatch) => {
              const state = swatch.getAttribute('class') ?? '';
              const pattern = document.querySelector(`#map-${state}`);
              const ink = pattern?.querySelector('circle, path');
              const own = ink ? getComputedStyle(ink) : null;
              const area = getComputedStyle(swatch.querySelector('path') ?? swatch);
              return { state, stroke: area.stroke, ink: own && (own.stroke !== 'none' ? own.stroke : own.fill), ground: getComputedStyle(pattern?.querySelector('rect') ?? document.body)[pattern ? 'fill' : 'backgroundColor'] };
            }),
          );
          expect(drawn.map(({ state }) => state).sort()).toEqual(outcomes.map((state) => state.replace(' ', '-')).sort());
          for (const { state, stroke, ink, ground } of drawn) for (const colour of [stroke, ...(ink ? [ink] : [])]) expect(contrast(colour, ground), `${state}, ${colorScheme}: ${colour} on ${ground}`).toBeGreaterThanOrEqual(3);
          const heard = await page.evaluate(() => [...document.querySelectorAll('.map [aria-label]:is(a, g)')].map((area) => `${area.getAttribute('class')?.replace('-', ' ')}: ${area.getAttribute('aria-label')}`));
          expect(heard.length).toBeGreaterThan(20);
          for (const said of heard) expect(said).toMatch(/^([^:]+): .*\b\1\b/);
        });
      }
    });

    test('ink of plots, of a time line and of ranges is drawn with 3 to 1 in both schemes', async () => {
      for (const colorScheme of ['light', 'dark'] as const) {
        for (const file of ['zones/sill-left.html', 'photos.html', 'outlook.html']) {
          await open(file, { colorScheme }, async (page) => {
            const { inks, ground } = await page.evaluate(() => ({
              ground: getComputedStyle(document.body).backgroundColor,
              // Grid lines are hairlines: the values stand in words.
              inks: [...document.querySelectorAll('.strip .dot, .strip .apart, .strip .reach, .strips .lines line, .day line, .range .line > :is(rect, line), .range .axis')].flatMap((part) => {
                const { fill, stroke } = getComputedStyle(part);
                return [stroke === 'none' ? fill : stroke];
              }),
            }));
            expect(inks.length, file).toBeGreaterThan(4);
            for (const ink of new Set(inks)) expect(contrast(ink, ground), `${file}, ${colorScheme}: ${ink} on ${ground}`).toBeGreaterThanOrEqual(3);
          });
        }
      }
    });
  });

  if (spawnSync('pdftotext', ['-v']).error === undefined) {
    describe('on paper', () => {
      test.each(['index.html', 'zones/sill-left.html', 'find.html'])('%s is light and whole, whatever was closed, from a dark phone too', async (file) => {
        await open(file, { viewport: { width: 320, height: 640 }, colorScheme: 'dark' }, async (page) => {
          await page.evaluate(() => {
            for (const part of document.querySelectorAll('details')) part.open = false;
            const closed = document.createElement('details');
            closed.append(Object.assign(document.createElement('summary'), { textContent: 'Closed' }), 'Words behind the fold.');
            document.querySelector('main')?.append(closed);
          });
          await page.emulateMedia({ media: 'print' });
          // A4 within the margins.
          await page.setViewportSize({ width: 680, height: 1000 });
          await layOutAll(page);
          const { words, cut, ground } = await page.evaluate(() => {
            const shown = [...document.querySelectorAll<HTMLElement>('main *')].filter((part) => part.checkVisibility() && part.getClientRects().length > 0);
            const width = document.documentElement.clientWidth;
            const over = shown.filter((part) => part.getBoundingClientRect().right > width + 1 || (getComputedStyle(part).overflow !== 'visible' && !(part instanceof SVGElement) && (part.scrollWidth > part.clientWidth + 1 || part.scrollHeight > part.clientHeight + 1)));
            return { words: document.querySelector('main')?.innerText ?? '', cut: over.map((part) => part.outerHTML.slice(0, 200)), ground: getComputedStyle(document.body).backgroundColor };
          });
          expect(cut).toEqual([]);
          expect(ground).toBe('rgb(255, 255, 255)');
          const printed = path.join(given.built.sample, '..', 'printed.pdf');
          writeFileSync(printed, await page.pdf({ format: 'A4', preferCSSPageSize: true }));
          // Words are broken over lines, and the running head stands between those of two sheets.
          const have = new Set(execFileSync('pdftotext', ['-raw', printed, '-'], { encoding: 'utf8', maxBuffer: 1 << 26 }).split(/\s+/));
          const whole = [...have].join('');
          expect(words.length).toBeGreaterThan(3000);
          expect([...new Set(words.split(/\s+/))].filter((word) => !have.has(word) && !/[-/_]/.test(word) && !whole.includes(word))).toEqual([]);
          expect(whole).toContain('fold.');
        });
      });
    });
  }
}
