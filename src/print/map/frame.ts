import { chain, cut, ellipse, heightAt, line, loop } from './curves.ts';
import type { Curve } from './curves.ts';
import { ghosts } from './floor.ts';
import type { Landmarks } from './landmarks.ts';
import { both, inside, pair, strip } from './plan-parts.ts';
import { gap, shape } from './shapes.ts';
import type { Sketch } from './shapes.ts';

const railWidth = 9;
const mountRadius = 5.5;

/** A separate frame from above: rails, cross-members, outriggers, body mounts. Null for a body that is its own frame. */
export function frameSketch(body: Landmarks): Sketch | null {
  const { frame, axles, posts, length, arch, cab } = body;
  if (!frame) return null;
  const end = length - 12;
  const rail = (x: number): number => heightAt(frame, x);
  const across = (x: number, width: number): Curve => {
    const half = rail(x + width / 2) - railWidth / 2 - 2 * gap;
    return both(line([x, 0], [x, half], [x + width, half], [x + width, 0]));
  };
  const middle = (posts.a + axles[1] - arch) / 2;
  const crossings = [across(12, 9), across(axles[0] - 6, 13), across(posts.a + 14, 9), across(middle + 10, 9), across(axles[1] - arch - 12, 9), across(axles[1] + arch - 4, 9), across(end - 9, 8)];
  const ends = cab === null ? [posts.a + 4, posts.b + 2, axles[1] - arch - 30] : [posts.a + 4, cab - 20, cab + 22];
  const bars = ends.map((x) => {
    const root = rail(x) + railWidth / 2 + 2 * gap;
    return loop(line([x - 3, root], [x - 1, tip(body, x)], [x + 7, tip(body, x)], [x + 9, root]));
  });
  const mounts = [...ends.map((x): Curve => ellipse([x + 3, tip(body, x) + 2 * gap + mountRadius], mountRadius, mountRadius)), ...[26, end - 22].map((x): Curve => ellipse([x, rail(x) + railWidth / 2 + 2 * gap + mountRadius], mountRadius, mountRadius))];
  return {
    ink: [...ghosts(body), { pen: 'ghost', curves: axles.map((axle) => chain(line([axle, -inside(body, axle, 22)], [axle, inside(body, axle, 22)]))), closed: false }],
    shapes: [
      ...pair('ladder-frame', strip(cut(frame, 4, end), railWidth)),
      shape('frame-crossmember', ...crossings),
      ...pair('outrigger', ...bars),
      ...pair('body-mount', ...mounts),
    ],
  };
}

/** Where an outrigger ends, with room for the mount beyond it. */
function tip(body: Landmarks, x: number): number {
  return inside(body, x, 6 + 2 * mountRadius + 2 * gap);
}
