import type { BlockOf } from '../model/dossier.ts';
import { clockText } from '../units.ts';
import { stacked } from './plots.ts';
import type { Tick } from './plots.ts';

/** Minutes between ticks that a clock has, and most intervals: their times still stand apart on a phone. Our judgement. */
const steps = [5, 10, 15, 30, 60, 120, 180, 240, 360];
const mostIntervals = 7;

/** One photo along the day, in hundredths of the strip; `level` counts from 0 how many stand below it. */
export interface TimeMark {
  at: number;
  level: number;
  figure: string;
  words: string;
}
/** The strip of a day as both printers draw it. */
export interface DrawnTimeline {
  ticks: Tick[];
  rows: { name: string; text: string; label: string; levels: number; marks: TimeMark[] }[];
  /** Stretches without a photo, drawn dashed on the axis; the rest of it is solid. */
  gaps: { from: number; to: number }[];
  solid: { from: number; to: number }[];
}

/** Works out how a day is drawn: whole steps of the clock around it, photos that nearly coincide on each other. */
export function drawnTimeline({ from, to, rows, gaps }: BlockOf<'timeline'>): DrawnTimeline {
  const step = steps.find((one) => Math.ceil(to / one) - Math.floor(from / one) <= mostIntervals) ?? 360;
  const start = step * Math.floor(from / step);
  const intervals = Math.max(1, Math.ceil(to / step) - Math.floor(from / step));
  const along = (minute: number): number => (100 * (minute - start)) / (step * intervals);
  const drawnGaps = gaps.map((gap) => ({ from: along(gap.from), to: along(gap.to) })).sort((a, b) => a.from - b.from);
  return {
    ticks: Array.from({ length: intervals + 1 }, (_, index) => ({ at: (100 * index) / intervals, text: clockText(start + step * index) })),
    rows: rows.map(({ name, text, marks }) => {
      const sorted = marks.toSorted((a, b) => a.at - b.at);
      const levels = stacked(sorted.map((mark) => along(mark.at)));
      return { name, text, label: `${name}: ${text}`, levels: Math.max(...levels) + 1, marks: sorted.map((mark, index) => ({ ...mark, at: along(mark.at), level: levels[index] ?? 0 })) };
    }),
    gaps: drawnGaps,
    solid: [0, ...drawnGaps.map((gap) => gap.to)].map((end, index) => ({ from: end, to: drawnGaps[index]?.from ?? 100 })),
  };
}
