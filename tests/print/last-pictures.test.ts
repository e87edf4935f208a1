import { execFileSync, spawnSync } from 'node:child_process';
import { closeSync, linkSync, lstatSync, mkdirSync, mkdtempSync, openSync, readFileSync, readSync, readdirSync, renameSync, rmSync, symlinkSync, writeFileSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { openOutput } from '../../src/print/output.ts';
import { renderPictures } from '../../src/print/pictures/index.ts';
import { openLast } from '../../src/print/pictures/last.ts';
import type { LastPictures } from '../../src/print/pictures/last.ts';
import { readPhotos } from '../../src/read/photos/index.ts';
import { sealFolder } from '../../src/seal/index.ts';

let place = '';
const at = (...names: string[]): string => join(place, ...names);
beforeEach(async () => {
  place = mkdtempSync(join(tmpdir(), 'sillbook-last-'));
  mkdirSync(at('job'));
  for (const [index, background] of ['#445566', '#884422'].entries()) {
    await sharp({ create: { width: 1000, height: 700, channels: 3, background } }).jpeg().toFile(at('job', `${index}.jpg`));
  }
});
afterEach(() => rmSync(place, { recursive: true }));

/** The photo part of a build: pictures, manifest, swap. `meanwhile` runs between pictures and manifest. */
async function deliver({ trust = true, meanwhile = () => undefined }: { trust?: boolean; meanwhile?: () => void } = {}): Promise<ReturnType<LastPictures['settle']>> {
  const { photos } = await readPhotos(at('job'));
  const output = await openOutput(at('out'));
  const last = openLast(at('cache'), trust ? output.last : null);
  await renderPictures(photos, { jobFolder: at('job'), cacheFolder: at('cache'), outFolder: output.folder, last });
  meanwhile();
  const settled = last.settle();
  const sealed = await sealFolder(output.folder, settled.hashes);
  await output.commit();
  last.remember(at('out'), sealed);
  return settled;
}

const names = (): string[] => readdirSync(at('out', 'photos')).toSorted();
const inodes = (folder = at('out', 'photos')): number[] => readdirSync(folder).filter((name) => name.endsWith('.jpg')).toSorted().map((name) => lstatSync(join(folder, name)).ino);
const contents = (): string[] => names().map((name) => readFileSync(at('out', 'photos', name), 'base64'));

/** Reference reader: GNU coreutils. */
function verifies(folder: string): void {
  expect(spawnSync('sha256sum', ['-c', '--strict', '--quiet', 'manifest-sha256.txt'], { cwd: folder, encoding: 'utf8' })).toMatchObject({ status: 0, stdout: '', stderr: '' });
}

/** Turns one byte over without changing the file's length. */
function flip(file: string): void {
  const open = openSync(file, 'r+');
  const byte = Buffer.alloc(1);
  readSync(open, byte, 0, 1, 300);
  writeSync(open, Buffer.from([(byte[0] ?? 0) ^ 255]), 0, 1, 300);
  closeSync(open);
}

/** The same with the time of the content put back to the nanosecond. */
function flipUnseen(file: string): void {
  const before = lstatSync(file, { bigint: true });
  execFileSync('touch', ['-r', file, at('time')]);
  flip(file);
  execFileSync('touch', ['-r', at('time'), file]);
  const after = lstatSync(file, { bigint: true });
  expect([after.size, after.mtimeNs, after.ino]).toEqual([before.size, before.mtimeNs, before.ino]);
}

test('with nothing changed the files of the last dossier are those of the new one, time after time', async () => {
  expect((await deliver()).hashes.size).toBe(0);
  const [first, bytes] = [inodes(), contents()];
  expect(first).toHaveLength(6);
  for (let round = 0; round < 3; round += 1) {
    expect((await deliver()).hashes.size).toBe(6);
    expect(inodes()).toEqual(first);
    expect(contents()).toEqual(bytes);
    verifies(at('out'));
  }
  expect(names().map((name) => lstatSync(at('out', 'photos', name)).nlink)).toEqual([1, 1, 1, 1, 1, 1]);
});

test.each([['as it is', flip], ['with its time put back', flipUnseen]])('a picture altered in the last dossier, %s, does not get into the new one', async (_, alter) => {
  await deliver();
  for (const round of [0, 1]) {
    const [before, bytes] = [inodes(), contents()];
    alter(at('out', 'photos', names()[2] ?? ''));
    expect(contents(), `round ${round}`).not.toEqual(bytes);
    expect((await deliver()).hashes.size).toBe(5);
    expect(contents()).toEqual(bytes);
    expect(inodes().map((inode, index) => inode === before[index])).toEqual([true, true, false, true, true, true]);
    verifies(at('out'));
  }
});

test('a picture put in the place of another, or taken away, is replaced from the cache', async () => {
  await deliver();
  const bytes = contents();
  const [one = '', two = ''] = names();
  writeFileSync(at('other'), Buffer.alloc(lstatSync(at('out', 'photos', one)).size, 7));
  execFileSync('touch', ['-r', at('out', 'photos', one), at('other')]);
  renameSync(at('other'), at('out', 'photos', one));
  rmSync(at('out', 'photos', two));
  expect((await deliver()).hashes.size).toBe(4);
  expect(contents()).toEqual(bytes);
  verifies(at('out'));
});

test('a file that has a second name elsewhere is never shared', async () => {
  await deliver();
  const bytes = contents();
  const [one = ''] = names();
  linkSync(at('out', 'photos', one), at('mine.jpg'));
  await deliver();
  flip(at('mine.jpg'));
  expect(contents()).toEqual(bytes);
  verifies(at('out'));
});

test('no file is shared with the cache', async () => {
  await deliver();
  await deliver();
  const cached = inodes(at('cache'));
  expect(cached).toHaveLength(6);
  expect(inodes().filter((inode) => cached.includes(inode))).toEqual([]);
  for (const name of names()) flip(at('out', 'photos', name));
  const bytes = contents();
  await deliver();
  expect(contents().filter((each) => bytes.includes(each))).toEqual([]);
  verifies(at('out'));
});

test('what is written into the last dossier while a new one is made stops that', async () => {
  await deliver();
  const name = names()[3] ?? '';
  const { notices, hashes } = await deliver({ meanwhile: () => flipUnseen(at('out', 'photos', name)) });
  expect(notices).toMatchObject([{ level: 'error', rule: 'photo-changed-meanwhile', spot: { file: `photos/${name}` } }]);
  expect([hashes.size, hashes.has(`photos/${name}`)]).toEqual([5, false]);
});

test('nothing is shared where nothing is to be trusted, and a false hash in the memory goes no further', async () => {
  await deliver();
  const [before, memory] = [inodes(), at('cache', 'pictures-delivered.json')];
  const spoil = (): void => writeFileSync(memory, readFileSync(memory, 'utf8').replace(/"sha256":"[0-9a-f]{64}"/g, `"sha256":"${'0'.repeat(64)}"`));
  spoil();
  expect((await deliver({ trust: false })).hashes.size).toBe(0);
  expect(inodes().filter((inode) => before.includes(inode))).toEqual([]);
  verifies(at('out'));
  for (const text of ['', '{}', '[]', 'null', '{"a":1}']) {
    writeFileSync(memory, text);
    expect((await deliver()).hashes.size).toBe(0);
    verifies(at('out'));
  }
});

test('a dossier behind a link is not shared: the link is replaced, what it led to stays', async () => {
  await deliver();
  renameSync(at('out'), at('kept'));
  symlinkSync(at('kept'), at('out'));
  const before = inodes(at('kept', 'photos'));
  expect((await deliver()).hashes.size).toBe(0);
  expect(inodes().filter((inode) => before.includes(inode))).toEqual([]);
  for (const folder of ['kept', 'out']) verifies(at(folder));
});

test('given up, the new dossier takes nothing of the last one with it', async () => {
  await deliver();
  const bytes = contents();
  const output = await openOutput(at('out'));
  const last = openLast(at('cache'), output.last);
  const { photos } = await readPhotos(at('job'));
  await renderPictures(photos, { jobFolder: at('job'), cacheFolder: at('cache'), outFolder: output.folder, last });
  expect(last.settle().hashes.size).toBe(6);
  await output.discard();
  expect(contents()).toEqual(bytes);
  verifies(at('out'));
  await deliver();
  expect(contents()).toEqual(bytes);
  verifies(at('out'));
});

test('where no second name can be given, the picture is copied', async () => {
  await deliver();
  const last = openLast(at('cache'), at('out'));
  const [one = ''] = names();
  writeFileSync(at('taken'), 'mine');
  expect(last.take(one, at('taken'))).toBe(false);
  expect(readFileSync(at('taken'), 'utf8')).toBe('mine');
  expect(last.take(one, at('no', 'folder'))).toBe(false);
  expect(last.take(one, at('free'))).toBe(true);
});

test('a new photo is made, the others are shared, one taken away goes', async () => {
  await deliver();
  await sharp({ create: { width: 500, height: 300, channels: 3, background: '#123456' } }).jpeg().toFile(at('job', '2.jpg'));
  expect((await deliver()).hashes.size).toBe(6);
  expect(names()).toHaveLength(8);
  verifies(at('out'));
  rmSync(at('job', '0.jpg'));
  expect((await deliver()).hashes.size).toBe(5);
  expect(names()).toHaveLength(5);
  verifies(at('out'));
});
