import { arc, box, chain, cut, ease, ellipse, flipped, heightAt, line, loop, reversed, shifted, smooth } from './curves.ts';
import type { Curve, Point } from './curves.ts';
import type { Landmarks } from './landmarks.ts';
import { along, both, frontPanel, inside, pair, pairDetailed, rearPanelAcross, strip } from './plan-parts.ts';
import { detailed, gap, shape } from './shapes.ts';
import type { Ink, Shape, Sketch } from './shapes.ts';

/** Widths: of sills with what stands on them, of chassis legs, of rails under the floor. */
const sillWidth = 9;
const sillIn = 3;
const floorIn = sillIn + sillWidth + 2 * gap;
const legWidth = 8;
const tubDepth = 31;

/** Floor and structure from above, the skin taken off. */
export function floorSketch(body: Landmarks): Sketch {
  return {
    ink: ghosts(body),
    shapes: [...frontEnd(body), ...cabin(body), ...middle(body), ...rearEnd(body)],
  };
}

/** Outline and wheels, for orientation. */
export function ghosts(body: Landmarks): Ink[] {
  const { edge, axles, wheel, cab, length } = body;
  const outline = cab === null ? [both(edge)] : [both(chain(cut(edge, 0, cab - 2), line([cab - 2, 0]))), both(chain(line([cab + 5, 0]), cut(edge, cab + 5, length)))];
  const wheels = axles.flatMap((axle): Curve[] => {
    const right = box([axle - wheel, inside(body, axle, 22)], [axle + wheel, inside(body, axle, 4)], 5);
    return [right, flipped(right)];
  });
  return [{ pen: 'outline', curves: outline, closed: true }, { pen: 'ghost', curves: wheels, closed: true }];
}

/** Centre line of the right chassis leg. */
function leg({ axles, posts }: Landmarks): Curve {
  return smooth([16, 33], [axles[0], 33], [posts.a - 26, 35], [posts.a - 10, 40]);
}

/** From the nose to the bulkhead. */
function frontEnd(body: Landmarks): Shape[] {
  const { axles, posts, arch, frame } = body;
  const [axle] = axles;
  const wall = posts.a - 10;
  const line1 = leg(body);
  const start = 24;
  const innerEdge = frame ? line([start, 34], [wall - gap, 40]) : shifted(cut(line1, start, wall - gap), 0, legWidth / 2 + 2 * gap);
  const narrow = inside(body, axle, 24);
  const [before, after] = [inside(body, axle - arch, 14), inside(body, axle + arch, 13)];
  const outer = chain(
    line([start, inside(body, start, 18)], [axle - arch - 4, before]),
    ease([axle - arch - 4, before], [axle - arch + 14, narrow]),
    ease([axle + arch - 14, narrow], [Math.min(axle + arch + 4, wall - 2), after]),
    line([wall - gap, inside(body, wall, 13)]),
  );
  const turret = (narrow + heightAt(innerEdge, axle)) / 2;
  const radius = Math.min(6.5, (narrow - heightAt(innerEdge, axle)) / 2 - 2);
  const half = inside(body, wall, floorIn);
  const cradle = [box([axle - 24, -27], [axle + 28, 27], 7), box([axle - 14, -18], [axle + 18, 18], 4)];
  return [
    shape('front-panel', frontPanel(body)),
    ...pairDetailed('inner-wing', [ellipse([axle, turret], radius, radius)], loop(innerEdge, reversed(outer))),
    ...(frame ? [] : [...pair('chassis-leg', strip(cut(line1, 16, wall - gap), legWidth)), shape('subframe', ...cradle)]),
    shape('bulkhead', both(line([wall + gap, 0], [wall + gap, half], [posts.a - gap, half], [posts.a - gap, 0]))),
    ...pair('a-post', loop(along(body, wall + gap, posts.a - gap, sillIn), reversed(along(body, wall + gap, posts.a - gap, floorIn - 2 * gap)))),
  ];
}

/** Where the sill ends. */
function sillEnd({ axles, arch, cab }: Landmarks): number {
  return Math.min(axles[1] - arch - 6, cab === null ? Number.POSITIVE_INFINITY : cab - 24);
}

/** The rail under the right floor. */
function cabRail({ posts, seat }: Landmarks): Curve {
  return box([posts.a + gap + 4, 37.5], [seat[0] - gap - 3, 44.5], 1);
}

