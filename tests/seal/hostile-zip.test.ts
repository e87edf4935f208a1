import { createHash } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { deflateRawSync } from 'node:zlib';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { verify } from '../../src/seal/verify.ts';
import type { Verdict } from '../../src/seal/verdict.ts';
import { zipStore } from '../../src/seal/zip-store.ts';
import { scratch, sillbook } from '../commands/command-line.ts';
import { oddJob, packSmall } from './small-bag.ts';
import { zipOf } from './zip-parts.ts';
import type { Part } from './zip-parts.ts';

let place = scratch();
beforeEach(() => {
  place.remove();
  place = scratch();
});
afterEach(() => place.remove());

const hello = createHash('sha256').update('hello').digest('hex');
/** A whole bag of one file; what is hostile is put beside it or spoils it. */
const bag = (more: readonly Part[] = [], file: Partial<Part> = {}): Part[] => [
  { name: 'bag/bagit.txt', content: 'BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n' },
  { name: 'bag/data/a.txt', content: 'hello', ...file },
  { name: 'bag/manifest-sha256.txt', content: `${hello}  data/a.txt\n` },
  ...more,
];

async function verdictOf(bytes: Uint8Array): Promise<Verdict> {
  const zip = path.join(place.folder, 'x.zip');
  writeFileSync(zip, bytes);
  const store = await zipStore(zip);
  try {
    return await verify(store);
  } finally {
    await store.close();
  }
}

const differences = async (parts: readonly Part[]): Promise<string[]> => (await verdictOf(zipOf(parts))).differences.map(({ name, what }) => `${name}: ${what}`);

test('the bag these are made of holds', async () => {
  expect(await differences(bag())).toEqual([]);
});

test.each(['../out.txt', 'bag/data/../../out.txt', '/etc/passwd', 'C:/out.txt', 'bag\\..\\..\\out.txt', 'bag/data/nul\0.txt'])('a name that leads out is named and not opened: %j', async (name) => {
  const found = await differences(bag([{ name, content: 'x' }]));
  expect(found).toContainEqual(expect.stringContaining('its name leads out of the ZIP; it was not opened'));
});

test('a name that is there twice is named, whichever of the two a program would take', async () => {
  for (const content of ['hello', 'other']) expect(await differences(bag([{ name: 'bag/data/a.txt', content }]))).toContain('data/a.txt: twice in the ZIP');
});

test('two entries over the same bytes, also where padding hides it from the sum', async () => {
  // The last one's directory entry points into the first file: so one kilobyte of bytes can be read as many files.
  const inner = zipOf([{ name: 'bag/data/b.txt', content: 'hidden' }]).subarray(0, 30 + 14 + 6);
  for (const padding of ['', 'x'.repeat(5000)]) {
    const parts = bag([{ name: 'bag/data/b.txt', content: 'hidden', central: (header) => header.writeUInt32LE(30 + 'bag/aa'.length, 42) }, { name: 'bag/padding', content: padding }]);
    const found = await differences([{ name: 'bag/aa', content: inner }, ...parts]);
    expect(found).toContain('.: entries share bytes, as no ZIP made in good faith does');
  }
});

test('an entry that reaches past the end', async () => {
  const bytes = zipOf([{ name: 'bag/data/a.txt', content: 'hello', local: (header) => (header.writeUInt32LE(50_000, 18), header.writeUInt32LE(50_000, 22)), central: (header) => (header.writeUInt32LE(50_000, 20), header.writeUInt32LE(50_000, 24)) }]);
  expect((await verdictOf(bytes)).differences.map(({ what }) => what)).toContain('entries share bytes, as no ZIP made in good faith does');
});

