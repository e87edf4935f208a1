import { expect, test } from 'vitest';
import type { BlockOf } from '../../src/model/dossier.ts';
import { blockSchema } from '../../src/model/dossier.ts';
import { dossierOf, judged } from './builders.ts';

type Plots = BlockOf<'plots'>;

function plotsOf(findings: string, section = 'readings', given: Parameters<typeof judged>[2] = {}): Plots | undefined {
  const dossier = dossierOf(judged(`# Car\n- body: saloon\n\n${findings}`, [], given), 'evidence');
  const blocks = dossier.sections.find(({ id }) => id === section)?.blocks ?? [];
  for (const block of blocks) expect(blockSchema.safeParse(block).error).toBeUndefined();
  return blocks.find((block) => block.type === 'plots');
}

function wordsOf(plots: Plots | undefined): { title: string; names: string[] }[] {
  return (plots?.scales ?? []).map(({ title, items }) => ({ title, names: items.map(({ name }) => name.map((run) => (typeof run === 'string' ? run : run.text)).join('')) }));
}

const roof = '# Roof\n- film: 110 um, 125 um, 118 um, 121 um, 116 um\n- baseline: roof\n';
const sill = '# Sill, left\n- film, outer face: 480 um, 520 um, 510 um, 1,900 um, 540 um\n- steel, outer face: 0.80 mm, 0.82 mm. caliper\n';

test('film of all zones stands on one scale, steel on another, front to rear', () => {
  expect(wordsOf(plotsOf(roof + sill))).toEqual([
    { title: 'Steel, in mm', names: ['Sill, left; steel, outer face'] },
    { title: 'Film, in µm', names: ['Sill, left; film, outer face', 'Roof; film'] },
  ]);
});

test('every single value is there with its words, least first, and the one that stands out is marked', () => {
  const film = plotsOf(roof + sill)?.scales[1]?.items[0]?.plot;
  expect(film?.values).toEqual([
    { at: 480, text: '480 µm' }, { at: 510, text: '510 µm' }, { at: 520, text: '520 µm' }, { at: 540, text: '540 µm' }, { at: 1900, text: '1900 µm', apart: true },
  ]);
  expect(film?.text).toBe('5 values, 480 to 1900 µm, median 520 µm');
  expect(film?.marks).toEqual([{ at: 118, words: 'the roof, median 118 µm' }]);
  expect(film?.label).toBe('Sill, left; film, outer face: 5 values, 480 to 1900 µm, median 520 µm; beside the roof, median 118 µm; 1900 µm stands out.');
});

test('steel stands beside the new sheet assumed', () => {
  const steel = plotsOf(sill)?.scales[0]?.items[0]?.plot;
  expect(steel?.marks).toEqual([{ at: 0.9, words: 'new sheet, 0.90 mm assumed' }]);
  expect([steel?.least, steel?.median, steel?.most]).toEqual([{ at: 0.8, text: '0.80 mm' }, { at: 0.81, text: '0.81 mm' }, { at: 0.82, text: '0.82 mm' }]);
  expect(steel?.counts).toBe(true);
});

test('what does not count says why, in the sentence and to who cannot see the drawing', () => {
  const item = plotsOf('# Sill, right\n- metal inside, middle: scaling. seen through inner face 2\n- steel, outer face: 0.80 mm\n', 'sill-right')?.scales[0]?.items[0];
  expect(item?.plot.counts).toBe(false);
  expect(item?.inline).toEqual(['Does not count as thickness left (metal inside, middle: scaling). New sheet: 0.90 mm assumed here (±10 %).']);
  expect(item?.plot.label).toBe('Steel, outer face: one value, 0.80 mm; beside new sheet, 0.90 mm assumed; does not count: metal inside, middle: scaling.');
  const told = plotsOf('# Sill, left\n- film: 480 um. told by the seller\n- hardness: 60 Shore A. told by the seller\n')?.scales;
  expect(told?.map(({ title, items }) => [title, items[0]?.plot.counts, items[0]?.plot.marks])).toEqual([['Film, in µm', false, []], ['Hardness, in Shore A', false, []]]);
  expect(told?.[1]?.items[0]?.inline).toEqual(['Counts for nothing (told by seller).']);
});

test('one value has no range, and values all alike say so', () => {
  expect(plotsOf('# Sill, left\n- film: 480 um\n')?.scales[0]?.items[0]?.plot.text).toBe('one value, 480 µm');
  expect(plotsOf('# Sill, left\n- film: 480 um, 480 um, 480 um\n')?.scales[0]?.items[0]?.plot.text).toBe('3 values, each 480 µm');
});

test('where nothing was read, or nothing that can be, there is no drawing', () => {
  expect(plotsOf('# Sill, left\n- plug, inner face 1: missing\n')).toBeUndefined();
  expect(plotsOf('# Sill, left\n- film: 480 to 520 um\n')).toBeUndefined();
});

test('in inches film is in thou and steel in inches, at the same share of the scale', () => {
  const scales = plotsOf(roof + sill, 'readings', { units: 'in' })?.scales ?? [];
  expect(scales.map(({ title }) => title)).toEqual(['Steel, in inches', 'Film, in thou']);
  expect(scales[0]?.items[0]?.plot.least).toEqual({ at: 0.031496, text: '0.0315 in' });
  // 1 thou is 25.4 µm, by the definition of the inch (25.4 mm, 1959).
  expect(scales[1]?.items[0]?.plot.most).toEqual({ at: 74.803, text: '74.8 thou' });
  expect(scales[1]?.items[0]?.plot.marks[0]?.at).toBeCloseTo(118 / 25.4, 2);
  expect(scales[1]?.items[0]?.plot.text).toBe('5 values, 18.9 to 74.8 thou, median 20.5 thou');
});