/** Sills, posts, floor with its rails, and tunnel. */
function cabin(body: Landmarks): Shape[] {
  const { posts, seat, frame, tail } = body;
  const [front, end] = [posts.a + gap, seat[0] - gap];
  const isVan = tail === 'load doors';
  const tunnelSide = smooth([front, 16], [front + 34, 12], [end, 10]);
  const rail = frame ? [] : [cabRail(body)];
  const post = posts.b;
  const stepEnd = front + 46;
  const y = (x: number, by = 0): number => inside(body, x, floorIn + by);
  const notchEnd = Math.min(post + 10, end);
  const outer = isVan
    ? line([front, y(front, 19)], [stepEnd, y(stepEnd, 19)], [stepEnd, y(stepEnd)], [end, y(end)])
    : line([front, y(front)], [post - 3, y(post)], [post - 3, y(post, 10)], [notchEnd, y(notchEnd, 10)], ...(notchEnd < end ? [[notchEnd, y(notchEnd)] as const, [end, y(end)] as const] : []));
  const foot = isVan ? box([post + 2 * gap, inside(body, post, floorIn + 9)], [post + 10, inside(body, post, floorIn)]) : box([post - 3 + 2 * gap, y(post, 10 - 2 * gap)], [Math.min(post + 10, end) - 2 * gap, y(post)]);
  return [
    shape('tunnel', both(chain(line([front, 0]), tunnelSide, line([end, 0])))),
    ...pair('floor', loop(shifted(tunnelSide, 0, 2 * gap), reversed(outer)), ...rail.map(grown)),
    ...(frame || isVan ? [] : pair('floor-rail', ...rail)),
    ...(isVan ? [] : pair('b-post', foot)),
    ...(isVan ? pair('step-well', box([front, y(front, 17)], [stepEnd - 2 * gap, y(stepEnd)], 1.5)) : []),
    ...pair('sill', loop(along(body, front, sillEnd(body), sillIn), reversed(along(body, front, sillEnd(body), sillIn + sillWidth)))),
  ];
}

/** A box with room around it, as the hole it lies in. */
function grown(curve: Curve): Curve {
  const [xs, ys] = [curve.map(([x]) => x), curve.map(([, y]) => y)];
  return box([Math.min(...xs) - 2 * gap, Math.min(...ys) - 2 * gap], [Math.max(...xs) + 2 * gap, Math.max(...ys) + 2 * gap], 1.5);
}

/** The arch over the right rear wheel, open to the outside. */
function tub(body: Landmarks): Curve {
  const { axles: [, axle], arch, wheel } = body;
  const [front, rear] = [axle - arch - 4, axle + arch + 4];
  const inner = inside(body, axle, tubDepth);
  const outer = (x: number): number => inside(body, x, sillIn);
  return loop(
    line([front, outer(front)], [front, inner + 12]),
    arc([front + 12, inner + 12], 12, 180, 270),
    arc([rear - 12, inner + 12], 12, 270, 360),
    line([rear, outer(rear)], [axle + wheel + 2, outer(axle + wheel)], [axle + wheel + 2, inner + 8], [axle - wheel - 2, inner + 8], [axle - wheel - 2, outer(axle - wheel)]),
  );
}

/** Seat pan, or what stands in its place. */
function middle(body: Landmarks): Shape[] {
  const { seat, tail, cab } = body;
  if (cab !== null) {
    const half = inside(body, cab, floorIn + 4);
    return [
      shape('cab-back', both(line([cab - 8 + gap, 0], [cab - 8 + gap, half], [cab - 3, half], [cab - 3, 0]))),
      ...pair('cab-corner', loop(along(body, cab - 24 + 2 * gap, cab - 3, sillIn), line([cab - 3, inside(body, cab, floorIn + 2)], [cab - 8 + gap, inside(body, cab, floorIn + 2)], [cab - 8 + gap, inside(body, cab, floorIn - 2 * gap)], [cab - 24 + 2 * gap, inside(body, cab, floorIn - 2 * gap)]))),
    ];
  }
  if (tail === 'load doors') return [];
  const [front, rear] = [seat[0] + gap, seat[1] - gap];
  const step = body.axles[1] - body.arch - 4 - 2 * gap;
  const outer = inside(body, front, floorIn);
  const inner = inside(body, body.axles[1], tubDepth + 2 * gap);
  const edge = rear <= step ? line([front, outer], [rear, outer]) : line([front, outer], [step, outer], [step, inner], [rear, inner]);
  return [shape('seat-pan', both(chain(line([front, 0]), edge, line([rear, 0]))))];
}

function rearEnd(body: Landmarks): Shape[] {
  if (body.cab !== null) return [detailed(shape('bed', ...bedFloor(body, body.cab)), ...ribs(body.cab + 18, body.length - 22, 44))];
  const panelFrom = body.length - 12;
  const last = panelFrom - gap;
  const common = [...pair('rear-arch', tub(body)), shape('rear-panel', rearPanelAcross(body, panelFrom + gap, 0))];
  return [...common, ...(body.tail === 'load doors' ? vanFloor(body, last) : bootFloors(body, last))];
}

