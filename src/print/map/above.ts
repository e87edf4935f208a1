import { box, chain, cut, heightAt, line, loop, pointAt, reversed, shifted, smooth } from './curves.ts';
import type { Curve, Point } from './curves.ts';
import type { Landmarks } from './landmarks.ts';
import { along, both, bow, endsOf, frontPanel, inside, noseHalf, pair, rearCorner, rearPanelAcross } from './plan-parts.ts';
import { detailed, gap, shape } from './shapes.ts';
import type { Ink, Shape, Sketch } from './shapes.ts';

/** Width of the shoulder below the windows. */
const shoulder = 9;

/** The skin of a body from above: front at the beginning of the first axis, the car's right on the upper side of the second. */
export function aboveSketch(body: Landmarks): Sketch {
  const middle = body.tail === 'open' ? hood(body) : [...roof(body), ...rearOf(body)];
  return { ink: lines(body), shapes: [...nose(body), ...screen(body), ...sides(body), ...middle, ...stern(body)] };
}

/** Places along the car that several areas share. */
function places({ bonnet, screen, roof, back, deck, stern, posts }: Landmarks): { shut: number; foot: number; head: number; roofEnd: number; backEnd: number; deckEnd: number; doorEnd: number } {
  const foot = (bonnet.at(-1) as Point)[0];
  const x = (point: Point | undefined): number => point?.[0] ?? 0;
  return { shut: foot - 15, foot, head: x(screen.at(-1)), roofEnd: x(roof.at(-1)), backEnd: x(back.at(-1)), deckEnd: Math.max(x(deck.at(-1)), x(stern[0])), doorEnd: posts.rear ?? posts.b + 4 };
}

function lines(body: Landmarks): Ink[] {
  const { edge, halves, posts, tail, cab } = body;
  const { head, roofEnd, foot, backEnd } = places(body);
  const outline: Ink[] = cab === null
    ? [{ pen: 'outline', curves: [both(edge)], closed: true }]
    : [{ pen: 'outline', curves: [both(chain(cut(edge, 0, cab - 2), line([cab - 2, 0]))), both(chain(line([cab + 5, 0]), cut(edge, cab + 5, body.length)))], closed: true }];
  const post = posts.b + 4;
  if (tail === 'open') {
    const seats = [posts.b - 44, ...(posts.rear === null ? [] : [posts.b + 20])].flatMap((x): Curve[] => [box([x, 8], [x + 34, 44], 7), box([x, -44], [x + 34, -8], 7)]);
    const opening = both(chain(bow(head + 3, halves.roof - 1, 5), reversed(bow(wellStart(body) - 3, halves.back, -3))));
    return [...outline, { pen: 'glass', curves: [opening, ...seats], closed: true }];
  }
  const side = chain(line([foot + 12, halves.screen[0] + 2], [head + 5, halves.screen[1] + 1]), line([roofEnd - 6, halves.roof + 1]), line([Math.min(backEnd - 8, body.posts.glass), inside(body, Math.min(backEnd - 8, body.posts.glass), shoulder)]));
  const across = (x: number): Curve => line([x, halves.roof + 1], [x, inside(body, x, shoulder)]);
  const marks = [side, across(post), ...(posts.rear === null ? [] : [across(posts.rear)])];
  return [...outline, { pen: 'glass', curves: [...marks, ...marks.map((curve) => curve.map(([x, y]): Point => [x, -y]))], closed: false }];
}

/** Front panel, lamps, wings, bonnet and scuttle. */
function nose(body: Landmarks): Shape[] {
  const { halves, posts, lamp } = body;
  const { front } = endsOf(body);
  const { shut, foot } = places(body);
  const lampEnd = lamp.at[0] + 12;
  const lampIn = noseHalf(body) + 2 * gap;
  const corner = pointAt(front, lampIn, 1);
  const side: Curve = smooth([15, halves.bonnet[0] - 9], [20, halves.bonnet[0] - 4], [32, halves.bonnet[0]], [shut * 0.6, (halves.bonnet[0] + halves.bonnet[1]) / 2 + 1.5], [shut + 5, halves.bonnet[1]]);
  const inner = heightAt(side, lampEnd) + 2 * gap;
  return [
    shape('front-panel', frontPanel(body)),
    ...pair('headlamp-bowl', loop(shifted(cut(front, corner[0], lampEnd), gap, -gap), line([lampEnd, inner], [13, lampIn]))),
    ...pair('front-wing', loop(
      along(body, lampEnd + 2 * gap, posts.a + 6, gap),
      line([posts.a + 6, inside(body, posts.a + 6, shoulder)]),
      shifted(reversed(cut(side, lampEnd + 2 * gap, shut + 5)), 0, 2 * gap),
    )),
    shape('bonnet', both(chain(bow(12.5, halves.bonnet[0] - 11, 2), side, reversed(bow(shut - gap, halves.bonnet[1], 5.5))))),
    shape('scuttle', both(chain(bow(shut + gap, halves.bonnet[1] + 1, 6), reversed(bow(foot - gap, halves.screen[0], 9))))),
  ];
}

/** The frame of the windscreen, its glass left open. */
function screen({ halves, ...body }: Landmarks): Shape[] {
  const { foot, head } = places({ halves, ...body });
  const [low, high] = halves.screen;
  const outer = both(chain(bow(foot + gap, low, 10), reversed(bow(head - gap, high, 5))));
  const inner = both(chain(bow(foot + 6.5, low - 9, 7.5), reversed(bow(head - 5.5, high - 6.5, 4.5))));
  return [shape('windscreen-surround', outer, inner)];
}

