import { spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { request } from 'node:http';
import path from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { canBrowse, launch, testWithoutBrowser } from '../chromium.ts';
import { previewPage } from '../../src/commands/preview/page.ts';
import { findings, scratch, sillbook, smallJob } from './command-line.ts';

let place = scratch();
let running: ChildProcess | null = null;
beforeEach(() => {
  place = scratch();
});
afterEach(async () => {
  if (running && running.exitCode === null) {
    const gone = new Promise((resolve) => running?.once('exit', resolve));
    running.kill('SIGINT');
    await gone;
  }
  running = null;
  place.remove();
});

/** Starts the preview of a job and waits for its address. */
async function watching(job: string): Promise<string> {
  const child = spawn(process.execPath, [path.resolve('src/cli.ts'), 'watch', job, '--port', '0'], { env: { ...process.env, NODE_OPTIONS: '' } });
  running = child;
  return new Promise((resolve, reject) => {
    let told = '';
    child.stdout.on('data', (data: Buffer) => {
      told += data.toString();
      const address = /http:\/\/127\.0\.0\.1:\d+\//.exec(told)?.[0];
      if (address) resolve(address);
    });
    child.once('exit', (code) => reject(new Error(`watch ended with ${code}`)));
  });
}

if (!canBrowse()) testWithoutBrowser();
else {
test('an edit of the findings shows in the open page, notices above it, and nothing is made in the job', async () => {
  const job = await smallJob(place.folder);
  const address = await watching(job);
  const browser = await launch();
  try {
    const page = await browser.newPage();
    const faults: string[] = [];
    page.on('console', (message) => message.type() === 'error' && faults.push(message.text()));
    page.on('pageerror', (fault) => faults.push(fault.message));
    await page.goto(`${address}zones/sill-left.html`);
    expect(await page.locator('main').innerText()).not.toContain('blocked');
    expect(await page.locator('main img').first().evaluate((image: HTMLImageElement) => image.decode().then(() => image.naturalWidth))).toBeGreaterThan(0);
    writeFileSync(path.join(job, 'findings.md'), `${findings}- drain slot, bottom seam: blocked\n- drain slot, rear <b>end</b>: blcoked\n`);
    await page.locator('main', { hasText: 'blocked' }).waitFor();
    const notices = page.locator('#preview-notices');
    // What the edit brought stands open, and first.
    expect(await page.locator('#preview-notices[open] li').first().innerText()).toContain('blcoked');
    expect(await notices.innerText()).toContain('Did you mean "blocked"?');
    expect(await notices.innerText()).toContain('findings.md:12:');
    expect(faults).toEqual([]);
    // A setting that would make the dossier untrue: the pages stay, and it is said why.
    writeFileSync(path.join(job, 'sillbook.json'), '{"units": "cm"}');
    await page.locator('#preview-notices[open]', { hasText: 'of the state before' }).waitFor();
    expect(await notices.innerText()).toContain('"cm" for "units"');
    expect(await page.locator('main').innerText()).toContain('blocked');
    writeFileSync(path.join(job, 'sillbook.json'), '{"units": "in"}');
    await page.locator('#preview-notices:not([open])').waitFor({ state: 'attached' });
    expect(await page.locator('#preview-notices summary').innerText()).not.toContain('of the state before');
  } finally {
    await browser.close();
  }
  expect(readdirSync(job).toSorted()).toEqual(['.sillbook', 'findings.md', 'photos', 'sillbook.json']);
});
}

test('the preview serves its own files to this machine only', async () => {
  const job = await smallJob(place.folder);
  const address = await watching(job);
  const get = (route: string, headers: Record<string, string> = {}): Promise<number | undefined> => new Promise((resolve, reject) => {
    const { hostname, port } = new URL(address);
    request({ hostname, port, path: route, headers }, (response) => {
      response.resume();
      resolve(response.statusCode);
    }).on('error', reject).end();
  });
  expect(await get('/')).toBe(200);
  expect(await get('/zones/sill-left.html')).toBe(200);
  expect(await get('/zones/none.html')).toBe(404);
  for (const route of ['/../findings.md', '/%2e%2e/findings.md', '/photos/../../findings.md', '/photos/%2e%2e%2f%2e%2e%2ffindings.md', '/photos/..%5c..%5cfindings.md', '/%']) expect(await get(route), route).toBe(400);
  expect(await get('/photos/photos-read.json')).toBe(404);
  expect(await get('/', { host: 'example.org' })).toBe(403);
});

test('Ctrl-C ends it cleanly, and wrong use is told', async () => {
  const job = await smallJob(place.folder);
  await watching(job);
  const code = new Promise((resolve) => running?.once('exit', resolve));
  running?.kill('SIGINT');
  expect(await code).toBe(0);
  expect(sillbook(['watch', job, '--port', 'x'])).toMatchObject({ code: 2 });
  expect(sillbook(['watch', path.join(job, 'none')])).toMatchObject({ code: 2 });
});

test('what stands in a notice is text, and the page keeps its own content policy', () => {
  const html = '<html><head><meta http-equiv="content-security-policy" content="default-src \'none\'; script-src \'self\'; style-src \'self\';"></head><body class="x"><main>$& $1</main></body></html>';
  const page = previewPage(html, { stale: false, fresh: [], todoRules: [], notices: [{ level: 'warning', rule: 'x', found: '<script>alert(1)</script> $& "quoted"' }] });
  expect(page).toContain('&lt;script&gt;alert(1)&lt;/script&gt; $&amp; &quot;quoted&quot;');
  expect(page).toContain('<main>$& $1</main>');
  expect(page).toMatch(/default-src 'none'; script-src 'sha256-[^ ]+' 'self'; style-src 'sha256-[^ ]+' 'self'; connect-src 'self';/);
  expect(readFileSync('src/commands/preview/page.ts', 'utf8')).not.toContain('unsafe-inline');
});
