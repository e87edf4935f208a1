import { linkSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import sharp from 'sharp';
import { afterAll, expect, test } from 'vitest';
import type { Dossier } from '../../src/model/dossier.ts';
import { printSite } from '../../src/print/site/index.ts';
import { largeDossier } from '../print/site/find-dossier.ts';

/*
 * The pages of a car with 300 photos and every zone written about, against a site of one page with one paragraph: most of a
 * build is the start of Astro, so three times that is the bar. And what its pages weigh. The photos' pictures are one
 * picture of each size under many names, as heavy as those of a phone's photo come out (measured on the sample job).
 */
const place = mkdtempSync(path.join(tmpdir(), 'sillbook-bench-site-'));
afterAll(() => rmSync(place, { recursive: true, force: true }));

const sizes = [{ width: 480, height: 360, bytes: 18_000 }, { width: 960, height: 720, bytes: 95_000 }, { width: 1600, height: 1200, bytes: 500_000 }] as const;
const beside = ['dossier.json', 'dossier.schema.json', 'originals-sha256.txt', 'work.csv', 'parts.csv'];

async function withPictures(dossier: Dossier, out: string): Promise<Dossier> {
  mkdirSync(path.join(out, 'photos'), { recursive: true });
  for (const { width, height, bytes } of sizes) {
    const made = await sharp({ create: { width, height, channels: 3, background: '#445566' } }).jpeg().toBuffer();
    writeFileSync(path.join(place, `${width}.jpg`), Buffer.concat([made, Buffer.alloc(bytes - made.length)]));
  }
  const photos = dossier.photos.map((photo) => ({ ...photo, flaw: '', renditions: sizes.map(({ width, height }) => ({ file: `photos/${photo.id}-${width}.jpg`, width, height })) }));
  for (const { id } of photos) for (const { width } of sizes) linkSync(path.join(place, `${width}.jpg`), path.join(out, 'photos', `${id}-${width}.jpg`));
  return { ...dossier, photos };
}

/** Seconds of all threads and of the clock: other load on the machine shows less in the first. */
async function timed(run: () => Promise<unknown>): Promise<{ cpu: number; clock: number }> {
  const began = performance.now();
  const before = process.cpuUsage();
  await run();
  const { user, system } = process.cpuUsage(before);
  return { cpu: (user + system) / 1e6, clock: (performance.now() - began) / 1000 };
}
const median = (values: number[]): number => values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;

test('300 photos beside one page', { timeout: 600_000 }, async () => {
  const out = path.join(place, 'large');
  const large = await withPictures(largeDossier(), out);
  const [first] = large.sections;
  if (!first) throw new Error('The dossier has no section.');
  const small: Dossier = { ...large, sections: [{ ...first, id: 'alone', title: 'Alone', page: 'index', blocks: [{ type: 'paragraph', inline: ['One paragraph.'] }] }], photos: [], findings: [] };
  const build = (dossier: Dossier, folder: string): Promise<unknown> => printSite(dossier, { work: path.join(place, 'work'), out: folder, beside });
  const runs: Record<'small' | 'large', { cpu: number; clock: number }[]> = { small: [], large: [] };
  // The first two of each load and compile what the others find warm.
  for (let run = 0; run < 9; run += 1) {
    const took = { small: await timed(() => build(small, path.join(place, 'small'))), large: await timed(() => build(large, out)) };
    if (run > 1) for (const name of ['small', 'large'] as const) runs[name].push(took[name]);
  }
  const of = (name: 'small' | 'large', time: 'cpu' | 'clock'): number => median(runs[name].map((took) => took[time]));
  const ratio = of('large', 'cpu') / of('small', 'cpu');

  const pages = readdirSync(out, { recursive: true, encoding: 'utf8' }).filter((file) => file.endsWith('.html')).sort();
  const weightOf = (file: string, rendition: number): number => {
    const html = readFileSync(path.join(out, file), 'utf8');
    const shown = new Set([...html.matchAll(/<img [^>]*src="[^"]*?([^"/]+)-\d+\.jpg"/g)].map(([, id]) => id));
    return statSync(path.join(out, file)).size + shown.size * (sizes[rendition]?.bytes ?? 0);
  };
  const zones = pages.filter((file) => file.startsWith('zones/'));
  // Zone pages ask for the middle rendition, on screens plain and fine.
  const heaviest = Math.max(...zones.map((file) => weightOf(file, 1)));
  console.log(`${large.photos.length} photos, ${pages.length} pages: ${of('large', 'clock').toFixed(2)} s, CPU ${of('large', 'cpu').toFixed(2)} s; one page ${of('small', 'clock').toFixed(2)} s, CPU ${of('small', 'cpu').toFixed(2)} s: ${(of('large', 'clock') / of('small', 'clock')).toFixed(2)} times, CPU ${ratio.toFixed(2)} times`);
  console.log(`overview ${Math.round(weightOf('index.html', 1) / 1000)} kB of 500, heaviest zone page ${Math.round(heaviest / 1000)} kB of 2000, photos page ${Math.round(weightOf('photos.html', 0) / 1000)} kB, find ${Math.round(weightOf('find.html', 0) / 1000)} kB, all on one page ${Math.round(statSync(path.join(out, 'whole.html')).size / 1000)} kB without pictures`);
  expect(zones.length).toBeGreaterThan(30);
  expect(weightOf('index.html', 1)).toBeLessThanOrEqual(500_000);
  expect(heaviest).toBeLessThanOrEqual(2_000_000);
  expect(ratio).toBeLessThan(3);
});
