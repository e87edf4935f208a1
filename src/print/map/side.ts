import { arc, box, cut, ellipse, heightAt, line, loop, pointAt, reversed, shifted } from './curves.ts';
import type { Curve, Point } from './curves.ts';
import type { Landmarks } from './landmarks.ts';
import { crossing, detailed, gap, shape } from './shapes.ts';
import type { Ink, Shape, Sketch } from './shapes.ts';
import { around, panelWidth, postWidth, ringWidth } from './side-parts.ts';
import type { Glasshouse } from './side-parts.ts';
import { tailShapes } from './side-tail.ts';

/** Depths of what is seen edge on, from the side. */
const bonnetDepth = 6;
const roofDepth = 7;
const screenWidth = 8.5;

/** One side of a body, front at the beginning of the first axis. */
export function sideSketch(body: Landmarks): Sketch {
  const house = glasshouseOf(body);
  return {
    ink: [...standing(body), ...windows(body, house)],
    shapes: [...frontShapes(body), ...screenShapes(body, house), ...doorShapes(body, house), ...tailShapes(body, house), ...frameShapes(body)],
  };
}

function glasshouseOf({ screen, roof, back }: Landmarks): Glasshouse {
  const inner = { screen: shifted(screen, screenWidth, -1), roof: shifted(roof, 0, -roofDepth), back: shifted(back, -6, -1) };
  return { ...inner, front: crossing(inner.screen, inner.roof) ?? (inner.screen.at(-1) as Point), rear: crossing(inner.roof, inner.back) ?? (inner.roof.at(-1) as Point) };
}

/** Ground, wheels, bumpers and the outline of the body. */
function standing(body: Landmarks): Ink[] {
  const { axles, wheel, length, tail, skirt } = body;
  const bumper = (x: number): Ink => ({ pen: 'line', curves: [box([x - 5, skirt + 17], [x + 5, skirt + 26], 3)], closed: true });
  const wheels = axles.flatMap((axle): Ink[] => [
    { pen: 'wheel', curves: [ellipse([axle, wheel], wheel, wheel), ellipse([axle, wheel], wheel * 0.62, wheel * 0.62), ellipse([axle, wheel], wheel * 0.2, wheel * 0.2)], closed: true },
  ]);
  return [
    { pen: 'ground', curves: [line([-18, 0], [length + 18, 0])], closed: false },
    bumper(-1),
    ...(tail === 'bed' ? [] : [bumper(length - 1)]),
    ...outlines(body).map((curve): Ink => ({ pen: 'outline', curves: [curve], closed: true })),
    ...wheels,
  ];
}

function outlines(body: Landmarks): Curve[] {
  const { axles, nose, bonnet, screen, roof, back, deck, stern, tail, cab, skirt, sill } = body;
  const [front, rear] = axles;
  const low = (radius: number, z: number): number => (Math.asin(Math.max(-1, (z - body.wheel) / radius)) * 180) / Math.PI;
  const opening = (axle: number, before: number, after: number): Curve => reversed(arc([axle, body.wheel], body.arch, 180 - low(body.arch, before), low(body.arch, after)));
  const frontOpening = opening(front, skirt, sill.low);
  const rearOpening = opening(rear, sill.low, skirt);
  if (tail === 'open') return [loop(nose, bonnet, screen, [...(roof.slice(-1))], reversed(shifted(screen, 4, -1)), cut(body.belt, (screen[0] as Point)[0] + 12, (deck[0] as Point)[0]), deck, stern, rearOpening, frontOpening)];
  if (cab === null) return [loop(nose, bonnet, screen, roof, back, deck, stern, rearOpening, frontOpening)];
  const open = opening(rear, skirt, skirt);
  return [
    loop(nose, bonnet, screen, roof, back, line([cab - 2, sill.low], [front + body.arch, sill.low]), frontOpening),
    loop(line([cab + 5, skirt], pointAt(deck, cab + 5)), deck, stern, open),
  ];
}

function windows(body: Landmarks, house: Glasshouse): Ink[] {
  const { tail, posts, belt } = body;
  if (tail === 'open') return [{ pen: 'glass', curves: [body.back], closed: false }];
  const foot = posts.glass - 2.5;
  const head = tail === 'load doors' ? posts.b - 2.5 : tail === 'bed' ? house.rear[0] - 6 : house.rear[0] - 11;
  const front = pointAt(house.screen, heightAt(belt, posts.a) + 6, 1)[0] + 2.5;
  return [{
    pen: 'glass',
    closed: true,
    curves: [loop(
      shifted(cut(house.screen, front, house.front[0]), 2.5, 0),
      shifted(cut(house.roof, house.front[0] + 3, head), 0, -2.2),
      line([foot, heightAt(belt, foot) + 2.5]),
      shifted(cut(belt, foot, front + 3), 0, 2.5),
    )],
  }];
}

