import { spawn, spawnSync } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import sharp from 'sharp';

const cli = path.resolve('src/cli.ts');

export interface Ran {
  code: number | null;
  out: string;
  err: string;
}

/** Runs the command as a user would, in a process of its own. */
export function sillbook(args: string[], options: { env?: Record<string, string>; cwd?: string; node?: string[] } = {}): Ran {
  const ran = spawnSync(process.execPath, [...(options.node ?? []), cli, ...args], { encoding: 'utf8', cwd: options.cwd, env: { ...process.env, NODE_OPTIONS: '', ...options.env } });
  return { code: ran.status, out: ran.stdout, err: ran.stderr };
}

/** Starts the command and leaves it running. */
export function start(args: string[]): ChildProcess {
  return spawn(process.execPath, [cli, ...args], { stdio: 'ignore', env: { ...process.env, NODE_OPTIONS: '' } });
}

/** A folder that is gone after the test. */
export function scratch(): { folder: string; remove(): void } {
  const folder = mkdtempSync(path.join(tmpdir(), 'sillbook-job-'));
  return { folder, remove: () => rmSync(folder, { recursive: true, force: true }) };
}

/** A job of three small photos and ten lines of findings. */
export async function smallJob(folder: string): Promise<string> {
  const job = path.join(folder, 'job äö #1');
  mkdirSync(path.join(job, 'photos'), { recursive: true });
  for (const [index, background] of ['#445566', '#884422', '#223344'].entries()) {
    await sharp({ create: { width: 640, height: 480, channels: 3, background } }).jpeg().toFile(path.join(job, 'photos', `IMG_000${index + 1}.jpg`));
  }
  writeFileSync(path.join(job, 'findings.md'), findings);
  return job;
}

export const findings = `# Car
- car: Test 1, two-door saloon
- built: 1971
- body: saloon
# Visit
- seen: 2026-03-14 10:00-11:00, Europe/Dublin
# Sill, left
![plug, inner face 1: missing. rust run](IMG_0001.jpg)
- plug, inner face 2: sound. pressed. IMG_0002
- not seen: rear third. cover strip fitted. to see it: drill out 14 rivets, 1 h
`;

/** Copies the sample job without what was built from it. */
export function copySample(folder: string): string {
  const job = path.join(folder, 'sample');
  for (const name of ['2026-03-14/findings.md', 'sillbook.json', '2026-03-14/photos']) cpSync(path.join('sample-job', name), path.join(job, path.basename(name)), { recursive: true });
  return job;
}
