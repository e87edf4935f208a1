import { execFileSync, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, lstatSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { scratch, sillbook, smallJob, start } from './command-line.ts';

let place = scratch();
let job = '';
beforeEach(async () => {
  place.remove();
  place = scratch();
  job = await smallJob(place.folder);
  const ran = sillbook(['build', job]);
  expect(ran.code, ran.err).toBe(0);
});
afterEach(() => place.remove());

const inodes = (folder: string): Map<string, number> => new Map(readdirSync(path.join(folder, 'photos')).map((name) => [name, lstatSync(path.join(folder, 'photos', name)).ino]));

function hashes(folder: string): Record<string, string> {
  const files = readdirSync(folder, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile());
  const all = files.map((entry) => path.join(entry.parentPath, entry.name)).toSorted();
  return Object.fromEntries(all.map((file) => [path.relative(folder, file), createHash('sha256').update(readFileSync(file)).digest('hex')]));
}

/** Reference reader: GNU coreutils. Both lists, and nothing in the folder that is on neither. */
function verifies(folder: string): void {
  for (const [list, cwd] of [['manifest-sha256.txt', folder], [path.join(folder, 'originals-sha256.txt'), job]] as const) {
    expect(spawnSync('sha256sum', ['-c', '--strict', '--quiet', list], { cwd, encoding: 'utf8' })).toMatchObject({ status: 0, stdout: '', stderr: '' });
  }
  expect(readFileSync(path.join(folder, 'manifest-sha256.txt'), 'utf8').trim().split('\n')).toHaveLength(Object.keys(hashes(folder)).length - 1);
}

/** Writes other bytes of the same length into a file and puts the time of its content back. */
function alter(file: string): void {
  const [reference, bytes] = [path.join(place.folder, 'time'), readFileSync(file)];
  execFileSync('touch', ['-r', file, reference]);
  writeFileSync(file, bytes.map((byte) => byte ^ 255));
  execFileSync('touch', ['-r', reference, file]);
}

test('a build with nothing changed shares its pictures with the last dossier; one altered there is replaced', () => {
  const out = path.join(job, 'out');
  const [before, bytes] = [inodes(out), hashes(out)];
  expect(before.size).toBe(6);
  expect(sillbook(['build', job]).code).toBe(0);
  expect(inodes(out)).toEqual(before);
  expect(hashes(out)).toEqual(bytes);
  verifies(out);
  const [name = ''] = before.keys();
  alter(path.join(out, 'photos', name));
  expect(spawnSync('sha256sum', ['-c', '--quiet', 'manifest-sha256.txt'], { cwd: out }).status).toBe(1);
  expect(sillbook(['build', job]).code).toBe(0);
  expect([...inodes(out)].filter(([each, inode]) => before.get(each) !== inode)).toMatchObject([[name, expect.any(Number)]]);
  expect(hashes(out)).toEqual(bytes);
  verifies(out);
});

test('killed while it shares pictures, it leaves the last dossier whole; the next build is true again', async () => {
  const out = path.join(job, 'out');
  const bytes = hashes(out);
  const child = start(['build', job]);
  const begun = (): string | undefined => readdirSync(job).find((name) => name.startsWith('.out.sillbook-new-') && existsSync(path.join(job, name, 'photos')));
  while (begun() === undefined) await new Promise((resolve) => setTimeout(resolve, 2));
  const gone = new Promise((resolve) => child.once('exit', (_, signal) => resolve(signal)));
  child.kill('SIGKILL');
  expect(await gone).toBe('SIGKILL');
  expect(hashes(out)).toEqual(bytes);
  verifies(out);
  expect(sillbook(['build', job]).code).toBe(0);
  expect(readdirSync(job).filter((name) => name.includes('sillbook-'))).toEqual([]);
  expect(hashes(out)).toEqual(bytes);
  verifies(out);
});

test('--rehash and issue take no hash and no picture from the memory', () => {
  const [out, memory] = [path.join(job, 'out'), path.join(job, '.sillbook', 'pictures-delivered.json')];
  const before = inodes(out);
  const spoilt = readFileSync(memory, 'utf8').replace(/"sha256":"[0-9a-f]{64}"/g, `"sha256":"${'0'.repeat(64)}"`);
  writeFileSync(memory, spoilt);
  const issued = sillbook(['issue', job, '--number', '1', '--date', '2026-03-15']);
  expect(issued.code, issued.err).toBe(0);
  verifies(path.join(job, 'issues', '1'));
  expect(readFileSync(memory, 'utf8')).toBe(spoilt);
  expect(sillbook(['build', job, '--rehash']).code).toBe(0);
  verifies(out);
  const after = [...inodes(out), ...inodes(path.join(job, 'issues', '1'))];
  expect(after).toHaveLength(12);
  expect(after.filter(([name, inode]) => before.get(name) === inode)).toEqual([]);
});
