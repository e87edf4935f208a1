import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Dossier } from '../../../src/model/dossier.ts';
import { checkOf } from '../../../src/print/site/originals.ts';
import { printSite } from '../../../src/print/site/index.ts';
import { hashList, hashText } from '../../../src/seal/index.ts';
import { files as filesSection } from '../../../src/write/sections/files.ts';
import type { Context } from '../../../src/write/context.ts';
import { canBrowse, launch, testWithoutBrowser, withPage } from '../../chromium.ts';
import { siteDossier, writeRenditions } from './dossier.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'sillbook-originals-'));
const originals = { 'findings.md': '# Sill, left\n- plug: missing\n', 'photos/IMG_1.jpg': 'first photo', 'photos/IMG_2.jpg': 'second photo', 'photos/IMG_3.jpg': 'third photo', 'photos/IMG_4.jpg': 'fourth photo', 'photos/IMG_5.jpg': 'fifth photo' };
const sealed = Object.entries(originals).map(([name, text]) => ({ path: name, bytes: text.length, sha256: hashText(text) }));
const listSha256 = hashText(hashList(sealed));

/** The writer's own section of files, in the site's dossier. */
function dossier(): Dossier {
  const made = siteDossier();
  const section = filesSection({ originals: { files: sealed, count: sealed.length, listSha256 } } as Context);
  made.sections = [...made.sections.filter(({ page }) => page !== 'photos' && !page.startsWith('zones')), section].map((one) => ({ ...one, blocks: one.blocks.filter(({ type }) => type !== 'zones' && type !== 'steps') }));
  made.photos = sealed.slice(1).map(({ path: file, sha256, bytes }, index) => ({ ...(made.photos[index] as Dossier['photos'][number]), id: `p-${index}`, file, sha256, bytes, renditions: [] }));
  for (const block of made.sections.flatMap(({ blocks }) => blocks)) if (block.type === 'paragraph') block.inline = block.inline.map((run) => (typeof run === 'string' ? run : run.text));
  return { ...made, originals: { listSha256, count: sealed.length } };
}

test('the place for it is right above the table of all originals, and nowhere else', () => {
  const { sections } = dossier();
  const places = sections.map((section) => ({ section, check: checkOf(section, dossier()) }));
  expect(places.filter(({ check }) => check !== null).map(({ section, check }) => [section.id, section.blocks[check?.at ?? 0]?.type, check?.listSha256])).toEqual([['files', 'table', listSha256]]);
});

/** Writes the originals, some done otherwise, and gives their paths. */
function written(name: string, changes: Readonly<Record<string, { name?: string; text?: string; gone?: true }>> = {}, more: Readonly<Record<string, string>> = {}): string[] {
  const root = path.join(folder, name);
  const kept = Object.entries(originals).flatMap(([file, text]): [string, string][] => (changes[file]?.gone ? [] : [[changes[file]?.name ?? file, changes[file]?.text ?? text]]));
  return [...kept, ...Object.entries(more)].map(([file, text]) => {
    mkdirSync(path.dirname(path.join(root, file)), { recursive: true });
    writeFileSync(path.join(root, file), text);
    return path.join(root, file);
  });
}

