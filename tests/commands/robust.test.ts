import { spawn } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, readFileSync, readdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { findings, scratch, sillbook, smallJob } from './command-line.ts';
import { drop, faultsOf, hashesOf, killed, leftovers, moments } from './two-states.ts';

let place = scratch();
beforeEach(() => {
  place.remove();
  place = scratch();
});
afterEach(() => place.remove());

const later = findings.replace('inner face 2: sound', 'inner face 2: cracked');
const own = ['.sillbook', 'out'];

/** A job of two photos, a folder for what passes, and what a run is told. */
async function tinyJob(): Promise<{ job: string; env: Record<string, string> }> {
  const job = await smallJob(place.folder);
  rmSync(path.join(job, 'photos', 'IMG_0003.jpg'));
  const passing = path.join(place.folder, 'passing');
  mkdirSync(passing);
  return { job, env: { TMPDIR: passing, SOURCE_DATE_EPOCH: '1774000000' } };
}

/** Runs to the end, which has to be a good one, and takes the time. */
function timed(args: string[], env: Record<string, string>): number {
  const start = performance.now();
  const ran = sillbook(args, { env });
  expect(ran.code, ran.err).toBe(0);
  return performance.now() - start;
}

/*
 * After each of twenty kills all that was there is checked to the byte. Four times the next run goes to its end on what
 * the killed ones left; the others are followed by a run that is killed itself, which has to cope with it too.
 */
test('a build killed at twenty moments leaves the last dossier and the originals whole, and the next one succeeds', { timeout: 600_000 }, async () => {
  const { job, env } = await tinyJob();
  const out = path.join(place.folder, 'out');
  const build = ['build', job, '--out', out];
  timed(build, env);
  const kept = path.join(place.folder, 'kept');
  cpSync(out, kept, { recursive: true });
  const before = hashesOf(kept);
  writeFileSync(path.join(job, 'findings.md'), later);
  let lastMs = timed(build, env);
  const after = hashesOf(out);
  expect(after).not.toEqual(before);
  const originals = hashesOf(job, own);
  let running = 0;
  for (const [index, part] of moments(20, 7).entries()) {
    const ms = Math.round(part * lastMs);
    drop(out);
    cpSync(kept, out, { recursive: true });
    if (await killed(build, ms, env)) running += 1;
    // Between two renames the last dossier stands beside its name, whole; the next run puts it back.
    const last = existsSync(out) ? out : path.join(place.folder, '.out.sillbook-old');
    expect([before, after], `killed after ${ms} of ${Math.round(lastMs)} ms`).toContainEqual(hashesOf(last));
    expect(await faultsOf(last)).toEqual([]);
    expect(hashesOf(job, own)).toEqual(originals);
    if (index % 5 !== 4) continue;
    // Measured again, as the machine may have more or less to do than before.
    lastMs = timed(build, env);
    expect(hashesOf(out)).toEqual(after);
    expect(leftovers(place.folder)).toEqual([]);
  }
  expect(running).toBeGreaterThanOrEqual(12);
  // What is only passing stays where a killed run had it; no later run looks at it, and systems clear such folders.
  expect(readdirSync(path.join(place.folder, 'passing')).filter((name) => !name.startsWith('sillbook-'))).toEqual([]);
});

test('a build killed between its two renames: the next one puts the last dossier back before anything else', async () => {
  const { job, env } = await tinyJob();
  const out = path.join(place.folder, 'out');
  timed(['build', job, '--out', out], env);
  const before = hashesOf(out);
  renameSync(out, path.join(place.folder, '.out.sillbook-old'));
  // No process has this number on Linux, where they end at 2^22.
  mkdirSync(path.join(place.folder, '.out.sillbook-new-99999999'));
  writeFileSync(path.join(place.folder, '.out.sillbook-new-99999999', 'index.html'), 'half');
  writeFileSync(path.join(job, 'findings.md'), `${findings}![plug, inner face 3: sound](IMG_0002.jpg)\n- hide 70 80 90 90: plate\n`);
  expect(sillbook(['build', job, '--out', out], { env })).toMatchObject({ code: 1 });
  writeFileSync(path.join(job, 'findings.md'), findings);
  timed(['build', job, '--out', out], env);
  expect(hashesOf(out)).toEqual(before);
  expect(leftovers(place.folder)).toEqual([]);
});

test('a pack killed at twenty moments leaves nothing half done under its name, all else whole, and the next one succeeds', { timeout: 600_000 }, async () => {
  const { job, env } = await tinyJob();
  const at = (name: string): string => path.join(place.folder, name);
  timed(['build', job, '--out', at('out')], env);
  const pack = (target: string): string[] => ['pack', job, '--editions', 'purchase', '--to', target, ...(target.endsWith('.zip') ? ['--zip'] : [])];
  timed(pack(at('first')), env);
  let lastMs = timed(pack(at('first.zip')), env);
  const whole = { folder: hashesOf(at('first')), zip: readFileSync(at('first.zip')), out: hashesOf(at('out')), originals: hashesOf(job, own) };
  let running = 0;
  for (const [index, part] of moments(20, 11).entries()) {
    const ms = Math.round(part * lastMs);
    const target = at(index % 2 === 0 ? 'bag' : 'bag.zip');
    if (await killed(pack(target), ms, env)) running += 1;
    if (existsSync(target)) expect(await faultsOf(target), `killed after ${ms} of ${Math.round(lastMs)} ms`).toEqual([]);
    drop(target);
    expect(hashesOf(at('first'))).toEqual(whole.folder);
    expect(readFileSync(at('first.zip')).equals(whole.zip)).toBe(true);
    expect(hashesOf(at('out'))).toEqual(whole.out);
    expect(hashesOf(job, own)).toEqual(whole.originals);
    if (index % 10 < 8) continue;
    lastMs = timed(pack(target), env);
    expect(await faultsOf(target)).toEqual([]);
    // Of a target killed runs left something beside, which goes with the next run to the same name.
    expect(leftovers(place.folder).filter((name) => name.startsWith(`.${path.basename(target)}.sillbook-`))).toEqual([]);
    drop(target);
  }
  expect(running).toBeGreaterThanOrEqual(12);
  expect(leftovers(place.folder)).toEqual([]);
});

test('a pack interrupted says what that leaves, which is nothing, with exit 130', async () => {
  const { job, env } = await tinyJob();
  const child = spawn(process.execPath, [path.resolve('src/cli.ts'), 'pack', job, '--to', path.join(place.folder, 'bag')], { stdio: ['ignore', 'ignore', 'pipe'], env: { ...process.env, NODE_OPTIONS: '', ...env } });
  let said = '';
  child.stderr.on('data', (piece: Buffer) => (said += piece.toString()));
  const gone = new Promise((resolve) => child.once('close', resolve));
  while (leftovers(place.folder).length === 0) await new Promise((resolve) => setTimeout(resolve, 5));
  child.kill('SIGINT');
  expect(await gone).toBe(130);
  expect(said).toContain('Interrupted; nothing was packed, and the job is as it was. The next run goes on with the pictures that are made.');
  expect(readdirSync(place.folder).filter((name) => name.includes('bag'))).toEqual([]);
  expect(readdirSync(path.join(place.folder, 'passing'))).toEqual([]);
});
