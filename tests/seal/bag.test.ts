import { execFileSync, spawnSync } from 'node:child_process';
import { appendFileSync, mkdirSync, readFileSync, readdirSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { gather } from '../../src/seal/gather.ts';
import { folderStore } from '../../src/seal/store.ts';
import { verify } from '../../src/seal/verify.ts';
import { zipStore } from '../../src/seal/zip-store.ts';
import { scratch } from '../commands/command-line.ts';
import { oddJob, packSmall } from './small-bag.ts';

let place = scratch();
beforeEach(() => {
  place.remove();
  place = scratch();
});
afterEach(() => place.remove());

function filesIn(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile()).map((entry) => path.relative(folder, path.join(entry.parentPath, entry.name)));
}

test('a bag holds all that is not ours to make, and nothing else', async () => {
  const bag = path.join(place.folder, 'bag');
  await packSmall(oddJob(place.folder), bag);
  expect(filesIn(path.join(bag, 'data')).toSorted()).toEqual(['README.txt', 'issues/1/index.html', 'originals/findings.md', 'originals/photos/100%.jpg', 'originals/photos/a b.jpg', 'originals/photos/out/y.jpg', 'originals/photos/äö.jpg', 'originals/receipt.pdf']);
  expect((await verify(await folderStore(bag))).differences).toEqual([]);
  // RFC 8493 has the percent sign encoded, which coreutils do not know; all other lines are theirs.
  const checked = spawnSync('sha256sum', ['-c', '--quiet', 'manifest-sha256.txt'], { cwd: bag, encoding: 'utf8' });
  expect(checked.stdout.trim().split('\n')).toEqual(['data/originals/photos/100%25.jpg: FAILED open or read']);
  expect(readFileSync(path.join(bag, 'data', 'README.txt'), 'utf8')).toContain('data/originals/photos/100%25.jpg');
});

test('one flipped bit in any byte of any file of a bag is named with that file', { timeout: 120_000 }, async () => {
  const bag = path.join(place.folder, 'bag');
  await packSmall(oddJob(place.folder), bag);
  const unnoticed: string[] = [];
  for (const [index, name] of filesIn(bag).entries()) {
    const file = path.join(bag, name);
    const whole = readFileSync(file);
    for (let at = 0; at < whole.length; at += 1 + Math.floor(whole.length / 60)) {
      const flipped = Buffer.from(whole);
      flipped[at] = (flipped[at] ?? 0) ^ (1 << ((at + index) % 8));
      writeFileSync(file, flipped);
      const { differences } = await verify(await folderStore(bag));
      if (!differences.some((one) => one.name === name)) unnoticed.push(`${name} at ${at}: ${JSON.stringify(differences)}`);
    }
    writeFileSync(file, whole);
  }
  expect(unnoticed).toEqual([]);
});

test('one flipped bit in any byte of any header of a ZIP of ours is named, and in its contents', { timeout: 180_000 }, async () => {
  const zip = path.join(place.folder, 'bag.zip');
  await packSmall(oddJob(place.folder), zip);
  execFileSync('unzip', ['-tq', zip]);
  const whole = readFileSync(zip);
  const contents = await contentsOf(zip);
  const isContent = (at: number): boolean => contents.some(({ from, to }) => at >= from && at < to);
  const positions = Array.from(whole.keys()).filter((at) => !isContent(at) || at % 13 === 0);
  expect(contents).toHaveLength(14);
  expect(positions.filter((at) => !isContent(at)).length).toBeGreaterThan(14 * (30 + 46));
  const unnoticed: number[] = [];
  for (const at of positions) {
    const flipped = Buffer.from(whole);
    flipped[at] = (flipped[at] ?? 0) ^ (1 << (at % 8));
    writeFileSync(zip, flipped);
    const store = await zipStore(zip).catch(() => null);
    const verdict = store ? await verify(store) : null;
    await store?.close();
    if (verdict?.differences.length === 0) unnoticed.push(at);
  }
  expect(unnoticed).toEqual([]);
});

/** Where the bytes of the files lie in a ZIP, as another reader has it. */
async function contentsOf(zip: string): Promise<{ from: number; to: number }[]> {
  const script = 'import json, sys, zipfile\nz = zipfile.ZipFile(sys.argv[1])\nprint(json.dumps([[i.header_offset + 30 + len(i.filename.encode()), i.compress_size] for i in z.infolist()]))';
  const found = JSON.parse(execFileSync('python3', ['-c', script, zip], { encoding: 'utf8' })) as [number, number][];
  return found.map(([from, length]) => ({ from, to: from + length }));
}

test('a ZIP that another program packed anew from the same files holds, and it is said that its headers are not ours', async () => {
  const bag = path.join(place.folder, 'bag');
  await packSmall(oddJob(place.folder), bag);
  execFileSync('python3', ['-m', 'zipfile', '-c', 'anew.zip', 'bag'], { cwd: place.folder });
  const store = await zipStore(path.join(place.folder, 'anew.zip'));
  const verdict = await verify(store);
  await store.close();
  expect(verdict.differences).toEqual([]);
  expect(verdict.warnings).toEqual([expect.stringContaining('packed anew by another program')]);
});

test('missing and added files are named', async () => {
  const bag = path.join(place.folder, 'bag');
  await packSmall(oddJob(place.folder), bag);
  rmSync(path.join(bag, 'data/originals/receipt.pdf'));
  writeFileSync(path.join(bag, 'data/originals/new.jpg'), 'new');
  writeFileSync(path.join(bag, 'new.txt'), 'new');
  const { differences } = await verify(await folderStore(bag));
  expect(differences.map(({ kind, name }) => `${kind} ${name}`)).toEqual(expect.arrayContaining(['missing data/originals/receipt.pdf', 'added data/originals/new.jpg', 'added new.txt']));
});

test('the same job gives the same bytes', async () => {
  const job = oddJob(place.folder);
  const [a, b] = ['a.zip', 'b.zip'].map((name) => path.join(place.folder, name)) as [string, string];
  await packSmall(job, a);
  await packSmall(job, b);
  expect(readFileSync(b).equals(readFileSync(a))).toBe(true);
});

test('a public copy holds no original, and nothing that was issued before', async () => {
  const bag = path.join(place.folder, 'bag');
  await packSmall(oddJob(place.folder), bag, { publicCopy: true });
  expect(filesIn(path.join(bag, 'data')).toSorted()).toEqual(['README.txt']);
  expect(readFileSync(path.join(bag, 'data', 'README.txt'), 'utf8')).toContain('THIS IS A PUBLIC COPY');
});

test('a link out of the job is not followed, and a file that is not as it was read stops the packing', async () => {
  const job = oddJob(place.folder);
  mkdirSync(path.join(place.folder, 'outside'));
  writeFileSync(path.join(place.folder, 'outside', 'secret'), 'secret');
  symlinkSync(path.join(place.folder, 'outside', 'secret'), path.join(job, 'link'));
  const { files, notices } = await gather(job, ['']);
  expect(files.map((file) => file.path)).not.toContain('link');
  expect(notices.map(({ rule }) => rule)).toEqual(['link-outside']);
  appendFileSync(path.join(job, 'receipt.pdf'), ' more');
  const packed = await packSmall(job, path.join(place.folder, 'bag'), { expected: new Map([['receipt.pdf', 'f'.repeat(64)]]) });
  expect(packed.manifestSha256).toBeNull();
  expect(packed.notices.map(({ rule }) => rule)).toEqual(['file-changed']);
});
