import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, readdirSync, statSync, symlinkSync, utimesSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import exifr from 'exifr';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { dossierSchema } from '../../src/model/dossier.ts';
import type { Dossier } from '../../src/model/dossier.ts';
import { copySample, findings, scratch, sillbook, smallJob, start } from './command-line.ts';

let place = scratch();
beforeEach(() => {
  place.remove();
  place = scratch();
});
afterEach(() => place.remove());

/** Path → hash of every file below a folder. */
function hashes(folder: string): Record<string, string> {
  const files = readdirSync(folder, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile());
  const all = files.map((entry) => path.join(entry.parentPath, entry.name)).toSorted();
  return Object.fromEntries(all.map((file) => [path.relative(folder, file), createHash('sha256').update(readFileSync(file)).digest('hex')]));
}

function dossierIn(folder: string): Dossier {
  return JSON.parse(readFileSync(path.join(folder, 'dossier.json'), 'utf8')) as Dossier;
}

test('--lang puts terms and lengths in another English for one build, and a language there is none of is wrong use', async () => {
  const job = await smallJob(place.folder);
  expect(sillbook(['build', job, '--lang', 'en-us']).code).toBe(0);
  const american = dossierIn(path.join(job, 'out'));
  expect(american.language).toBe('en-US');
  expect(american.sections.map((section) => section.title)).toContain('Rocker, left');
  expect(sillbook(['check', job, '--lang', 'en-US']).out).not.toContain('Sill,');
  expect(sillbook(['build', job]).code).toBe(0);
  expect(dossierIn(path.join(job, 'out')).sections.map((section) => section.title)).toContain('Sill, left');
  expect(sillbook(['build', job, '--lang', 'fr'])).toMatchObject({ code: 2, err: expect.stringContaining('There is no language "fr"') });
});

