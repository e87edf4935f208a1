#!/usr/bin/env node
import { availableParallelism } from 'node:os';

// Only this file runs on a Node that is too old; everything else is loaded once that is ruled out.
const [major = 0, minor = 0] = process.versions.node.split('.').map(Number);
const args = process.argv.slice(2);
if (major < 22 || (major === 22 && minor < 12)) {
  process.stderr.write(`sillbook needs Node 22.12 or newer; this is Node ${process.versions.node}. Install a current Node, then try again.\n`);
  process.exitCode = 2;
} else {
  // Files and pictures share these threads; more than cores only take memory.
  process.env['UV_THREADPOOL_SIZE'] ??= String(Math.max(2, availableParallelism()));
  if (makesPictures(args)) shareMemory();
  const { run } = await import('./commands/index.ts');
  process.exitCode = await run(args);
}

function makesPictures([command = '', ...rest]: string[]): boolean {
  return ['build', 'issue', 'watch', 'pack'].includes(command) || (command === 'check' && rest.includes('--photos'));
}

/**
 * Starts this program again in its own place, same process and streams, with what is read at the start only. Of glibc: with
 * a store of memory for every thread, as is its way, pictures take a third more. Of V8: room for young objects that grows as
 * far as it likes takes a third more for a PDF of many photos, and saves no time. Where that cannot be done, goes on.
 */
function shareMemory(): void {
  if (process.platform !== 'linux' || process.env['MALLOC_ARENA_MAX'] !== undefined || !process.execve) return;
  const { header } = process.report.getReport() as { header?: { glibcVersionRuntime?: string } };
  if (header?.glibcVersionRuntime === undefined) return;
  try {
    process.execve(process.execPath, [process.execPath, '--max-semi-space-size=16', ...(args[0] === 'pack' ? ['--optimize-for-size'] : []), ...process.execArgv, ...process.argv.slice(1)], { ...process.env, MALLOC_ARENA_MAX: '2' });
  } catch {
    // Without leave to start programs it runs as it is.
  }
}
