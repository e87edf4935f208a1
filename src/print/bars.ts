import type { RangeBar } from '../model/range-bar.ts';

/** Least length of a thick line, in hundredths of the scale: a range of one value is still seen. Our judgement. */
const leastLength = 2.5;

/** A bar of an outlook as both printers draw it. */
export interface DrawnBar extends RangeBar {
  /** Ends of the thick line, in hundredths of the scale: `low` and `high`, moved apart where they lie too close to be seen. */
  from: number;
  to: number;
  /** Outlined rather than filled: the second case of an item, told from the first without colour. */
  hollow: boolean;
  /** Text alternative. */
  alt: string;
}

/** Works out how a bar is drawn; `index` counts the bars of its item from 0. Nothing of it leaves the scale. */
export function drawnBar(bar: RangeBar, index: number): DrawnBar {
  const { low, high, label, text } = bar;
  const length = Math.max(high - low, leastLength);
  const from = length > high - low ? Math.min(Math.max((low + high - length) / 2, 0), 100 - length) : low;
  return { ...bar, from, to: from + length, hollow: index > 0, alt: `${label}: ${text}` };
}