test('a build delivers site, PDF, data and lists of hashes, and changes nothing in the job', async () => {
  const job = await smallJob(place.folder);
  const before = hashes(job);
  const ran = sillbook(['build', job]);
  expect(ran).toMatchObject({ code: 0 });
  const out = path.join(job, 'out');
  expect(ran.out).toContain(path.join(out, 'index.html'));
  for (const name of ['index.html', 'dossier.pdf', 'dossier.json', 'dossier.schema.json', 'manifest-sha256.txt', 'originals-sha256.txt']) expect(existsSync(path.join(out, name)), name).toBe(true);
  const after = hashes(job);
  for (const [file, hash] of Object.entries(before)) expect(after[file]).toBe(hash);
  expect(Object.keys(after).filter((file) => !(file in before) && !/^(out|\.sillbook)\//.test(file))).toEqual([]);
  expect(readdirSync(job).toSorted()).toEqual(['.sillbook', 'findings.md', 'out', 'photos']);
  // Reference reader: GNU coreutils.
  for (const [list, cwd] of [['manifest-sha256.txt', out], [path.join('out', 'originals-sha256.txt'), job]] as const) {
    expect(spawnSync('sha256sum', ['-c', '--strict', '--quiet', list], { cwd, encoding: 'utf8' })).toMatchObject({ status: 0, stdout: '' });
  }
  const listed = readFileSync(path.join(out, 'manifest-sha256.txt'), 'utf8').split('\n').length - 1;
  expect(listed).toBe(Object.keys(hashes(out)).length - 1);
  const originals = readFileSync(path.join(out, 'originals-sha256.txt'));
  expect(dossierIn(out).originals).toEqual({ listSha256: createHash('sha256').update(originals).digest('hex'), count: 4 });
  expect(dossierIn(out).status).toEqual({ kind: 'draft' });
});

test('dossier.json obeys its published schema, read by another program', async () => {
  const job = await smallJob(place.folder);
  sillbook(['build', job]);
  const out = path.join(job, 'out');
  const schema = JSON.parse(readFileSync(path.join(out, 'dossier.schema.json'), 'utf8')) as object;
  // Independent validator: Ajv, JSON Schema draft 2020-12.
  const validate = new Ajv2020({ strict: false }).compile(schema);
  expect(validate(dossierIn(out)), JSON.stringify(validate.errors?.slice(0, 3))).toBe(true);
  expect(dossierSchema.safeParse(dossierIn(out)).success).toBe(true);
  expect(validate({ ...dossierIn(out), title: 7 })).toBe(false);
});

test('two builds give the same bytes, in another zone, language and place too', async () => {
  const job = await smallJob(place.folder);
  const [a, b] = [path.join(place.folder, 'a'), path.join(place.folder, 'somewhere', 'else')];
  expect(sillbook(['build', job, '--out', a], { env: { TZ: 'UTC', LANG: 'C' } }).code).toBe(0);
  for (const name of ['IMG_0001.jpg', 'IMG_0002.jpg']) utimesSync(path.join(job, 'photos', name), 1, 1);
  expect(sillbook(['build', job, '--out', b], { env: { TZ: 'Pacific/Chatham', LANG: 'tr_TR.UTF-8', LC_ALL: 'tr_TR.UTF-8' } }).code).toBe(0);
  expect(hashes(b)).toEqual(hashes(a));
});

test('every edition builds and they differ', async () => {
  const job = await smallJob(place.folder);
  const titles = ['purchase', 'progress', 'evidence', 'history'].map((edition) => {
    const out = path.join(place.folder, edition);
    const ran = sillbook(['build', job, '--edition', edition, '--out', out]);
    expect(ran.code, ran.err).toBe(0);
    return dossierIn(out).sections.map((section) => section.title).join('|');
  });
  expect(new Set(titles).size).toBe(4);
});

test('an error in the job leaves the last dossier as it was', async () => {
  const job = await smallJob(place.folder);
  sillbook(['build', job]);
  const before = hashes(path.join(job, 'out'));
  writeFileSync(path.join(job, 'findings.md'), `${findings}![plug, inner face 3: sound](IMG_0003.jpg)\n- hide 70 80 90 90: plate\n`);
  const ran = sillbook(['build', job]);
  expect(ran.code).toBe(1);
  expect(ran.out).toBe('');
  expect(ran.err).toMatch(/mark-unclear/);
  expect(ran.err).toMatch(/last dossier is as it was/);
  expect(hashes(path.join(job, 'out'))).toEqual(before);
  expect(readdirSync(job).filter((name) => name.includes('sillbook-'))).toEqual([]);
});

test.each([150, 500, 1000, 1600])('a build killed after %i ms leaves the last dossier whole, and the next one cleans up', async (ms) => {
  const job = copySample(place.folder);
  mkdirSync(path.join(job, 'out'));
  for (const name of ['dossier.json', 'index.html']) writeFileSync(path.join(job, 'out', name), 'the last one');
  writeFileSync(path.join(job, 'out', 'manifest-sha256.txt'), ['dossier.json', 'index.html'].map((name) => `${'0'.repeat(64)}  ${name}\n`).join(''));
  const before = hashes(path.join(job, 'out'));
  const child = start(['build', job]);
  await new Promise((resolve) => setTimeout(resolve, ms));
  child.kill('SIGKILL');
  await new Promise((resolve) => child.once('exit', resolve));
  const after = hashes(path.join(job, 'out'));
  if (after['dossier.json'] === before['dossier.json']) expect(after).toEqual(before);
  else expect(existsSync(path.join(job, 'out', 'manifest-sha256.txt'))).toBe(true);
  writeFileSync(path.join(job, 'findings.md'), findings.replaceAll('IMG_000', 'IMG_402'));
  expect(sillbook(['build', job]).code).toBe(0);
  expect(readdirSync(job).filter((name) => name.includes('sillbook-'))).toEqual([]);
});

test('interrupted is exit 130, without litter', async () => {
  const job = copySample(place.folder);
  const child = start(['build', job]);
  const gone = new Promise((resolve) => child.once('exit', resolve));
  // Its first photo is done, the others are still to be made.
  while (!existsSync(path.join(job, '.sillbook')) || !readdirSync(path.join(job, '.sillbook')).some((name) => /-\d+\.json$/.test(name))) await new Promise((resolve) => setTimeout(resolve, 5));
  child.kill('SIGINT');
  expect(await gone).toBe(130);
  expect(existsSync(path.join(job, 'out'))).toBe(false);
  expect(readdirSync(job).filter((name) => name.includes('sillbook-'))).toEqual([]);
  // The next run takes the photos that are done, which their entries vouch for, and makes only the others.
  const cached = (ending: string): string[] => readdirSync(path.join(job, '.sillbook')).filter((name) => name.endsWith(ending));
  const times = (): Map<string, number> => new Map(cached('.jpg').map((name) => [name, statSync(path.join(job, '.sillbook', name)).mtimeMs]));
  const [before, entries] = [times(), cached('.json').filter((name) => /-\d+\.json$/.test(name))];
  const done = [...before].filter(([name]) => entries.some((entry) => entry.startsWith(name.slice(0, 16))));
  expect(sillbook(['build', job]).code).toBe(0);
  const after = times();
  expect(after.size).toBeGreaterThan(done.length);
  expect(done.filter(([name, time]) => after.get(name) !== time)).toEqual([]);
});

test('an issue carries number and date, lists what changed since the last, and is never written again', async () => {
  const job = await smallJob(place.folder);
  expect(sillbook(['issue', job, '--number', '2026-014', '--date', '2026-03-15']).code).toBe(0);
  const first = path.join(job, 'issues', '2026-014');
  const before = hashes(first);
  expect(dossierIn(first).status).toEqual({ kind: 'issue', number: '2026-014', date: '2026-03-15' });
  expect(statSync(path.join(first, 'index.html')).mode & 0o222).toBe(0);
  const pages = readdirSync(first, { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.html'));
  expect(pages.filter((name) => !/2026-014.*15 March 2026/s.test(readFileSync(path.join(first, name), 'utf8')))).toEqual([]);
  expect(sillbook(['issue', job, '--number', '2026-014', '--date', '2026-03-16'])).toMatchObject({ code: 2 });
  writeFileSync(path.join(job, 'findings.md'), findings.replace('inner face 2: sound', 'inner face 2: cracked').replace('# Visit\n', '# Visit\n- by: Jane Doe\n'));
  const second = sillbook(['issue', job, '--number', '2026-015', '--date', '2026-03-20']);
  expect(second.code, second.err).toBe(0);
  const text = JSON.stringify(dossierIn(path.join(job, 'issues', '2026-015')).sections);
  expect(text).toContain('Sill, left: now “plug, inner face 2: cracked. pressed. IMG_0002”, before “plug, inner face 2: sound. pressed. IMG_0002”.');
  expect(text).toContain('Visit: new: “by: Jane Doe”.');
  expect(text).not.toContain('taken out');
  expect(sillbook(['issue', job, '--number', '2026-016', '--date', '2026-03-19']).err).toMatch(/before issue 2026-015 of 2026-03-20/);
  expect(text).toContain('2026-014');
  expect(hashes(first)).toEqual(before);
  expect(JSON.stringify(dossierIn(first).sections)).not.toContain('2026-015');
});

test('findings that stand in no zone are printed in a draft and refused in an issue', async () => {
  const job = await smallJob(place.folder);
  writeFileSync(path.join(job, 'findings.md'), `${findings}# Floor\n- metal, footwell: holed\n`);
  expect(sillbook(['build', job]).code).toBe(0);
  expect(JSON.stringify(dossierIn(path.join(job, 'out')).sections)).toContain('footwell');
  const issue = sillbook(['issue', job, '--number', '1', '--date', '2026-03-15']);
  expect(issue.code).toBe(1);
  expect(issue.err).toMatch(/findings\.md:11:1 error finding-not-placed/);
  expect(existsSync(path.join(job, 'issues', '1'))).toBe(false);
});

test('a draft never takes the place of an issue, nor of a file that is not of the dossier', async () => {
  const job = await smallJob(place.folder);
  expect(sillbook(['issue', job, '--number', '7', '--date', '2026-03-15']).code).toBe(0);
  const issue = path.join(job, 'issues', '7');
  for (const out of [issue, path.join(job, 'issues'), path.join(job, 'issues', '8')]) expect(sillbook(['build', job, '--out', out]).code, out).toBe(2);
  expect(dossierIn(issue).status.kind).toBe('issue');
  expect(sillbook(['build', job]).code).toBe(0);
  writeFileSync(path.join(job, 'out', '.DS_Store'), '');
  expect(sillbook(['build', job]).code).toBe(0);
  writeFileSync(path.join(job, 'out', 'letter.txt'), 'mine');
  const ran = sillbook(['build', job]);
  expect(ran).toMatchObject({ code: 2 });
  expect(ran.err).toContain('letter.txt');
  expect(readFileSync(path.join(job, 'out', 'letter.txt'), 'utf8')).toBe('mine');
});

test('names of every kind, links out of the job, broken files: listed, hashed, never followed', async () => {
  const job = await smallJob(place.folder);
  const photo = readFileSync(path.join(job, 'photos', 'IMG_0001.jpg'));
  const odd = ["it's 100% #1.jpg", 'Schräge Töne.jpg', 'кузов.jpg', 'صورة.jpg', '🔧.jpg', 'a"b.jpg'];
  for (const [index, name] of odd.entries()) writeFileSync(path.join(job, 'photos', name), Buffer.concat([photo, Buffer.from([index])]));
  writeFileSync(path.join(job, 'photos', 'empty.jpg'), '');
  writeFileSync(path.join(job, 'photos', 'words.jpg'), '<svg xmlns="http://www.w3.org/2000/svg"/>');
  writeFileSync(path.join(job, 'photos', 'cut.jpg'), photo.subarray(0, 300));
  writeFileSync(path.join(place.folder, 'secret.jpg'), photo);
  symlinkSync(path.join(place.folder, 'secret.jpg'), path.join(job, 'photos', 'link.jpg'));
  writeFileSync(path.join(job, 'findings.md'), `${findings}![plug, inner face 3: cracked](<photos/it's 100% #1.jpg>)\n![plug, inner face 4: cracked](../secret.jpg)\n`);
  const ran = sillbook(['build', job, '--all']);
  expect(ran.code, ran.err).toBe(0);
  for (const rule of ['photo-empty', 'photo-not-a-picture', 'link-outside', 'photo-outside']) expect(ran.err, rule).toContain(rule);
  expect(ran.err).toMatch(/photo-(undecodable|damaged)/);
  const { photos } = dossierIn(path.join(job, 'out'));
  for (const name of [...odd, 'empty.jpg', 'words.jpg', 'cut.jpg']) {
    const entry = photos.find((one) => one.file === `photos/${name}`);
    expect(entry?.sha256, name).toBe(createHash('sha256').update(readFileSync(path.join(job, 'photos', name))).digest('hex'));
    if (odd.includes(name)) expect(entry?.renditions.length, name).toBeGreaterThan(0);
  }
  expect(photos.map((one) => one.file).filter((file) => /link|secret/.test(file))).toEqual([]);
  expect(spawnSync('sha256sum', ['-c', '--strict', '--quiet', path.join('out', 'originals-sha256.txt')], { cwd: job })).toMatchObject({ status: 0 });
});

test('no photo, no findings: still an honest dossier', () => {
  const job = path.join(place.folder, 'bare');
  mkdirSync(job);
  writeFileSync(path.join(job, 'findings.md'), '');
  const ran = sillbook(['build', job]);
  expect(ran.code, ran.err).toBe(0);
  const dossier = dossierIn(path.join(job, 'out'));
  expect(dossier.coverage.seen).toBe(0);
  expect(dossier.register.every((row) => row.outcome === 'not seen')).toBe(true);
});

test('nothing published carries position, owner or serial number', async () => {
  const job = copySample(place.folder);
  expect(sillbook(['build', job]).code).toBe(0);
  const out = path.join(job, 'out');
  for (const name of readdirSync(path.join(out, 'photos'))) expect(await exifr.parse(path.join(out, 'photos', name), true), name).toBeUndefined();
  for (const file of Object.keys(hashes(out)).filter((name) => !name.startsWith('photos/'))) {
    const text = readFileSync(path.join(out, file), 'latin1');
    for (const secret of ['EX-000117', 'Demo Owner', 'GPSLatitude']) expect(text.includes(secret), `${secret} in ${file}`).toBe(false);
  }
});

test('the cache is only a help: spoiled, it is made anew', async () => {
  const job = await smallJob(place.folder);
  expect(sillbook(['build', job]).code).toBe(0);
  const first = hashes(path.join(job, 'out'));
  for (const name of readdirSync(path.join(job, '.sillbook'))) writeFileSync(path.join(job, '.sillbook', name), 'spoiled');
  expect(sillbook(['build', job]).code).toBe(0);
  expect(hashes(path.join(job, 'out'))).toEqual(first);
});
