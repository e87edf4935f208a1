import { createHash } from 'node:crypto';
import { mkdir, mkdtemp, readFile, readdir, rm, stat, utimes, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { disk } from '../../src/read/photos/disk.ts';
import type { Disk } from '../../src/read/photos/disk.ts';
import { readPhotos } from '../../src/read/photos/index.ts';
import type { ReadPhotos } from '../../src/read/photos/index.ts';
import { openMemory } from '../../src/read/photos/memory.ts';

let folder = '';
let cache = '';
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'sillbook-memory-'));
  cache = join(folder, '.sillbook');
  for (const [name, background] of [['a.jpg', '#a05030'], ['b.jpg', '#3050a0']] as const) {
    await writeFile(join(folder, name), await sharp({ create: { width: 60, height: 40, channels: 3, background } }).withExif({ IFD0: { Make: 'Acme' }, IFD2: { DateTimeOriginal: '2026:03:14 10:12:41' } }).jpeg().toBuffer());
  }
  await writeFile(join(folder, 'c.png'), await readFile(join(folder, 'a.jpg')));
});
afterEach(async () => {
  await rm(folder, { recursive: true, force: true });
});

/** Reads the job with what is remembered, saves that, and tells which files were opened. */
async function read(options: { trust?: boolean; on?: Partial<Disk> } = {}): Promise<ReadPhotos & { opened: string[] }> {
  const opened: string[] = [];
  const watched: Disk = { ...disk, ...options.on, read: (path) => (opened.push(path.slice(folder.length + 1)), (options.on?.read ?? disk.read)(path)) };
  const memory = await openMemory(cache, { trust: options.trust ?? true });
  const found = await readPhotos(folder, { memory, disk: watched });
  await memory.save();
  return { ...found, opened: opened.toSorted() };
}

/** As if the memory had been written some time after the photos, which are made in the same moment here. */
async function later(): Promise<void> {
  const soon = new Date(Date.now() + 60_000);
  await utimes(join(cache, 'photos-read.json'), soon, soon);
}

const all = ['a.jpg', 'b.jpg', 'c.png'];

test('an unchanged job is read without opening a photo, and found the same', async () => {
  const first = await read();
  expect(first.opened).toEqual(all);
  expect(first.notices.map((notice) => notice.rule)).toEqual(['photo-misnamed']);
  await later();
  const second = await read();
  expect(second).toEqual({ ...first, opened: [] });
  expect((await readdir(cache)).toSorted()).toEqual(['photos-read.json']);
});

test('a photo written shortly before the memory is read again', async () => {
  await read();
  expect((await read()).opened).toEqual(all);
});

test('a photo changed in place is read again, also where size and time are put back', async () => {
  await read();
  await later();
  const path = join(folder, 'b.jpg');
  const { atime, mtime, size } = await stat(path);
  const bytes = await readFile(path);
  bytes[size - 10] = (bytes[size - 10] ?? 0) ^ 1;
  await writeFile(path, bytes);
  await utimes(path, atime, mtime);
  expect([(await stat(path)).size, (await stat(path)).mtimeMs]).toEqual([size, mtime.getTime()]);
  const { photos, opened } = await read();
  expect(opened).toEqual(['b.jpg']);
  expect(photos.find((photo) => photo.name === 'b.jpg')?.sha256).toBe(createHash('sha256').update(bytes).digest('hex'));
});

test('where a disk does not tell of a change, reading every byte does, as an issue does it', async () => {
  // A disk that keeps no time of its own, like some network shares.
  const blind: Partial<Disk> = { facts: async (path) => ({ ...(await disk.facts(path)), stamp: { key: path, changedMs: 0 } }) };
  await read({ on: blind });
  await later();
  const bytes = await readFile(join(folder, 'a.jpg'));
  await writeFile(join(folder, 'b.jpg'), bytes);
  const sealed = await read({ trust: false, on: blind });
  expect(sealed.opened).toEqual(all);
  expect(sealed.photos.map((photo) => photo.sha256)).toEqual(Array(3).fill(createHash('sha256').update(bytes).digest('hex')));
  await later();
  expect((await read({ on: blind })).photos.map((photo) => photo.sha256)).toEqual(sealed.photos.map((photo) => photo.sha256));
});

test('a photo that goes while it is read, or changes, is not remembered', async () => {
  let turn = 0;
  const restless: Partial<Disk> = { facts: async (path) => ({ ...(await disk.facts(path)), stamp: { key: String(turn++), changedMs: 0 } }) };
  expect((await read({ on: restless })).photos).toHaveLength(3);
  expect(await readdir(folder)).toEqual(all);
});

test.each(['', '{', '{"reader":"x","entries":{}}', '[]', 'null'])('a memory of %j is no memory', async (content) => {
  await mkdir(cache);
  await writeFile(join(cache, 'photos-read.json'), content);
  await later();
  const found = await read();
  expect([found.opened, found.photos.length]).toEqual([all, 3]);
});

test('what is gone is forgotten, what is new is added', async () => {
  await read();
  await later();
  await rm(join(folder, 'a.jpg'));
  await writeFile(join(folder, 'd.jpg'), await readFile(join(folder, 'b.jpg')));
  expect((await read()).opened).toEqual(['d.jpg']);
  const kept = JSON.parse(await readFile(join(cache, 'photos-read.json'), 'utf8')) as { entries: object };
  expect(Object.keys(kept.entries)).toEqual(['b.jpg', 'c.png', 'd.jpg']);
});

test('reading stops when told to', async () => {
  await expect(readPhotos(folder, { signal: AbortSignal.abort(new Error('stopped by hand')) })).rejects.toThrow('stopped by hand');
});
