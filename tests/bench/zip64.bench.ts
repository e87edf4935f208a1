import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, openSync, rmSync, closeSync, statfsSync, truncateSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { expect, test } from 'vitest';
import { verify } from '../../src/seal/verify.ts';
import { zipStore } from '../../src/seal/zip-store.ts';
import { packSmall } from '../seal/small-bag.ts';

/** One byte more than 32 bits can count. */
const bytes = 2 ** 32 + 1;

test('a file of more than 4 GiB goes into a ZIP that we and others find whole', { timeout: 1_200_000 }, async () => {
  const place = mkdtempSync(path.join(tmpdir(), 'sillbook-bench-'));
  try {
    const { bavail, bsize } = statfsSync(place);
    expect(bavail * bsize, 'room for the ZIP').toBeGreaterThan(1.2 * bytes);
    const job = path.join(place, 'job');
    mkdirSync(job);
    const film = path.join(job, 'film.mp4');
    const open = openSync(film, 'w');
    writeSync(open, 'begins');
    closeSync(open);
    // The rest is a hole, which takes no room.
    truncateSync(film, bytes);
    const zip = path.join(place, 'bag.zip');
    const { manifestSha256 } = await packSmall(job, zip);
    expect(manifestSha256).not.toBeNull();
    const store = await zipStore(zip);
    expect([...store.files].find(([name]) => name.endsWith('film.mp4'))?.[1].bytes).toBe(bytes);
    expect((await verify(store)).differences).toEqual([]);
    await store.close();
    const other = spawnSync('unzip', ['-tqq', zip], { encoding: 'utf8' });
    expect(other.status, other.stdout).toBe(0);
  } finally {
    rmSync(place, { recursive: true, force: true });
  }
});
