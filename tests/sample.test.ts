import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync, readFileSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Dossier } from '../src/model/dossier.ts';
import { scratch, sillbook } from './commands/command-line.ts';

/** The sample, built once into a folder whose name a mail program might give it. */
const place = scratch();
const out = path.join(place.folder, 'mail dossier äö #1');
/** The car's file, of both its visits. */
const file = path.join(place.folder, 'file');
beforeAll(() => {
  for (const args of [['build', 'sample-job/2026-03-14', '--out', out], ['build', 'sample-job', '--edition', 'history', '--out', file]]) {
    const ran = sillbook(args);
    if (ran.code !== 0) throw new Error(ran.err);
  }
}, 240_000);
afterAll(() => place.remove());

const dossier = (folder = out): Dossier => JSON.parse(readFileSync(path.join(folder, 'dossier.json'), 'utf8')) as Dossier;

/**
 * The sample's dossier, line by line. When it changes, read the difference; if it is meant, run `npm run golden` and
 * commit it with its cause.
 */
test('the sample job gives the dossier that is kept with it', () => {
  const made = readFileSync(path.join(out, 'dossier.json'), 'utf8').split('\n');
  const kept = readFileSync('sample-job/expected/dossier.json', 'utf8').split('\n');
  const first = made.findIndex((line, index) => line !== kept[index]);
  expect(first === -1 ? '' : `line ${first + 1}: ${made[first]} — kept: ${kept[first]}`).toBe('');
  expect(made.length).toBe(kept.length);
});

test('the sample uses most of the grammar and leaves some zones unseen', () => {
  const { register, coverage } = dossier();
  expect(new Set(register.map((row) => row.outcome))).toEqual(new Set(['sound', 'defect', 'cannot tell', 'not fitted', 'not seen']));
  expect(coverage.known).toBeGreaterThan(coverage.seen);
  expect(dossier().photos.every((photo) => photo.renditions.length > 0)).toBe(true);
});

test('the car’s file tells of both visits, with photos of both, and proves the files of both', () => {
  const { photos, sections, record, again } = dossier(file);
  const blocks = (id: string): Dossier['sections'][number]['blocks'] => sections.find((section) => section.id === id)?.blocks ?? [];
  expect(photos.filter(({ file: name }) => name.startsWith('2026-03-14/')).length).toBe(21);
  expect(photos.filter(({ file: name }) => name.startsWith('2026-05-09/')).length).toBe(6);
  expect(blocks('pairs').filter((block) => block.type === 'pair').map((block) => block.before.photo.startsWith('2026-03-14--') && !block.after.photo.includes('--'))).toEqual([true, true, true, true, true]);
  expect(JSON.stringify(blocks('visits'))).toContain('8 weeks later');
  expect(record?.done.length).toBe(7);
  expect(again?.length).toBeGreaterThan(4);
  const listed = readFileSync(path.join(file, 'originals-sha256.txt'), 'utf8');
  for (const name of ['2026-03-14/findings.md', '2026-05-09/findings.md', '2026-03-14/photos/IMG_4021.jpg', '2026-05-09/photos/IMG_4418.jpg', 'sillbook.json']) expect(listed).toContain(`  ${name}\n`);
  expect(readFileSync(path.join(file, 'look-again.ics'), 'utf8')).toContain('BEGIN:VEVENT\r\n');
});

test('the list of originals can be checked in the folder of the car, without this program', () => {
  expect(execFileSync('sha256sum', ['-c', path.join(file, 'originals-sha256.txt')], { encoding: 'utf8', cwd: 'sample-job' })).not.toMatch(/FAILED/);
  expect(execFileSync('sha256sum', ['-c', path.join(out, 'originals-sha256.txt')], { encoding: 'utf8', cwd: 'sample-job' })).not.toMatch(/FAILED/);
});

const pdftotext = spawnSync('pdftotext', ['-v']).error === undefined;
const browser = [process.env['SILLBOOK_CHROMIUM'], '/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'].find((file) => file !== undefined && existsSync(file));

test('what CI must have is there', () => {
  if (process.env['CI']) expect({ pdftotext, browser: browser !== undefined }).toEqual({ pdftotext: true, browser: true });
});

describe.runIf(pdftotext)('the PDF', () => {
  test('its text has every caption and numbers its pages', () => {
    const text = execFileSync('pdftotext', ['-layout', path.join(out, 'dossier.pdf'), '-'], { encoding: 'utf8' });
    const flat = text.replace(/\s+/g, ' ');
    for (const words of ['Sill, left', 'drill out 14 rivets', 'Not seen', 'SHA-256', dossier().title]) expect(flat).toContain(words);
    const pages = text.split('\f').length - 1;
    expect(flat).toContain(`page ${pages} of ${pages}`);
    expect(flat).not.toMatch(/\[U\+/);
  });
});

describe.runIf(browser !== undefined)('the site, over file://', () => {
  test('every page opens without an error, without a request outside its folder, with all links leading somewhere', { timeout: 240_000 }, async () => {
    const chrome = await chromium.launch({ ...(browser ? { executablePath: browser } : {}), args: ['--no-sandbox', '--disable-gpu', '--disable-dev-shm-usage', '--disable-background-networking'] });
    try {
      const page = await chrome.newPage({ viewport: { width: 320, height: 640 } });
      const wrong: string[] = [];
      const root = pathToFileURL(place.folder).href;
      page.on('console', (message) => wrong.push(message.text()));
      page.on('pageerror', (fault) => wrong.push(fault.message));
      page.on('request', (request) => request.url().startsWith(`${root}/`) || wrong.push(request.url()));
      // A photo still on its way when the next page opens is no fault; a missing one fails with another word.
      page.on('requestfailed', (request) => request.failure()?.errorText === 'net::ERR_ABORTED' || wrong.push(`failed ${request.url()}`));
      const files = [out, file].flatMap((folder) => readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.html')).map((name) => path.join(folder, name)));
      expect(files.length).toBeGreaterThan(30);
      for (const file of files) {
        await page.goto(pathToFileURL(file).href);
        await page.waitForLoadState('networkidle');
        const links = await page.$$eval('a[href]', (all) => all.map((link) => new URL(link.getAttribute('href') ?? '', document.baseURI).href));
        for (const link of links.filter((one) => one.startsWith('file:'))) {
          const target = new URL(link);
          const name = decodeURIComponent(target.pathname);
          if (!existsSync(name)) wrong.push(`${file} → ${link}`);
          else if (target.hash && !target.hash.includes('=') && !readFileSync(name, 'utf8').includes(`id="${decodeURIComponent(target.hash.slice(1))}"`)) wrong.push(`${file} → ${link}`);
        }
        const wide = await page.evaluate(() => document.documentElement.scrollWidth);
        if (wide > 320) wrong.push(`${file} is ${wide} pixels wide on a phone`);
      }
      expect(wrong).toEqual([]);
    } finally {
      await chrome.close();
    }
  });
});
