import { arc, chain, cut, ellipse, heightAt, line, loop, pointAt, reversed, shifted } from './curves.ts';
import type { Curve, Point } from './curves.ts';
import type { Landmarks } from './landmarks.ts';
import { crossing, gap, shape } from './shapes.ts';
import type { Shape } from './shapes.ts';
import { around, panelWidth, postWidth, ringWidth } from './side-parts.ts';
import type { Glasshouse } from './side-parts.ts';

const fillerRadius = 5.5;

/** Everything behind the doors, from the side. */
export function tailShapes(body: Landmarks, house: Glasshouse): Shape[] {
  const filler = [shape('fuel-filler', ellipse(body.filler, fillerRadius, fillerRadius))];
  switch (body.tail) {
    case 'boot':
      return [...rearArch(body), rearWing(body, bootTop(body, (body.back.at(-1) as Point)[0])), ...bootEnd(body), ...postAndScreen(body, house), ...filler];
    case 'open':
      return [...rearArch(body), rearWing(body, openTop(body)), ...bootEnd(body), ...hoodWell(body), ...filler];
    case 'tailgate':
      return [...rearArch(body), rearWing(body, cut(body.belt, firstOfWing(body), (body.deck[0] as Point)[0] - panelWidth)), ...tailgate(body, house), ...estatePosts(body, house), ...filler];
    case 'load doors':
      return [...rearArch(body), ...vanSides(body, house), ...filler];
    case 'bed':
      return [...cabEnd(body, house), bed(body), ...filler];
  }
}

/** Where the panel behind the doors begins. */
function firstOfWing({ posts }: Landmarks): number {
  return posts.rear === null ? posts.b + postWidth + 2 * gap : posts.rear + gap;
}

function rearArch(body: Landmarks): Shape[] {
  const width = ringWidth(body);
  const [, axle] = body.axles;
  const along = (radius: number): Curve => around(body, axle, radius, body.skirt + gap, body.sill.low + gap);
  return [shape('rear-arch', loop(along(body.arch + gap), reversed(along(body.arch + width))))];
}

/** The panel around the rear wheel, below a line that runs rearwards. */
function rearWing(body: Landmarks, top: Curve, from = firstOfWing(body)): Shape {
  return shape('rear-wing', rearPanel(body, top, from), fillerHole(body));
}

function fillerHole({ filler }: Landmarks): Curve {
  return ellipse(filler, fillerRadius + 1.6, fillerRadius + 1.6);
}

function rearPanel(body: Landmarks, top: Curve, from: number): Curve {
  const { axles, sill, skirt, stern } = body;
  const radius = body.arch + ringWidth(body) + 2 * gap;
  const low = sill.high + 2 * gap;
  const reach = (from - axles[1]) / radius;
  const opening = Math.abs(reach) < 1 ? fromOn(body, radius, reach) : chain(line([from, low]), reversed(around(body, axles[1], radius, skirt + gap, low)));
  const inner = shifted(stern, -panelWidth - gap, 0);
  const end = top.at(-1) as Point;
  return loop(shifted(top, 0, -gap), cut(inner, Math.min(end[1] - 2, (inner[0] as Point)[1]), skirt + gap, 1), reversed(opening));
}

/** Along the arch from where a door ends above it. */
function fromOn(body: Landmarks, radius: number, reach: number): Curve {
  const from = (Math.acos(reach) * 180) / Math.PI;
  const to = (Math.asin((body.skirt + gap - body.wheel) / radius) * 180) / Math.PI;
  return arc([body.axles[1], body.wheel], radius, from, to);
}

const lidDepth = 6.5;

/** The waistline, then below the boot lid. */
function bootTop(body: Landmarks, foot: number): Curve {
  const under = shifted(body.deck, 0, -lidDepth - gap);
  return chain(cut(body.belt, firstOfWing(body), foot), cut(under, foot + 3, (body.stern[0] as Point)[0] - panelWidth - gap));
}

