import { mkdirSync } from 'node:fs';
import path from 'node:path';
import sharp from 'sharp';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { scratch, sillbook } from './command-line.ts';

let place = scratch();
beforeEach(() => {
  place.remove();
  place = scratch();
});
afterEach(() => place.remove());

/** A job as `sillbook new` leaves it. */
async function freshJob(): Promise<string> {
  const photos = path.join(place.folder, 'in', 'left sill');
  mkdirSync(photos, { recursive: true });
  await sharp({ create: { width: 640, height: 480, channels: 3, background: '#808080' } }).jpeg().toFile(path.join(photos, '1.jpg'));
  const job = path.join(place.folder, 'job');
  expect(sillbook(['new', path.join(place.folder, 'in'), '--into', job]).code).toBe(0);
  return job;
}

test('blanks of the template are one line, zones of both sides one name; --all has each', async () => {
  const job = await freshJob();
  const short = sillbook(['check', job]).out;
  expect(short.match(/value-missing/g)).toHaveLength(1);
  expect(short).toMatch(/findings\.md:3:1 note value-missing: \d+ lines have no value yet: car, built, body, .* and tax/);
  expect(short).toMatch(/Zones without a photo or a reason \(\d+\): .*A-post, both sides; .*Sill, right/);
  expect(short).toContain('Zones with photos and no words, which count as not seen (1): Sill, left');
  const [, shown] = /notes; (\d+) lines shown, --all shows the rest\.\n$/.exec(short) ?? [];
  expect(Number(shown)).toBe(short.split('\n\nLikeliest')[0]?.split('\n').filter((line) => line !== '' && !line.startsWith('Still to do')).length);
  const all = sillbook(['check', job, '--all']).out;
  expect(all.match(/value-missing/g)?.length).toBeGreaterThan(10);
  expect(all).toMatch(/\n {4}A-post, left\n {4}A-post, right\n/);
  expect(all).not.toContain('lines shown');
});

test('each look is told with its time', async () => {
  const out = sillbook(['check', await freshJob()]).out;
  const looks = out.split('Looks that narrow')[1]?.split('\n').filter((line) => line.startsWith('  ')) ?? [];
  expect(looks.length).toBeGreaterThan(0);
  for (const look of looks) expect(look).toMatch(/\(.*\d h.*\)$/);
});

test('who wants to add photos to a job is told how', async () => {
  const job = await freshJob();
  const again = sillbook(['new', path.join(place.folder, 'in'), '--into', job]);
  expect(again.code).toBe(2);
  expect(again.err).toContain(`copy the new photos into ${path.join(job, 'photos')} and name them in findings.md`);
});
