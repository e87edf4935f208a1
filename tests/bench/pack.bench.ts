import { execFileSync, spawnSync } from 'node:child_process';
import { closeSync, mkdirSync, mkdtempSync, openSync, rmSync, statfsSync, writeSync } from 'node:fs';
import { randomFillSync } from 'node:crypto';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { expect, test } from 'vitest';

const fileBytes = 500e6;
/** 5 GB; less where SILLBOOK_BENCH_GB says so. */
const count = Math.max(1, Math.round((Number(process.env['SILLBOOK_BENCH_GB'] ?? 5) * 1e9) / fileBytes));

test('packing generated files beside cp and both hashes of the same files', { timeout: 1_200_000 }, () => {
  const place = mkdtempSync(path.join(tmpdir(), 'sillbook-bench-'));
  try {
    const { bavail, bsize } = statfsSync(place);
    expect(bavail * bsize, 'room for the files twice').toBeGreaterThan(2.2 * count * fileBytes);
    const job = path.join(place, 'job');
    mkdirSync(job);
    for (let index = 0; index < count; index += 1) generate(path.join(job, `video-${index}.mp4`));
    const peer = seconds(() => void execFileSync('sh', ['-c', `cp -r job copy && sha256sum job/* > list && sha512sum job/* >> list && rm -rf copy`], { cwd: place }));
    for (const target of ['bag', 'bag.zip']) {
      const script = `const { packSmall } = await import(process.argv[1]); await packSmall(process.argv[2], process.argv[3]); process.stdout.write(String(process.resourceUsage().maxRSS / 1024));`;
      let peakMb = 0;
      const took = seconds(() => {
        const ran = spawnSync(process.execPath, ['--input-type=module', '-e', script, path.resolve('tests/seal/small-bag.ts'), job, path.join(place, target)], { encoding: 'utf8' });
        expect(ran.status, ran.stderr).toBe(0);
        peakMb = Number(ran.stdout);
      });
      rmSync(path.join(place, target), { recursive: true });
      process.stdout.write(`${target}: ${(count * fileBytes) / 1e9} GB in ${took.toFixed(1)} s, ${(took / peer).toFixed(2)} × cp and hashing (${peer.toFixed(1)} s), peak ${peakMb.toFixed(0)} MB\n`);
      expect(peakMb).toBeLessThan(300);
      expect(took / peer).toBeLessThan(1.3);
    }
  } finally {
    rmSync(place, { recursive: true, force: true });
  }
});

function generate(file: string): void {
  const open = openSync(file, 'w');
  const piece = randomFillSync(Buffer.alloc(1 << 22));
  for (let done = 0; done < fileBytes; done += piece.length) {
    // Every piece another one, so that no disk stores them once.
    piece.writeDoubleLE(done, 0);
    writeSync(open, piece);
  }
  closeSync(open);
}

function seconds(work: () => void): number {
  const start = performance.now();
  work();
  return (performance.now() - start) / 1000;
}
