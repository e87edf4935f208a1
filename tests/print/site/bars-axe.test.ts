import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AxeResults, RunOptions } from 'axe-core';
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { canBrowse, testWithoutBrowser, withPage } from '../../chromium.ts';
import { builtAndBrowsed, kinds, layOutAll } from './bars.ts';

/** Sent by the debugger's way, which a page's content policy does not stop. */
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/*
 * WCAG 2.2 to AA as far as axe-core can tell, and its best practices. target-size is off unless asked for. Left out are what
 * axe calls experimental: p-as-heading takes the bold caption of a drawing for a heading.
 */
const everything: RunOptions = {
  runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
  rules: { 'target-size': { enabled: true } },
  resultTypes: ['violations'],
};
/** All that dark mode can change. */
const colours: RunOptions = { runOnly: { type: 'rule', values: ['color-contrast', 'link-in-text-block'] }, resultTypes: ['violations'] };

async function run(page: Page, options: RunOptions): Promise<AxeResults> {
  await page.evaluate(axe);
  return page.evaluate((asked) => (globalThis as unknown as { axe: { run(options: RunOptions): Promise<AxeResults> } }).axe.run(asked), options);
}

if (!canBrowse()) testWithoutBrowser();
else {
  describe('axe-core finds nothing', () => {
    const given = builtAndBrowsed();

    const looks = [1280, 320].flatMap((width) => (['light', 'dark'] as const).map((colorScheme) => ({ width, colorScheme })));
    test.each(looks)('at $width px, $colorScheme', async ({ width, colorScheme }) => {
      // In dark mode all on one page has no colour that the pages before it have not.
      for (const { name, site, file, first } of kinds.filter(({ name }) => colorScheme === 'light' || name !== 'whole')) {
        await withPage(given.browser, given.built[site], file, { viewport: { width, height: 900 }, colorScheme }, async (page) => {
          await first?.(page);
          await layOutAll(page);
          const { violations, passes } = await run(page, colorScheme === 'dark' ? colours : everything);
          expect(passes.map(({ id }) => id), name).toContain('color-contrast');
          const found = violations.flatMap(({ id, nodes }) => nodes.map(({ target, failureSummary }) => `${name}: ${id} at ${target.join(' ')}: ${failureSummary}`));
          expect(found).toEqual([]);
        });
      }
    });

    test('and would find a link without words, a faint word and a small button', async () => {
      await withPage(given.browser, given.built.sample, 'about.html', {}, async (page) => {
        await page.evaluate(() => {
          const small = (words: string): HTMLElement => Object.assign(document.createElement('button'), { textContent: words });
          const faint = Object.assign(document.createElement('p'), { textContent: 'Words nobody can read' });
          faint.style.color = '#d0d0d0';
          const crowd = document.createElement('div');
          crowd.append(small('a'), small('b'));
          for (const button of crowd.children) (button as HTMLElement).style.cssText = 'min-height: 0; height: 10px; width: 10px; padding: 0; border: 0; font-size: 8px';
          document.querySelector('main')?.append(Object.assign(document.createElement('a'), { href: 'index.html' }), faint, crowd);
        });
        const { violations } = await run(page, everything);
        expect(violations.map(({ id }) => id).sort()).toEqual(['color-contrast', 'link-name', 'target-size']);
      });
    });
  });
}
