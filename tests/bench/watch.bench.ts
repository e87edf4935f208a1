import { execFileSync, spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { appendFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, describe, test } from 'vitest';
import { copySample, scratch } from '../commands/command-line.ts';

// From an edit of the sample's findings until every open page is told to load itself again: goal about a second.
describe('watch', () => {
  const place = scratch();
  let job = '';
  let running: ChildProcess | null = null;
  let waiting: () => void = () => undefined;
  const leave = new AbortController();

  beforeAll(async () => {
    job = copySample(place.folder);
    const child = spawn(process.execPath, [path.resolve('src/cli.ts'), 'watch', job, '--port', '0'], { env: { ...process.env, NODE_OPTIONS: '' } });
    running = child;
    const address = await new Promise<string>((resolve, reject) => {
      child.stdout.on('data', (data: Buffer) => {
        const found = /http:\/\/127\.0\.0\.1:\d+\//.exec(data.toString())?.[0];
        if (found) resolve(found);
      });
      child.once('exit', (code) => reject(new Error(`watch ended with ${code}`)));
    });
    const stream = await fetch(`${address}-changes`, { signal: leave.signal });
    void (async () => {
      for await (const chunk of stream.body ?? []) if (Buffer.from(chunk).toString().includes('change')) waiting();
    })().catch(() => undefined);
  }, 120_000);

  afterAll(() => {
    leave.abort();
    running?.kill('SIGINT');
    place.remove();
  });

  test('an edit until the open page loads again, beside a build from nothing', { timeout: 300_000 }, async ({ bench }) => {
    await bench.compare(
      bench('watch: edit until told', async () => {
        const told = new Promise<void>((resolve) => {
          waiting = resolve;
        });
        appendFileSync(path.join(job, 'findings.md'), '\n');
        await told;
      }),
      bench('peer: build of the same job as a process', () => void execFileSync(process.execPath, ['src/cli.ts', 'build', job], { stdio: 'pipe' })),
      { iterations: 6, warmupIterations: 2, time: 0 },
    );
  });
});
