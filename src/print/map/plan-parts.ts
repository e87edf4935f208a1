import { chain, cut, flipped, heightAt, loop, pointAt, reversed, shifted } from './curves.ts';
import type { Curve, Point } from './curves.ts';
import type { Landmarks } from './landmarks.ts';
import { gap } from './shapes.ts';
import type { Shape } from './shapes.ts';

/** A line on the right half from the middle to the middle, with its mirror image, closed. */
export function both(half: Curve): Curve {
  return loop(half, reversed(flipped(half)));
}

/** The two areas of a zone with sides, from the right one. */
export function pair(zone: string, ...loops: readonly Curve[]): Shape[] {
  return pairDetailed(zone, [], ...loops);
}

/** The same with lines upon each. */
export function pairDetailed(zone: string, detail: readonly Curve[], ...loops: readonly Curve[]): Shape[] {
  return [{ zone, side: 'right', loops, detail }, { zone, side: 'left', loops: loops.map(flipped), detail: detail.map(flipped) }];
}

/** A line across the right half from the middle outwards, bent by so much towards the rear at its outer end. */
export function bow(x: number, half: number, bend: number): Curve {
  return [[x, 0], [x, half * 0.35], [x + bend * 0.4, half * 0.75], [x + bend, half]];
}

/** A strip of a width along a line. */
export function strip(along: Curve, width: number): Curve {
  return loop(shifted(along, 0, width / 2), reversed(shifted(along, 0, -width / 2)));
}

/** Half width of the body at a place, in from the outline by so much. */
export function inside(body: Landmarks, x: number, by: number): number {
  return heightAt(body.edge, x) - by;
}

/** The outline round the front from the middle to the front axle, and round the rear from the rear axle to the middle. */
export function endsOf({ edge, axles, length }: Landmarks): { front: Curve; rear: Curve } {
  return { front: cut(edge, 0, axles[0]), rear: cut(edge, axles[1], length) };
}

/** How far the panel across the nose runs along the car, and half the width of the one across the stern. */
const panelDepth = 12;
const sternHalf = 49;

/** Half the width of the panel across the nose, narrower than the bonnet: the lamps stand beside it. */
export function noseHalf({ halves }: Landmarks): number {
  return halves.bonnet[0] - 4;
}

/** The panel across the nose. */
export function frontPanel(body: Landmarks): Curve {
  const half = noseHalf(body);
  const outer = shifted(cut(endsOf(body).front, 0, half, 1), gap, 0);
  return both(chain(outer, reversed(bow(panelDepth - 1, half - 4, 2))));
}

/** The panel across the stern, from a place to the end, its edge bent forward at the sides by so much. */
export function rearPanelAcross(body: Landmarks, from: number, bend: number): Curve {
  const { rear } = endsOf(body);
  const outer = shifted(cut(rear, sternHalf, 0, 1), -gap, 0);
  return both(chain(bow(from, sternHalf, -bend), outer));
}

/** Rear corner: where the panel across the stern meets the side. */
export function rearCorner(body: Landmarks): Point {
  return pointAt(endsOf(body).rear, sternHalf + 2 * gap, 1);
}

/** A line along the outline, in from it by so much, between two places. */
export function along(body: Landmarks, from: number, to: number, by: number): Curve {
  return shifted(cut(body.edge, from, to), 0, -by);
}
