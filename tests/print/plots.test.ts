import fc from 'fast-check';
import { expect, test } from 'vitest';
import { blockSchema } from '../../src/model/dossier.ts';
import { drawnScale, scaleTo, signsOf, stacked } from '../../src/print/plots.ts';
import { drawnTimeline } from '../../src/print/timeline.ts';
import { plotOf, samplePlots, sampleTimeline } from './sample-plots.ts';

const textsOf = (most: number): string[] => scaleTo(most).ticks.map(({ text }) => text);

function drawn(...plots: ReturnType<typeof plotOf>[]): ReturnType<typeof drawnScale> {
  return drawnScale(plots.map((plot) => ({ name: [''], inline: [], plot })));
}

test.each([
  [610, ['0', '100', '200', '300', '400', '500', '600', '700']],
  [700, ['0', '100', '200', '300', '400', '500', '600', '700']],
  [0.9, ['0', '0.2', '0.4', '0.6', '0.8', '1']],
  [0.3, ['0', '0.05', '0.1', '0.15', '0.2', '0.25', '0.3']],
  [1900, ['0', '500', '1000', '1500', '2000']],
  [74.8, ['0', '20', '40', '60', '80']],
  [0.0354, ['0', '0.01', '0.02', '0.03', '0.04']],
  [1_000_000, ['0', '200000', '400000', '600000', '800000', '1000000']],
  [1, ['0', '0.2', '0.4', '0.6', '0.8', '1']],
  [0, ['0', '0.2', '0.4', '0.6', '0.8', '1']],
])('a scale to %d goes from nought in round steps', (most, texts) => {
  expect(textsOf(most)).toEqual(texts);
});

test('whatever is the most, steps are 1, 2 or 5 times a power of ten, alike, three to seven, and reach it', () => {
  fc.assert(
    fc.property(fc.double({ min: 1e-4, max: 1e7, noNaN: true }), (most) => {
      const { end, ticks } = scaleTo(most);
      const values = ticks.map(({ text }) => Number(text));
      const step = values[1] ?? 0;
      expect(Number(step.toExponential().replace(/e.*/, ''))).toSatisfy((mantissa: number) => [1, 2, 5].includes(mantissa));
      expect(ticks.length - 1).toBeGreaterThanOrEqual(3);
      expect(ticks.length - 1).toBeLessThanOrEqual(7);
      expect(end).toBeGreaterThanOrEqual(most * (1 - 1e-8));
      expect(end - most).toBeLessThanOrEqual(step * 1.001);
      values.forEach((value, index) => expect(value).toBeCloseTo(index * step, 6));
      expect(ticks.map(({ at }) => at)).toEqual(ticks.map((_, index) => (100 * index) / (ticks.length - 1)));
    }),
  );
});

test('values alike stand on each other, others at the foot, none moved along the scale', () => {
  const [plot] = drawn(plotOf('', [800, 800, 400, 800])).plots;
  expect(plot?.dots.map(({ at, level }) => [at, level])).toEqual([[50, 0], [100, 0], [100, 1], [100, 2]]);
  expect(plot?.levels).toBe(3);
  expect(stacked([10, 11, 12, 13])).toEqual([0, 1, 0, 1]);
  expect(stacked([])).toEqual([]);
});

test('two dots of one level never touch, and every stack is filled from below', () => {
  fc.assert(fc.property(fc.array(fc.double({ min: 0, max: 100, noNaN: true }), { maxLength: 60 }), (values) => {
    const places = values.toSorted((a, b) => a - b);
    const levels = stacked(places);
    const used = [...new Set(levels)].toSorted((a, b) => a - b);
    expect(used).toEqual(Array.from({ length: used.length }, (_, level) => level));
    for (const level of used) {
      const row = places.filter((_, index) => levels[index] === level);
      row.slice(1).forEach((at, index) => expect(at - (row[index] ?? 0)).toBeGreaterThanOrEqual(1.7));
    }
  }));
});