function roof(body: Landmarks): Shape[] {
  const { halves } = body;
  const { head, roofEnd } = places(body);
  const middle = (head + roofEnd) / 2;
  const side = smooth([head + 5 + gap, halves.screen[1]], [middle, Math.max(halves.screen[1], halves.roof) + 1], [roofEnd - 5 - gap, halves.roof]);
  return [shape('roof', both(chain(bow(head + gap, halves.screen[1], 5), side, reversed(bow(roofEnd - gap, halves.roof, -5)))))];
}

/** Doors and what is behind them along the sides. */
function sides(body: Landmarks): Shape[] {
  const { posts, halves, tail, cab } = body;
  const { doorEnd, backEnd, deckEnd } = places(body);
  const panel = (from: number, to: number): Curve => loop(along(body, from, to, gap), reversed(along(body, from, to, shoulder)));
  const split = posts.rear === null ? doorEnd : posts.b + 4;
  const doors = [
    ...pair('door', panel(posts.a + 6 + 2 * gap, split - gap)),
    ...(posts.rear === null ? [] : pair('rear-door', panel(split + gap, posts.rear - gap))),
  ];
  if (cab !== null) return [...doors, ...pair('cab-corner', panel(doorEnd + gap, cab - 3))];
  if (tail === 'load doors') return [...doors, ...pair('rear-wing', panel(doorEnd + gap, backEnd - 8))];
  const corner = rearCorner(body);
  const lid = tail === 'boot' || tail === 'open';
  const inner: Curve = lid
    ? chain(along(body, doorEnd + gap, backEnd - 6, shoulder), line([backEnd - 4, halves.deck + 4 + 2 * gap], [deckEnd - 6, halves.deck - 1 + 2 * gap]))
    : along(body, doorEnd + gap, backEnd - 4, shoulder);
  const end: Curve = lid ? line([deckEnd - 4, corner[1]]) : line([backEnd - 4, corner[1] + 6]);
  return [...doors, ...pair('rear-wing', loop(along(body, doorEnd + gap, corner[0] - gap, gap), line([corner[0] - gap, corner[1]]), end, reversed(inner)))];
}

function rearOf(body: Landmarks): Shape[] {
  const { halves, tail, posts, cab } = body;
  const { roofEnd, backEnd } = places(body);
  if (tail === 'load doors') return [];
  if (cab !== null) {
    return [
      shape('rear-screen', both(chain(bow(roofEnd + gap, halves.roof, -5), reversed(bow(cab - 7, halves.roof, -2))))),
      shape('cab-back', both(chain(bow(cab - 7 + 2 * gap, halves.back + 4, -1), reversed(bow(cab - 2 - gap, halves.back + 4, 0))))),
    ];
  }
  const outer = both(chain(bow(roofEnd + gap, halves.roof, -5), reversed(bow(backEnd - gap, halves.back, -9))));
  const glass = both(chain(bow(roofEnd + 6, halves.roof - 6, -4), reversed(bow(backEnd - 6.5, halves.back - 8, -7))));
  const side = (by: number): number => Math.min(inside(body, backEnd - 8, shoulder + gap), halves.back + by);
  const post = loop(line(
    [roofEnd - 15, halves.roof + 2 * gap],
    [roofEnd - 5 + gap, halves.roof + 2 * gap],
    [backEnd - 10, side(2 * gap)],
    [backEnd - 6, inside(body, backEnd - 6, shoulder + 2 * gap)],
    [Math.min(posts.glass, backEnd - 20), inside(body, posts.glass, shoulder + 2 * gap)],
  ));
  return [shape(tail === 'tailgate' ? 'tailgate' : 'rear-screen', outer, glass), ...pair('c-post', post)];
}

/** Where the well for a folded hood begins. */
function wellStart({ deck }: Landmarks): number {
  return (deck[0] as Point)[0] - 34;
}

function hood(body: Landmarks): Shape[] {
  const { backEnd } = places(body);
  return [shape('hood-well', both(chain(bow(wellStart(body), body.halves.back, -3), reversed(bow(backEnd - gap, body.halves.back, -6)))))];
}

/** What closes the body at the rear. */
function stern(body: Landmarks): Shape[] {
  const { halves, tail, cab, length } = body;
  const { backEnd, deckEnd, roofEnd } = places(body);
  if (cab !== null) return [detailed(shape('bed', ...bed(body, cab)), ...[-1, -0.5, 0, 0.5, 1].map((at) => line([cab + 24, at * 50], [length - 24, at * 50])))];
  if (tail === 'load doors') {
    const half = loop(line([roofEnd + 1, gap], [roofEnd - 1, halves.roof - 2], [length - 7, halves.roof - 4], [length - 5, gap]));
    return [...pair('load-door', half), shape('rear-panel', rearPanelAcross(body, length - 5 + 2 * gap, 3))];
  }
  if (tail === 'tailgate') return [shape('rear-panel', rearPanelAcross(body, backEnd + gap, 3))];
  const lid = both(chain(bow(backEnd + gap, halves.deck + 4, -7), smooth([backEnd - 4, halves.deck + 4], [(backEnd + deckEnd) / 2, halves.deck + 2.5], [deckEnd - 5, halves.deck - 1]), reversed(bow(deckEnd - 2, halves.deck - 3, -3))));
  return [shape('boot-lid', lid), shape('rear-panel', rearPanelAcross(body, deckEnd - 2 + 2 * gap, 3))];
}

/** The rim of a bed and its floor. */
function bed(body: Landmarks, cab: number): Curve[] {
  const end = body.length - 6;
  const rim = (by: number): Curve => both(chain(line([cab + 5 + by, 0], [cab + 5 + by, inside(body, cab + 5, by)]), along(body, cab + 5 + by, end - by - 6, by), line([end - by, inside(body, end - 6, by + 4)], [end - by, 0])));
  return [rim(gap), rim(8), rim(8 + 2 * gap)];
}
