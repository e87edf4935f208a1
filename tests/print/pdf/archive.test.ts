import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { copyFileSync, cpSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { PDFDocument, PDFName } from 'pdf-lib';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Dossier } from '../../../src/model/dossier.ts';
import { printPdf } from '../../../src/print/pdf/index.ts';
import type { Attachment, PdfOptions } from '../../../src/print/pdf/index.ts';
import { mapDossier } from '../map/dossier.ts';
import { markedDossier } from '../marked-dossier.ts';
import { sampleDossier, writeSamplePictures } from '../sample-dossier.ts';
import { samplePlots, sampleTimeline } from '../sample-plots.ts';
import { pairDossier, writePairPictures } from '../site/pair-dossier.ts';
import { defects, planting } from './planted.ts';
import { poppler, temporaryFolder } from './tools.ts';
import { brokenRules, canAsk, testWithoutJdk } from './vera.ts';
import type { Profile } from './vera.ts';

const folder = temporaryFolder();
const jobOut = path.join(folder, 'out');

beforeAll(async () => {
  await writeSamplePictures(folder);
  await writePairPictures(folder);
});
afterAll(() => rmSync(folder, { recursive: true }));

const inside: Attachment[] = [
  { name: 'findings.md', type: 'text/markdown', relationship: 'Source', description: 'The findings as they were typed', bytes: Buffer.from('# Sill, left\n') },
  { name: 'dossier.json', type: 'application/json', relationship: 'Data', description: 'For programs', bytes: Buffer.from('{}\n') },
  { name: 'originals-sha256.txt', type: 'text/plain', relationship: 'Supplement', description: 'Hashes (of originals)', bytes: Buffer.from('') },
];

function plotDossier(): Dossier {
  const dossier = sampleDossier();
  const figures = dossier.photos.slice(0, 4).map(({ id }) => `day-${id}`);
  dossier.sections.push({
    id: 'readings', title: 'Readings', page: 'more', breakBefore: true,
    blocks: [samplePlots(), sampleTimeline(figures), { type: 'photos', look: 'large', figures: figures.map((id) => ({ id, photo: id.slice(4), alt: `Photo ${id}`, caption: ['On the day.'] })) }],
  });
  return dossier;
}

function withoutPhotos(): Dossier {
  const dossier = sampleDossier();
  return { ...dossier, status: { kind: 'draft' }, seenOn: null, author: '', photos: [], sections: dossier.sections.filter(({ id }) => ['cautions', 'originals'].includes(id)) };
}

const made: [name: string, dossier: () => Dossier, options: Pick<PdfOptions, 'variant' | 'size'>][] = [
  ['the sample on A4', sampleDossier, {}],
  ['on Letter', sampleDossier, { size: 'Letter' }],
  ['an undated draft without photos', withoutPhotos, {}],
  ['readings and times', plotDossier, {}],
  ['the body map', mapDossier, {}],
  ['pairs, alone', () => pairDossier(true), {}],
  ['marks', markedDossier, {}],
  ['to mail', sampleDossier, { variant: { kind: 'share', cacheFolder: path.join(folder, 'cache') } }],
  ['with files inside', sampleDossier, { variant: { kind: 'data', attachments: inside } }],
  ['an undated draft with files inside', withoutPhotos, { variant: { kind: 'data', attachments: inside } }],
];

