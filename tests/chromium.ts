import { existsSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import { chromium, type Browser, type BrowserContextOptions, type Page } from 'playwright-core';
import { expect, test } from 'vitest';

const places = [process.env['SILLBOOK_CHROMIUM'], '/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];
const executablePath = places.find((place) => place !== undefined && existsSync(place));

/** Whether pages can be opened; in CI, which installs a browser, a missing one fails instead. */
export function canBrowse(): boolean {
  return executablePath !== undefined || Boolean(process.env['CI']);
}

/** The one test of a file where there is no browser: it says so. */
export function testWithoutBrowser(): void {
  test('no browser on this machine: pages were not opened (set SILLBOOK_CHROMIUM to a Chromium)', ({ annotate }) => {
    void annotate('No Chromium found: the checks in a browser did not run.');
    expect(executablePath).toBeUndefined();
  });
}

export function launch(): Promise<Browser> {
  if (executablePath === undefined) throw new Error(`No Chromium at ${places.join(', ')}; set SILLBOOK_CHROMIUM.`);
  return chromium.launch({ executablePath, args: ['--no-sandbox', '--disable-gpu', '--disable-dev-shm-usage'] });
}

/** Opens a file in a page of its own; fails where the page complains, or asks for anything outside of `folder`. `prepare` comes before it is opened. */
export async function withPage(browser: Browser, folder: string, file: string, options: BrowserContextOptions, use: (page: Page, asked: string[]) => Promise<void>, prepare?: (page: Page) => Promise<unknown>): Promise<void> {
  const context = await browser.newContext(options);
  const page = await context.newPage();
  const complaints: string[] = [];
  const asked: string[] = [];
  const root = `${pathToFileURL(folder).href}/`;
  page.on('console', (message) => complaints.push(`${message.type()}: ${message.text()}`));
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('request', (request) => {
    asked.push(request.url());
    if (!request.url().startsWith(root) && !request.url().startsWith('data:')) complaints.push(`asks for ${request.url()}`);
  });
  await prepare?.(page);
  await page.goto(`${root}${file}`);
  await use(page, asked);
  await context.close();
  expect(complaints).toEqual([]);
}
