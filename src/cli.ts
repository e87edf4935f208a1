#!/usr/bin/env node
import { availableParallelism } from 'node:os';

// Only this file runs on a Node that is too old; everything else is loaded once that is ruled out.
const [major = 0, minor = 0] = process.versions.node.split('.').map(Number);
if (major < 22 || (major === 22 && minor < 12)) {
  process.stderr.write(`sillbook needs Node 22.12 or newer; this is Node ${process.versions.node}. Install a current Node, then try again.\n`);
  process.exitCode = 2;
} else {
  // Files and pictures share these threads; more than cores only take memory.
  process.env['UV_THREADPOOL_SIZE'] ??= String(Math.max(2, availableParallelism()));
  const { run } = await import('./commands/index.ts');
  process.exitCode = await run(process.argv.slice(2));
}
