import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readFileSync, readdirSync, rmSync } from 'node:fs';
import path from 'node:path';
import { expect } from 'vitest';
import { folderStore } from '../../src/seal/store.ts';
import { verify } from '../../src/seal/verify.ts';
import { zipStore } from '../../src/seal/zip-store.ts';

const cli = path.resolve('src/cli.ts');

/** Path → hash of every file below a folder, or of one file; empty where there is none. `without` names folders to leave out. */
export function hashesOf(at: string, without: readonly string[] = []): Record<string, string> {
  if (!existsSync(at)) return {};
  const hash = (file: string): string => createHash('sha256').update(readFileSync(file)).digest('hex');
  const entries = readdirSync(at, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile()).map((entry) => path.relative(at, path.join(entry.parentPath, entry.name)));
  return Object.fromEntries(entries.filter((name) => !without.includes(name.split(path.sep)[0] ?? '')).toSorted().map((name) => [name, hash(path.join(at, name))]));
}

/** What our own `verify` finds wrong with a dossier, a bag or a ZIP. */
export async function faultsOf(at: string): Promise<string[]> {
  const store = at.endsWith('.zip') ? await zipStore(at) : await folderStore(at);
  try {
    const { kind, differences } = await verify(store);
    return kind === 'unknown' ? ['holds no list of hashes'] : differences.map(({ name, what }) => `${name}: ${what}`);
  } finally {
    await store.close();
  }
}

/** The same numbers between 0 and 1 for the same seed (mulberry32, public domain). */
export function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}

/** Runs the command and kills it, as a power switch would, after so many milliseconds. Whether it was still running. */
export async function killed(args: string[], ms: number, env: Record<string, string>): Promise<boolean> {
  const child = spawn(process.execPath, [cli, ...args], { stdio: 'ignore', env: { ...process.env, NODE_OPTIONS: '', ...env } });
  const gone = new Promise<NodeJS.Signals | null>((resolve) => child.once('exit', (_, signal) => resolve(signal)));
  const timer = setTimeout(() => child.kill('SIGKILL'), ms);
  const signal = await gone;
  clearTimeout(timer);
  return signal === 'SIGKILL';
}

/** Half-made things beside their final names. */
export function leftovers(folder: string): string[] {
  return readdirSync(folder).filter((name) => name.includes('.sillbook-'));
}

/** Takes away what may be a file or a folder. */
export function drop(at: string): void {
  rmSync(at, { recursive: true, force: true });
}

/** A moment in each of `count` equal parts of a run, from 0, its beginning, to 1, its end. */
export function moments(count: number, seed: number): number[] {
  const random = seeded(seed);
  return Array.from({ length: count }, (_, index) => (index + random()) / count);
}

/** Fails on a build machine; elsewhere says what could not be tried. */
export function cannot(what: string): void {
  expect(process.env['CI'], `${what}, which a build machine must be able to`).not.toBe('true');
  process.stderr.write(`not tried here: ${what}\n`);
}