/** Half of a floor between the arches, from a place to the end, widening behind them. */
function aroundTubs(body: Landmarks, from: number, to: number, by: number): Curve {
  const { axles: [, axle], arch } = body;
  const narrow = inside(body, axle, tubDepth + 2 * gap);
  const rear = axle + arch + 4 + 2 * gap;
  const wide = (x: number): number => inside(body, x, by);
  const start: Curve = from < rear ? line([from, 0], [from, narrow], [Math.min(rear, to), narrow]) : line([from, 0], [from, wide(from)]);
  return chain(start, to > rear ? line([Math.max(rear, from), wide(Math.max(rear, from))], [to - 8, wide(to - 8)], [to, wide(to - 8) - 8]) : line([to, narrow]), line([to, 0]));
}

function bootFloors(body: Landmarks, last: number): Shape[] {
  const { seat, axles: [, axle], arch, frame, tail, length } = body;
  const from = seat[1] + gap;
  const rails = frame ? [] : [box([from + 6, 31], [last - 6, 38], 1)];
  const holes = rails.flatMap((rail) => [grown(rail), flipped(grown(rail))]);
  const legs = frame ? [] : pair('rear-chassis-leg', ...rails);
  if (tail === 'tailgate') {
    const split = axle + arch + 4;
    const pocket = loop(along(body, split + 2 * gap, last - 4, 5), line([last - 4, inside(body, last - 4, 22)], [split + 2 * gap, inside(body, split, 22)]));
    const before = box([from + 4, 31], [split - 4, 38], 1);
    const behind: Point = [(split + last) / 2, 0];
    return [
      shape('load-floor', both(aroundTubs(body, from, split - gap, 12)), grown(before), flipped(grown(before))),
      detailed(shape('boot-floor', both(aroundTubs(body, split + gap, last, 22 + 2 * gap))), well(behind, Math.min(16, (last - split) / 2 - 5))),
      ...pair('rear-chassis-leg', before),
      ...pair('side-pocket', pocket),
    ];
  }
  const centre = (axle + length) / 2 + 4;
  return [detailed(shape('boot-floor', both(aroundTubs(body, from, last, 11)), ...holes), well([centre, 0], Math.min(25, last - centre - 8))), ...legs];
}

/** A round well in a floor. */
function well(centre: Point, radius: number): Curve {
  return ellipse(centre, radius, radius);
}

function vanFloor(body: Landmarks, last: number): Shape[] {
  const { seat, posts, axles: [, axle], arch } = body;
  const from = seat[0] + gap;
  const runnerEnd = sillEnd(body);
  const runner = loop(along(body, posts.b + 12, runnerEnd, floorIn), reversed(along(body, posts.b + 12, runnerEnd, floorIn + 6)));
  const tubStart = axle - arch - 4 - 2 * gap;
  const side = inside(body, from, floorIn + 6 + 2 * gap);
  const behind = aroundTubs(body, tubStart, last, 12);
  const outer = chain(line([from, 0], [from, side - 4], [from + 10, side - 4], [from + 10, side], [tubStart, side]), behind.slice(3));
  const rail = box([from + 4, 37.5], [tubStart - 6, 44.5], 1);
  const bars = [from + 36, from + 78].map((x) => box([x, 48.5], [x + 7, side - 4], 1));
  const rear = box([axle - arch + 2, 31], [last - 8, 38], 1);
  const holes = [rail, ...bars, rear].map(grown);
  return [
    detailed(shape('load-floor', both(outer), ...holes, ...holes.map(flipped)), ...ribs(from + 14, last - 12, 26)),
    ...pair('floor-rail', cabRail(body), rail),
    ...pair('outrigger', ...bars),
    ...pair('rear-chassis-leg', rear),
    ...pair('b-post', box([posts.b, inside(body, posts.b, floorIn + 6)], [posts.b + 10, inside(body, posts.b, floorIn)])),
    shape('sliding-door-rail', runner, flipped(runner)),
  ];
}

function bedFloor(body: Landmarks, cab: number): Curve[] {
  const { axles: [, axle], wheel, length } = body;
  const end = length - 10;
  const outer = both(chain(line([cab + 6, 0], [cab + 6, inside(body, cab + 5, 4)]), along(body, cab + 7, end - 6, 4), line([end, inside(body, end - 6, 9)], [end, 0])));
  const wheelHole = box([axle - wheel - 4, inside(body, axle, 26)], [axle + wheel + 4, inside(body, axle, 7)], 8);
  return [outer, wheelHole, flipped(wheelHole)];
}

/** Ribs along a floor. */
function ribs(from: number, to: number, half: number): Curve[] {
  return [-1, -0.5, 0, 0.5, 1].map((at) => line([from, at * half], [to, at * half]));
}
