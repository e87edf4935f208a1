import type { BlockOf } from '../model/dossier.ts';
import type { Plot } from '../model/plot.ts';
import { numberText } from '../units.ts';

/** Most intervals of a scale: their numbers still stand apart on a phone. Our judgement. */
const mostIntervals = 7;
/** Dots nearer than this, in hundredths of the scale, stand on each other: nothing is moved along the scale. Our judgement. */
const dotSpacing = 1.7;

/** A place along a scale, in hundredths of its length, with its number. */
export interface Tick {
  at: number;
  text: string;
}
/** A single value; `level` counts from 0 how many stand below it. */
export interface Dot {
  at: number;
  level: number;
  apart: boolean;
}
/** A reading as both printers draw it; places in hundredths of the scale. */
export interface DrawnPlot {
  dots: Dot[];
  /** How many dots stand on each other at most. */
  levels: number;
  least: number;
  median: number;
  most: number;
  marks: { at: number; words: string }[];
  /** Outlined rather than filled: it does not count. */
  hollow: boolean;
  text: string;
  label: string;
}
/** Readings of one quantity on their common scale. */
export interface DrawnScale {
  ticks: Tick[];
  plots: DrawnPlot[];
}

/** What is drawn of readings, as a legend explains it. */
export type Sign = 'dot' | 'line' | 'mark' | 'apart' | 'hollow';

/**
 * A scale from nought, on which a length is a thickness, to the first tick at or beyond `most`. Steps are 1, 2 or 5 times
 * a power of ten, the least of which no more than seven are needed: the usual rule, as in Heckbert, Nice numbers for
 * graph labels (Graphics Gems, 1990), from memory.
 */
export function scaleTo(most: number): { end: number; ticks: Tick[] } {
  const largest = most > 0 ? most : 1;
  // Decimal text gives the power of ten exactly on every machine; a logarithm does not.
  const exponent = Number(largest.toExponential().split('e')[1]);
  const steps = [exponent - 1, exponent].flatMap((power) => [1, 2, 5].map((factor) => ({ factor, power })));
  const intervalsOf = ({ factor, power }: { factor: number; power: number }): number => Math.ceil(largest / Number(`${factor}e${power}`) - 1e-9);
  const step = steps.find((one) => intervalsOf(one) <= mostIntervals) ?? { factor: 1, power: exponent + 1 };
  const intervals = intervalsOf(step);
  const valueOf = (index: number): number => Number(`${index * step.factor}e${step.power}`);
  const ticks = Array.from({ length: intervals + 1 }, (_, index) => ({ at: (100 * index) / intervals, text: numberText(valueOf(index), Math.max(0, -step.power)) }));
  return { end: valueOf(intervals), ticks };
}

/** Works out how readings of one quantity are drawn. Nothing of it leaves the scale. */
export function drawnScale(items: BlockOf<'plots'>['scales'][number]['items']): DrawnScale {
  const plots = items.map(({ plot }) => plot);
  const { end, ticks } = scaleTo(Math.max(...plots.flatMap(({ most, marks }) => [most.at, ...marks.map(({ at }) => at)])));
  return { ticks, plots: plots.map((plot) => drawnPlot(plot, end)) };
}

function drawnPlot({ values, least, median, most, marks, counts, text, label }: Plot, end: number): DrawnPlot {
  const along = (at: number): number => (100 * at) / end;
  const levels = stacked(values.map(({ at }) => along(at)));
  return {
    dots: values.map(({ at, apart }, index) => ({ at: along(at), level: levels[index] ?? 0, apart: apart ?? false })),
    levels: Math.max(...levels) + 1,
    least: along(least.at),
    median: along(median.at),
    most: along(most.at),
    marks: marks.map(({ at, words }) => ({ at: along(at), words })),
    hollow: !counts,
    text,
    label,
  };
}

/** The lowest level at which each of some places stands clear of those before it, in the order given, which is ascending. */
export function stacked(places: readonly number[], spacing: number = dotSpacing): number[] {
  const ends: number[] = [];
  return places.map((at) => {
    const free = ends.findIndex((end) => at - end >= spacing);
    const level = free < 0 ? ends.length : free;
    ends[level] = at;
    return level;
  });
}

/** Which signs are drawn in a block, so that its legend explains no others. */
export function signsOf(scales: readonly DrawnScale[]): Sign[] {
  const plots = scales.flatMap((scale) => scale.plots);
  return [
    'dot',
    ...(plots.some(({ least, most }) => most > least) ? (['line'] as const) : []),
    ...(plots.some(({ marks }) => marks.length > 0) ? (['mark'] as const) : []),
    ...(plots.some(({ dots }) => dots.some((dot) => dot.apart)) ? (['apart'] as const) : []),
    ...(plots.some(({ hollow }) => hollow) ? (['hollow'] as const) : []),
  ];
}
