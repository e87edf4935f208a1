/** Of a drawing, in centimetres of the car. */
export type Point = readonly [number, number];

/** Cubic Bézier pieces end to end: 3n + 1 points, of which every third is on the curve. A straight piece has its handles on its thirds. */
export type Curve = readonly Point[];

/** Control points of a quarter circle, as a share of its radius. */
const kappa = 0.5523;

/** Straight from point to point. */
export function line(...points: readonly Point[]): Curve {
  const [first = [0, 0], ...rest] = points;
  const curve: Point[] = [first];
  let from = first;
  for (const to of rest) {
    curve.push(between(from, to, 1 / 3), between(from, to, 2 / 3), to);
    from = to;
  }
  return curve;
}

/** A smooth line through the points: at each it runs parallel to its neighbours' chord, and its handles follow the distances. */
export function smooth(...points: readonly Point[]): Curve {
  if (points.length < 3) return line(...points);
  const curve: Point[] = [];
  points.forEach((point, index) => {
    const before = points[index - 1];
    const after = points[index + 1];
    if (before && after) {
      const chord = distance(before, after) || 1;
      const [dx, dy] = [(after[0] - before[0]) / chord, (after[1] - before[1]) / chord];
      const [back, on] = [distance(before, point) / 3, distance(point, after) / 3];
      curve.push([point[0] - dx * back, point[1] - dy * back], point, [point[0] + dx * on, point[1] + dy * on]);
    } else {
      curve.push(point);
    }
  });
  // The end pieces aim at the handle beyond them.
  const [start, second] = [curve[0] as Point, curve[1] as Point];
  const [beyond, end] = [curve.at(-2) as Point, curve.at(-1) as Point];
  return [start, between(start, second, 0.5), ...curve.slice(1, -1), between(end, beyond, 0.5), end];
}

/** A smooth line through parts that share their ends, given back in those parts: no corner where they meet. */
export function smoothParts(...parts: readonly (readonly Point[])[]): Curve[] {
  const whole = smooth(...parts.flatMap((part, index) => (index === 0 ? part : part.slice(1))));
  let from = 0;
  return parts.map((part) => {
    const to = from + 3 * (part.length - 1);
    const own = whole.slice(from, to + 1);
    from = to;
    return own;
  });
}

/** From one point to another, leaving and arriving along the first axis. */
export function ease(from: Point, to: Point): Curve {
  const middle = (from[0] + to[0]) / 2;
  return [from, [middle, from[1]], [middle, to[1]], to];
}

/** Part of a circle between two angles in degrees, counted from the first axis towards the second; either way round. */
export function arc(centre: Point, radius: number, from: number, to: number): Curve {
  const count = Math.max(1, Math.ceil(Math.abs(to - from) / 60));
  const step = ((to - from) / count) * (Math.PI / 180);
  const reach = (4 / 3) * Math.tan(step / 4) * radius;
  const curve: Point[] = [];
  for (let index = 0; index <= count; index += 1) {
    const angle = (from * Math.PI) / 180 + step * index;
    const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
    const point: Point = [centre[0] + radius * cos, centre[1] + radius * sin];
    if (index > 0) curve.push([point[0] + reach * sin, point[1] - reach * cos]);
    curve.push(point);
    if (index < count) curve.push([point[0] - reach * sin, point[1] + reach * cos]);
  }
  return curve;
}

/** A closed ellipse. */
export function ellipse([x, y]: Point, rx: number, ry: number): Curve {
  const [bx, by] = [rx * kappa, ry * kappa];
  return [
    [x + rx, y], [x + rx, y + by], [x + bx, y + ry],
    [x, y + ry], [x - bx, y + ry], [x - rx, y + by],
    [x - rx, y], [x - rx, y - by], [x - bx, y - ry],
    [x, y - ry], [x + bx, y - ry], [x + rx, y - by], [x + rx, y],
  ];
}

/** A closed rectangle with round corners, from corner to corner. */
export function box([x1, y1]: Point, [x2, y2]: Point, radius = 0): Curve {
  const [left, right, low, high] = [Math.min(x1, x2), Math.max(x1, x2), Math.min(y1, y2), Math.max(y1, y2)];
  if (radius === 0) return line([left, low], [right, low], [right, high], [left, high], [left, low]);
  return loop(
    arc([right - radius, low + radius], radius, -90, 0),
    arc([right - radius, high - radius], radius, 0, 90),
    arc([left + radius, high - radius], radius, 90, 180),
    arc([left + radius, low + radius], radius, 180, 270),
  );
}

/** The curves one after the other, joined by straight lines, and closed. */
export function loop(...curves: readonly Curve[]): Curve {
  const joined = chain(...curves);
  const [first, last] = [joined[0], joined.at(-1)];
  return first && last && distance(first, last) > 0.01 ? [...joined, ...line(last, first).slice(1)] : joined;
}

/** The curves one after the other, joined by straight lines. */
export function chain(...curves: readonly Curve[]): Curve {
  return curves.filter((curve) => curve.length > 0).reduce((joined, curve) => {
    const last = joined.at(-1);
    const first = curve[0];
    if (!last || !first) return [...joined, ...curve];
    return distance(last, first) > 0.01 ? [...joined, ...line(last, first).slice(1), ...curve.slice(1)] : [...joined, ...curve.slice(1)];
  }, [] as Curve);
}

/** From its end to its beginning. */
export function reversed(curve: Curve): Curve {
  return curve.toReversed();
}

/** Moved as a whole. */
export function shifted(curve: Curve, dx: number, dy: number): Curve {
  return curve.map(([x, y]) => [x + dx, y + dy]);
}

