import { readFileSync, readdirSync, statSync } from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Dossier } from '../../src/model/dossier.ts';
import type { Notice } from '../../src/model/notice.ts';
import { copySample, scratch, sillbook } from './command-line.ts';

const place = scratch();
let job = '';
beforeAll(() => {
  job = copySample(place.folder);
});
afterAll(() => place.remove());

const noHeavy = path.resolve('tests/commands/no-heavy.mjs');
// What was read of the photos is noted by a build, not by a check.
const cache = (): string[] => readdirSync(path.join(job, '.sillbook'), { recursive: true, encoding: 'utf8' }).filter((name) => !['photos-read.json', 'pictures-delivered.json'].includes(name)).toSorted();
const times = (): number[] => cache().map((name) => statSync(path.join(job, '.sillbook', name)).mtimeMs);
const aboutPhotos = (notices: Notice[]): string[] => notices.filter(({ rule }) => /^photo-(unsharp|dark|bright|similar)$/.test(rule)).map(({ spot, found }) => `${spot?.file}: ${found}`);

// What the pictures show is told in the list they were drawn from: IMG_4028 is IMG_4027 out of focus, IMG_4038 far too dark.
const meant = ['photos/IMG_4028.jpg: Looks unsharp', 'photos/IMG_4028.jpg: Similar to IMG_4027.jpg', 'photos/IMG_4038.jpg: Looks very dark', 'photos/SC_0008.jpg: Similar to SC_0007.jpg'];

test('check --photos looks at the pictures, and a build finds them made', { timeout: 120_000 }, () => {
  const first = sillbook(['check', job, '--photos', '--json']);
  expect(first).toMatchObject({ code: 0, err: '' });
  const data = JSON.parse(first.out) as { notices: Notice[]; photos: { file: string; hints: string[] }[] };
  expect(aboutPhotos(data.notices)).toEqual(meant);
  expect(data.photos.find(({ file }) => file === 'photos/IMG_4028.jpg')?.hints).toEqual(['looks unsharp', 'similar to IMG_4027.jpg']);
  expect(readdirSync(job).toSorted()).toEqual(['.sillbook', 'findings.md', 'photos', 'sillbook.json']);
  const [made, madeAt] = [cache(), times()];
  expect(made.filter((name) => name.endsWith('.jpg')).length).toBeGreaterThanOrEqual(21 * 3);

  // With sharp out of reach only the cache can answer.
  const again = sillbook(['check', job, '--photos', '--all'], { node: ['--import', noHeavy] });
  expect(again).toMatchObject({ code: 0, err: '' });
  expect(again.out).toMatch(/photos\/IMG_4028\.jpg note photo-unsharp: Looks unsharp\. Look at it in full size/);

  const built = sillbook(['build', job, '--all']);
  expect(built.code).toBe(0);
  expect(built.err).toContain('photos/IMG_4038.jpg note photo-dark: Looks very dark.');
  expect([cache(), times()]).toEqual([made, madeAt]);
  const dossier = JSON.parse(readFileSync(path.join(job, 'out', 'dossier.json'), 'utf8')) as Dossier;
  expect(dossier.photos.filter(({ hints }) => hints.length > 0).map(({ file, hints }) => `${file}: ${hints.join('; ')}`)).toEqual([
    'photos/IMG_4028.jpg: looks unsharp; similar to IMG_4027.jpg',
    'photos/IMG_4038.jpg: looks very dark',
    'photos/SC_0008.jpg: similar to SC_0007.jpg',
  ]);
  expect(dossier.photos.every(({ renditions }) => renditions.length > 0)).toBe(true);
  const index = readFileSync(path.join(job, 'out', 'photos.html'), 'utf8').replace(/<[^>]+>/g, '').replace(/\s+/g, ' ');
  expect(index).toContain('Looks unsharp; similar to IMG_4027.jpg.');
});

test('without --photos nothing is said of pixels', () => {
  const plain = sillbook(['check', 'sample-job/2026-03-14', '--json']);
  const data = JSON.parse(plain.out) as { notices: Notice[]; photos: { hints: string[] }[] };
  expect(aboutPhotos(data.notices)).toEqual([]);
  expect(data.photos.flatMap(({ hints }) => hints)).toEqual([]);
});
