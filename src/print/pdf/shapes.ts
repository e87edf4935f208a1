import type { Outcome } from '../../model/catalogue.ts';

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

function circle(x: number, y: number, radius: number): string {
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

/** A number as PDF takes it: three decimals, no exponent, no negative zero. */
export function round(value: number): string {
  const text = value.toFixed(3).replace(/\.?0+$/, '');
  return text === '-0' ? '0' : text;
}
