import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';

/** Who may import whom. `job.ts` and the commands tie the stages together; the stages know only the nouns and the units. */
const stages = ['read', 'place', 'weigh', 'plan', 'compare', 'write', 'print', 'seal'];

const files = readdirSync('src', { recursive: true, encoding: 'utf8' })
  .map((name) => name.split(path.sep).join('/'))
  .filter((name) => name.endsWith('.ts') && !name.endsWith('.d.ts'))
  .toSorted();

function importsOf(file: string): string[] {
  const text = readFileSync(path.join('src', file), 'utf8');
  const specifiers = [...text.matchAll(/(?:from|import)\s*\(?\s*'(\.[^']+)'/g)].map((match) => match[1] ?? '');
  return specifiers.map((specifier) => path.posix.join(path.posix.dirname(file), specifier));
}

function roomOf(file: string): string {
  return file.includes('/') ? (file.split('/')[0] ?? '') : file;
}

/** What one room may import besides itself. */
function allowed(room: string, target: string): boolean {
  const other = roomOf(target);
  if (room === other) return true;
  if (room === 'model') return false;
  if (room === 'units.ts') return other === 'model';
  if (stages.includes(room)) return other === 'model' || other === 'units.ts';
  if (room === 'job.ts') return other !== 'commands';
  if (room === 'cli.ts') return target === 'commands/index.ts';
  return room === 'commands';
}

test('stages import nouns and units, never each other', () => {
  const wrong = files.flatMap((file) => importsOf(file).filter((target) => !allowed(roomOf(file), target)).map((target) => `${file} → ${target}`));
  expect(wrong).toEqual([]);
});

test('every room of src is on the map', () => {
  const rooms = [...new Set(files.map(roomOf))].toSorted();
  expect(rooms).toEqual(['cli.ts', 'commands', 'compare', 'job.ts', 'model', 'place', 'plan', 'print', 'read', 'seal', 'units.ts', 'weigh', 'write']);
});

test('every import names a file', () => {
  const missing = files.flatMap((file) => importsOf(file).filter((target) => !files.includes(target)).map((target) => `${file} → ${target}`));
  expect(missing).toEqual([]);
});

test('no import goes in a circle', () => {
  const state = new Map<string, 'open' | 'done'>();
  const circles: string[] = [];
  const visit = (file: string, trail: string[]): void => {
    if (state.get(file) === 'done') return;
    if (state.get(file) === 'open') {
      circles.push([...trail, file].join(' → '));
      return;
    }
    state.set(file, 'open');
    for (const target of importsOf(file)) visit(target, [...trail, file]);
    state.set(file, 'done');
  };
  for (const file of files) visit(file, []);
  expect(circles).toEqual([]);
});

const written = [
  ...files.map((file) => `src/${file}`),
  ...readdirSync('templates', { recursive: true, encoding: 'utf8' }).map((file) => `templates/${file}`).filter((file) => /\.(astro|css|ts)$/.test(file)),
  ...readdirSync('tests', { recursive: true, encoding: 'utf8' }).map((file) => `tests/${file}`).filter((file) => file.endsWith('.ts')),
];

test('no file is longer than 300 lines', () => {
  const long = written.filter((file) => readFileSync(file, 'utf8').split('\n').length > 301);
  expect(long).toEqual([]);
});

test('no function of src is longer than 70 lines', () => {
  const long: string[] = [];
  for (const file of files) {
    const lines = readFileSync(path.join('src', file), 'utf8').split('\n');
    for (const [start, line] of lines.entries()) {
      if (!/^(export )?(default )?(async )?function\b/.test(line)) continue;
      const end = lines.findIndex((one, at) => at > start && one === '}');
      if (end - start + 1 > 70) long.push(`${file}:${start + 1} ${end - start + 1} lines`);
    }
  }
  expect(long).toEqual([]);
});

test('exported functions say what they do', () => {
  const silent: string[] = [];
  for (const file of files) {
    const lines = readFileSync(path.join('src', file), 'utf8').split('\n');
    for (const [at, line] of lines.entries()) {
      if (/^export (async )?function\b/.test(line) && !/\*\/\s*$/.test(lines[at - 1] ?? '')) silent.push(`${file}:${at + 1}`);
    }
  }
  expect(silent).toEqual([]);
});

test('one Astro block for each block type', () => {
  const source = readFileSync('src/model/blocks.ts', 'utf8');
  const types = [...source.matchAll(/type: z\.literal\('([a-z]+)'\)/g)].map((match) => match[1]).toSorted();
  const blocks = readdirSync('templates/site/blocks').filter((name) => name.endsWith('.astro')).map((name) => name.replace('.astro', '').toLowerCase());
  expect(types.length).toBeGreaterThan(10);
  expect(types.filter((type) => !blocks.includes(type ?? ''))).toEqual([]);
});

test('nothing of this machine stands in a file of the package', () => {
  const suspicious = written.filter((file) => file !== 'tests/structure.test.ts' && /(?<![\w.])\/(work|home|root)\/[a-z]/.test(readFileSync(file, 'utf8')));
  expect(suspicious).toEqual([]);
});
