import { spawnSync } from 'node:child_process';
import { mkdirSync } from 'node:fs';
import path from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { scratch, sillbook } from './command-line.ts';

// Here it is as on a machine where nobody has set it.
delete process.env['MALLOC_ARENA_MAX'];

let place = scratch();
beforeEach(() => {
  place.remove();
  place = scratch();
});
afterEach(() => place.remove());

/** Loaded before the command: each start of the program leaves a line with its process and what glibc was told. */
const telling = "data:text/javascript,process.stderr.write('started ' + process.pid + ' ' + process.env.MALLOC_ARENA_MAX + '\\n')";

function starts(args: string[], env: Record<string, string> = {}): { code: number | null; starts: [pid: string, arenas: string][]; out: string; rest: string } {
  const { code, out, err } = sillbook(args, { env, node: ['--import', telling] });
  const lines = err.split('\n');
  const told = lines.filter((line) => line.startsWith('started ')).map((line): [string, string] => [line.split(' ')[1] ?? '', line.split(' ')[2] ?? '']);
  return { code, out, starts: told, rest: lines.filter((line) => !line.startsWith('started ')).join('\n') };
}

/** GNU's C library names itself; on others, and where Node cannot put a program in its own place, there is one start. */
const restarts = process.platform === 'linux' && typeof process.execve === 'function' && spawnSync('getconf', ['GNU_LIBC_VERSION'], { encoding: 'utf8' }).stdout?.startsWith('glibc');

test.each([[['build', '--help']], [['issue', '--help']], [['watch', '--help']], [['check', 'nowhere', '--photos']]])('%j starts once more in the same process, with few stores of memory', (args) => {
  const ran = starts(args);
  expect(ran.starts.map(([, arenas]) => arenas)).toEqual(restarts ? ['undefined', '2'] : ['undefined']);
  expect(new Set(ran.starts.map(([pid]) => pid)).size).toBe(1);
  expect(ran.rest).not.toMatch(/warning/i);
});

test.each([[['check', 'nowhere']], [['--version']], [['new', '--help']], [['grid', '--help']]])('%j starts once', (args) => {
  expect(starts(args).starts).toMatchObject([[expect.stringMatching(/^\d+$/), 'undefined']]);
});

test('a value that is set already stays', () => {
  expect(starts(['build', '--help'], { MALLOC_ARENA_MAX: '7' }).starts.map(([, arenas]) => arenas)).toEqual(['7']);
});

test('arguments of every kind, exit code and messages come through', () => {
  const folder = path.join(place.folder, "it's 100% \"Türe\" 🔧 $HOME");
  mkdirSync(folder);
  const ran = starts(['build', folder, '--edition', 'no such', '--all']);
  expect(ran).toMatchObject({ code: 2, out: '' });
  expect(ran.rest).toContain('There is no edition "no such".');
  expect(starts(['build', path.join(folder, 'not there')]).rest).toContain(path.join(folder, 'not there'));
});

test('without leave to start programs the command runs as it is', () => {
  const ran = spawnSync(process.execPath, ['--permission', '--allow-fs-read=*', path.resolve('src/cli.ts'), 'build', '--help'], { encoding: 'utf8', env: { ...process.env, NODE_OPTIONS: '' } });
  expect(ran.stdout, ran.stderr).toContain('sillbook build <job>');
  expect(ran.status).toBe(0);
});
