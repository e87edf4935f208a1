import { appendFileSync, cpSync, existsSync, readFileSync, renameSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import type { Dossier } from '../../src/model/dossier.ts';
import { scratch, sillbook, smallJob } from './command-line.ts';
import { hashesOf } from './two-states.ts';

const place = scratch();
const at = (...names: string[]): string => path.join(place.folder, ...names);
const env = { SOURCE_DATE_EPOCH: '1774000000' };
let job = '';

beforeAll(async () => {
  job = await smallJob(place.folder);
  expect(sillbook(['build', job, '--out', at('kept-dossier')], { env }).code).toBe(0);
  expect(sillbook(['issue', job, '--number', '2026-014', '--date', '2026-03-15'], { env }).code).toBe(0);
  expect(sillbook(['pack', job, '--editions', 'purchase', '--to', at('kept-bag')], { env }).code).toBe(0);
  expect(sillbook(['pack', job, '--editions', 'purchase', '--zip', '--to', at('bag.zip')], { env }).code).toBe(0);
});
beforeEach(() => {
  for (const name of ['bag', 'dossier']) {
    rmSync(at(name), { recursive: true, force: true });
    cpSync(at(`kept-${name}`), at(name), { recursive: true });
  }
});
afterAll(() => place.remove());

test('a bag, its ZIP, a dossier and an issue as they were made: exit 0, nothing written, and what it shows and what not', () => {
  const before = hashesOf(place.folder);
  for (const [target, what] of [[at('bag'), 'a bag (BagIt 1.0)'], [at('bag.zip'), 'a bag (BagIt 1.0)'], [at('dossier'), 'a dossier'], [path.join(job, 'issues', '2026-014'), 'a dossier']] as const) {
    const ran = sillbook(['verify', target]);
    expect(ran, target).toMatchObject({ code: 0, err: '' });
    expect(ran.out).toContain(`is ${what} of `);
    expect(ran.out).toContain('It does not show when or by whom');
    // Of a dossier the hash that stands on its cover, and that issue says to lodge.
    const cover = what === 'a dossier' ? (JSON.parse(readFileSync(path.join(target, 'dossier.json'), 'utf8')) as Dossier).originals.listSha256 : null;
    if (cover === null) expect(ran.out).toMatch(/Hash of manifest-sha256\.txt: [0-9a-f]{64}\n/);
    else expect(ran.out).toContain(`as it stands on the cover: ${cover}\n`);
  }
  expect(hashesOf(place.folder)).toEqual(before);
});

test.each([
  ['bag', 'data/originals/photos/IMG_0001.jpg'],
  ['dossier', 'dossier.pdf'],
])('what was altered, taken away or added in a %s is named, each on a line, with exit 1', (kind, name) => {
  const folder = at(kind);
  appendFileSync(path.join(folder, name), 'x');
  const gone = kind === 'bag' ? 'data/originals/findings.md' : 'index.html';
  rmSync(path.join(folder, gone));
  const added = kind === 'bag' ? 'data/more.txt' : 'more.txt';
  writeFileSync(path.join(folder, added), 'more');
  const ran = sillbook(['verify', folder]);
  expect(ran.code).toBe(1);
  const lines = ran.out.trim().split('\n').map((line) => line.split(':')[0]);
  expect(lines).toEqual(expect.arrayContaining([`changed ${name}`, `missing ${gone}`, `added ${added}`]));
  expect(ran.err).toMatch(/is not as its lists say: \d differences/);
  const { differences, files } = JSON.parse(sillbook(['verify', folder, '--json']).out) as { differences: { kind: string; name: string }[]; files: number };
  expect(differences.map((one) => `${one.kind} ${one.name}`)).toEqual(expect.arrayContaining([`changed ${name}`, `missing ${gone}`, `added ${added}`]));
  expect(files).toBe(Object.keys(hashesOf(folder)).length);
});

test('a file renamed is one missing and one added; a list altered is named itself', () => {
  renameSync(at('bag', 'data', 'README.txt'), at('bag', 'data', 'read me.txt'));
  expect(sillbook(['verify', at('bag')]).out.split('\n').map((line) => line.split(':')[0])).toEqual(expect.arrayContaining(['missing data/README.txt', 'added data/read me.txt']));
  const list = at('dossier', 'manifest-sha256.txt');
  writeFileSync(list, readFileSync(list, 'utf8').replace(/^[0-9a-f]{64}/, '0'.repeat(64)));
  expect(sillbook(['verify', at('dossier')])).toMatchObject({ code: 1, out: expect.stringMatching(/^changed \S+: not the bytes that were listed\n$/) });
});

test('a link put in the place of a file is not followed', () => {
  const file = at('bag', 'data', 'originals', 'findings.md');
  writeFileSync(at('elsewhere.md'), readFileSync(file));
  rmSync(file);
  symlinkSync(at('elsewhere.md'), file);
  const ran = sillbook(['verify', at('bag')]);
  expect(ran.code).toBe(1);
  expect(ran.out).toContain('wrong data/originals/findings.md: link, not followed');
});

test.each([
  [[], /needs a bag, a ZIP or a dossier/],
  [['a', 'b'], /takes one thing to check/],
  [['nowhere'], /There is no nowhere/],
  [['src'], /neither a bag nor a dossier/],
  [['package.json'], /package\.json is no ZIP/],
  [['a', '--bogus'], /Unknown option/],
])('wrong use of verify: %j', (args, says) => {
  const ran = sillbook(['verify', ...args]);
  expect(ran).toMatchObject({ code: 2, out: '' });
  expect(ran.err).toMatch(says);
  expect(ran.err).not.toMatch(/\n\s+at /);
});

test('--help of verify says what its exit codes mean', () => {
  const help = sillbook(['verify', '--help']);
  expect(help).toMatchObject({ code: 0, err: '' });
  for (const part of ['RFC 8493', 'Exit codes: 0 all as listed, 1 something differs, 2 wrong use', 'Examples']) expect(help.out).toContain(part);
  expect(existsSync('--help')).toBe(false);
});
