import { flattened } from './curves.ts';
import type { Curve, Point } from './curves.ts';

/** Pens of the quiet lines: the body's outline on paper, lines within it, glass, wheels, the ground, what stands around for orientation. */
export type Pen = 'outline' | 'line' | 'glass' | 'wheel' | 'ground' | 'ghost';

/** A quiet line of a drawing. */
export interface Ink {
  pen: Pen;
  curves: readonly Curve[];
  closed: boolean;
}

/** Where a zone is seen: closed curves, of which one inside another is a hole. */
export interface Shape {
  /** Id of the zone's record. */
  zone: string;
  /** Which of the two it is in a view that shows both; null for the side that is looked at, and for a zone without sides. */
  side: 'left' | 'right' | null;
  loops: readonly Curve[];
  /** Lines upon it that say what it is: a handle, a well. */
  detail: readonly Curve[];
}

/** A view of a body before it is set on paper: lengths rearwards, second axis upwards or to the car's right. */
export interface Sketch {
  ink: Ink[];
  shapes: Shape[];
}

/** Half of the room between neighbouring areas. */
export const gap = 0.9;

/** An area of the side that is looked at, or of a zone without sides. */
export function shape(zone: string, ...loops: readonly Curve[]): Shape {
  return { zone, side: null, loops, detail: [] };
}

/** The same with lines upon it. */
export function detailed(plain: Shape, ...detail: readonly Curve[]): Shape {
  return { ...plain, detail };
}

/** The first point where two curves cross; null where they do not. */
export function crossing(one: Curve, other: Curve): Point | null {
  const [first, second] = [flattened(one, 24), flattened(other, 24)];
  for (let i = 1; i < first.length; i += 1) {
    for (let j = 1; j < second.length; j += 1) {
      const point = segmentsCross(first[i - 1] as Point, first[i] as Point, second[j - 1] as Point, second[j] as Point);
      if (point) return point;
    }
  }
  return null;
}

function segmentsCross(a: Point, b: Point, c: Point, d: Point): Point | null {
  const [rx, ry, sx, sy] = [b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]];
  const turn = rx * sy - ry * sx;
  if (Math.abs(turn) < 1e-9) return null;
  const t = ((c[0] - a[0]) * sy - (c[1] - a[1]) * sx) / turn;
  const u = ((c[0] - a[0]) * ry - (c[1] - a[1]) * rx) / turn;
  return t >= 0 && t <= 1 && u >= 0 && u <= 1 ? [a[0] + t * rx, a[1] + t * ry] : null;
}
