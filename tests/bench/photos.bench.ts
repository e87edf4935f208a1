import { execFileSync, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import path from 'node:path';
import sharp from 'sharp';
import { afterAll, expect, test } from 'vitest';
import { corpusFolder } from '../corpus/corpus.ts';

/*
 * Photos: a cold build, one with nothing changed, and hashing alone, against what the same libraries take at least and
 * other ways to the same pictures. Each runs in a process of its own, one after the other on the same files, so that
 * memory is that of one way alone. 60 generated photos of 12 megapixels; SILLBOOK_BENCH_PHOTOS=600 takes ten times as many.
 * Not vitest's `bench`: a run of minutes is measured once, and its memory is half of what is asked.
 */
const count = Number(process.env['SILLBOOK_BENCH_PHOTOS'] ?? 60);
/** With SILLBOOK_BENCH_PEERS=no the slow ways are left out. */
const peers = process.env['SILLBOOK_BENCH_PEERS'] !== 'no';
const place = mkdtempSync(path.join(tmpdir(), 'sillbook-bench-photos-'));
afterAll(() => rmSync(place, { recursive: true, force: true }));

/** A photo like a phone's in size and in how hard it is to pack: waves for edges, noise for texture, the same for the same number. */
async function generate(file: string, number: number): Promise<void> {
  const [width, height] = [4032, 3024];
  const data = Buffer.alloc(width * height * 3);
  let state = number * 2_654_435_761 + 1;
  for (let y = 0, at = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1, at += 3) {
      state = (Math.imul(state, 1_664_525) + 1_013_904_223) | 0;
      const wave = 90 * Math.sin((x + number * 31) / 97) * Math.cos(y / (61 + (number % 13)));
      const noise = (state >>> 24) / 10;
      data[at] = 118 + wave + noise;
      data[at + 1] = 104 + wave * 0.7 + noise;
      data[at + 2] = 92 + wave * 0.4 + noise;
    }
  }
  const made = sharp(data, { raw: { width, height, channels: 3 } }).withExif({ IFD0: { Make: 'Acme', Model: 'Bench' }, IFD2: { DateTimeOriginal: '2026:03:14 10:12:41' } });
  // Phones write Display P3.
  await (number % 2 === 0 ? made.withIccProfile('p3') : made).jpeg({ quality: 90 }).toFile(file);
}

interface Run {
  seconds: number;
  /** Of all threads, user and system: other load on the machine shows less in it than in the time passed. */
  cpuSeconds: number;
  /** Highest resident memory of the process; NaN where it is not known. */
  megabytes: number;
}

/** Runs a module in a process of its own, which tells its time and memory on the last line; its start is not counted. */
function run(script: string, job: string, environment: Record<string, string> = {}): Run {
  // VmHWM is of this program alone; what getrusage tells is inherited from the process that started it.
  const timed = `const started = performance.now();\n${script}
const cpu = process.cpuUsage(), seconds = (performance.now() - started) / 1000;
const { readFileSync: look } = await import('node:fs');
let megabytes = NaN; try { megabytes = Math.round(Number(/VmHWM:\\s+(\\d+)/.exec(look('/proc/self/status', 'utf8'))[1]) / 1024) } catch {}
console.log(JSON.stringify({ seconds, cpuSeconds: (cpu.user + cpu.system) / 1e6, megabytes }));`;
  const out = execFileSync(process.execPath, ['--input-type=module', '-e', `const [job, made] = ${JSON.stringify([job, path.join(place, 'made')])};\n${timed}`], {
    encoding: 'utf8', env: { ...process.env, NODE_OPTIONS: '', UV_THREADPOOL_SIZE: String(availableParallelism()), ...environment }, maxBuffer: 1 << 26,
  });
  return JSON.parse(out.trim().split('\n').at(-1) ?? '') as Run;
}

const source = (name: string): string => JSON.stringify(path.resolve('src', name));

/** Our whole photo part, in the place of the last one: facts, hash, pictures, checks, delivery, hashes of what is delivered. */
const ours = (trust: boolean): string => `
const { openOutput } = await import(${source('print/output.ts')});
const { openLast } = await import(${source('print/pictures/last.ts')});
const { sealFolder } = await import(${source('seal/index.ts')});
const { openMemory } = await import(${source('read/photos/memory.ts')});
const { readPhotos } = await import(${source('read/photos/index.ts')});
const { renderPictures } = await import(${source('print/pictures/index.ts')});
const memory = await openMemory(made + '/cache', { trust: ${trust} });
const { photos } = await readPhotos(job, { memory });
await memory.save();
const output = await openOutput(made + '/site');
const last = openLast(made + '/cache', ${trust} ? output.last : null);
await renderPictures(photos, { jobFolder: job, cacheFolder: made + '/cache', outFolder: output.folder, last });
const sealed = await sealFolder(output.folder, last.settle().hashes);
await output.commit();
last.remember(made + '/site', sealed);`;

