import { chmodSync, cpSync, existsSync, mkdirSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { copySample, findings, scratch, sillbook, smallJob } from './command-line.ts';

let place = scratch();
beforeEach(() => {
  place.remove();
  place = scratch();
});
afterEach(() => place.remove());

const noHeavy = path.resolve('tests/commands/no-heavy.mjs');

test('help goes to standard output, each command has its own with examples', () => {
  const all = sillbook(['--help']);
  expect(all).toMatchObject({ code: 0, err: '' });
  for (const name of ['new', 'check', 'build', 'issue']) {
    const help = sillbook([name, '--help']);
    expect(help.code).toBe(0);
    expect(help.out).toMatch(/Examples?\n/);
    expect(all.out).toContain(`sillbook ${name}`);
  }
  expect(sillbook(['--version']).out).toBe(`${(JSON.parse(readFileSync('package.json', 'utf8')) as { version: string }).version}\n`);
});

test.each([
  [[], /sillbook new/],
  [['bild'], /no command "bild"/],
  [['check'], /needs a job folder/],
  [['check', 'a', 'b'], /one job folder/],
  [['check', 'no-such-folder'], /no folder no-such-folder/],
  [['build', 'sample-job/2026-03-14', '--edition', 'glossy'], /no edition "glossy"/],
  [['build', 'sample-job/2026-03-14', '--bogus'], /Unknown option/],
  [['build', 'sample-job/2026-03-14', '--out', 'src'], /other things than a dossier/],
  [['build', 'sample-job/2026-03-14', '--out', '.'], /would replace it/],
  [['issue', 'sample-job/2026-03-14'], /needs --number/],
  [['issue', 'sample-job/2026-03-14', '--number', '../x', '--date', '2026-03-15'], /needs --number/],
  [['issue', 'sample-job/2026-03-14', '--number', '1', '--date', '2026-02-30'], /needs --date/],
  [['new', 'nothing-here', '--into', 'no-such-job'], /no nothing-here/],
  [['new', 'sample-job/2026-03-14/photos'], /needs --into/],
])('wrong use: %j', (args, says) => {
  const ran = sillbook(args);
  expect(ran).toMatchObject({ code: 2, out: '' });
  expect(ran.err).toMatch(says);
  expect(ran.err).not.toMatch(/\n\s+at /);
  expect(existsSync('no-such-job')).toBe(false);
});

test('check of the sample: results on standard output, no heavy package, nothing written', () => {
  const job = copySample(place.folder);
  const ran = sillbook(['check', job], { node: ['--import', noHeavy] });
  expect(ran.err).toBe('');
  expect(ran.code).toBe(0);
  expect(ran.out).toContain('Still to do before leaving the car');
  expect(ran.out).toMatch(/\d+ of \d+ known openings seen/);
  expect(ran.out).not.toMatch(/\u001B/);
  expect(readdirSync(job).toSorted()).toEqual(['findings.md', 'photos', 'sillbook.json']);
});

test('check --json tells the same as data', () => {
  const ran = sillbook(['check', 'sample-job/2026-03-14', '--json']);
  const data = JSON.parse(ran.out) as { coverage: { known: number }; zones: unknown[]; photos: { sha256: string }[]; todo: { rule: string }[] };
  expect(data.coverage.known).toBeGreaterThan(20);
  expect(data.photos).toHaveLength(21);
  expect(data.photos.every((photo) => /^[0-9a-f]{64}$/.test(photo.sha256))).toBe(true);
  expect(data.todo.some((notice) => notice.rule === 'view-missing')).toBe(true);
});

test('an error in the job is exit 1 and says where', async () => {
  const job = await smallJob(place.folder);
  writeFileSync(path.join(job, 'findings.md'), `${findings}![plug, inner face 3: sound](IMG_0003.jpg)\n- hide somewhere\n- hide 1 2 3: plate\n`);
  const ran = sillbook(['check', job]);
  expect(ran.code).toBe(1);
  expect(ran.out).toMatch(/findings\.md:13:3 error mark-unclear: .*expected fractions/);
});

test('control characters in the findings do not reach the terminal', async () => {
  const job = await smallJob(place.folder);
  writeFileSync(path.join(job, 'findings.md'), `# Car\n- car: \u001B[2Jgone\n# Si\u001B[31mll\n- plug\u0007: sound\n`);
  const ran = sillbook(['check', job, '--all']);
  expect(ran.out).toContain('zone-unknown');
  expect(ran.out).not.toMatch(/[\u0007\u001B]/);
  expect(sillbook(['build', job]).out).not.toMatch(/[\u0007\u001B]/);
});

test('new makes a job from photos, twice never', () => {
  const job = path.join(place.folder, 'fresh');
  const made = sillbook(['new', 'sample-job/2026-03-14/photos', '--into', job]);
  expect(made.code).toBe(0);
  expect(made.out).toMatch(/21 photos, 4 under a zone, 17 to place/);
  const text = readFileSync(path.join(job, 'findings.md'), 'utf8');
  expect(text).toContain('- seen: 2026-03-14 10:12-11:43\n');
  expect(text).toMatch(/# Sill, right\n\n!\[\]\(IMG_4025\.jpg\)\n\n!\[\]\(IMG_4026\.jpg\)\n/);
  expect(text).toMatch(/# Boot floor\n\n!\[\]\(IMG_4034\.jpg\)\n!\[\]\(IMG_4035\.jpg\)\n/);
  expect(text).toMatch(/# To place\n\n!\[\]\(IMG_4021\.jpg\)\n!\[\]\(IMG_4022\.jpg\)\n!\[\]\(IMG_4023\.jpg\)\n\n/);
  const check = sillbook(['check', job]);
  expect(check.code).toBe(0);
  const again = sillbook(['new', 'sample-job/2026-03-14/photos', '--into', job]);
  expect(again.code).toBe(2);
  expect(again.err).toMatch(/not overwritten/);
  expect(readFileSync(path.join(job, 'findings.md'), 'utf8')).toBe(text);
});

test('new makes a further visit beside the others, and asks of the car only what changes', () => {
  const car = path.join(place.folder, 'car');
  mkdirSync(path.join(car, '2026-03-14'), { recursive: true });
  writeFileSync(path.join(car, 'sillbook.json'), '{}');
  writeFileSync(path.join(car, '2026-03-14', 'findings.md'), '# Car\n- car: Test 1\n# Visit\n- seen: 2026-03-14\n# Sill, left\n- plug: missing\n');
  const made = sillbook(['new', 'sample-job/2026-05-09/photos', '--into', path.join(car, '2026-05-09')]);
  expect(made.code, made.err).toBe(0);
  const text = readFileSync(path.join(car, '2026-05-09', 'findings.md'), 'utf8');
  expect(text).toMatch(/^# Car\n\n- mileage: \n\n# Visit\n\n- seen: 2026-05-09 09:20-16:25\n/);
  expect(sillbook(['compare', car]).code).toBe(0);
});

test('new takes photos only, and says what it left', () => {
  const from = path.join(place.folder, 'mixed');
  mkdirSync(from);
  writeFileSync(path.join(from, 'film.mov'), 'x');
  expect(sillbook(['new', from, '--into', path.join(place.folder, 'none')])).toMatchObject({ code: 2 });
  expect(existsSync(path.join(place.folder, 'none'))).toBe(false);
  cpSync('sample-job/2026-03-14/photos/IMG_4021.jpg', path.join(from, 'a b.jpg'));
  const ran = sillbook(['new', from, '--into', path.join(place.folder, 'some')]);
  expect(ran.err).toContain('not those of photos: 1.');
  expect(readdirSync(path.join(place.folder, 'some', 'photos'))).toEqual(['a b.jpg']);
});

test('new keeps photos apart that share a name, takes zones from folders, leaves photos in the job where they are', () => {
  const from = path.join(place.folder, 'from');
  mkdirSync(path.join(from, 'left sill'), { recursive: true });
  mkdirSync(path.join(from, 'b'), { recursive: true });
  cpSync('sample-job/2026-03-14/photos/IMG_4021.jpg', path.join(from, 'left sill', 'one (1) ü.jpg'));
  cpSync('sample-job/2026-03-14/photos/IMG_4022.jpg', path.join(from, 'b', 'one (1) ü.jpg'));
  chmodSync(path.join(from, 'b', 'one (1) ü.jpg'), 0o444);
  const job = path.join(place.folder, 'job');
  expect(sillbook(['new', from, '--into', job]).code).toBe(0);
  const text = readFileSync(path.join(job, 'findings.md'), 'utf8');
  expect(text).toContain('# Sill, left\n\n![](<photos/left sill/one (1) ü.jpg>)');
  expect(text).toContain('# To place\n\n![](<photos/b/one (1) ü.jpg>)');
  expect(sillbook(['check', job]).out).not.toContain('photo-missing');
  const inside = path.join(place.folder, 'inside');
  mkdirSync(path.join(inside, 'pictures'), { recursive: true });
  cpSync('sample-job/2026-03-14/photos/IMG_4021.jpg', path.join(inside, 'pictures', 'a.jpg'));
  expect(sillbook(['new', path.join(inside, 'pictures'), '--into', inside]).code).toBe(0);
  expect(readdirSync(inside).toSorted()).toEqual(['findings.md', 'pictures']);
});
