import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Dossier } from '../../src/model/dossier.ts';
import { printSite } from '../../src/print/site/index.ts';
import { canBrowse, launch } from '../chromium.ts';
import { corpusFolder } from '../corpus/corpus.ts';
import { generatedPhoto, manyPhotos, picturesOf } from './pdf-dossier.ts';
import type { Pictures } from './pdf-dossier.ts';

/*
 * The PDF: time, highest memory and bytes, beside Chromium's print of the site's page with everything on it, from the same
 * dossier and pictures in the same run. Ours in a process of its own. SILLBOOK_BENCH_PDF=10,150 takes other numbers of
 * photos; Chromium prints up to SILLBOOK_BENCH_PDF_CHROMIUM (500) of them.
 */
const counts = (process.env['SILLBOOK_BENCH_PDF'] ?? '10,150,500,1500').split(',').map(Number);
const chromiumMost = Number(process.env['SILLBOOK_BENCH_PDF_CHROMIUM'] ?? 500);
const place = mkdtempSync(path.join(tmpdir(), 'sillbook-bench-pdf-'));
let generated: Pictures;

beforeAll(async () => {
  const photos: Buffer[] = [];
  for (let number = 0; number < 12; number += 1) photos.push(await generatedPhoto(number));
  generated = await picturesOf(photos);
}, 600_000);
afterAll(() => rmSync(place, { recursive: true, force: true }));

interface Run {
  seconds: number;
  megabytes: number;
  bytes: number;
}

/** Prints in a process of its own; loading of modules counts, the start of Node does not. */
function ours(folder: string, variant: string): Run {
  const program = `
    import { readFileSync } from 'node:fs';
    const [folder, variant] = process.argv.slice(1);
    const dossier = JSON.parse(readFileSync(folder + '/dossier.json', 'utf8'));
    const started = performance.now();
    const { printPdf } = await import(${JSON.stringify(path.resolve('src/print/pdf/index.ts'))});
    await printPdf(dossier, { pictureFolder: folder, file: folder + '/dossier.pdf', variant: JSON.parse(variant) });
    const seconds = (performance.now() - started) / 1000;
    // VmHWM is of this program alone; what getrusage tells is inherited from the process that started it.
    let megabytes = NaN; try { megabytes = Number(/VmHWM:\\s+(\\d+)/.exec(readFileSync('/proc/self/status', 'utf8'))[1]) / 1024 } catch {}
    console.log(JSON.stringify({ seconds, megabytes }));`;
  // As cli.ts starts itself on Linux.
  const told = execFileSync(process.execPath, ['--max-semi-space-size=16', '--input-type=module', '-e', program, folder, variant], { encoding: 'utf8', env: { ...process.env, NODE_OPTIONS: '', MALLOC_ARENA_MAX: '2' } });
  return { ...(JSON.parse(told.trim().split('\n').at(-1) ?? '') as Omit<Run, 'bytes'>), bytes: statSync(path.join(folder, 'dossier.pdf')).size };
}

/** The page opened with all its pictures, fine enough for paper, and printed with tags and outline; the browser's start does not count. */
async function chromium(folder: string): Promise<Run> {
  const browser = await launch();
  try {
    const page = await browser.newPage({ deviceScaleFactor: 2 });
    page.setDefaultTimeout(0);
    const started = performance.now();
    await page.goto(pathToFileURL(path.join(folder, 'whole.html')).href, { timeout: 0 });
    await page.evaluate(async () => {
      const pictures = [...document.images];
      for (const picture of pictures) picture.loading = 'eager';
      await Promise.all(pictures.map((picture) => picture.decode().catch(() => undefined)));
    });
    const file = path.join(folder, 'chromium.pdf');
    await page.pdf({ path: file, format: 'A4', tagged: true, outline: true, printBackground: true });
    const seconds = (performance.now() - started) / 1000;
    return { seconds, megabytes: childrenMegabytes(), bytes: statSync(file).size };
  } finally {
    await browser.close();
  }
}

/** Highest memory of the processes this one has started and those they have, each at its own time: more than all together ever had. */
function childrenMegabytes(): number {
  const parents = new Map<number, number>();
  const peaks = new Map<number, number>();
  for (const name of existsSync('/proc') ? readdirSync('/proc') : []) {
    if (!/^\d+$/.test(name)) continue;
    let status = '';
    try {
      status = readFileSync(`/proc/${name}/status`, 'utf8');
    } catch {
      continue;
    }
    parents.set(Number(name), Number(/PPid:\s+(\d+)/.exec(status)?.[1]));
    peaks.set(Number(name), Number(/VmHWM:\s+(\d+)/.exec(status)?.[1] ?? 0) / 1024);
  }
  const isOurs = (id: number | undefined): boolean => id !== undefined && id !== 0 && (id === process.pid || isOurs(parents.get(id)));
  return [...peaks].reduce((sum, [id, megabytes]) => (id !== process.pid && isOurs(id) ? sum + megabytes : sum), 0);
}