/** What a process takes before the first photo. */
const modulesOnly = ['print/output.ts', 'print/pictures/last.ts', 'seal/index.ts', 'read/photos/memory.ts', 'read/photos/index.ts', 'print/pictures/index.ts'].map((name) => `await import(${source(name)});`).join('\n');

const hashOnly = `
const { readFile, readdir } = await import('node:fs/promises');
const { createHash } = await import('node:crypto');
for (const name of await readdir(job)) createHash('sha256').update(await readFile(job + '/' + name)).digest('hex');`;

/** What peers share: as many photos at once as cores, the same widths, quality and settings as ours. */
const lanes = (each: string): string => `
const { readFile, readdir, mkdir } = await import('node:fs/promises');
const { default: sharp } = await import(${JSON.stringify(import.meta.resolve('sharp'))});
sharp.concurrency(1); sharp.cache(false);
const names = (await readdir(job)).sort(); let next = 0;
await mkdir(made + '/peer', { recursive: true });
await Promise.all(Array.from({ length: ${availableParallelism()} }, async () => {
  for (let at = next++; at < names.length; at = next++) { const file = job + '/' + names[at]; const to = made + '/peer/' + names[at]; ${each} }
}));`;

/** The least these stages take: one decode shrunk on load, upright, colours of the small picture, four encodings; no hash, no EXIF, no checks. */
const stages = lanes(`
  const bytes = await readFile(file);
  const small = await sharp(bytes, { sequentialRead: true, ignoreIcc: true }).autoOrient().resize({ width: 2400, withoutEnlargement: true }).keepIccProfile().tiff({ compression: 'none' }).toBuffer();
  const { data, info } = await sharp(small).toColourspace('srgb').raw().toBuffer({ resolveWithObject: true });
  for (const width of [480, 960, 1600, 2400]) await sharp(data, { raw: info }).resize({ width, withoutEnlargement: true }).jpeg({ quality: 80, progressive: true }).toFile(to + '-' + width + '.jpg');`);

const decodePerSize = lanes(`
  const bytes = await readFile(file);
  for (const width of [480, 960, 1600, 2400]) await sharp(bytes).autoOrient().resize({ width, withoutEnlargement: true }).toColourspace('srgb').jpeg({ quality: 80, progressive: true }).toFile(to + '-' + width + '.jpg');`);

/** Astro's own image service, called as its build does: the whole file again for every size. */
const astro = lanes(`
  const { default: service } = await import(${JSON.stringify(import.meta.resolve('astro/assets/services/sharp'))});
  const bytes = await readFile(file);
  const { writeFile } = await import('node:fs/promises');
  for (const width of [480, 960, 1600, 2400]) { const { data } = await service.transform(bytes, { src: file, width, format: 'jpeg', quality: 80 }, { service: { config: {} }, domains: [], remotePatterns: [] }); await writeFile(to + '-' + width + '.jpg', data); }`);

/** Two processes at once, so its memory is that of both. */
function vipsthumbnail(job: string): Run | null {
  if (spawnSync('vipsthumbnail', ['--help']).error) return null;
  const [folder, peaks] = [path.join(place, 'made', 'thumbs'), path.join(place, 'peaks')];
  mkdirSync(folder, { recursive: true });
  const timed = spawnSync('env', ['time', '--version']).status === 0 ? `env time -a -o '${peaks}' -f %M` : '';
  const started = performance.now();
  const names = readdirSync(job).map((name) => path.join(job, name));
  let cpuSeconds = 0;
  for (const width of [480, 960, 1600, 2400]) {
    const command = `xargs -0 -P ${availableParallelism()} -n 5 ${timed} vipsthumbnail --eprofile srgb --size '${width}x>' -o '${folder}/%s-${width}.jpg[Q=80,interlace]' 2>/dev/null; times`;
    const told = execFileSync('bash', ['-c', command], { input: names.join('\0'), encoding: 'utf8', env: { ...process.env, VIPS_CONCURRENCY: '1' } });
    cpuSeconds += [...(told.trim().split('\n').at(-1) ?? '').matchAll(/(\d+)m([\d.]+)s/g)].reduce((sum, [, minutes, seconds]) => sum + Number(minutes) * 60 + Number(seconds), 0);
  }
  const megabytes = timed === '' ? Number.NaN : Math.round((Math.max(...readFileSync(peaks, 'utf8').trim().split('\n').map(Number)) * availableParallelism()) / 1024);
  return { seconds: (performance.now() - started) / 1000, cpuSeconds, megabytes };
}

/** A line of the table; ratios are of CPU time, to the least of the stages and to Astro's service where that was run. */
function row(name: string, { seconds, cpuSeconds, megabytes }: Run, least: Run, astros: Run | undefined, photos: number): string {
  const ratio = (base: Run | undefined): string => (base ? (cpuSeconds / base.cpuSeconds).toFixed(4) : '').padStart(10);
  const each = ((cpuSeconds / photos) * 1000).toFixed(1).padStart(10);
  return `${name.padEnd(46)}${each}${ratio(least)}${ratio(astros)}${(Number.isFinite(megabytes) ? String(megabytes) : '').padStart(10)}${seconds.toFixed(2).padStart(10)}`;
}