function openTop(body: Landmarks): Curve {
  const foot = (body.deck[0] as Point)[0];
  const under = shifted(body.deck, 0, -lidDepth - gap);
  const from = firstOfWing(body);
  return chain(shifted(cut(body.belt, from, foot), 0, -wellDepth - gap), cut(under, foot + 6, (body.stern[0] as Point)[0] - panelWidth - gap));
}

/** Boot lid and rear panel, edge on. */
function bootEnd({ deck, stern, skirt }: Landmarks): Shape[] {
  const [start, end] = [(deck[0] as Point)[0] + 2, (stern[0] as Point)[0] - 1];
  const top = (stern[0] as Point)[1] - lidDepth - gap;
  const along = cut(stern, top, skirt + gap, 1);
  return [
    shape('boot-lid', loop(shifted(cut(deck, start, end), 0, -gap), reversed(shifted(cut(deck, start, end - 5), 0, -lidDepth)))),
    shape('rear-panel', loop(shifted(along, -gap, 0), reversed(shifted(along, -panelWidth, 0)))),
  ];
}

/** C-post with the rear screen behind it, edge on. */
function postAndScreen(body: Landmarks, house: Glasshouse): Shape[] {
  const { belt, posts, back, roof } = body;
  const head = house.rear[0] - 9;
  const foot = posts.glass;
  const baseZ = heightAt(belt, foot);
  const inner = shifted(house.back, -gap, 0);
  const end = pointAt(inner, heightAt(belt, (back.at(-1) as Point)[0] - 8) + gap, 1);
  const outer = shifted(back, -gap, -gap);
  const under = shifted(house.roof, 0, -2 * gap);
  const meet = pointAt(inner, house.rear[1] - 2 * gap, 1);
  return [
    shape('c-post', loop(line([foot, baseZ + gap]), cut(under, head, meet[0]), cut(inner, meet[0], end[0]), line(end))),
    shape('rear-screen', loop(cut(outer, (roof.at(-1) as Point)[0] + 1.5, 1e6), reversed(cut(shifted(house.back, gap, 0), house.rear[0] + 1.5, 1e6)))),
  ];
}

const wellDepth = 8;

function hoodWell(body: Landmarks): Shape[] {
  const along = cut(body.belt, firstOfWing(body), (body.deck[0] as Point)[0]);
  return [shape('hood-well', loop(shifted(along, 0, -gap), reversed(shifted(along, 0, -wellDepth))))];
}

/** Tailgate, and the rear panel below it, edge on. */
function tailgate({ back, deck, stern, skirt }: Landmarks, house: Glasshouse): Shape[] {
  const sill = 60;
  const head = heightAt(house.roof, 1e6) - 2 * gap;
  const gate = cut(chain(back, deck, stern), head, sill + gap, 1);
  const below = cut(stern, sill - gap, skirt + gap, 1);
  const strip = (along: Curve): Curve => loop(shifted(along, -gap, 0), reversed(shifted(along, -panelWidth, 0)));
  return [shape('tailgate', strip(gate)), shape('rear-panel', strip(below))];
}

/** The posts between and behind the rear side windows, and the pocket below the rearmost. */
function estatePosts(body: Landmarks, house: Glasshouse): Shape[] {
  const { belt, posts, back } = body;
  const post = (foot: number, head: number, width: number): Curve => loop(line([foot, heightAt(belt, foot) + gap], [head, heightAt(house.roof, head) - gap], [head + width, heightAt(house.roof, head + width) - gap], [foot + width, heightAt(belt, foot + width) + gap]));
  const middle = (posts.rear ?? 286) - 1;
  const inner = shifted(back, -panelWidth - gap, 0);
  const foot = pointAt(inner, heightAt(belt, posts.glass) + gap, 1);
  const under = shifted(house.roof, 0, -2 * gap);
  const meet = crossing(under, inner) ?? house.rear;
  const rearmost = loop(line([posts.glass, heightAt(belt, posts.glass) + gap], [meet[0] - 8, heightAt(under, meet[0] - 8)], meet), cut(inner, meet[0], foot[0]), line(foot));
  const pocket = cut(belt, middle + postWidth + 2 * gap, posts.glass - gap - 4);
  return [
    shape('c-post', post(middle, middle - 7, postWidth), rearmost),
    shape('side-pocket', loop(shifted(pocket, 0, 7), reversed(shifted(pocket, 0, gap)))),
  ];
}