/** The other side of the car: the second axis turned over. */
export function flipped(curve: Curve): Curve {
  return curve.map(([x, y]) => [x, -y]);
}

/** The part of a curve that runs steadily along an axis, between two places on it, in the order they are given. Ends where the curve ends. */
export function cut(curve: Curve, from: number, to: number, axis: 0 | 1 = 0): Curve {
  const [a, b] = [placeOf(curve, from, axis), placeOf(curve, to, axis)];
  return a <= b ? section(curve, a, b) : reversed(section(curve, b, a));
}

/** The point where a curve passes a place on an axis. */
export function pointAt(curve: Curve, value: number, axis: 0 | 1 = 0): Point {
  const place = placeOf(curve, value, axis);
  const piece = Math.min(Math.floor(place), pieceCount(curve) - 1);
  return onPiece(pieceOf(curve, piece), place - piece);
}

/** Height, or half width, of a curve at a place on its first axis. */
export function heightAt(curve: Curve, x: number): number {
  return pointAt(curve, x)[1];
}

/** Straight or curved pieces as corner points close enough for any pen. */
export function flattened(curve: Curve, steps = 8): Point[] {
  const points: Point[] = curve[0] ? [curve[0]] : [];
  for (let index = 0; index < pieceCount(curve); index += 1) {
    const piece = pieceOf(curve, index);
    const count = isStraight(piece) ? 1 : steps;
    for (let step = 1; step <= count; step += 1) points.push(onPiece(piece, step / count));
  }
  return points;
}

/** Path data with absolute commands M, L, C, Z and plain decimals only, which every reader draws alike. */
export function pathData(curves: readonly Curve[], closed: boolean): string {
  return curves.map((curve) => {
    const parts = curve[0] ? [`M${spot(curve[0])}`] : [];
    for (let index = 0; index < pieceCount(curve); index += 1) {
      const piece = pieceOf(curve, index);
      const isLast = closed && index === pieceCount(curve) - 1;
      if (isStraight(piece)) parts.push(...(isLast ? [] : [`L${spot(piece[3])}`]));
      else parts.push(`C${spot(piece[1])} ${spot(piece[2])} ${spot(piece[3])}`);
    }
    return `${parts.join('')}${closed ? 'Z' : ''}`;
  }).join('');
}

type Piece = readonly [Point, Point, Point, Point];

function pieceCount(curve: Curve): number {
  return Math.floor((curve.length - 1) / 3);
}

function pieceOf(curve: Curve, index: number): Piece {
  return curve.slice(3 * index, 3 * index + 4) as unknown as Piece;
}

/** Piece number and share of that piece at which a curve passes a place; its nearer end where it never does. */
function placeOf(curve: Curve, value: number, axis: 0 | 1): number {
  const count = pieceCount(curve);
  const [first, last] = [(curve[0] as Point)[axis], (curve.at(-1) as Point)[axis]];
  const rises = last >= first;
  if (rises ? value <= first : value >= first) return 0;
  for (let index = 0; index < count; index += 1) {
    const piece = pieceOf(curve, index);
    const end = piece[3][axis];
    if (rises ? value > end : value < end) continue;
    let [low, high] = [0, 1];
    for (let step = 0; step < 40; step += 1) {
      const middle = (low + high) / 2;
      const there = onPiece(piece, middle)[axis];
      if (rises ? there < value : there > value) low = middle;
      else high = middle;
    }
    return index + low;
  }
  return count;
}

function section(curve: Curve, from: number, to: number): Curve {
  const count = pieceCount(curve);
  const first = Math.min(Math.floor(from), count - 1);
  const last = Math.min(Math.max(Math.ceil(to) - 1, first), count - 1);
  const parts: Curve[] = [];
  for (let index = first; index <= last; index += 1) {
    const [start, end] = [index === first ? from - index : 0, index === last ? to - index : 1];
    parts.push(pieceBetween(pieceOf(curve, index), start, end));
  }
  return chain(...parts);
}

/** De Casteljau's construction, from both ends. */
function pieceBetween(piece: Piece, from: number, to: number): Curve {
  const upper = split(piece, to)[0];
  return to === 0 ? [piece[0], piece[0], piece[0], piece[0]] : split(upper, from / to)[1];
}

function split([a, b, c, d]: Piece, at: number): [Piece, Piece] {
  const [ab, bc, cd] = [between(a, b, at), between(b, c, at), between(c, d, at)];
  const [abc, bcd] = [between(ab, bc, at), between(bc, cd, at)];
  const middle = between(abc, bcd, at);
  return [[a, ab, abc, middle], [middle, bcd, cd, d]];
}

function onPiece(piece: Piece, at: number): Point {
  return split(piece, at)[0][3];
}

function isStraight([a, b, c, d]: Piece): boolean {
  return distance(between(a, d, 1 / 3), b) < 0.02 && distance(between(a, d, 2 / 3), c) < 0.02;
}

function between(a: Point, b: Point, at: number): Point {
  return [a[0] + (b[0] - a[0]) * at, a[1] + (b[1] - a[1]) * at];
}

function distance(a: Point, b: Point): number {
  return Math.hypot(b[0] - a[0], b[1] - a[1]);
}

/** A tenth of a centimetre is finer than any pen. */
function spot([x, y]: Point): string {
  return `${decimal(x)} ${decimal(y)}`;
}

function decimal(value: number): string {
  const text = value.toFixed(1).replace(/\.0$/, '');
  return text === '-0' ? '0' : text;
}
