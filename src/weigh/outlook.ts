import type { Chance, Prospect, Range, SumRange, Weighed, YearsThrough } from '../model/outlook.ts';
import { leastAgreement } from './curves.ts';
import type { Memory } from './curves.ts';
import { quantileOf, rangeOf } from '../model/quantile.ts';
import { normalCdf, normalQuantile } from './distributions.ts';
import type { Draws } from './judgements.ts';
import { drawSection } from './section.ts';
import type { DrawnSection } from './section.ts';
import { best, worst } from './setting.ts';
import type { Unseen, Work } from './setting.ts';
import type { Steel } from './steel.ts';
import { inOrder } from './states.ts';
import type { SectionInput } from './states.ts';
import { horizons, inTime, printed } from './through.ts';

/** Weighs one section over both levels, left and done, on the same draws. */
export function weighSection(draws: Draws, section: SectionInput, memory: Memory): Weighed {
  const drawn = (work: Work): DrawnSection[][] => [{}, best, worst].map((unseen) => drawAll(draws, section, work, unseen, memory));
  const left = drawn('left');
  const done = section.worked ? drawn('done').map((all, index) => noWorse(all, left[index] ?? [])) : null;
  const [all = []] = left;
  return {
    left: prospectOf(left),
    done: done === null ? null : prospectOf(done),
    water: rangeOf(all.map((one) => one.water)),
    leftUm: leftRange(draws, all),
    strained: mean(all.map((one) => one.agree)) < leastAgreement,
  };
}

/** A section in every outer draw. */
export function drawAll(draws: Draws, given: SectionInput, work: Work, unseen: Unseen, memory: Memory): DrawnSection[] {
  const section = { ...given, openings: inOrder(given.openings) };
  return draws.judgements.map((_, draw) => drawSection(draws, draw, section, work, unseen, memory));
}

/** A remedy never raises a chance, whatever a draw of two different coats says. */
function noWorse(done: DrawnSection[], left: readonly DrawnSection[]): DrawnSection[] {
  return done.map((one, draw) => {
    const before = left[draw] as DrawnSection;
    return { ...one, today: Math.min(one.today, before.today), through: one.through.map((chance, at) => Math.min(chance, before.through[at] as number)) };
  });
}

/** Of a section as drawn, with everything unseen at its best, and at its worst. */
function prospectOf([all = [], atBest = [], atWorst = []]: readonly DrawnSection[][]): Prospect {
  const quantile = (drawn: readonly DrawnSection[], at: number, share: number): number => quantileOf(drawn.map((one) => one.through[at] as number), share);
  const chances = horizons.slice(0, printed).map((years, at): Chance => {
    const range = rangeOf(all.map((one) => one.through[at] as number));
    return { years, ...range, best: Math.min(range.low, quantile(atBest, at, 0.1)), worst: Math.max(range.high, quantile(atWorst, at, 0.9)) };
  });
  return {
    chances,
    years: yearsOf(all),
    today: mean(all.map((one) => one.today)),
    draws: all.map((one) => one.through.slice(0, printed)),
  };
}

/** Years until one in ten, one half and nine in ten are through, over both levels. */
export function yearsOf(all: readonly DrawnSection[]): YearsThrough {
  const curve = inTime.map((at) => mean(all.map((one) => one.through[at] as number)));
  const today = mean(all.map((one) => one.today));
  return { low: yearsUntil(0.1, today, curve), middle: yearsUntil(0.5, today, curve), high: yearsUntil(0.9, today, curve) };
}

/** Years until a share of the draws is through, straight lines between the horizons; null beyond the last. */
function yearsUntil(share: number, today: number, curve: readonly number[]): number | null {
  let before = today;
  let yearsBefore = 0;
  if (today >= share) return 0;
  for (const [index, at] of inTime.entries()) {
    const years = horizons[at] as number;
    const chance = Math.max(before, curve[index] as number);
    if (chance >= share) return yearsBefore + ((share - before) / (chance - before)) * (years - yearsBefore);
    before = chance;
    yearsBefore = years;
  }
  return null;
}

/** Range of a sum over rows of outer draws: draw by draw, as if all turned out alike; and with variances added, as if each turned out by itself. */
export function sumRange(rows: readonly Float64Array[]): SumRange {
  const totals = new Float64Array(rows[0]?.length ?? 0);
  let sum = 0;
  let variance = 0;
  for (const row of rows) {
    const average = mean([...row]);
    sum += average;
    variance += mean([...row].map((value) => (value - average) ** 2));
    for (const [draw, value] of row.entries()) totals[draw] = (totals[draw] as number) + value;
  }
  const reach = -normalQuantile(0.1) * Math.sqrt(variance);
  return { alike: rangeOf(totals), apart: { low: Math.max(0, sum - reach), middle: sum, high: sum + reach } };
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / Math.max(values.length, 1);
}

const leftShares = [0.1, 0.3, 0.5, 0.7, 0.9] as const;

/**
 * Steel left at the deepest place over what is not known and over the pit factor, at five of its quantiles, given that it is
 * not through; over the rate too where the steel took its course since a known date.
 */
function leftRange(draws: Draws, all: readonly DrawnSection[]): Range {
  return rangeOf(all.flatMap(({ steels }, draw) => leftShares.map((share) => Math.min(...steels.map((steel) => leftOf(draws, draw, steel, share))))));
}

function leftOf({ judgements, pitSigma }: Draws, draw: number, { sheetUm, lossUm, leftUm, dated }: Steel, share: number): number {
  if (leftUm !== null) return leftUm;
  const { pitFactor = 1, rateSigma = 0 } = judgements[draw] ?? {};
  const sigma = dated ? Math.hypot(pitSigma, rateSigma) : pitSigma;
  const deepUm = pitFactor * lossUm;
  if (deepUm === 0) return sheetUm;
  const whole = Math.max(normalCdf(Math.log(sheetUm / deepUm) / sigma), 1e-300);
  return Math.max(0, sheetUm - Math.exp(sigma * normalQuantile((1 - share) * whole)) * deepUm);
}
