import { cpSync, mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { read } from '../../src/read/index.ts';
import { scratch } from '../commands/command-line.ts';

let place = scratch();
beforeEach(() => {
  place.remove();
  place = scratch();
});
afterEach(() => place.remove());

const clock = { today: '2026-06-01' };

test('of several visits the newest is read, the car is inherited, the others are said to be left alone', async () => {
  const car = path.join(place.folder, 'car');
  for (const visit of ['2026-03-14', '2026-05-09', 'out', 'issues']) mkdirSync(path.join(car, visit), { recursive: true });
  writeFileSync(path.join(car, 'sillbook.json'), '{"currency": "EUR"}');
  writeFileSync(path.join(car, '2026-03-14', 'findings.md'), '# Car\n- car: Test 1\n- built: 1971\n# Sill, left\n- plug: missing\n');
  writeFileSync(path.join(car, '2026-05-09', 'findings.md'), '# Visit\n- seen: 2026-05-09\n# Sill, left\n- plug: sound\n');
  writeFileSync(path.join(car, 'out', 'findings.md'), '# Visit\n');
  cpSync('sample-job/photos/IMG_4021.jpg', path.join(car, '2026-05-09', 'a.jpg'));
  cpSync('sample-job/photos/IMG_4022.jpg', path.join(car, '2026-03-14', 'b.jpg'));
  const found = await read(car, { clock });
  expect(found?.folder).toMatchObject({ visit: path.join(car, '2026-05-09'), earlier: ['2026-03-14'] });
  expect(found?.job.notes.car.map((meta) => `${meta.key}: ${meta.text}`)).toEqual(['car: Test 1', 'built: 1971']);
  expect(found?.job.notes.seen?.date).toBe('2026-05-09');
  expect(found?.job.photos.map((photo) => photo.path)).toEqual(['a.jpg']);
  expect(found?.job.settings.currency).toBe('EUR');
  expect(found?.job.notices.map((notice) => notice.rule)).toContain('visits-earlier');
});

test('a folder that is not there is null, one without findings is an error with advice', async () => {
  expect(await read(path.join(place.folder, 'none'), { clock })).toBeNull();
  const bare = await read(place.folder, { clock });
  expect(bare?.job.notices.find((notice) => notice.rule === 'findings-missing')).toMatchObject({ level: 'error' });
});

test('a findings file saved as UTF-16, or with bytes that are no text', async () => {
  writeFileSync(path.join(place.folder, 'findings.md'), Buffer.from('\uFEFF# Sill, left\n- plug: missing\n', 'utf16le'));
  expect((await read(place.folder, { clock }))?.job.notes.zones[0]?.zone).toBe('sill-left');
  writeFileSync(path.join(place.folder, 'findings.md'), Buffer.from([0x23, 0x20, 0xff, 0xfe, 0x41]));
  expect((await read(place.folder, { clock }))?.job.notices.map((notice) => notice.rule)).toContain('findings-encoding');
});

test('findings or settings that are links out of the job are not read', async () => {
  const job = path.join(place.folder, 'job');
  mkdirSync(job);
  writeFileSync(path.join(place.folder, 'secret.md'), '# Car\n- car: secret\n');
  symlinkSync('../secret.md', path.join(job, 'findings.md'));
  symlinkSync('../secret.md', path.join(job, 'sillbook.json'));
  const found = await read(job, { clock });
  expect(JSON.stringify(found?.job.notes)).not.toContain('secret');
  expect(found?.job.notices.filter((notice) => notice.rule === 'link-outside').map((notice) => notice.spot?.file)).toEqual(['sillbook.json', 'findings.md']);
});

test('a dossier put inside the job is no source of photos', async () => {
  const job = path.join(place.folder, 'job');
  mkdirSync(path.join(job, 'for the buyer', 'photos'), { recursive: true });
  writeFileSync(path.join(job, 'findings.md'), '# Sill, left\n');
  writeFileSync(path.join(job, 'for the buyer', 'dossier.json'), '{}');
  cpSync('sample-job/photos/IMG_4021.jpg', path.join(job, 'for the buyer', 'photos', 'a.jpg'));
  expect((await read(job, { clock }))?.job.photos).toEqual([]);
});
