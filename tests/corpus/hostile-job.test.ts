import { mkdirSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { PDFDocument } from 'pdf-lib';
import { chromium } from 'playwright-core';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { canBrowse, launch, testWithoutBrowser } from '../chromium.ts';
import { dossierSchema } from '../../src/model/dossier.ts';
import type { Notice } from '../../src/model/notice.ts';
import { scratch, sillbook } from '../commands/command-line.ts';
import type { Ran } from '../commands/command-line.ts';
import { poppler } from '../print/pdf/tools.ts';
import { inlinesOf, wordsOf as wordsOfSections } from '../write/builders.ts';
import { corpusFolder, corpusIsRequired } from './corpus.ts';
import { missingWords, naughty, scripting, withoutSigns, wordsOf } from './strings.ts';

const folder = corpusFolder();
/** A findings file in which every string stands as car data, narrative, free words, hearsay and caption. */
function findingsOf(strings: readonly string[]): string {
  const lines = strings.map((words) => words.replaceAll('\n', ' '));
  const car = lines.map((words, index) => `- note ${index}: ${words}`);
  const findings = lines.map((words, index) => `- plug, inner face ${index + 1}: missing. ${words}`);
  // A sign under fifty marks is wider than a column of a table, and no browser breaks it.
  const readings = lines.filter((words) => !/\p{M}{20}/u.test(words)).map((words, index) => `- steel, outer face: 0.${60 + (index % 30)} mm. ${words}`);
  const works = lines.map((words) => `- do: ${words}. 1-2 h`);
  const told = lines.map((words) => `- told, seller: ${words}`);
  return [
    '# Car', `- car: ${lines.find((words) => words.includes('<script>'))}`, '- built: 1971', '- body: saloon', ...car, '', '# Visit', '- seen: 2026-03-14 10:00-11:00, Europe/Dublin', '',
    '# Sill, left', '', strings.join('\n\n'), '', '# Sill, right', ...findings, ...works, '', '# Floor, left', ...readings, '', '# Floor, right', '', '![metal, front: holed](IMG_0001.jpg)', '',
    ...lines.filter((words) => /[<"]/.test(words)).slice(0, 5).map((words, index) => `- ring 0.${index + 2} 0.5 0.05: ${words}`), '', '# Boot floor', ...told, '', '# "><img src=x onerror=alert(1)>', '- plug: missing', '',
  ].join('\n');
}

/** Strings that can be names of files: neither `/` nor NUL, short, without white space at their ends. */
function fileNames(strings: readonly string[]): string[] {
  return strings.filter((words) => !/[/\0\n]/.test(words) && Buffer.byteLength(words) < 120 && words.trim() === words).map((words) => `${words}.jpg`);
}

async function hostileJob(place: string, corpus: string): Promise<{ job: string; findings: string; names: string[] }> {
  const strings = [...naughty(corpus), ...scripting(corpus)].filter((words) => words.trim() !== '');
  const job = path.join(place, 'job');
  const names = [...new Set(fileNames(strings.filter((words) => /[<>"'&%#?\\{]|alert/.test(words))))];
  mkdirSync(path.join(job, 'photos'), { recursive: true });
  // Of two times, so that they make a time line, by a camera whose name is no better than the rest.
  const exif = (time: string) => ({ IFD0: { Make: '"><script>alert(1)</script>', Model: '<img src=x onerror=alert(1)>' }, IFD2: { DateTimeOriginal: `2026:03:14 ${time}` } });
  const takenAt = (time: string): Promise<Buffer> => sharp({ create: { width: 32, height: 24, channels: 3, background: '#445566' } }).withExif(exif(time)).jpeg().toBuffer();
  const photos = [await takenAt('10:12:41'), await takenAt('10:47:03')];
  for (const [index, name] of [...names, 'IMG_0001.jpg'].entries()) writeFileSync(path.join(job, 'photos', name), photos[index % 2] ?? '');
  const findings = findingsOf(strings);
  writeFileSync(path.join(job, 'findings.md'), findings);
  return { job, findings, names: [...names, 'IMG_0001.jpg'] };
}

if (folder === null) {
  test('the corpus of hostile strings was left out: SILLBOOK_CORPUS names no folder', () => {
    expect(corpusIsRequired, 'on a build machine the corpus has to be there').toBe(false);
  });
} else {
  describe('a job of nothing but naughty strings', () => {
    const place = scratch();
    let job: Awaited<ReturnType<typeof hostileJob>>;
    let ran: Ran;
    let out: string;
    beforeAll(async () => {
      job = await hostileJob(place.folder, folder);
      ran = sillbook(['build', job.job, '--json']);
      out = path.join(job.job, 'out');
    }, 60_000);
    afterAll(() => place.remove());

    test('builds', () => {
      expect(ran.code, ran.err).toBe(0);
      expect(job.names.length).toBeGreaterThan(50);
    });

    test('keeps every word of the findings and every photo in the data', () => {
      const dossier = dossierSchema.parse(JSON.parse(readFileSync(path.join(out, 'dossier.json'), 'utf8')));
      const targets = dossier.sections.flatMap((section) => section.blocks.flatMap(inlinesOf)).flat().map((part) => (typeof part === 'string' ? '' : (part.href ?? '')));
      const have = `${wordsOfSections(dossier)} ${targets.join(' ')}`;
      expect(missingWords(withoutSigns(job.findings), have)).toEqual([]);
      expect(dossier.photos.map((photo) => photo.file).toSorted()).toEqual(job.names.map((name) => `photos/${name}`).toSorted());
      expect(dossier.photos.filter((photo) => photo.renditions.length === 0 && photo.flaw === '')).toEqual([]);
      expect(missingWords(job.names.join(' '), have)).toEqual([]);
    });

    test('makes a PDF with every word it has letters for, and tells of each sign it has none for', async () => {
      const bytes = readFileSync(path.join(out, 'dossier.pdf'));
      const pdf = await PDFDocument.load(bytes, { updateMetadata: false });
      expect(pdf.getPageCount()).toBeGreaterThan(10);
      const { notices } = JSON.parse(ran.out) as { notices: Notice[] };
      const missing = notices.filter((notice) => notice.rule === 'glyph-missing').map((notice) => notice.found);
      // U+1F60D of the list, a smiling face, is in no font for text; U+00E9 is.
      expect(missing.some((found) => found.includes('U+1F60D'))).toBe(true);
      expect(missing.some((found) => found.includes('U+00E9'))).toBe(false);
      // Outside reader: pdftotext of poppler. Words are broken over lines, so that spaces say nothing.
      const text = poppler('pdftotext', ['-raw', path.join(out, 'dossier.pdf'), '-']);
      const have = text?.toString('utf8').normalize('NFC').toLowerCase().replace(/\s+/g, '');
      const latin = wordsOf(withoutSigns(job.findings)).filter((word) => /^[a-z0-9äöüßéèñ]+$/.test(word));
      expect(have === undefined ? [] : [...new Set(latin)].filter((word) => !have.includes(word))).toEqual([]);
    });

    if (!canBrowse()) testWithoutBrowser();
    else {
      test('opens from disk with every word, and nothing of it runs or asks for anything', async () => {
        const browser = await launch();
        try {
          const seen = await openAll(browser);
          expect(seen.complaints).toEqual([]);
          // Every drawing and every part with a script was among it.
          expect(seen.drawn.size, [...seen.drawn].join(', ')).toBe(8);
          expect(missingWords(withoutSigns(job.findings), seen.text)).toEqual([]);
          expect(missingWords(job.names.join(' '), seen.text)).toEqual([]);
        } finally {
          await browser.close();
        }
      });
    }

    async function openAll(browser: Awaited<ReturnType<typeof chromium.launch>>): Promise<{ text: string; complaints: string[]; drawn: Set<string> }> {
      const complaints: string[] = [];
      const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
      const home = pathToFileURL(out).href;
      page.on('dialog', (dialog) => {
        complaints.push(`dialog: ${dialog.message()}`);
        void dialog.dismiss();
      });
      page.on('console', (message) => complaints.push(`${message.type()}: ${message.text()}`));
      page.on('pageerror', (error) => complaints.push(error.message));
      page.on('requestfailed', (request) => request.failure()?.errorText === 'net::ERR_ABORTED' || complaints.push(`fails: ${request.url()}`));
      page.on('request', (request) => {
        if (!request.url().startsWith(`${home}/`) && !request.url().startsWith('data:')) complaints.push(`asks for ${request.url()}`);
      });
      let text = '';
      const scripts = new Map<string, number>();
      let pages = 0;
      const drawn = new Set<string>();
      for (const file of readdirSync(out, { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.html')).toSorted()) {
        await page.goto(`${home}/${file}`);
        const found = await page.evaluate(() => {
          const all = [...document.querySelectorAll('*')];
          const links = [...document.querySelectorAll<HTMLAnchorElement>('a[href]')];
          return {
            text: [document.body.textContent, document.title, ...links.map((link) => link.getAttribute('href')), ...[...document.images].map((image) => image.alt)].join(' '),
            handlers: all.filter((element) => [...element.attributes].some(({ name }) => /^on/i.test(name))).map((element) => element.outerHTML),
            // The search, the comparing of files and the pairs have fields of their own.
            strange: all.filter((element) => !element.closest('.find, .originals, .pair')).map((element) => element.localName).filter((name) => ['iframe', 'object', 'embed', 'form', 'input', 'base', 'link', 'video', 'audio', 'marquee', 'frame', 'math'].includes(name)),
            scripts: [...document.scripts].map((script) => script.textContent),
            addresses: links.map((link) => new URL(link.getAttribute('href') ?? '', document.baseURI).protocol).filter((protocol) => !['file:', 'http:', 'https:', 'mailto:', 'tel:'].includes(protocol)),
            width: document.documentElement.scrollWidth,
            drawn: ['.map .names text', '.plots .strip', '.timeline .strip', '.marks', '.steps', '.outlook .range', '.originals', '.find-list li'].filter((part) => document.querySelector(part)),
          };
        });
        text += ` ${found.text}`;
        for (const part of found.drawn) drawn.add(part);
        // The frame's script is the same on every page, those of the search and of the originals' check wherever they stand: nothing of the findings gets into them.
        for (const script of found.scripts) scripts.set(script, (scripts.get(script) ?? 0) + 1);
        pages += 1;
        complaints.push(...[...found.handlers, ...found.strange, ...found.addresses].map((one) => `${file}: ${one}`));
        if (found.width > 1280) complaints.push(`${file}: ${found.width} px wide`);
      }
      const everywhere = [...scripts.values()].filter((count) => count === pages).length;
      if (everywhere !== 1 || scripts.size !== 3) complaints.push(`${everywhere} scripts on every page, ${scripts.size} in all`);
      // Searched for, the same words do no more: they are looked up, marked and kept in the address.
      await page.goto(`${home}/find.html`);
      for (const words of job.findings.split('\n').filter((line) => /[<"'\\%{]/.test(line)).slice(0, 60)) await page.fill('#Find_words', words.slice(0, 120));
      await page.reload();
      return { text, complaints, drawn };
    }
  });
}
