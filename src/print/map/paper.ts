import { flattened, pathData } from './curves.ts';
import type { Curve, Point } from './curves.ts';
import type { Landmarks } from './landmarks.ts';
import { aboveSketch } from './above.ts';
import { floorSketch } from './floor.ts';
import { frameSketch } from './frame.ts';
import { sideSketch } from './side.ts';
import type { Pen, Shape, Sketch } from './shapes.ts';
import type { ViewId } from './said.ts';

/** Room around a body. */
const margin = 14;
const groundRoom = 9;

/** An area on paper: path data, its outline as corner points, and the point of it farthest from any edge. */
export interface SetArea {
  /** Id of the zone's record, and its side where it has one. */
  record: string;
  side: 'left' | 'right' | null;
  d: string;
  detail: string;
  rings: readonly (readonly Point[])[];
  label: Point;
}

/** A view on paper, second axis downwards, before states and words. */
export interface SetView {
  id: ViewId;
  width: number;
  height: number;
  ink: { pen: Pen; d: string }[];
  areas: SetArea[];
}

/** All views of a body at one scale, with the axles at the same places in each. */
export function setViews(body: Landmarks): SetView[] {
  const middle = (body.axles[0] + body.axles[1]) / 2;
  const half = Math.ceil(Math.max(middle, body.length - middle)) + margin;
  const top = Math.max(...[body.bonnet, body.screen, body.roof, body.back].flatMap((curve) => curve.map(([, z]) => z)));
  const sideHeight = Math.ceil(top) + 8 + groundRoom;
  const widest = Math.max(...body.edge.map(([, y]) => y));
  const planHeight = 2 * (Math.ceil(widest) + 8);
  const width = 2 * half;
  const along = (x: number): number => x - middle + half;
  const rise = (z: number): number => sideHeight - groundRoom - z;
  const side = sideSketch(body);
  const plan = (sketch: Sketch, id: ViewId): SetView => setView(sketch, { id, width, height: planHeight }, ([x, y]) => [along(x), planHeight / 2 - y], (own) => own);
  const frame = frameSketch(body);
  return [
    setView(side, { id: 'left', width, height: sideHeight }, ([x, z]) => [along(x), rise(z)], () => 'left'),
    setView(side, { id: 'right', width, height: sideHeight }, ([x, z]) => [width - along(x), rise(z)], () => 'right'),
    plan(aboveSketch(body), 'above'),
    plan(floorSketch(body), 'floor'),
    ...(frame ? [plan(frame, 'frame')] : []),
  ];
}

function setView({ ink, shapes }: Sketch, view: Pick<SetView, 'id' | 'width' | 'height'>, place: (point: Point) => Point, side: (own: Shape['side']) => Shape['side']): SetView {
  const placed = (curves: readonly Curve[]): Curve[] => curves.map((curve) => curve.map(place));
  return {
    ...view,
    ink: ink.map(({ pen, curves, closed }) => ({ pen, d: pathData(placed(curves), closed) })),
    areas: shapes.map((shape) => {
      const loops = placed(shape.loops);
      const rings = loops.map((loop) => flattened(loop));
      return { record: shape.zone, side: side(shape.side), d: pathData(loops, true), detail: pathData(placed(shape.detail), false), rings, label: innermost(rings) };
    }),
  };
}

/** Whether a point lies in an area, holes left out: a ray crosses its edges an odd number of times. */
export function isInside(rings: SetArea['rings'], [x, y]: Point): boolean {
  let odd = false;
  for (const ring of rings) {
    for (let index = 0; index < ring.length; index += 1) {
      const [ax, ay] = ring[index] as Point;
      const [bx, by] = ring[(index + 1) % ring.length] as Point;
      if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) odd = !odd;
    }
  }
  return odd;
}

const columns = 36;
const rows = 22;

/** The point of an area farthest from its edges, near its middle where several are as good. */
function innermost(rings: SetArea['rings']): Point {
  let best: { point: Point; worth: number } = { point: rings[0]?.[0] ?? [0, 0], worth: -1 };
  for (const ring of rings) {
    const [xs, ys] = [ring.map(([x]) => x), ring.map(([, y]) => y)];
    const [left, right, top, bottom] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
    for (let column = 0; column < columns; column += 1) {
      for (let row = 0; row < rows; row += 1) {
        const point: Point = [left + ((right - left) * (column + 0.5)) / columns, top + ((bottom - top) * (row + 0.5)) / rows];
        if (!isInside(rings, point)) continue;
        const off = Math.abs(column + 0.5 - columns / 2) / columns + Math.abs(row + 0.5 - rows / 2) / rows;
        const worth = Math.min(clearance(rings, point), 30) * (1 - 0.25 * off);
        if (worth > best.worth) best = { point, worth };
      }
    }
  }
  return best.point;
}

function clearance(rings: SetArea['rings'], point: Point): number {
  let least = Number.POSITIVE_INFINITY;
  for (const ring of rings) for (let index = 0; index < ring.length; index += 1) least = Math.min(least, toSegment(point, ring[index] as Point, ring[(index + 1) % ring.length] as Point));
  return least;
}

function toSegment([x, y]: Point, [ax, ay]: Point, [bx, by]: Point): number {
  const [dx, dy] = [bx - ax, by - ay];
  const length = dx * dx + dy * dy;
  const at = length === 0 ? 0 : Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / length));
  return Math.hypot(x - ax - at * dx, y - ay - at * dy);
}
