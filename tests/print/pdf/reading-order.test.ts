import { readFileSync, rmSync } from 'node:fs';
import path from 'node:path';
import { PDFDocument } from 'pdf-lib';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import type { Dossier } from '../../../src/model/dossier.ts';
import { printPdf } from '../../../src/print/pdf/index.ts';
import { geometryOf } from '../../../src/print/pdf/look.ts';
import { sampleDossier, writeSamplePictures } from '../sample-dossier.ts';
import { poppler, rendered, temporaryFolder } from './tools.ts';
import { wordsOf } from './words.ts';

const folder = temporaryFolder();
const sample = path.join(folder, 'sample.pdf');

beforeAll(async () => {
  await writeSamplePictures(folder);
  await printPdf(sampleDossier(), { pictureFolder: folder, file: sample });
});
afterAll(() => rmSync(folder, { recursive: true }));

/** The dossier of the sample job, its photos not shown: their files are not kept with it. */
function jobDossier(): Dossier {
  const dossier = JSON.parse(readFileSync('sample-job/expected/dossier.json', 'utf8')) as Dossier;
  return { ...dossier, photos: dossier.photos.map((photo) => ({ ...photo, renditions: [], flaw: 'not kept' })) };
}

/** Where lines break says nothing; poppler joins a word at a hyphen that ends a line. What no font has stands as its code point. */
function joined(text: string): string {
  const named = text.replace(/[\u2190-\u21ff\u{1f000}-\u{1ffff}]/gu, (sign) => `[U+${sign.codePointAt(0)?.toString(16).toUpperCase()}]`);
  return named.normalize('NFC').replace(/[\s-]+/g, '');
}

test.each([['the made-up dossier', sampleDossier], ['the sample job', jobDossier]])('%s is read in its own order, and each text in one piece', async (_, dossierOf) => {
  const dossier = dossierOf();
  const file = path.join(folder, 'read.pdf');
  await printPdf(dossier, { pictureFolder: folder, file });
  const said = wordsOf(dossier);
  expect(said.length).toBeGreaterThan(100);
  const tree = poppler('pdfinfo', ['-struct-text', '-enc', 'UTF-8', file]);
  if (!tree) return;
  // Lines of text stand between quotes, those of the tree's elements do not.
  const read = joined(tree.toString('utf8').split('\n').map((line) => /^\s*"(.*)"$/.exec(line)?.[1] ?? '').join(''));
  let at = 0;
  const astray: string[] = [];
  for (const { section, text } of said) {
    const found = read.indexOf(joined(text), at);
    if (found < 0) astray.push(`${section}: ${text}`);
    else at = found + joined(text).length;
  }
  expect(astray).toEqual([]);
  // The body alone: head and foot come between two pages.
  const { top, bottom } = geometryOf('A4');
  const body = joined(poppler('pdftotext', ['-enc', 'UTF-8', '-x', '0', '-y', String(Math.floor(top)), '-W', '596', '-H', String(Math.ceil(bottom - top)), file, '-'])?.toString('utf8') ?? '');
  expect(said.filter(({ text, whole }) => whole && !body.includes(joined(text))).map(({ section, text }) => `${section}: ${text}`)).toEqual([]);
});

test('letters of the subset fonts look as those of the full ones, to the pixel', async () => {
  const embedFont = PDFDocument.prototype.embedFont;
  const spy = vi.spyOn(PDFDocument.prototype, 'embedFont').mockImplementation(function (this: PDFDocument, font, options) {
    return embedFont.call(this, font, { ...options, subset: false });
  });
  const full = path.join(folder, 'full.pdf');
  await printPdf(sampleDossier(), { pictureFolder: folder, file: full });
  spy.mockRestore();
  expect(readFileSync(full).length).toBeGreaterThan(readFileSync(sample).length + 400_000);
  let ink = 0;
  const pages = (await PDFDocument.load(readFileSync(sample))).getPageCount();
  for (let page = 1; page <= pages; page += 1) {
    const [ours, whole] = [rendered(sample, page, 60), rendered(full, page, 60)];
    if (!ours || !whole) return;
    expect(Buffer.compare(ours.pixels, whole.pixels), `page ${page}`).toBe(0);
    ink += ours.pixels.filter((grey) => grey < 128).length;
  }
  expect(ink).toBeGreaterThan(10_000);
});
