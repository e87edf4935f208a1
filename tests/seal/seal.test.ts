import { execFileSync, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { hashList, hashText, sealFolder } from '../../src/seal/index.ts';
import { manifestName } from '../../src/model/job.ts';

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'sillbook-seal-'));
});
afterEach(() => rmSync(folder, { recursive: true }));

test('SHA-256 as NIST publishes it', () => {
  // FIPS 180-4 example "abc", NIST Cryptographic Standards and Guidelines, Examples with Intermediate Values, SHA-256.
  expect(hashText('abc')).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad');
});

test('the manifest lists every file but itself, and sha256sum accepts it', async () => {
  const names = ['index.html', 'photos/a b.jpg', 'zönen/#1 50%.html', 'x\\y\nz.txt'];
  for (const name of names) {
    mkdirSync(path.dirname(path.join(folder, name)), { recursive: true });
    writeFileSync(path.join(folder, name), name);
  }
  const sealed = await sealFolder(folder);
  expect(sealed.map((one) => one.path).toSorted()).toEqual(names.toSorted());
  // Reference reader: GNU coreutils.
  const printed = execFileSync('sha256sum', ['-c', '--strict', '--quiet', manifestName], { cwd: folder, encoding: 'utf8' });
  expect(printed).toBe('');
  writeFileSync(path.join(folder, 'index.html'), 'changed');
  const checked = spawnSync('sha256sum', ['-c', '--quiet', manifestName], { cwd: folder, encoding: 'utf8' });
  expect(checked).toMatchObject({ status: 1, stdout: 'index.html: FAILED\n' });
});

test('lines are sorted by path and a file without a hash is left out', () => {
  const one = createHash('sha256').update('1').digest('hex');
  expect(hashList([{ path: 'b', sha256: one }, { path: 'a', sha256: one }, { path: 'c', sha256: '' }])).toBe(`${one}  a\n${one}  b\n`);
});

test('sealing twice gives the same bytes', async () => {
  writeFileSync(path.join(folder, 'a'), 'a');
  await sealFolder(folder);
  const first = readFileSync(path.join(folder, manifestName));
  await sealFolder(folder);
  expect(readFileSync(path.join(folder, manifestName)).equals(first)).toBe(true);
});
