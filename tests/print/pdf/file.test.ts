import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { printPdf } from '../../../src/print/pdf/index.ts';
import type { PdfVariant } from '../../../src/print/pdf/index.ts';
import { sampleDossier, writeSamplePictures } from '../sample-dossier.ts';
import { poppler, temporaryFolder, tool } from './tools.ts';

const folder = temporaryFolder();
const cacheFolder = path.join(folder, 'cache');
const share: PdfVariant = { kind: 'share', cacheFolder };
const data: PdfVariant = { kind: 'data', attachments: [{ name: 'findings.md', type: 'text/markdown', relationship: 'Source', description: 'As typed', bytes: Buffer.from('# Sill, left\n') }] };

beforeAll(() => writeSamplePictures(folder));
afterAll(() => rmSync(folder, { recursive: true }));

async function made(name: string, variant: PdfVariant = { kind: 'record' }): Promise<string> {
  const file = path.join(folder, name);
  await printPdf(sampleDossier(), { pictureFolder: folder, file, variant });
  return file;
}

function hashesIn(place: string): string[] {
  return readdirSync(place).filter((name) => name.endsWith('.jpg')).map((name) => hashOf(path.join(place, name)));
}

function hashOf(file: string): string {
  return createHash('sha256').update(readFileSync(file)).digest('hex');
}

/** The pictures in a PDF as poppler takes them out. */
function picturesIn(file: string): string | null {
  const out = `${file}-pictures`;
  mkdirSync(out);
  return poppler('pdfimages', ['-all', file, path.join(out, 'p')]) ? out : null;
}

test.each<[string, PdfVariant]>([['record', { kind: 'record' }], ['share', share], ['data', data]])('qpdf finds nothing wrong with a %s', async (name, variant) => {
  const told = tool('qpdf', 'qpdf', ['--check', await made(`${name}.pdf`, variant)]);
  if (told) expect(told.toString()).toContain('No syntax or stream encoding errors found');
});

test('poppler takes out pictures that are the delivered files to the byte', async () => {
  const taken = picturesIn(await made('taken.pdf'));
  if (taken === null) return;
  const files = hashesIn(path.join(folder, 'photos'));
  expect(hashesIn(taken).length).toBeGreaterThanOrEqual(10);
  for (const hash of hashesIn(taken)) expect(files).toContain(hash);
});

test('a PDF to mail has smaller pictures, each once, which stay in the cache and are made once', async () => {
  rmSync(cacheFolder, { recursive: true, force: true });
  const first = await made('mail-1.pdf', share);
  const names = readdirSync(cacheFolder).toSorted();
  expect(names).toEqual(['a1', 'a2', 'a3', 'a4', 'a5', 'a6'].map((id) => `${id}-1600-mail-1.jpg`));
  for (const name of names) {
    const { width, height, format, exif, icc } = await sharp(path.join(cacheFolder, name)).metadata();
    expect([width, height]).toEqual(/a3|a5/.test(name) ? [608, 810] : [700, 525]);
    expect([format, exif, icc]).toEqual(['jpeg', undefined, undefined]);
  }
  const taken = picturesIn(first);
  if (taken) expect(new Set(hashesIn(taken))).toEqual(new Set(hashesIn(cacheFolder)));
  // One that was cut off, by a full disk say, is made anew; the others are taken as they are.
  const [cut = '', kept = ''] = names;
  writeFileSync(path.join(cacheFolder, cut), readFileSync(path.join(cacheFolder, cut)).subarray(0, 2000));
  const marked = await sharp(path.join(cacheFolder, kept)).negate().jpeg().toBuffer();
  writeFileSync(path.join(cacheFolder, kept), marked);
  const second = await made('mail-2.pdf', share);
  expect(readFileSync(second).includes(marked)).toBe(true);
  rmSync(cacheFolder, { recursive: true });
  expect(hashOf(await made('mail-3.pdf', share))).toBe(hashOf(first));
});

test('a photo that is small already goes to mail as it is', async () => {
  const dossier = sampleDossier();
  for (const photo of dossier.photos) photo.renditions = photo.renditions.slice(0, 1);
  const file = path.join(folder, 'small.pdf');
  await printPdf(dossier, { pictureFolder: folder, file, variant: share });
  const small = readFileSync(path.join(folder, 'photos', 'a1-480.jpg'));
  expect(readFileSync(file).includes(small)).toBe(true);
});

test('where it cannot be whole, nothing is left behind', async () => {
  const file = path.join(folder, 'half.pdf');
  const dossier = sampleDossier();
  (dossier.photos[0]?.renditions ?? []).forEach((rendition) => Object.assign(rendition, { file: 'photos/gone.jpg' }));
  await expect(printPdf(dossier, { pictureFolder: folder, file })).rejects.toThrow('gone.jpg');
  expect(existsSync(file)).toBe(false);
  const stopped = printPdf(sampleDossier(), { pictureFolder: folder, file, signal: AbortSignal.abort(new Error('stop')) });
  await expect(stopped).rejects.toThrow('stop');
  expect(existsSync(file)).toBe(false);
});