test('readings of one quantity share a scale that holds what they stand beside', () => {
  const { ticks, plots } = drawn(plotOf('', [100]), plotOf('', [50], { marks: [{ at: 400, words: 'the roof' }] }));
  expect(ticks.at(-1)?.text).toBe('400');
  expect(plots.map(({ dots }) => dots[0]?.at)).toEqual([25, 12.5]);
  expect(plots[1]?.marks).toEqual([{ at: 100, words: 'the roof' }]);
});

test('a value that stands out keeps its place and is told from the others; what does not count is hollow', () => {
  const [far, told] = drawn(plotOf('', [480, 500, 2000], { apart: [2000] }), plotOf('', [500], { counts: false })).plots;
  expect(far?.dots.map(({ at, apart }) => [at, apart])).toEqual([[24, false], [25, false], [100, true]]);
  expect([far?.hollow, told?.hollow]).toEqual([false, true]);
  expect([far?.least, far?.median, far?.most]).toEqual([24, 25, 100]);
});

test('a legend explains what is drawn and no more', () => {
  expect(signsOf([drawn(plotOf('', [5]))])).toEqual(['dot']);
  expect(signsOf(samplePlots().scales.map(({ items }) => drawnScale(items)))).toEqual(['dot', 'line', 'mark', 'apart', 'hollow']);
});

test('nothing leaves the scale, whatever the values', () => {
  fc.assert(fc.property(fc.array(fc.double({ min: 0, max: 1e6, noNaN: true }), { minLength: 1, maxLength: 20 }), (values) => {
    const { plots } = drawn(plotOf('', values, { marks: [{ at: 118, words: '' }] }));
    for (const { dots, least, median, most, marks } of plots) {
      for (const at of [least, median, most, ...dots.map((dot) => dot.at), ...marks.map((mark) => mark.at)]) {
        expect(at).toBeGreaterThanOrEqual(0);
        expect(at).toBeLessThanOrEqual(100 + 1e-6);
      }
    }
  }));
});

test('a day begins and ends on a step of the clock, with its gaps', () => {
  const { ticks, rows, gaps, solid } = drawnTimeline(sampleTimeline(['photo-a', 'photo-b', 'photo-c']));
  expect(ticks.map(({ text }) => text)).toEqual(['10:00', '10:15', '10:30', '10:45', '11:00', '11:15', '11:30', '11:45']);
  expect(rows.map(({ marks }) => marks.map(({ at }) => Math.round(at)))).toEqual([[11, 16], [21]]);
  expect(gaps.map(({ from, to }) => [Math.round(from), Math.round(to)])).toEqual([[38, 86]]);
  expect(solid.map(({ from, to }) => [Math.round(from), Math.round(to)])).toEqual([[0, 38], [86, 100]]);
});

test.each([[0, 1440], [605, 605], [0, 0], [719, 721], [1439, 1440], [1440, 1440]])('a day from minute %d to %d has a few steps of the clock and all photos on it', (from, to) => {
  const made = drawnTimeline({ ...sampleTimeline([]), from, to, gaps: [], rows: [{ name: '', text: '', marks: [{ at: from, figure: 'a', words: '' }, { at: to, figure: 'b', words: '' }] }] });
  expect(made.ticks.length).toBeGreaterThan(1);
  expect(made.ticks.length).toBeLessThanOrEqual(8);
  for (const { at } of made.rows.flatMap(({ marks }) => marks)) expect(at >= 0 && at <= 100).toBe(true);
});

test('a block with values out of order or a time out of its day is refused', () => {
  const plots = samplePlots();
  const [scale] = plots.scales;
  const [item] = scale?.items ?? [];
  if (!scale || !item) throw new Error('the sample has a reading');
  expect(blockSchema.safeParse(plots).success).toBe(true);
  const wrong = { ...plots, scales: [{ ...scale, items: [{ ...item, plot: { ...item.plot, most: { at: 500, text: '500 µm' } } }] }] };
  expect(blockSchema.safeParse(wrong).error?.issues[0]?.message).toBe('values and median have to lie between least and most');
  const day = sampleTimeline(['photo-a', 'photo-b', 'photo-c']);
  expect(blockSchema.safeParse(day).success).toBe(true);
  expect(blockSchema.safeParse({ ...day, to: 620 }).error?.issues[0]?.message).toBe('every time has to lie between from and to');
});