function frontShapes(body: Landmarks): Shape[] {
  const { nose, bonnet, lamp, posts, belt, axles, skirt, sill } = body;
  const [axle] = axles;
  const end = (bonnet.at(-1) as Point)[0];
  const shut = end - 15;
  const start = (nose.at(-1) as Point)[0];
  const panelTop = lamp.at[1] - lamp.rz - 3;
  const under = shifted(bonnet, 0, -bonnetDepth - 2 * gap);
  const noseTop = heightAt(under, start + 3);
  const inner = shifted(nose, panelWidth, 0);
  const wing = loop(
    shifted(cut(nose, panelTop + 2 * gap, noseTop, 1), gap, 0),
    cut(under, start + 3, posts.a - 1),
    line([posts.a - gap, heightAt(belt, posts.a) - gap], [posts.a - gap, sill.high + 2 * gap]),
    around(body, axle, body.arch + gap, sill.high + 2 * gap, skirt + gap),
    line([pointAt(inner, skirt, 1)[0] + 2 * gap, skirt + gap]),
    shifted(cut(inner, skirt, panelTop + 2 * gap, 1), 2 * gap, 0),
  );
  const band = (from: number, to: number): Curve => loop(shifted(cut(bonnet, from, to), 0, -gap), reversed(shifted(cut(bonnet, from, to), 0, -bonnetDepth)));
  return [
    shape('front-panel', loop(shifted(cut(nose, skirt, panelTop, 1), gap, gap), reversed(shifted(cut(nose, skirt, panelTop, 1), panelWidth, gap)))),
    shape('headlamp-bowl', ellipse(lamp.at, lamp.rx, lamp.rz)),
    shape('front-wing', wing, ellipse(lamp.at, lamp.rx + 1.6, lamp.rz + 1.6)),
    shape('bonnet', band(start + 1, shut - gap)),
    shape('scuttle', band(shut + gap, Math.min(end + 2, posts.a - gap))),
    shape('a-post', loop(line([posts.a + gap, sill.high + 2 * gap], [posts.a + gap, heightAt(belt, posts.a) - gap], [posts.a + postWidth, heightAt(belt, posts.a + postWidth) - gap], [posts.a + postWidth, sill.high + 2 * gap]))),
  ];
}

function screenShapes({ screen, roof, tail }: Landmarks, { screen: inner, front, rear, roof: inside }: Glasshouse): Shape[] {
  const base = (screen[0] as Point)[0];
  const outer = shifted(screen, gap, -gap / 2);
  // Roofs end square above doors and walls, and on a mitre above a sloping screen.
  const end = tail === 'boot' ? rear[0] + 1 : (roof.at(-1) as Point)[0] - gap;
  if (tail === 'open') return [shape('windscreen-surround', loop(outer, shifted(roof, 0, -gap), reversed(shifted(inner, -2, 0))))];
  return [
    shape('windscreen-surround', loop(cut(outer, base + 1, 1e6), line(front), cut(inner, front[0], base + screenWidth + 2))),
    shape('roof', loop(
      shifted(cut(roof, (screen.at(-1) as Point)[0] + 5, 1e6), 0, -gap),
      line([end, tail === 'boot' ? rear[1] : heightAt(inside, end)]),
      cut(inside, tail === 'boot' ? rear[0] : end, front[0] + 5),
    )),
  ];
}

/** Doors, B-post and sill. */
function doorShapes(body: Landmarks, house: Glasshouse): Shape[] {
  const { posts, belt, sill, axles, arch, tail } = body;
  const low = sill.high + 2 * gap;
  const isVan = tail === 'load doors';
  const floor = isVan ? low + 12 : low;
  const front = posts.a + postWidth + 2 * gap;
  const top = tail === 'open' ? heightAt(belt, posts.b) - gap : heightAt(house.roof, posts.b + 3) - gap;
  const panel = (from: number, to: number, bottom: number): Curve => loop(shifted(cut(belt, from, to), 0, -gap), line([to, bottom], [from, bottom]));
  return [
    detailed(shape('door', panel(front, posts.b - gap, floor)), handle(body, posts.b - gap)),
    shape('b-post', loop(line([posts.b + gap, low], [posts.b + gap, top], [posts.b + postWidth, top], [posts.b + postWidth, low]))),
    shape('sill', box([axles[0] + arch + 1.5, sill.low + gap], [body.cab === null ? axles[1] - arch - ringWidth(body) - 1.5 : body.cab - 10, sill.high], 1)),
    ...(isVan ? [shape('step-well', box([front, low], [posts.b - gap, low + 10.2], 1))] : []),
    ...(posts.rear === null || isVan ? [] : [detailed(shape('rear-door', rearDoor(body, posts.rear)), handle(body, posts.rear - gap))]),
  ];
}

/** A handle near the rear edge of a door. */
function handle({ belt }: Landmarks, rear: number): Curve {
  const z = heightAt(belt, rear - 10) - 13;
  return line([rear - 20, z], [rear - 7, z]);
}

function rearDoor(body: Landmarks, rear: number): Curve {
  const { posts, belt, sill, axles } = body;
  const front = posts.b + postWidth + 2 * gap;
  const low = sill.high + 2 * gap;
  const radius = body.arch + ringWidth(body) + 2 * gap;
  const top = shifted(cut(belt, front, rear - gap), 0, -gap);
  const reach = (rear - gap - axles[1]) / radius;
  if (Math.abs(reach) >= 1) return loop(top, line([rear - gap, low], [front, low]));
  const from = (Math.acos(reach) * 180) / Math.PI;
  const to = 180 - (Math.asin((low - body.wheel) / radius) * 180) / Math.PI;
  return loop(top, arc([axles[1], body.wheel], radius, from, to), line([front, low]));
}

/** The rails of a separate frame, seen below the body. */
function frameShapes({ frame, sill, axles, arch, length, skirt }: Landmarks): Shape[] {
  if (!frame) return [];
  const rail = (from: number, to: number, top: number): Curve => box([from, top - 9], [to, top], 1.5);
  return [shape('ladder-frame', rail(axles[0] + arch + 3, axles[1] - arch - 3, sill.low - 2), rail(axles[1] + arch + 3, length - 14, skirt - 3))];
}