const mega = (bytes: number): string => (bytes / 1e6).toFixed(2);

function row(name: string, { seconds, megabytes, bytes }: Run, count: number, more = ''): string {
  return `${name.padEnd(22)}${seconds.toFixed(2).padStart(9)} s${megabytes.toFixed(0).padStart(7)} MB at most${mega(bytes).padStart(9)} MB${mega((bytes / count) * 100).padStart(8)} MB per 100  ${more}\n`;
}

/** Bytes of the pictures in our PDF, each of which is there once. */
function jpegBytesIn(folder: string): number {
  const pdf = readFileSync(path.join(folder, 'dossier.pdf'));
  let bytes = 0;
  for (let at = pdf.indexOf('/Subtype /Image'); at >= 0; at = pdf.indexOf('/Subtype /Image', at + 1)) bytes += Number(/\/Length (\d+)/.exec(pdf.subarray(at, at + 300).toString('latin1'))?.[1]);
  return bytes;
}

async function write(count: number, pictures: Pictures, name: string): Promise<{ folder: string; dossier: Dossier }> {
  const folder = path.join(place, name);
  const dossier = await manyPhotos(count, pictures, folder);
  writeFileSync(path.join(folder, 'dossier.json'), JSON.stringify(dossier));
  return { folder, dossier };
}

test.each(counts)('%d generated photos', { timeout: 3_600_000 }, async (count) => {
  const { folder, dossier } = await write(count, generated, `generated-${count}`);
  const record = ours(folder, '{"kind":"record"}');
  const jpegBytes = jpegBytesIn(folder);
  let told = `\n${count} photos, ${mega(jpegBytes)} MB of JPEG in it\n${row('record', record, count, `${((record.bytes - 150_000) / jpegBytes).toFixed(4)} of JPEG less 150 KB`)}`;
  expect(record.bytes).toBeLessThanOrEqual(1.03 * jpegBytes + 150_000);
  if (Number.isFinite(record.megabytes)) expect(record.megabytes).toBeLessThanOrEqual(350);
  const share = ours(folder, JSON.stringify({ kind: 'share', cacheFolder: path.join(folder, 'cache') }));
  told += row('share, pictures made', share, count) + row('share, again', ours(folder, JSON.stringify({ kind: 'share', cacheFolder: path.join(folder, 'cache') })), count);
  if (count <= chromiumMost && canBrowse()) {
    await printSite(dossier, { work: path.join(place, `work-${count}`), out: folder, pdf: 'dossier.pdf' });
    const theirs = await chromium(folder);
    const ratio = record.seconds / theirs.seconds;
    told += row('Chromium', theirs, count, `ours takes ${ratio.toFixed(3)} of its time, ${(record.bytes / theirs.bytes).toFixed(3)} of its bytes`);
    if (count >= 100) expect(ratio).toBeLessThanOrEqual(0.35);
  }
  process.stdout.write(told);
  rmSync(folder, { recursive: true });
});

test('photos of real cameras: bytes for each hundred', { timeout: 3_600_000 }, async () => {
  const corpus = corpusFolder();
  if (corpus === null || !existsSync(corpus)) {
    process.stdout.write('The corpus of real photos was left out: SILLBOOK_CORPUS names no folder.\n');
    return;
  }
  const cameras = path.join(corpus, 'photos', 'cameras');
  const files = readdirSync(cameras, { recursive: true, encoding: 'utf8' }).filter((name) => /\.jpe?g$/i.test(name)).toSorted().map((name) => path.join(cameras, name));
  const count = files.length;
  const { folder } = await write(count, await picturesOf(files), 'cameras');
  const record = ours(folder, '{"kind":"record"}');
  const jpegBytes = jpegBytesIn(folder);
  const share = ours(folder, JSON.stringify({ kind: 'share', cacheFolder: path.join(folder, 'cache') }));
  process.stdout.write(`\n${count} photos of real cameras, ${mega(jpegBytes)} MB of JPEG in it\n${row('record', record, count)}${row('share', share, count)}`);
  const text = 150_000;
  expect((record.bytes - text) / count).toBeLessThanOrEqual(110_000);
  expect((share.bytes - text) / count).toBeLessThanOrEqual(50_000);
});
