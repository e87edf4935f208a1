import { copyFileSync, existsSync, mkdirSync, readFileSync, readdirSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import sharp from 'sharp';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { canBrowse, launch, testWithoutBrowser, withPage } from '../chromium.ts';
import { copySample, findings, scratch, sillbook } from './command-line.ts';

const name = 'dossier-one-file.html';
const place = scratch();
afterAll(() => place.remove());

/** A job of photos of one grey, without a pattern that could be taken for a mark. */
async function greyJob(folder: string, size: { width: number; height: number }, count: number, notes: string, noise = false): Promise<string> {
  mkdirSync(path.join(folder, 'photos'), { recursive: true });
  const create = { ...size, channels: 3 as const, background: '#446688', ...(noise ? { noise: { type: 'gaussian' as const, mean: 128, sigma: 60 } } : {}) };
  for (let index = 1; index <= count; index += 1) {
    const file = path.join(folder, 'photos', `IMG_000${index}.jpg`);
    if (index === 1) await sharp({ create }).jpeg({ quality: 95 }).toFile(file);
    else copyFileSync(path.join(folder, 'photos', 'IMG_0001.jpg'), file);
  }
  writeFileSync(path.join(folder, 'findings.md'), notes);
  return folder;
}

/** Pictures that stand in a page, decoded, by the words an alternative text begins with; the largest first. */
async function picturesIn(html: string, alt: string): Promise<{ width: number; height: number; at(x: number, y: number): [number, number, number] }[]> {
  const found = [...html.matchAll(/<img src="data:image\/jpeg;base64,([^"]+)"[^>]* alt="([^"]*)"/g)].filter((match) => match[2]?.startsWith(alt));
  const pictures = await Promise.all(found.map(async ([, base64 = '']) => {
    const { data, info } = await sharp(Buffer.from(base64, 'base64')).raw().toBuffer({ resolveWithObject: true });
    const at = (x: number, y: number): [number, number, number] => {
      const start = (Math.round(y * info.height) * info.width + Math.round(x * info.width)) * 3;
      return [data[start] ?? 0, data[start + 1] ?? 0, data[start + 2] ?? 0];
    };
    return { width: info.width, height: info.height, at };
  }));
  return pictures.toSorted((a, b) => b.width - a.width);
}

const near = (one: readonly number[], other: readonly number[], by = 12): boolean => one.every((value, index) => Math.abs(value - (other[index] ?? 0)) <= by);

describe('of a job with marks and a hidden area', () => {
  const notes = findings.replace('rust run](IMG_0001.jpg)', 'rust run](IMG_0001.jpg)\n- ring 0.5 0.5 0.2: open hole\n- hide 0.8 0.8 1 1: number plate');
  let job = '';
  let html = '';
  beforeAll(async () => {
    job = await greyJob(path.join(place.folder, 'marked'), { width: 1600, height: 1200 }, 3, notes);
    const ran = sillbook(['build', job, '--one-file']);
    expect(ran.code, ran.err).toBe(0);
    expect(ran.out).toContain(path.join(job, 'out', name));
    html = readFileSync(path.join(job, 'out', name), 'utf8');
  }, 240_000);

  test('it lies in the dossier, on its list of hashes, and the same job gives the same bytes', () => {
    expect(readFileSync(path.join(job, 'out', 'manifest-sha256.txt'), 'utf8')).toContain(`  ${name}\n`);
    expect(sillbook(['build', job, '--one-file', '--out', path.join(place.folder, 'again')], { env: { TZ: 'Asia/Tokyo', LANG: 'de_DE.UTF-8' } }).code).toBe(0);
    expect(readFileSync(path.join(place.folder, 'again', name), 'utf8')).toBe(html);
  });

  test('a build without it leaves none', () => {
    const out = path.join(place.folder, 'without');
    expect(sillbook(['build', job, '--out', out]).code).toBe(0);
    expect(readdirSync(out)).not.toContain(name);
    expect(readdirSync(out)).toContain('whole.html');
  });

  test('marks stand in the pixels: a light line in a dark casing where the ring runs, the photo within and without', async () => {
    const pictures = await picturesIn(html, 'Blind plug, inner face 1: missing');
    expect(pictures.map(({ width }) => width)).toEqual([1200, 240]);
    const [large] = pictures;
    if (!large) throw new Error('no picture');
    const photo = large.at(0.1, 0.1);
    expect(near(photo, [0x44, 0x66, 0x88])).toBe(true);
    expect(near(large.at(0.7, 0.5), [255, 255, 255], 25)).toBe(true);
    expect(near(large.at(0.7 + 4 / 1200, 0.5), [0x1d, 0x27, 0x30], 25)).toBe(true);
    for (const [x, y] of [[0.5, 0.5], [0.72, 0.5], [0.68, 0.5]] as const) expect(near(large.at(x, y), photo), `${x} ${y}`).toBe(true);
    expect(html).not.toContain('class="marks"');
  });

  test('what was to be hidden is gone from every picture, and nothing of it is in the file', async () => {
    for (const picture of await picturesIn(html, 'Blind plug, inner face 1: missing')) {
      for (const [x, y] of [[0.82, 0.82], [0.9, 0.9], [0.98, 0.85]] as const) expect(near(picture.at(x, y), [128, 128, 128], 3)).toBe(true);
    }
  });

  test('an issue has it too', () => {
    const ran = sillbook(['issue', job, '--number', '7', '--date', '2026-03-15', '--one-file']);
    expect(ran.code, ran.err).toBe(0);
    expect(readFileSync(path.join(job, 'issues', '7', name), 'utf8')).toContain('issued 15 March 2026');
  });
});

describe('how large it is', () => {
  const size = (folder: string): number => statSync(path.join(folder, name)).size;
  const folder = (each: string): string => path.join(place.folder, each);

  test('the largest pictures below the limit are taken; where the smallest are above, it says so', async () => {
    const job = await greyJob(folder('noise'), { width: 1600, height: 1200 }, 3, findings, true);
    const built = (limit: string): { bytes: number; err: string; wide: string | undefined } => {
      const ran = sillbook(['build', job, '--one-file', '--limit', limit, '--out', folder(`noise-${limit}`)]);
      expect(ran.code, ran.err).toBe(0);
      return { bytes: size(folder(`noise-${limit}`)), err: ran.err, wide: /photos (\d+) pixels/.exec(ran.out)?.[1] };
    };
    const all = [built('25'), built('2'), built('1.2')];
    expect(all.map(({ wide }) => wide)).toEqual(['1200', expect.any(String), expect.any(String)]);
    expect(Number(all[0]?.wide)).toBeGreaterThan(Number(all[2]?.wide));
    expect(all[1]?.bytes).toBeLessThanOrEqual(2e6);
    for (const { err } of all.slice(0, 2)) expect(err).not.toContain('one-file');
    const small = built('0.1');
    expect(small.wide).toBe('480');
    expect(small.err).toContain('warning one-file-large');
  }, 240_000);

  test('above 50 MB it is refused unless asked for; the folder is built, an issue is not', async () => {
    // Narrow and long, so that nothing can be reduced.
    const job = await greyJob(folder('heavy'), { width: 480, height: 11_000 }, 24, findings, true);
    const ran = sillbook(['build', job, '--one-file', '--limit', '400']);
    expect(ran.code).toBe(1);
    expect(ran.err).toMatch(/error one-file-refused.*--any-size/);
    expect(ran.out).toContain('index.html');
    expect(ran.out).not.toContain(name);
    expect(readdirSync(path.join(job, 'out'))).toContain('index.html');
    expect(existsSync(path.join(job, 'out', name))).toBe(false);
    const issue = sillbook(['issue', job, '--number', '1', '--date', '2026-03-15', '--one-file']);
    expect(issue.code).toBe(1);
    expect(existsSync(path.join(job, 'issues', '1'))).toBe(false);
    const anyway = sillbook(['build', job, '--one-file', '--any-size']);
    expect(anyway.code, anyway.err).toBe(0);
    expect(anyway.err).toContain('warning one-file-large');
    expect(size(path.join(job, 'out'))).toBeGreaterThan(50e6);
  }, 240_000);

  test.each([[['--limit', '10'], 'Ask for that with --one-file'], [['--any-size'], 'Ask for that with --one-file'], [['--one-file', '--limit', 'much'], '"much" is no size in MB'], [['--one-file', '--limit', '0'], '"0" is no size in MB']])('%j is wrong use', (args, words) => {
    const ran = sillbook(['build', place.folder, ...args]);
    expect(ran).toMatchObject({ code: 2, err: expect.stringContaining(words) as string });
  });
});

if (!canBrowse()) testWithoutBrowser();
else {
  describe('alone in a folder', () => {
    const alone = path.join(place.folder, 'mail äö #1');
    let browser: Browser;
    beforeAll(async () => {
      const job = copySample(place.folder);
      const ran = sillbook(['build', job, '--one-file']);
      expect(ran.code, ran.err).toBe(0);
      mkdirSync(alone);
      copyFileSync(path.join(job, 'out', name), path.join(alone, name));
      browser = await launch();
    }, 240_000);
    afterAll(() => browser?.close());
    const options = (width: number, colorScheme: 'light' | 'dark' = 'light'): { viewport: { width: number; height: number }; colorScheme: 'light' | 'dark' } => ({ viewport: { width, height: 800 }, colorScheme });

    test.each([[320, 'dark', 'rgb(20, 25, 29)'], [1280, 'light', 'rgb(251, 250, 247)']] as const)('at %i px, %s: every picture is there, links stay in it, nothing is asked for, nothing scrolls sideways', async (width, scheme, ground) => {
      await withPage(browser, alone, name, options(width, scheme), async (page, asked) => {
        const pictures = await page.evaluate(async () => {
          const images = [...document.images];
          await Promise.all(images.map((image) => image.decode()));
          return images.map((image) => ({ src: image.src, width: image.naturalWidth }));
        });
        expect(pictures.length).toBe(42);
        expect(pictures.filter((picture) => picture.width < 200)).toEqual([]);
        // None stands in it twice.
        expect(new Set(pictures.map((picture) => picture.src)).size).toBe(42);
        const links = await page.evaluate(() => [...document.querySelectorAll(':not(dialog) > :not(.more) > a, main a')].map((link) => link.getAttribute('href') ?? ''));
        expect(links.length).toBeGreaterThan(100);
        expect(links.filter((href) => !/^(#|https?:|mailto:)/.test(href))).toEqual([]);
        const lost = await page.evaluate((hrefs) => hrefs.filter((href) => href.startsWith('#') && !document.getElementById(decodeURIComponent(href.slice(1)))), links);
        expect(lost).toEqual([]);
        expect(await page.evaluate(() => getComputedStyle(document.body).backgroundColor)).toBe(ground);
        expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
        expect(asked.filter((url) => !url.startsWith('data:'))).toHaveLength(1);
        const policy = await page.locator('meta[http-equiv="content-security-policy"]').getAttribute('content');
        expect(policy).toContain("default-src 'none'");
        expect(policy).toContain('img-src data:;');
        expect(policy).not.toContain("'self'");
      });
    });

    test('a thumbnail opens the photo in full, arrows go on, and the page is not left', async () => {
      await withPage(browser, alone, name, options(1280), async (page) => {
        await page.locator('#photos .index a.picture').first().click();
        const image = page.locator('dialog[open] .frame img');
        await image.waitFor();
        await expect.poll(() => image.evaluate((one) => (one as HTMLImageElement).naturalWidth)).toBe(1200);
        const first = await image.getAttribute('src');
        await page.keyboard.press('ArrowRight');
        expect(await image.getAttribute('src')).not.toBe(first);
        await expect.poll(() => image.evaluate((one) => (one as HTMLImageElement).naturalWidth)).toBe(1200);
        // No picture by itself can be led to.
        expect(await page.locator('dialog[open] .more a:visible').allTextContents()).toEqual(['Link to this photo']);
        await page.keyboard.press('Escape');
        await page.keyboard.press('/');
        expect(page.url()).toMatch(/one-file\.html$/);
      });
    });

    test('each photo is counted once in the viewer, from whichever of its places it is opened', async () => {
      await withPage(browser, alone, name, { viewport: { width: 390, height: 800 } }, async (page) => {
        const seen: string[] = [];
        for (const place of ['#photos .index a.picture', '#sill-left a.picture']) {
          await page.locator(place).first().click();
          seen.push(await page.locator('.viewer .count').innerText());
          await page.keyboard.press('Escape');
        }
        for (const said of seen) expect(said).toMatch(/^\d+ \/ 21$/);
        // Round once: every photo comes, none twice.
        await page.locator('#photos .index a.picture').first().click();
        const alts = new Set<string>();
        for (let at = 0; at < 21; at += 1) {
          alts.add(await page.locator('.viewer img').getAttribute('src') ?? '');
          await page.keyboard.press('ArrowRight');
        }
        expect(alts.size).toBe(21);
      });
    });

    test('from deep in it the parts are one press away, and open', async () => {
      await withPage(browser, alone, name, { viewport: { width: 390, height: 800 } }, async (page) => {
        await page.locator('#method').scrollIntoViewIfNeeded();
        await page.evaluate(() => document.querySelector('#method')?.scrollIntoView());
        await page.getByRole('link', { name: 'Contents ↑' }).click();
        expect(await page.locator('.parts a').first().isVisible()).toBe(true);
        expect(await page.evaluate(() => scrollY)).toBeLessThan(200);
      });
    });

    test('without script a thumbnail leads to the photo in full', async () => {
      await withPage(browser, alone, name, { ...options(1280), javaScriptEnabled: false }, async (page) => {
        await page.locator('#photos .index a.picture').nth(1).click();
        expect(page.url()).toMatch(/#\S+$/);
        expect(await page.locator(':target img').getAttribute('src')).toMatch(/^data:image\/jpeg;base64,/);
        expect(await page.locator(':target').evaluate((figure) => Math.round(figure.getBoundingClientRect().top))).toBeLessThan(200);
      });
    });

    test('originals are checked in it, against its own list', async () => {
      await withPage(browser, alone, name, options(1280), async (page) => {
        const chosen = page.waitForEvent('filechooser');
        await page.click('[data-act="files"]');
        await (await chosen).setFiles(path.join('sample-job/2026-03-14', 'photos', 'IMG_4022.jpg'));
        await expect.poll(() => page.locator('.originals .counts').textContent()).toMatch(/23 files in the list: 1 unchanged, 0 changed, 0 renamed, 22 missing\./);
      });
    });
  });
}