test('a bomb: what claims more than deflate can make is not opened, and what deflates to more than it claims is read no further', async () => {
  const packed = deflateRawSync(Buffer.alloc(20_000_000));
  const claims = (bytes: number): Partial<Part> => ({
    content: packed,
    local: (header) => (header.writeUInt16LE(8, 8), header.writeUInt32LE(bytes, 22)),
    central: (header) => (header.writeUInt16LE(8, 10), header.writeUInt32LE(bytes, 24)),
  });
  expect(await differences(bag([], claims(4_000_000_000)))).toContain('data/a.txt: claims a size that its bytes cannot have; it was not opened');
  expect(await differences(bag([], claims(5)))).toContainEqual(expect.stringMatching(/^data\/a\.txt: cannot be read \(too many bytes/));
  expect(await differences(bag([], claims(20_000_000)))).toEqual(['data/a.txt: not the bytes that manifest-sha256.txt lists']);
});

// Offsets of APPNOTE 4.3.7: 6 flags, 8 method, 10 time, 12 date, 14 CRC, 18 and 22 sizes, 26 length of the name, 30 name.
test.each([[6], [8], [10], [12], [14], [18], [22], [26], [30]])('two headers that say different things: byte %i of the one before the file', async (offset) => {
  const found = await differences(bag([], { local: (header) => void header.writeUInt8(header.readUInt8(offset) ^ 2, offset) }));
  expect(found).toContain('data/a.txt: its two headers in the ZIP say different things');
});

test('encrypted, packed in an unknown way, a link: named and not opened', async () => {
  const both = (local: number, central: number, value: number): Partial<Part> => ({ local: (header) => void header.writeUInt16LE(value, local), central: (header) => void header.writeUInt16LE(value, central) });
  expect(await differences(bag([], { content: 'hello and more than that', ...both(8, 10, 14) }))).toContain('data/a.txt: packed in a way that is not known; it cannot be checked');
  expect(await differences(bag([], { central: (header) => header.writeUInt32LE((0o120777 << 16) >>> 0, 38) }))).toContain('data/a.txt: link, not followed');
  // Twelve bytes of key come before the five of the file (APPNOTE 6.1.3).
  const encrypted = bag([], { content: 'x'.repeat(17), local: (header) => (header.writeUInt16LE((1 << 11) | 1, 6), header.writeUInt32LE(5, 22)), central: (header) => (header.writeUInt16LE((1 << 11) | 1, 8), header.writeUInt32LE(5, 24)) });
  expect(await differences(encrypted)).toContain('data/a.txt: encrypted; it cannot be checked');
});

test('more entries than the old format can count', { timeout: 180_000 }, async () => {
  const none = createHash('sha256').update('').digest('hex');
  const names = Array.from({ length: 65_536 }, (_, index) => `data/${index}`);
  const list = names.map((name) => `${none}  ${name}\n`).join('');
  const parts = [{ name: 'bag/bagit.txt', content: 'BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n' }, { name: 'bag/manifest-sha256.txt', content: list }, ...names.map((name) => ({ name: `bag/${name}` }))];
  const verdict = await verdictOf(zipOf(parts));
  expect(verdict).toMatchObject({ differences: [], files: 65_538 });
  const spoilt = await differences(parts.map((part, index) => (index === 40_000 ? { ...part, content: 'x' } : part)));
  expect(spoilt).toEqual(['data/39998: not the bytes that manifest-sha256.txt lists']);
});

test('a ZIP cut off at any length is exit 1 and said to be damaged; what never was one is wrong use', { timeout: 180_000 }, async () => {
  const zip = path.join(place.folder, 'bag.zip');
  await packSmall(oddJob(place.folder), zip);
  const whole = readFileSync(zip);
  for (let length = 0; length < whole.length; length += 97) {
    writeFileSync(zip, whole.subarray(0, length));
    await expect(zipStore(zip), String(length)).rejects.toThrow();
  }
  for (const length of [0, 3, 1000, whole.length - 1]) {
    writeFileSync(zip, whole.subarray(0, length));
    const ran = sillbook(['verify', zip]);
    expect(ran, String(length)).toMatchObject({ code: 1, out: expect.stringMatching(/^wrong \.: cannot be read as a ZIP, so it is damaged or cut off/) });
    expect(ran.err).not.toMatch(/\n\s+at /);
  }
  writeFileSync(path.join(place.folder, 'letter.txt'), 'Dear Sir');
  expect(sillbook(['verify', path.join(place.folder, 'letter.txt')])).toMatchObject({ code: 2, err: expect.stringContaining('is no ZIP') });
});

test('bytes hidden between files, before them or behind the end are named in a ZIP of ours', async () => {
  const zip = path.join(place.folder, 'bag.zip');
  await packSmall(oddJob(place.folder), zip);
  const whole = readFileSync(zip);
  const behind = await verdictOf(whole).then(({ differences: none }) => none);
  expect(behind).toEqual([]);
  // A comment is the one place where a ZIP may say something after its end (APPNOTE 4.3.16).
  const comment = Buffer.concat([whole, Buffer.from('hidden')]);
  comment.writeUInt16LE(6, whole.length - 2);
  expect((await verdictOf(comment)).differences).toEqual([{ kind: 'changed', name: '.', what: 'the end of the ZIP is not as this program wrote it' }]);
});