/** The sides of a van behind its B-post, with the runner of a sliding door, and the load doors edge on. */
function vanSides(body: Landmarks, house: Glasshouse): Shape[] {
  const { posts, sill, skirt, axles, back, deck, stern, roof } = body;
  const from = posts.b + postWidth + 2 * gap;
  const post = posts.rear ?? 292;
  const low = sill.high + 2 * gap;
  const runner = 6;
  const ring = body.arch + ringWidth(body) + 2 * gap;
  const runnerEnd = Math.min(post - gap, axles[1] - ring - 1);
  const top = (x1: number, x2: number): Curve => shifted(cut(roof, x1, x2), 0, -7 - gap);
  const middle = loop(top(from, post - gap), line([post - gap, low + runner + 2 * gap], [from, low + runner + 2 * gap]));
  const gate = cut(chain(back, deck, stern), (back[0] as Point)[1] - 7, 62, 1);
  const strip = (along: Curve): Curve => loop(shifted(along, -gap, 0), reversed(shifted(along, -panelWidth, 0)));
  const foot = Math.max(low, body.wheel + Math.sqrt(Math.max(0, ring ** 2 - (post + postWidth - axles[1]) ** 2)));
  const panel = rearPanel(body, top(post + postWidth + gap, (stern[0] as Point)[0] - panelWidth - 2 * gap), post + postWidth + gap);
  return [
    ...(posts.rear === null ? [shape('rear-wing', middle, panel, fillerHole(body))] : [shape('rear-door', middle), shape('rear-wing', panel, fillerHole(body))]),
    shape('c-post', loop(line([post + gap, foot], [post + gap, heightAt(house.roof, post) - gap], [post + postWidth - gap, heightAt(house.roof, post + postWidth) - gap], [post + postWidth - gap, foot]))),
    shape('sliding-door-rail', loop(line([from, low], [from, low + runner], [runnerEnd, low + runner], [runnerEnd, low]))),
    shape('load-door', strip(gate)),
    shape('rear-panel', strip(cut(stern, 62 - 2 * gap, skirt + gap, 1))),
  ];
}

/** The rear of a pickup's cab. */
function cabEnd(body: Landmarks, house: Glasshouse): Shape[] {
  const { belt, sill, back } = body;
  const cab = body.cab ?? body.length;
  const wall = chain(back, line(back.at(-1) as Point, [cab - 2, sill.low + gap]));
  const strip = (from: number, to: number): Curve => loop(shifted(cut(wall, from, to, 1), -gap, 0), reversed(shifted(cut(wall, from, to, 1), -6, 0)));
  const [head, foot] = [heightAt(house.roof, cab - 14) - 3, heightAt(belt, cab - 4) + 6];
  const from = firstOfWing(body);
  const rear = cab - 8 - 2 * gap;
  return [
    shape('cab-back', strip(foot - gap, sill.low + gap)),
    shape('rear-screen', strip(head, foot + gap)),
    shape('cab-corner', loop(shifted(cut(belt, from, rear), 0, -gap), line([rear, sill.high + 2 * gap], [from, sill.high + 2 * gap]))),
  ];
}

function bed(body: Landmarks): Shape {
  const { deck, stern, skirt, axles } = body;
  const front = (deck[0] as Point)[0] + gap;
  const opening = around(body, axles[1], body.arch + gap, skirt + gap, skirt + gap);
  return shape('bed', loop(shifted(cut(deck, front, 1e6), 0, -gap), shifted(cut(stern, 1e6, skirt + gap, 1), -gap, 0), opening, line([front, skirt + gap])), fillerHole(body));
}
