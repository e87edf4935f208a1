import { describe, expect, test } from 'vitest';
import { noticeLine } from '../../src/model/notice.ts';
import type { Entry } from '../../src/model/notes.ts';
import { notesOf } from './notes-helper.ts';

function read(line: string): { entry: Entry | undefined; said: string[] } {
  const { notes, notices } = notesOf(`# Sill, left\n\n- ${line}\n`);
  return { entry: notes.zones[0]?.entries[0], said: notices.map(noticeLine) };
}

// Limits and what was probably meant: our judgement.
describe('readings no car has', () => {
  test.each([
    ['steel, outer face: 62 mm', 'Did you mean 0.62 mm?'],
    ['steel, outer face: 85 mm', 'Did you mean 0.85 mm?'],
    ['steel, outer face: 120 mm', 'Did you mean 1.2 mm?'],
    ['steel, outer face: 0.62 in', 'Did you mean 0.62 mm?'],
    ['steel, outer face: 0.8 um', 'Did you mean 0.8 mm?'],
    ['film, outer face: 480 mm', 'Did you mean 480 um?'],
    ['film, outer face: 0.12', 'Did you mean 0.12 mm?'],
    ['film, outer face: 4 in', 'Did you mean 4 thou?'],
    ['hardness, plug: 620 Shore A', 'Did you mean 62 Shore A?'],
    ['hardness, plug: 100.5 Shore A', 'The line is kept'],
    ['steel, outer face: 0.04 mm', 'The line is kept'],
    ['water depth: 2000 mm', 'Did you mean 200 mm?'],
  ])('%s is asked back: %s', (line, advice) => {
    const { entry, said } = read(line);
    expect(said).toEqual([expect.stringContaining('warning reading-implausible')]);
    expect(said[0]).toContain(advice);
    // Kept as typed, and no reading.
    expect(entry).toMatchObject({ type: 'remark', words: line });
  });

  test.each(['steel: 12 mm', 'steel: 0.05 mm', 'film: 20 mm', 'film: 1 um', 'hardness: 100 Shore A', 'water depth: 1000 mm'])('%s is just possible', (line) => {
    expect(read(line)).toMatchObject({ entry: { type: 'reading' }, said: [] });
  });

  test('the notice points at the value', () => {
    expect(read('steel, outer face: 0.62 mm, 62 mm').said[0]).toContain('findings.md:3:31 ');
  });
});

describe('ranges', () => {
  test.each(['0.6-0.8 mm', '0.6–0.8 mm', '0.6 to 0.8 mm', '0.6 mm - 0.8 mm', '0.6/0.8 mm', '0.7 mm, 0.6-0.8 mm'])('%s asks for single values', (values) => {
    const { entry, said } = read(`steel, outer face: ${values}`);
    expect(said).toEqual([expect.stringMatching(/warning reading-range: A range "0\.6.*expected single values/)]);
    expect(entry?.type).toBe('remark');
  });

  test('one that runs backwards is said to', () => {
    expect(read('steel, outer face: 0.8-0.6 mm').said[0]).toContain('A range that runs backwards, "0.8-0.6 mm"');
    expect(read('steel, outer face: 0,8-0,6 mm').said[0]).toContain('runs backwards');
  });
});

test.each([
  ['steel, outer face: 0.62 mm, 0.6 mm', 0.01],
  ['steel, outer face: 0,625 mm', 0.001],
  ['steel, outer face: 1 mm', 1],
  ['film, roof: 480 um, 1,250 um', 1],
  ['film, roof: 0.12 mm', 10],
  // 1 thou = 25.4 µm exactly.
  ['film, roof: 4.5 thou', 2.54],
])('the smallest step of %s is %d in the unit of the quantity', (line, step) => {
  expect(read(line).entry).toMatchObject({ type: 'reading', step });
});

test('a value behind a quantity is a reading, whatever part is named', () => {
  expect(read('steel, jacking point: 0.80 mm').entry).toMatchObject({ type: 'reading', quantity: 'steel', place: 'jacking point', values: [0.8] });
  expect(read('hardness, plug, inner face 1: 62 Shore A').entry).toMatchObject({ type: 'reading', quantity: 'hardness', place: 'plug, inner face 1' });
  expect(read('paint, front edge: 120 um. IMG_4023').entry).toMatchObject({ type: 'reading', quantity: 'film', place: 'front edge', values: [120] });
  expect(read('film front edge: 120 um IMG_4023').entry).toMatchObject({ type: 'reading', quantity: 'film', place: 'front edge', photos: [{ text: 'IMG_4023' }] });
  expect(read('water depth: 12 mm').entry).toMatchObject({ type: 'reading', quantity: 'water depth', values: [12] });
  expect(read('steel, outer face: 0.8 mm calipers').entry).toMatchObject({ method: 'caliper' });
});

test('words behind a quantity stay what they were', () => {
  expect(read('paint: chipped, 40 mm').entry).toMatchObject({ type: 'finding', about: { part: 'coating' }, conditions: ['chipped'] });
  expect(read('paint: 2 coats').entry).toMatchObject({ type: 'finding' });
  expect(read('steel, outer face: pitted').entry).toMatchObject({ type: 'finding', conditions: ['pitted'] });
  // Names every object has are no quantity and no unit.
  expect(read('constructor: 3 mm').entry).toMatchObject({ type: 'remark' });
  expect(read('steel: 3 constructor').said[0]).toContain('reading-unclear');
});

describe('distances from a mounting', () => {
  test.each([['10 m', 10_000], ['1,200 mm', 1200], ['0.3 m', 300], ['30 cm', 300], ['0 cm', 0], ['8.7"', 220.98], ['1 inch', 25.4]])('%s', (text, distanceMm) => {
    expect(read(`mounting: ${text} from seat-belt bolt`)).toMatchObject({ entry: { type: 'mounting', distanceMm, of: 'seat-belt bolt' }, said: [] });
  });

  test.each([['22 m', 'mounting-implausible', 'Did you mean 22 cm?'], ['10001 mm', 'mounting-implausible', 'counts for no distance'], ['-22 cm', 'mounting-unclear', ''], ['1,200 m', 'mounting-unclear', ''], ['22 mmm', 'mounting-unclear', '']])('%s is none: %s', (text, rule, advice) => {
    const { entry, said } = read(`mounting: ${text} from seat-belt bolt`);
    expect(said).toEqual([expect.stringContaining(`warning ${rule}`)]);
    expect(said[0]).toContain(advice);
    expect(entry).toMatchObject({ type: 'remark', words: `mounting: ${text} from seat-belt bolt` });
  });
});