if (!canBrowse()) testWithoutBrowser();
else {
  describe('in a browser, over file://', () => {
    const out = path.join(folder, 'out äö #1');
    let browser: Browser;
    beforeAll(async () => {
      await writeRenditions({ ...dossier(), photos: [] }, out);
      await printSite(dossier(), { work: path.join(folder, 'work'), out });
      browser = await launch();
    });
    afterAll(async () => {
      await browser?.close();
      rmSync(folder, { recursive: true, force: true });
    });
    /** The page, which asks for nothing but itself. */
    async function onFiles(options: BrowserContextOptions, use: (page: Page) => Promise<void>, prepare?: (page: Page) => Promise<unknown>): Promise<void> {
      await withPage(browser, out, 'files.html', options, async (page, asked) => {
        await use(page);
        expect(asked).toHaveLength(1);
      }, prepare);
    }
    async function choose(page: Page, button: string, paths: string | string[]): Promise<void> {
      const [chooser] = await Promise.all([page.waitForEvent('filechooser'), page.getByRole('button', { name: button }).click()]);
      await chooser.setFiles(paths);
    }
    const counts = (page: Page, said: RegExp): Promise<unknown> => page.locator('.counts').filter({ hasText: said }).waitFor();

    test('every file true: said in counts, then by name', async () => {
      await onFiles({}, async (page) => {
        await choose(page, 'Choose files', written('true'));
        await counts(page, /in the list/);
        expect(await page.locator('.counts').innerText()).toBe('6 files in the list: 6 unchanged, 0 changed, 0 renamed, 0 missing.');
        expect(await page.locator('.found li').allInnerTexts()).toEqual(Object.keys(originals).map((name) => `${name}: unchanged`));
        expect(await page.locator('.counts').getAttribute('role')).toBe('status');
      });
    });

    test('a byte flipped, one renamed, one missing, one foreign: exactly these words', async () => {
      const given = written('doubtful', { 'photos/IMG_2.jpg': { text: 'second phot_' }, 'photos/IMG_3.jpg': { name: 'photos/sill.jpg' }, 'photos/IMG_4.jpg': { gone: true } }, { 'foreign.jpg': 'of another car' });
      await onFiles({}, async (page) => {
        await choose(page, 'Choose files', given);
        await counts(page, /in the list/);
        expect(await page.locator('.counts').innerText()).toBe('6 files in the list: 3 unchanged, 1 changed, 1 renamed, 1 missing. Given besides: 1 unknown.');
        expect(await page.locator('.found li').allInnerTexts()).toEqual([
          'photos/IMG_2.jpg: changed; same name, other hash',
          'photos/IMG_4.jpg: missing; not among the files given',
          'photos/IMG_3.jpg: renamed; same hash, now sill.jpg',
          'foreign.jpg: unknown; its hash is not in the list',
          'findings.md: unchanged',
          'photos/IMG_1.jpg: unchanged',
          'photos/IMG_5.jpg: unchanged',
        ]);
        // What was missing is brought: it is added to what was given, not instead of it.
        await choose(page, 'Choose files', written('late').filter((file) => file.endsWith('IMG_4.jpg')));
        await counts(page, /0 missing/);
        expect(await page.locator('.counts').innerText()).toBe('6 files in the list: 4 unchanged, 1 changed, 1 renamed, 0 missing. Given besides: 1 unknown.');
        await page.getByRole('button', { name: 'Start again' }).click();
        expect(await page.locator('.counts').innerText()).toBe('Nothing is compared yet.');
        expect(await page.locator('.found li').count()).toBe(0);
      });
    });

    test('a folder is taken with all in it; hidden files are left out, which is said; the list is known', async () => {
      written('whole', {}, { '.DS_Store': 'x', 'originals-sha256.txt': hashList(sealed) });
      await onFiles({}, async (page) => {
        await choose(page, 'Choose a folder', path.join(folder, 'whole'));
        await counts(page, /in the list/);
        expect(await page.locator('.counts').innerText()).toBe('6 files in the list: 6 unchanged, 0 changed, 0 renamed, 0 missing. Given besides: the list itself, whose hash is the one on the cover. Hidden files, of the system and of this program, were left out.');
      });
    });

    test('a car’s folder with dossiers in it: their files are one number, what is foreign is named', async () => {
      const dossierFile = { 'out/index.html': 'a page', 'out/photos/IMG_1-960.jpg': 'a rendition', 'my dossier/manifest-sha256.txt': 'x', 'my dossier/zones/sill.html': 'a page', 'expected/dossier.json': '{}', 'issues/2026-014/dossier.json': '{}', 'issues/2026-014/originals-sha256.txt': 'an older list', '.sillbook/index.json': '{}' };
      written('car', {}, { ...dossierFile, 'letter.txt': 'of somebody else' });
      await onFiles({}, async (page) => {
        await choose(page, 'Choose a folder', path.join(folder, 'car'));
        await counts(page, /in the list/);
        expect(await page.locator('.counts').innerText()).toBe('6 files in the list: 6 unchanged, 0 changed, 0 renamed, 0 missing. Given besides: 1 unknown, 7 of dossiers left aside. Hidden files, of the system and of this program, were left out.');
        const named = await page.locator('.found li').allInnerTexts();
        expect(named).toContain('car/letter.txt: unknown; its hash is not in the list');
        expect(named).toHaveLength(7);
      });
    });

    test('a folder that is dropped: the page stays and says to choose it; files dropped with it are compared', async () => {
      const files = written('dropped');
      await onFiles({}, async (page) => {
        const session = await page.context().newCDPSession(page);
        const data = { items: [], files: [path.join(folder, 'dropped'), ...files.filter((file) => file.endsWith('findings.md'))], dragOperationsMask: 1 };
        for (const type of ['dragEnter', 'dragOver', 'drop'] as const) await session.send('Input.dispatchDragEvent', { type, x: 300, y: 300, data });
        await counts(page, /1 unchanged/);
        expect(await page.locator('.counts').innerText()).toBe('6 files in the list: 1 unchanged, 0 changed, 0 renamed, 5 missing. A folder was dropped, which a page opened from disk cannot look into: use “Choose a folder”.');
        expect(page.url()).toContain('/files.html');
      });
    });

    test('files dropped anywhere on the page are compared, and the page stays', async () => {
      await onFiles({}, async (page) => {
        const transfer = await page.evaluateHandle((texts) => {
          const made = new DataTransfer();
          for (const [name, text] of texts) made.items.add(new File([text], name.split('/').at(-1) ?? name));
          return made;
        }, Object.entries(originals));
        await page.dispatchEvent('h1', 'drop', { dataTransfer: transfer });
        await counts(page, /6 unchanged/);
        expect(page.url()).toContain('/files.html');
      });
    });

    test('files are read one at a time; Stop leaves the rest and compares nothing of them', async () => {
      const slow = (page: Page): Promise<unknown> =>
        page.addInitScript(() => {
          const hash = crypto.subtle.digest.bind(crypto.subtle);
          const seen = { now: 0, most: 0, all: 0 };
          Object.assign(globalThis, { seen });
          crypto.subtle.digest = async (...given) => {
            seen.now += 1;
            seen.all += 1;
            seen.most = Math.max(seen.most, seen.now);
            await new Promise((done) => setTimeout(done, 60));
            seen.now -= 1;
            return hash(...given);
          };
        });
      const many = written('many', {}, Object.fromEntries(Array.from({ length: 60 }, (_, at) => [`more/${at}.jpg`, `more ${at}`])));
      await onFiles({}, async (page) => {
        await choose(page, 'Choose files', many);
        await page.waitForFunction(() => (document.querySelector('progress')?.value ?? 0) >= 3);
        expect(await page.locator('progress').evaluate((bar: HTMLProgressElement) => bar.max)).toBe(66);
        expect(await page.locator('.counts').innerText()).toBe('Reading the files, one after the other.');
        expect(await page.getByRole('button', { name: 'Choose files' }).isDisabled()).toBe(true);
        // Focus waits on the button that is of use now.
        await page.keyboard.press('Enter');
        await counts(page, /Stopped/);
        expect(await page.locator('.counts').innerText()).toBe('Stopped before the end; nothing of this choice was compared.');
        expect(await page.locator('.found li').count()).toBe(0);
        const seen = await page.evaluate(() => (globalThis as unknown as { seen: { most: number; all: number } }).seen);
        expect(seen.most).toBe(1);
        expect(seen.all).toBeLessThan(40);
        expect(await page.locator('progress').isVisible()).toBe(false);
        await choose(page, 'Choose files', written('true'));
        await counts(page, /6 unchanged/);
      }, slow);
    });

    test('the hash that was lodged and the text of a list are compared with the cover', async () => {
      await onFiles({}, async (page) => {
        const field = page.getByLabel('Paste the hash that was lodged, or the text of originals-sha256.txt');
        const said = page.locator('.lodged [role="status"]');
        for (const [text, words] of [
          [listSha256, 'This is the hash on the cover of this dossier.'],
          [hashText('one'), 'This is not the hash on the cover of this dossier: it was lodged for another list, or this dossier is not the one it was lodged for.'],
          [hashList(sealed), 'This is the list of this dossier: its hash is the one on the cover.'],
          [hashList(sealed.slice(1)), 'This is not the list of this dossier: its hash is not the one on the cover.'],
          ['all well', 'This is neither a hash, 64 signs from 0 to 9 and a to f, nor a list of hashes and names.'],
        ] as const) {
          await field.fill(text);
          await said.filter({ hasText: words }).waitFor();
          expect(await said.innerText()).toBe(words);
        }
        await field.fill('');
        expect(await said.innerText()).toBe('');
      });
    });

    test('a table altered after the cover was printed is noticed', async () => {
      await onFiles({}, async (page) => {
        await page.locator('td code').first().evaluate((code, hash) => (code.textContent = hash), hashText('four'));
        await choose(page, 'Choose files', written('true'));
        await counts(page, /1 changed/);
        expect(await page.locator('.counts').innerText()).toMatch(/1 changed, .* The table on this page does not give the hash on the cover: this page is not as it was made\.$/);
      });
    });

    test('a browser without hashes says so and names the commands', async () => {
      const without = (page: Page): Promise<unknown> => page.addInitScript(() => Object.defineProperty(crypto, 'subtle', { value: undefined }));
      await onFiles({}, async (page) => {
        const text = await page.locator('.originals').innerText();
        for (const words of ['works out no hashes in a page opened from disk', 'sha256sum -c originals-sha256.txt', 'shasum -a 256', 'certutil -hashfile']) expect(text).toContain(words);
        expect(await page.locator('.originals button:visible, .originals textarea:visible').count()).toBe(0);
      }, without);
    });

    test('without script the explanation and the commands are there, and no button that does nothing; on paper too', async () => {
      await onFiles({ javaScriptEnabled: false }, async (page) => {
        const text = await page.locator('.originals').innerText();
        for (const words of ['no file and no result leaves the page', 'neither what stood in front of the camera', 'sha256sum -c originals-sha256.txt', 'certutil -hashfile']) expect(text).toContain(words);
        expect(await page.locator('button:visible, textarea:visible, progress:visible').count()).toBe(0);
      });
      await onFiles({}, async (page) => {
        expect(await page.getByText('sha256sum -c', { exact: false }).locator('visible=true').count()).toBe(1);
        await page.emulateMedia({ media: 'print' });
        expect(await page.locator('.originals').innerText()).toContain('certutil -hashfile');
        expect(await page.locator('.originals button:visible').count()).toBe(0);
      });
    });

    test.each([[320, 44], [1280, 24]])('at %i px nothing is wider than the page and buttons are at least %i px high', async (width, least) => {
      await onFiles({ viewport: { width, height: 700 } }, async (page) => {
        await choose(page, 'Choose files', written('names', {}, { [`${'a-very-long-name-'.repeat(8)}.jpg`]: 'x' }));
        await counts(page, /1 unknown/);
        expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
        const heights = await page.locator('.originals button:visible').evaluateAll((all) => all.map((button) => button.getBoundingClientRect().height));
        expect(heights).toHaveLength(3);
        for (const height of heights) expect(height).toBeGreaterThanOrEqual(least);
      });
    });

    test('no other page has a place for it', () => {
      expect(readFileSync(path.join(out, 'index.html'), 'utf8')).not.toContain('class="originals"');
    });
  });
}