if (!canAsk()) testWithoutJdk();
else {
  test('veraPDF finds no broken rule of PDF/A level a and PDF/UA-1', { timeout: 300_000 }, async () => {
    const checks: { profile: Profile; file: string; name: string }[] = [];
    for (const [index, [name, dossier, options]] of made.entries()) {
      const file = path.join(folder, `${index}.pdf`);
      await printPdf(dossier(), { pictureFolder: folder, file, ...options });
      checks.push({ name, file, profile: options.variant?.kind === 'data' ? '3a' : '2a' }, { name, file, profile: 'ua1' });
    }
    const broken = brokenRules(checks);
    expect(checks.map(({ name, profile }, index) => [name, profile, broken[index]])).toEqual(checks.map(({ name, profile }) => [name, profile, []]));
  });

  test('so it does of what the command makes of the sample job, for each kind', { timeout: 300_000 }, () => {
    const job = path.join(folder, 'sample-job');
    for (const name of ['2026-03-14/findings.md', 'sillbook.json', '2026-03-14/photos']) cpSync(path.join('sample-job', name), path.join(job, path.basename(name)), { recursive: true });
    const files = (['record', 'share', 'data'] as const).map((kind) => {
      execFileSync(process.execPath, ['src/cli.ts', 'build', job, '--pdf', kind, '--out', jobOut], { stdio: 'ignore', env: { ...process.env, NODE_OPTIONS: '' } });
      const file = path.join(folder, `sample-${kind}.pdf`);
      copyFileSync(path.join(jobOut, 'dossier.pdf'), file);
      return { kind, file };
    });
    const checks = files.flatMap(({ kind, file }) => [{ file, profile: kind === 'data' ? ('3a' as const) : ('2a' as const) }, { file, profile: 'ua1' as const }]);
    expect(brokenRules(checks)).toEqual(checks.map(() => []));
  });

  test('so it does of a car with two visits: its history and what came of them, to keep and with files inside', { timeout: 300_000 }, () => {
    const car = path.join(folder, 'car');
    for (const name of ['2026-03-14', '2026-05-09', 'sillbook.json']) cpSync(path.join('sample-job', name), path.join(car, name), { recursive: true });
    const checks = ([['history', 'record'], ['progress', 'data'], ['progress', 'record'], ['history', 'data']] as const).flatMap(([edition, kind]) => {
      execFileSync(process.execPath, ['src/cli.ts', 'build', car, '--edition', edition, '--pdf', kind, '--out', jobOut], { stdio: 'ignore', env: { ...process.env, NODE_OPTIONS: '' } });
      const file = path.join(folder, `${edition}-${kind}.pdf`);
      copyFileSync(path.join(jobOut, 'dossier.pdf'), file);
      return [{ file, profile: kind === 'data' ? ('3a' as const) : ('2a' as const) }, { file, profile: 'ua1' as const }];
    });
    expect(brokenRules(checks)).toEqual(checks.map(() => []));
  });

  test('veraPDF is asked in earnest: it finds the defects that are planted', { timeout: 300_000 }, async () => {
    const good = path.join(folder, 'good.pdf');
    await printPdf(sampleDossier(), { pictureFolder: folder, file: good });
    const planted: [name: string, file: string][] = [];
    for (const [index, { name, plant }] of defects.entries()) {
      const file = path.join(folder, `planted-${index}.pdf`);
      writeFileSync(file, await planting(readFileSync(good), plant));
      planted.push([name, file]);
    }
    const broken = brokenRules(planted.flatMap(([, file]) => [{ file, profile: '2a' as const }, { file, profile: 'ua1' as const }]));
    const missed = planted.filter((_, index) => (broken[2 * index] ?? []).length + (broken[2 * index + 1] ?? []).length === 0).map(([name]) => name);
    expect(missed).toEqual(defects.filter(({ unseen }) => unseen).map(({ name }) => name));
  });
}

test('files inside come out as they went in, typed and with their MD5', async () => {
  const file = path.join(folder, 'inside.pdf');
  await printPdf(sampleDossier(), { pictureFolder: folder, file, variant: { kind: 'data', attachments: inside } });
  const { catalog } = await PDFDocument.load(readFileSync(file), { updateMetadata: false });
  expect(catalog.get(PDFName.of('AF'))?.toString()).toMatch(/^\[ (\d+ 0 R ){3}\]$/);
  const cover = poppler('pdftotext', ['-f', '1', '-l', '1', '-layout', file, '-'])?.toString('utf8').replace(/\s+/g, ' ');
  if (cover) for (const { name, description } of inside) expect(cover).toContain(`${name}: ${description}`);
  const heard = poppler('pdfinfo', ['-struct-text', file])?.toString('utf8').replace(/\s+/g, ' ');
  if (heard) expect(heard).toMatch(/LBody \(block\)[^(]*"dossier\.json: For programs/);
  const out = path.join(folder, 'detached');
  mkdirSync(out);
  if (poppler('pdfdetach', ['-saveall', '-o', out, file]) === null) return;
  for (const { name, bytes } of inside) {
    const saved = readFileSync(path.join(out, name));
    expect(createHash('md5').update(saved).digest('hex')).toBe(createHash('md5').update(bytes).digest('hex'));
  }
});
