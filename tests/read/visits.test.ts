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

/** A car with two visits whose folders sort the other way round, and what is none. */
function twoVisits(): string {
  const car = path.join(place.folder, 'car');
  for (const visit of ['b first', 'a second', 'out', 'issues']) mkdirSync(path.join(car, visit), { recursive: true });
  writeFileSync(path.join(car, 'sillbook.json'), '{"currency": "EUR"}');
  writeFileSync(path.join(car, 'b first', 'findings.md'), '# Car\n- car: Test 1\n- built: 1971\n# Visit\n- seen: 2026-03-14\n# Sill, left\n- plug: missing\n');
  writeFileSync(path.join(car, 'a second', 'findings.md'), '# Visit\n- seen: 2026-05-09\n# Sill, left\n- plug: sound\n');
  writeFileSync(path.join(car, 'out', 'findings.md'), '# Visit\n');
  cpSync('sample-job/2026-03-14/photos/IMG_4021.jpg', path.join(car, 'a second', 'a.jpg'));
  cpSync('sample-job/2026-03-14/photos/IMG_4022.jpg', path.join(car, 'b first', 'a.jpg'));
  return car;
}

test('of several visits the newest by its day is the one a dossier is about, and the car is inherited', async () => {
  const car = twoVisits();
  const found = await read(car, { clock });
  expect(found?.folder).toMatchObject({ visit: path.join(car, 'a second'), name: 'a second', given: false });
  expect(found?.job.notes.car.map((meta) => `${meta.key}: ${meta.text}`)).toEqual(['car: Test 1', 'built: 1971']);
  expect(found?.job.notes.seen?.date).toBe('2026-05-09');
  expect(found?.job.notes.file).toBe('a second/findings.md');
  expect(found?.job.settings.currency).toBe('EUR');
  const [first, ...rest] = found?.earlier ?? [];
  expect(rest).toEqual([]);
  expect(first?.job.notes.seen?.date).toBe('2026-03-14');
  // Paths lead from the folder of the car; ids of two photos of one name differ.
  expect([found, first].map((visit) => visit?.job.photos.map(({ id, path: name }) => [id, name]))).toEqual([[['a', 'a second/a.jpg']], [['b-first--a', 'b first/a.jpg']]]);
  expect([found, first].map((visit) => visit?.texts.map((text) => text.path))).toEqual([['a second/findings.md', 'sillbook.json'], ['b first/findings.md']]);
});

test('what a later visit says of the car anew goes before what the first one said; the rest holds', async () => {
  const car = twoVisits();
  writeFileSync(path.join(car, 'a second', 'findings.md'), '# Car\n- built: 1972\n- car: \n- mileage: 61,520 miles\n# Visit\n- seen: 2026-05-09\n# Sill, left\n- plug: sound\n');
  const said = (await read(car, { clock }))?.job.notes.car.filter(({ text }) => text !== '').map(({ key, text }) => `${key}: ${text}`);
  expect(said).toEqual(['car: Test 1', 'built: 1972', 'mileage: 61,520 miles']);
});

test('a visit named by its own folder is read as of its day, with the settings of the car', async () => {
  const car = twoVisits();
  const first = await read(path.join(car, 'b first'), { clock });
  expect(first?.earlier).toEqual([]);
  expect(first?.job.settings.currency).toBe('EUR');
  expect(first?.job.notes.file).toBe('findings.md');
  expect(first?.job.photos.map((photo) => [photo.id, photo.path])).toEqual([['a', 'b first/a.jpg']]);
  const second = await read(path.join(car, 'a second'), { clock });
  expect(second?.earlier.map((visit) => visit.job.notes.file)).toEqual(['../b first/findings.md']);
  expect(second?.job.notes.car.map((meta) => meta.key)).toEqual(['car', 'built']);
});

test('a job of its own below a folder with other jobs is no visit of them', async () => {
  const car = twoVisits();
  writeFileSync(path.join(car, 'a second', 'sillbook.json'), '{}');
  const own = await read(path.join(car, 'a second'), { clock });
  expect(own?.earlier).toEqual([]);
  expect(own?.job.settings.currency).toBeUndefined();
  expect(own?.job.photos.map((photo) => photo.path)).toEqual(['a.jpg']);
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
  cpSync('sample-job/2026-03-14/photos/IMG_4021.jpg', path.join(job, 'for the buyer', 'photos', 'a.jpg'));
  expect((await read(job, { clock }))?.job.photos).toEqual([]);
});