/** Hash of all pictures made, so that two builds can be compared to the byte. */
function bytesOf(folder: string): string {
  const hash = createHash('sha256');
  for (const name of readdirSync(folder).toSorted()) hash.update(name).update(readFileSync(path.join(folder, name)));
  return hash.digest('hex');
}

/** As `cli.ts` starts itself on Linux. */
const asStarted = { MALLOC_ARENA_MAX: '2' };

function measure(job: string): Record<string, Run> {
  const fresh = (): void => rmSync(path.join(place, 'made'), { recursive: true, force: true });
  const results: Record<string, Run> = {};
  // Once read, the files are in the system's memory for all that follow.
  results['hash only'] = run(hashOnly, job);
  results['hash only'] = run(hashOnly, job);
  fresh();
  results["stages' least"] = run(stages, job);
  fresh();
  if (peers) {
    results['one decode per size'] = run(decodePerSize, job);
    fresh();
    results["Astro's image service"] = run(astro, job);
    fresh();
    const vips = vipsthumbnail(job);
    if (vips) results['vipsthumbnail, one process for five photos'] = vips;
    fresh();
  }
  results['sillbook, cold'] = run(ours(true), job, asStarted);
  const first = bytesOf(path.join(place, 'made', 'site', 'photos'));
  fresh();
  results['sillbook, cold, as Node starts it'] = run(ours(true), job);
  expect(bytesOf(path.join(place, 'made', 'site', 'photos'))).toBe(first);
  const inode = (): number[] => readdirSync(path.join(place, 'made', 'site', 'photos')).map((name) => statSync(path.join(place, 'made', 'site', 'photos', name)).ino);
  results['sillbook, nothing changed, all hashed again'] = run(ours(false), job, asStarted);
  const before = inode();
  results['sillbook, nothing changed'] = run(ours(true), job, asStarted);
  expect(inode()).toEqual(before);
  results['an empty process with our modules'] = run(modulesOnly, job, asStarted);
  return results;
}

function print(title: string, job: string, results: Record<string, Run>): void {
  const names = readdirSync(job);
  const bytes = names.reduce((sum, name) => sum + statSync(path.join(job, name)).size, 0);
  const { "stages' least": least, "Astro's image service": astros, 'sillbook, cold': cold, 'sillbook, nothing changed': idle, 'an empty process with our modules': empty } = results;
  if (!least || !cold || !idle || !empty) throw new Error('nothing to compare with');
  const rows = Object.entries(results).map(([name, each]) => row(name, each, least, astros, names.length));
  const head = `${''.padEnd(46)}${['CPU ms', 'of least', 'of Astro', 'peak MB', 'seconds'].map((word) => word.padStart(10)).join('')}`;
  const share = (((idle.cpuSeconds - empty.cpuSeconds) / cold.cpuSeconds) * 100).toFixed(2);
  process.stdout.write(`\n${title}: ${names.length} photos, ${(bytes / 1e6).toFixed(0)} MB; CPU time a photo\n${head}\n${rows.join('\n')}\nNothing changed, less the loading of modules: ${share} % of cold\n`);
}

test(`${count} generated photos of 12 megapixels`, { timeout: 3_600_000 }, async () => {
  const job = path.join(place, 'generated');
  mkdirSync(job);
  // Twelve different ones, told apart by a byte behind the end: decoding does not know them from each other, hashes do.
  const originals = Math.min(count, 12);
  for (let number = 0; number < originals; number += 1) await generate(path.join(job, `IMG_${1000 + number}.jpg`), number);
  for (let number = originals; number < count; number += 1) {
    const bytes = readFileSync(path.join(job, `IMG_${1000 + (number % originals)}.jpg`));
    writeFileSync(path.join(job, `IMG_${1000 + number}.jpg`), Buffer.concat([bytes, Buffer.from([number >> 8, number & 255])]));
  }
  const results = measure(job);
  print('Generated', job, results);
  expect(results['sillbook, cold']?.seconds).toBeGreaterThan(0);
});

test('camera originals of the corpus', { timeout: 3_600_000 }, async () => {
  const corpus = corpusFolder();
  if (corpus === null || !existsSync(corpus)) {
    process.stdout.write('The corpus of real photos was left out: SILLBOOK_CORPUS names no folder.\n');
    return;
  }
  const job = path.join(place, 'corpus');
  mkdirSync(job);
  const folder = path.join(corpus, 'photos', 'cameras');
  const files = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((name) => /\.jpe?g$/i.test(name)).toSorted();
  for (const [index, name] of files.entries()) writeFileSync(path.join(job, `${index}.jpg`), readFileSync(path.join(folder, name)));
  const results = measure(job);
  print('Camera originals', job, results);
  expect(results['sillbook, cold']?.seconds).toBeGreaterThan(0);
});
