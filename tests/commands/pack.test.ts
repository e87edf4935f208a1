import { execFileSync, spawnSync } from 'node:child_process';
import { chmodSync, cpSync, existsSync, mkdirSync, readFileSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { scratch, smallJob } from './command-line.ts';

/** Number of the user that owns nothing; only root can become it. */
const nobody = 65534;

test('packed, installed read-only elsewhere, run by another user on a job that lies outside', { timeout: 300_000 }, async () => {
  const place = scratch();
  try {
    chmodSync(place.folder, 0o755);
    const home = path.join(place.folder, 'installed');
    const pack = path.join(place.folder, 'pack');
    for (const folder of [home, pack]) mkdirSync(folder);
    execFileSync('npm', ['pack', '--pack-destination', pack, '--loglevel', 'error'], { stdio: 'pipe' });
    const [archive = ''] = readdirSync(pack);
    execFileSync('npm', ['init', '-y'], { cwd: home, stdio: 'pipe' });
    execFileSync('npm', ['install', '--prefer-offline', '--no-audit', '--no-fund', '--loglevel', 'error', path.join(pack, archive)], { cwd: home, stdio: 'pipe' });
    execFileSync('chmod', ['-R', 'a-w,a+rX', home]);
    const package_ = path.join(home, 'node_modules', 'sillbook');
    expect(existsSync(path.join(package_, 'src'))).toBe(false);
    expect(existsSync(path.join(package_, 'LICENSE'))).toBe(true);
    const job = await smallJob(place.folder);
    // Its decoder runs in a worker, which has to be found in the package too.
    cpSync('tests/print/heic/turned.heic', path.join(job, 'photos', 'turned.heic'));
    const root = process.getuid?.() === 0;
    if (root) execFileSync('chown', ['-R', String(nobody), job]);
    const command = path.join(home, 'node_modules', '.bin', 'sillbook');
    const user = root ? { uid: nobody, gid: nobody } : {};
    const env = { PATH: `${path.dirname(process.execPath)}:${process.env['PATH'] ?? ''}`, HOME: '/nonexistent', CI: 'true' };
    const ran = spawnSync(process.execPath, [command, 'build', job], { ...user, env, cwd: path.parse(home).root, encoding: 'utf8' });
    expect(ran.status, ran.stderr).toBe(0);
    expect(existsSync(path.join(job, 'out', 'index.html'))).toBe(true);
    expect(existsSync(path.join(job, 'out', 'dossier.pdf'))).toBe(true);
    const photos = (JSON.parse(readFileSync(path.join(job, 'out', 'dossier.json'), 'utf8')) as { photos: { file: string; renditions: unknown[] }[] }).photos;
    expect(photos.filter((photo) => photo.renditions.length === 0).map((photo) => photo.file)).toEqual([]);
    expect(photos).toHaveLength(4);
    const here = spawnSync(process.execPath, ['src/cli.ts', 'build', job, '--out', path.join(place.folder, 'here')], { encoding: 'utf8', env: { ...process.env, NODE_OPTIONS: '' } });
    expect(here.status, here.stderr).toBe(0);
    const manifest = (folder: string): string => readFileSync(path.join(folder, 'manifest-sha256.txt'), 'utf8');
    expect(manifest(path.join(place.folder, 'here'))).toBe(manifest(path.join(job, 'out')));
  } finally {
    execFileSync('chmod', ['-R', 'u+w', place.folder]);
    place.remove();
  }
});
