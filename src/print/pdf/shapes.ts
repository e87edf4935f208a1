import type { Outcome } from '../../model/catalogue.ts';
import type { DrawnBar } from '../bars.ts';

/** Control points of a quarter circle, as a share of its radius. */
const kappa = 0.5523;

/**
 * Path operators of a state's shape in a square of `size` points whose lower left corner is at `x`, `y`, painted.
 * Fill and stroke colour are set by the caller. Shapes tell the states apart without colour: lozenge, half disc,
 * dashed empty square, small disc, short dash.
 */
export function shapePath(outcome: Outcome, x: number, y: number, size: number): string {
  const middle = size / 2;
  const at = (dx: number, dy: number): string => `${round(x + dx)} ${round(y + dy)}`;
  const pen = `${round(size * 0.11)} w`;
  switch (outcome) {
    case 'defect':
      return `${at(middle, 0)} m ${at(size, middle)} l ${at(middle, size)} l ${at(0, middle)} l h f`;
    case 'cannot tell':
      return `${pen} ${circle(x + middle, y + middle, middle * 0.9)} S ${halfDisc(x + middle, y + middle, middle * 0.9)} f`;
    case 'not seen':
      return `${pen} [${round(size * 0.24)} ${round(size * 0.16)}] 0 d ${at(size * 0.06, size * 0.06)} ${round(size * 0.88)} ${round(size * 0.88)} re S [] 0 d`;
    case 'sound':
      return `${circle(x + middle, y + middle, size * 0.27)} f`;
    case 'not fitted':
      return `${round(size * 0.16)} w ${at(size * 0.12, middle)} m ${at(size * 0.88, middle)} l S`;
  }
}

/** Height of a bar with its axis, from the upper end of the middle's mark to the axis. */
export const barHeightPt = 16;
const barMiddlePt = 6.4;
const thickPt = 5.6;
const markPt = 1.3;

/** Path operators of a scale from 0 to 100 below a bar whose upper left corner is at `x`, `y`, painted with the stroke colour. */
export function axisPath(x: number, y: number, width: number): string {
  const base = y - barHeightPt;
  const marks = [0, 25, 50, 75, 100].map((at) => x + 0.25 + ((width - 0.5) * at) / 100);
  return `0.5 w ${round(x)} ${round(base)} m ${round(x + width)} ${round(base)} l ${marks.map((at) => `${round(at)} ${round(base)} m ${round(at)} ${round(base + 2.5)} l`).join(' ')} S`;
}

/**
 * Path operators of a bar whose upper left corner is at `x`, `y`, on a scale of `width`: dashed as far as it could move,
 * thick for the range, a short upright at the middle. Fill and stroke colour are set by the caller. Nothing stands out
 * at the ends of the scale.
 */
export function barPath(bar: DrawnBar, x: number, y: number, width: number): string {
  const { best, from, middle, to, worst, hollow } = bar;
  const at = (value: number, pen = 0): number => x + ((width - pen) * value) / 100;
  const level = y - barMiddlePt;
  // Dashes begin at the far end, so that it is seen where it is.
  const dash = (end: number, near: number): string => `${round(at(end))} ${round(level)} m ${round(at(near))} ${round(level)} l`;
  const dashes = [...(best < from ? [dash(best, from)] : []), ...(worst > to ? [dash(worst, to)] : [])].join(' ');
  const pen = hollow ? 0.9 : 0;
  const thick = `${round(at(from) + pen / 2)} ${round(level - thickPt / 2 + pen / 2)} ${round(at(to) - at(from) - pen)} ${round(thickPt - pen)} re`;
  return [
    ...(dashes === '' ? [] : [`0.7 w [2.6 1.8] 0 d ${dashes} S [] 0 d`]),
    hollow ? `${pen} w ${thick} S` : `${thick} f`,
    `${round(at(middle, markPt))} ${round(level - barMiddlePt)} ${markPt} ${round(2 * barMiddlePt)} re f`,
  ].join(' ');
}

/** Path operators of a circle, not yet painted. */
export function circle(x: number, y: number, radius: number): string {
  const bend = radius * kappa;
  const p = (dx: number, dy: number): string => `${round(x + dx)} ${round(y + dy)}`;
  return [
    `${p(radius, 0)} m`,
    `${p(radius, bend)} ${p(bend, radius)} ${p(0, radius)} c`,
    `${p(-bend, radius)} ${p(-radius, bend)} ${p(-radius, 0)} c`,
    `${p(-radius, -bend)} ${p(-bend, -radius)} ${p(0, -radius)} c`,
    `${p(bend, -radius)} ${p(radius, -bend)} ${p(radius, 0)} c h`,
  ].join(' ');
}

/** The right half of a disc. */
function halfDisc(x: number, y: number, radius: number): string {
  const bend = radius * kappa;
  const p = (dx: number, dy: number): string => `${round(x + dx)} ${round(y + dy)}`;
  return `${p(0, -radius)} m ${p(bend, -radius)} ${p(radius, -bend)} ${p(radius, 0)} c ${p(radius, bend)} ${p(bend, radius)} ${p(0, radius)} c h`;
}

/** `#8a3d12` as three numbers from 0 to 1. */
export function colourOf(hex: string): string {
  return [1, 3, 5].map((start) => round(Number.parseInt(hex.slice(start, start + 2), 16) / 255)).join(' ');
}

/** A number as PDF takes it: three decimals, no exponent, no negative zero. */
export function round(value: number): string {
  const text = value.toFixed(3).replace(/\.?0+$/, '');
  return text === '-0' ? '0' : text;
}
