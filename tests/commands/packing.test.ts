import { execFileSync, spawnSync } from 'node:child_process';
import { chmodSync, existsSync, mkdirSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { findings, scratch, sillbook, smallJob } from './command-line.ts';
import { cannot, faultsOf, hashesOf } from './two-states.ts';

// One car with two visits, an issue of the first, and files that are no photos; packed once as a folder and once as a ZIP.
const place = scratch();
const at = (...names: string[]): string => path.join(place.folder, ...names);
const [bag, zip] = [at('bag'), at('car.zip')];
const env = { SOURCE_DATE_EPOCH: '1774000000' };
let car = '';
let said = { folder: '', zip: '' };

beforeAll(async () => {
  const first = await smallJob(at('made'));
  car = at('car äö');
  const visit = (name: string, text: string): void => {
    mkdirSync(path.join(car, name, 'photos'), { recursive: true });
    for (const photo of ['IMG_0001.jpg', 'IMG_0002.jpg']) writeFileSync(path.join(car, name, 'photos', photo), Buffer.concat([readFileSync(path.join(first, 'photos', photo)), Buffer.from(name)]));
    writeFileSync(path.join(car, name, 'findings.md'), text);
  };
  visit('2026-03-14', findings);
  expect(sillbook(['issue', path.join(car, '2026-03-14'), '--number', '2026-014', '--date', '2026-03-15'], { env }).code).toBe(0);
  visit('2026-05-09', findings.replace('2026-03-14', '2026-05-09').replace('inner face 1: missing. rust run', 'inner face 1: in place'));
  writeFileSync(path.join(car, 'invoice 100%.txt'), 'paid');
  const before = hashesOf(car, ['.sillbook']);
  said = { folder: packed(['--to', bag]), zip: packed(['--editions', 'history', '--zip', '--to', zip]) };
  expect(hashesOf(car, ['.sillbook'])).toEqual(before);
});
afterAll(() => {
  spawnSync('chmod', ['-R', 'u+rwX', place.folder]);
  place.remove();
});

function packed(more: string[]): string {
  const ran = sillbook(['pack', car, ...more], { env });
  expect(ran.code, ran.err).toBe(0);
  return ran.out;
}

test('a bag holds both visits and the issue byte for byte, and a dossier for each reader', async () => {
  const originals = hashesOf(path.join(bag, 'data', 'originals'));
  const issue = path.join('2026-03-14', 'issues');
  const job = Object.entries(hashesOf(car, ['.sillbook'])).filter(([name]) => !name.includes('.sillbook'));
  expect(Object.entries(originals)).toEqual(job.filter(([name]) => !name.startsWith(issue)));
  expect(Object.keys(originals)).toContain(path.join('2026-05-09', 'photos', 'IMG_0002.jpg'));
  expect(hashesOf(path.join(bag, 'data', 'issues', '2026-03-14', '2026-014'))).toEqual(hashesOf(path.join(car, issue, '2026-014')));
  expect(readdirSync(path.join(bag, 'data', 'dossiers')).toSorted()).toEqual(['evidence', 'history', 'progress', 'purchase']);
  for (const edition of readdirSync(path.join(bag, 'data', 'dossiers'))) {
    for (const name of ['index.html', 'dossier.pdf', 'dossier.json', 'dossier.schema.json', 'originals-sha256.txt']) expect(existsSync(path.join(bag, 'data', 'dossiers', edition, name)), `${edition}/${name}`).toBe(true);
    expect(await faultsOf(path.join(bag, 'data', 'dossiers', edition))).toEqual([]);
  }
  // One for the insurer plans no work, so it has no tables of it.
  for (const edition of ['purchase', 'progress', 'history']) for (const name of ['work.csv', 'parts.csv']) expect(existsSync(path.join(bag, 'data', 'dossiers', edition, name)), `${edition}/${name}`).toBe(true);
});

test('coreutils check the bag without this program, all but the names RFC 8493 encodes', () => {
  for (const [tool, list] of [['sha256sum', 'manifest-sha256.txt'], ['sha512sum', 'manifest-sha512.txt'], ['sha256sum', 'tagmanifest-sha256.txt'], ['sha512sum', 'tagmanifest-sha512.txt']] as const) {
    const { stdout } = spawnSync(tool, ['-c', '--quiet', list], { cwd: bag, encoding: 'utf8' });
    expect(stdout, list).toBe(list.startsWith('manifest') ? 'data/originals/invoice 100%25.txt: FAILED open or read\n' : '');
  }
  expect(readFileSync(path.join(bag, 'data', 'README.txt'), 'utf8')).toContain('data/originals/invoice 100%25.txt');
});

test('the lists of originals in it lead to the originals in it', () => {
  const { status, stderr } = spawnSync('sha256sum', ['-c', '--strict', '--quiet', path.join('..', 'dossiers', 'history', 'originals-sha256.txt')], { cwd: path.join(bag, 'data', 'originals'), encoding: 'utf8' });
  expect(status, stderr).toBe(0);
});

test('a ZIP of it is whole to unzip and to another reader, unpacks to a bag, and verifies both ways', async () => {
  execFileSync('unzip', ['-tqq', zip]);
  const python = spawnSync('python3', ['-c', 'import sys, zipfile; z = zipfile.ZipFile(sys.argv[1]); assert z.testzip() is None; print(len(z.namelist()))', zip], { encoding: 'utf8' });
  if (python.error) cannot('asking Python\'s zipfile');
  else expect(python.status, python.stderr).toBe(0);
  expect(await faultsOf(zip)).toEqual([]);
  execFileSync('unzip', ['-qq', zip, '-d', at('unpacked')]);
  expect(readdirSync(at('unpacked'))).toEqual(['car']);
  expect(await faultsOf(at('unpacked', 'car'))).toEqual([]);
  expect(hashesOf(at('unpacked', 'car', 'data', 'originals'))).toEqual(hashesOf(path.join(bag, 'data', 'originals')));
  if (!python.error) expect(Number(python.stdout)).toBe(Object.keys(hashesOf(at('unpacked', 'car'))).length);
});

test('it says what was made, and the hash to lodge is that of the manifest', () => {
  const [hash] = execFileSync('sha256sum', ['manifest-sha256.txt'], { cwd: bag, encoding: 'utf8' }).split(' ');
  expect(said.folder).toBe(`${bag}: ${Object.keys(hashesOf(path.join(bag, 'data'))).length} files, ${(bytesOf(path.join(bag, 'data')) / 1e6).toFixed(1)} MB.\nHash of manifest-sha256.txt: ${hash}\n`);
  expect(said.zip).toMatch(/car\.zip: \d+ files, /);
});

function bytesOf(folder: string): number {
  return readdirSync(folder, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile()).reduce((sum, entry) => sum + readFileSync(path.join(entry.parentPath, entry.name)).length, 0);
}

test('nothing is ever overwritten, and nothing put into the job', () => {
  const before = hashesOf(bag);
  for (const [target, more, says] of [
    [bag, [], /bag exists already and is never overwritten\. Name another place/],
    [zip, ['--zip'], /car\.zip exists already/],
    [path.join(car, 'bag'), [], /lies in the job and would be packed in itself/],
    [path.join(car, '2026-05-09', 'deep', 'bag'), [], /lies in the job/],
    [car, [], /exists already/],
  ] as const) {
    const ran = sillbook(['pack', car, '--to', target, ...more]);
    expect(ran, target).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toMatch(says);
  }
  expect(hashesOf(bag)).toEqual(before);
  expect(existsSync(path.join(car, '2026-05-09', 'deep'))).toBe(false);
});

test.each([
  [[], /needs a job folder/],
  [['a', 'b'], /takes one job folder/],
  [['nowhere'], /no folder nowhere/],
  [['sample-job', '--editions', 'glossy'], /no edition "glossy"/],
  [['sample-job', '--editions', 'purchase,glossy'], /no edition "glossy"/],
  [['sample-job', '--timestamp', 'no-such.tsr'], /no-such\.tsr cannot be read \(ENOENT\)/],
  [['sample-job', '--bogus'], /Unknown option/],
])('wrong use of pack: %j', (args, says) => {
  const ran = sillbook(['pack', ...args]);
  expect(ran).toMatchObject({ code: 2, out: '' });
  expect(ran.err).toMatch(says);
  expect(ran.err).not.toMatch(/\n\s+at /);
  expect(existsSync('sample-job-bag')).toBe(false);
});

test('--help of pack tells its options with examples; --json tells what was made, and all notices', () => {
  const help = sillbook(['pack', '--help']);
  expect(help).toMatchObject({ code: 0, err: '' });
  for (const part of ['--zip', '--without-originals', '--timestamp', 'RFC 8493', 'Examples']) expect(help.out).toContain(part);
  const target = at('told');
  const told = JSON.parse(packed(['--editions', 'purchase', '--json', '--to', target])) as { bag: string; files: number; bytes: number; manifestSha256: string; timestamp: unknown; notices: { rule: string }[] };
  expect(told).toMatchObject({ bag: target, bytes: bytesOf(path.join(target, 'data')), files: Object.keys(hashesOf(path.join(target, 'data'))).length, timestamp: null });
  expect(told.manifestSha256).toBe(hashesOf(target)['manifest-sha256.txt']);
  expect(told.notices.length).toBeGreaterThan(0);
});

test('an error in the findings stops it: exit 1, said as JSON too, and nothing is left', async () => {
  const job = await smallJob(at('wrong'));
  chmodSync(job, 0o755);
  writeFileSync(path.join(job, 'findings.md'), `${findings}![plug, inner face 3: sound](IMG_0003.jpg)\n- hide 70 80 90 90: plate\n`);
  const ran = sillbook(['pack', job, '--json', '--to', at('never')]);
  expect(ran.code).toBe(1);
  expect(JSON.parse(ran.out)).toMatchObject({ bag: null, notices: expect.arrayContaining([expect.objectContaining({ level: 'error', rule: 'mark-unclear' })]) });
  expect(ran.err).toContain('Nothing was packed: 1 error');
  expect(readdirSync(place.folder).filter((name) => name.includes('never'))).toEqual([]);
});
