import { spawnSync } from 'node:child_process';
import { chmodSync, cpSync, existsSync, mkdirSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { findings, scratch, sillbook, smallJob } from './command-line.ts';
import type { Ran } from './command-line.ts';
import { cannot, faultsOf, hashesOf, leftovers } from './two-states.ts';

let place = scratch();
beforeEach(() => {
  place.remove();
  place = scratch();
});
afterEach(() => {
  for (const disk of disks.splice(0)) spawnSync('umount', [disk]);
  spawnSync('chmod', ['-R', 'u+rwX', place.folder]);
  place.remove();
});

const own = ['.sillbook', 'out'];
const disks: string[] = [];
const env = { SOURCE_DATE_EPOCH: '1774000000' };

/** A disk of its own of so many kilobytes; null where this user may not make one. */
function smallDisk(name: string, kilobytes: number): { at: string; resize(kilobytes: number): void } | null {
  const at = path.join(place.folder, name);
  mkdirSync(at);
  if (spawnSync('mount', ['-t', 'tmpfs', '-o', `size=${kilobytes}k`, 'tmpfs', at]).status !== 0) {
    cannot('mounting a small tmpfs');
    return null;
  }
  disks.push(at);
  const resize = (size: number): void => expect(spawnSync('mount', ['-o', `remount,size=${size}k`, at]).status).toBe(0);
  return { at, resize };
}

function kilobytesOf(folder: string): number {
  const files = readdirSync(folder, { recursive: true, withFileTypes: true });
  // A tmpfs gives whole pages of 4 KB.
  return files.reduce((sum, entry) => sum + (entry.isFile() ? Math.ceil(readFileSync(path.join(entry.parentPath, entry.name)).length / 4096) * 4 : 4), 4);
}

function expectFull(ran: Ran, left: RegExp): void {
  expect(ran.code, ran.err).toBe(1);
  expect(ran.out).toBe('');
  expect(ran.err).toMatch(/^The disk is full \(/m);
  expect(ran.err).toMatch(left);
  expect(ran.err).not.toMatch(/\n\s+at |Error:|Node\.js v/);
}

// Part of a dossier the disk has room for besides the last one.
test.each([0.3, 0.9])('a disk that is full after %d of a new dossier: the last one stays, whole, and with room the next build succeeds', { timeout: 240_000 }, async (part) => {
  const made = await smallJob(place.folder);
  const kept = path.join(place.folder, 'kept');
  expect(sillbook(['build', made, '--out', kept], { env }).code).toBe(0);
  const cache = kilobytesOf(path.join(made, '.sillbook'));
  const need = kilobytesOf(kept);
  const disk = smallDisk('disk', kilobytesOf(made) + need + Math.round(part * need) + 8);
  if (!disk) return;
  const [job, out] = [path.join(disk.at, 'job'), path.join(disk.at, 'out')];
  cpSync(made, job, { recursive: true });
  cpSync(kept, out, { recursive: true });
  expect(cache).toBeGreaterThan(0);
  const before = hashesOf(out);
  writeFileSync(path.join(job, 'findings.md'), findings.replace('2: sound', '2: worn'));
  const originals = hashesOf(job, own);
  expectFull(sillbook(['build', job, '--out', out], { env }), /The last dossier is as it was; build can put the dossier elsewhere with --out\./);
  expect(hashesOf(out)).toEqual(before);
  expect(await faultsOf(out)).toEqual([]);
  expect(hashesOf(job, own)).toEqual(originals);
  expect(leftovers(disk.at)).toEqual([]);
  disk.resize(60_000);
  const ran = sillbook(['build', job, '--out', out], { env });
  expect(ran.code, ran.err).toBe(0);
  expect(hashesOf(out)).not.toEqual(before);
  expect(await faultsOf(out)).toEqual([]);
});

test.each([30, 600])('the folder for what is only passing is full at %i KB: said, with its name, and the last dossier stays', { timeout: 240_000 }, async (kilobytes) => {
  const job = await smallJob(place.folder);
  expect(sillbook(['build', job], { env }).code).toBe(0);
  const before = hashesOf(path.join(job, 'out'));
  const disk = smallDisk('passing', kilobytes);
  if (!disk) return;
  const ran = sillbook(['build', job], { env: { ...env, TMPDIR: disk.at } });
  expectFull(ran, /TMPDIR names another folder/);
  expect(ran.err).toContain(disk.at);
  expect(hashesOf(path.join(job, 'out'))).toEqual(before);
  expect(readdirSync(disk.at)).toEqual([]);
});

test.each([[false, 0.4], [false, 0.95], [true, 0.97]])('pack (ZIP %s) onto a disk that is full after %d of it leaves nothing, and with room it succeeds', { timeout: 240_000 }, async (zip, part) => {
  const job = await smallJob(place.folder);
  const pack = (to: string): string[] => ['pack', job, '--editions', 'purchase', '--to', to, ...(zip ? ['--zip'] : [])];
  const first = path.join(place.folder, zip ? 'first.zip' : 'first');
  expect(sillbook(pack(first), { env }).code).toBe(0);
  // A ZIP is made of a dossier that lies beside it until then.
  const need = zip ? (readFileSync(first).length / 1024) * 1.9 : kilobytesOf(first);
  const disk = smallDisk('disk', Math.max(24, Math.round(need * part)));
  if (!disk) return;
  const originals = hashesOf(job, own);
  const target = path.join(disk.at, path.basename(first));
  expectFull(sillbook(pack(target), { env }), /Nothing was packed, and the job is as it was; pack can put the bag elsewhere with --to\./);
  expect(readdirSync(disk.at)).toEqual([]);
  expect(hashesOf(job, own)).toEqual(originals);
  disk.resize(60_000);
  const ran = sillbook(pack(target), { env });
  expect(ran.code, ran.err).toBe(0);
  expect(await faultsOf(target)).toEqual([]);
});

/** Runs the command as a user who is not root, whom permissions stop. */
function asNobody(args: string[]): Ran {
  const root = process.getuid?.() === 0;
  const home = path.join(place.folder, 'home');
  mkdirSync(home, { recursive: true });
  chmodSync(place.folder, 0o755);
  const nobody = 65_534;
  if (root) for (const at of [home, place.folder]) spawnSync('chown', [...(at === home ? ['-R'] : []), String(nobody), at]);
  const ran = spawnSync(process.execPath, [path.resolve('src/cli.ts'), ...args], { encoding: 'utf8', cwd: path.parse(home).root, env: { ...process.env, ...env, NODE_OPTIONS: '', HOME: home, TMPDIR: home }, ...(root ? { uid: nobody, gid: nobody } : {}) });
  return { code: ran.status, out: ran.stdout, err: ran.stderr };
}

/** A job that belongs to that user, so that only what is taken away is missing. */
async function jobOfNobody(): Promise<string> {
  const job = await smallJob(place.folder);
  if (process.getuid?.() === 0) spawnSync('chown', ['-R', '65534', job]);
  return job;
}

/** What is refused, what a build says, and its exit code. */
test.each([
  ['photos/IMG_0002.jpg', /photos\/IMG_0002\.jpg warning photo-unreadable: File cannot be read \(EACCES\)\. It is listed without a hash and not shown; allow reading/, 0],
  ['photos', /photos warning folder-unreadable: Folder cannot be read \(EACCES\)\. .*allow reading/, 0],
  ['findings.md', /findings\.md error findings-unreadable: .*\(EACCES\).*permission/, 1],
] as const)('without leave to read %s a build says so, and a pack refuses and leaves nothing', { timeout: 240_000 }, async (refused, says, code) => {
  const job = await jobOfNobody();
  const out = path.join(job, 'out');
  expect(asNobody(['build', job])).toMatchObject({ code: 0 });
  const [before, originals] = [hashesOf(out), hashesOf(job, own)];
  const mode = refused === 'photos' ? 0o755 : 0o644;
  chmodSync(path.join(job, refused), 0);
  const built = asNobody(['build', job]);
  expect(built).toMatchObject({ code, err: expect.stringMatching(says) });
  expect(await faultsOf(out)).toEqual([]);
  if (code === 1) expect(hashesOf(out)).toEqual(before);
  else {
    const { photos } = JSON.parse(readFileSync(path.join(out, 'dossier.json'), 'utf8')) as { photos: { file: string; sha256: string; renditions: unknown[] }[] };
    const unread = photos.filter(({ file }) => file.startsWith(refused));
    expect(unread.map(({ sha256, renditions }) => [sha256, renditions.length])).toEqual(refused === 'photos' ? [] : [['', 0]]);
    expect(photos.filter(({ renditions }) => renditions.length > 0)).toHaveLength(refused === 'photos' ? 0 : 2);
  }
  const target = path.join(place.folder, 'bag');
  const packed = asNobody(['pack', job, '--editions', 'purchase', '--to', target]);
  expect(packed).toMatchObject({ code: 1, out: '', err: expect.stringMatching(new RegExp(`${refused} error \\S+-unreadable`)) });
  expect(packed.err).toContain('Nothing was packed');
  expect(existsSync(target)).toBe(false);
  expect(leftovers(place.folder)).toEqual([]);
  chmodSync(path.join(job, refused), mode);
  expect(hashesOf(job, own)).toEqual(originals);
  expect(asNobody(['build', job])).toMatchObject({ code: 0 });
  expect(hashesOf(out)).toEqual(before);
});

test('a file that is no photo but cannot be read stops a pack too: a bag without it would not be the record', async () => {
  const job = await jobOfNobody();
  writeFileSync(path.join(job, 'receipt.pdf'), 'x', { mode: 0 });
  const packed = asNobody(['pack', job, '--editions', 'purchase', '--to', path.join(place.folder, 'bag')]);
  expect(packed).toMatchObject({ code: 1, err: expect.stringContaining('receipt.pdf error file-unreadable: File cannot be read (EACCES)') });
  expect(readdirSync(place.folder).filter((name) => name.includes('bag'))).toEqual([]);
});

test('where nothing may be written, build and pack say so and leave nothing', { timeout: 240_000 }, async () => {
  const job = await jobOfNobody();
  const closed = path.join(place.folder, 'closed');
  mkdirSync(closed);
  const last = path.join(closed, 'out');
  expect(sillbook(['build', job, '--out', last], { env }).code).toBe(0);
  rmSync(path.join(job, '.sillbook'), { recursive: true });
  chmodSync(closed, 0o555);
  const before = hashesOf(last);
  const built = asNobody(['build', job, '--out', last]);
  expect(built).toMatchObject({ code: 1, out: '', err: expect.stringMatching(/^No permission \(.*\)\. The last dossier is as it was; build can put the dossier elsewhere with --out\.$/m) });
  const packed = asNobody(['pack', job, '--editions', 'purchase', '--to', path.join(closed, 'bag')]);
  expect(packed).toMatchObject({ code: 1, out: '', err: expect.stringMatching(/^No permission \(.*\)\. Nothing was packed, and the job is as it was; pack can put the bag elsewhere with --to\.$/m) });
  expect(readdirSync(closed)).toEqual(['out']);
  expect(hashesOf(last)).toEqual(before);
});
