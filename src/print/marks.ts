import type { DossierMark } from '../model/dossier-mark.ts';

/** Colours of marks on site and paper: a light line in a dark casing is seen on any photo, in a grey print too. */
export const markColours = { line: '#ffffff', casing: '#1d2730' } as const;

export type Point = readonly [x: number, y: number];

/** A line or a circle to draw, in units of the picture. */
export type Stroke = { kind: 'line'; points: readonly Point[]; closed: boolean } | { kind: 'circle'; centre: Point; radius: number };

/** The number of a mark: a disc of the printer's own size stands beside `at`, away from it in `direction`, which is one long or, into a corner, one on each side. */
export interface Disc {
  number: number;
  at: Point;
  direction: Point;
}

/** The length of a scale in words, its middle at `at`, away from the line in `direction`, which is one long. */
export interface LengthWords {
  words: string;
  at: Point;
  direction: Point;
}

/** A mark as both printers draw it. Strokes may leave the picture: printers clip. */
export interface DrawnMark {
  strokes: readonly Stroke[];
  dashed: boolean;
  /** Drawn dashed: the rectangle an outline is a share of. */
  frame: readonly Stroke[];
  /** Null where the photo has one mark only. */
  disc: Disc | null;
  /** Of a scale. */
  length: LengthWords | null;
}

/**
 * Heads of arrows and uprights at the ends of scales; how far from its mark a disc has its centre on a small page, and how large
 * it is there, and both on a page of usual size: shares of the picture's longer side.
 */
const headShare = 0.045;
const tickShare = 0.02;
const discShare = 0.078;
const discRadiusShare = 0.06;
const [usualDiscShare, usualDiscRadiusShare] = [0.04, 0.03];
/** Half the height of a scale's words, half their width for each letter, and how far from the line their middle is, likewise. */
const wordsShare = { high: 0.035, wide: 0.017, away: 0.055 } as const;

/**
 * Marks of a photo in units of its upright picture of `width` by `height`, with a place for the number of each. What has not
 * the numbers of its shape is left out: its words stand in the caption.
 */
export function drawnMarks(marks: readonly DossierMark[], width: number, height: number): DrawnMark[] {
  const drawn = marks.flatMap((mark) => {
    const strokes = strokesOf(mark, width, height);
    return strokes.length === 0 ? [] : [{ mark, strokes }];
  });
  const lengths = drawn.map(({ mark, strokes }) => lengthOf(mark, strokes, { width, height, others: drawn.filter((other) => other.mark !== mark).map((other) => other.strokes) }));
  const words = lengths.flatMap((length) => (length ? [wordsBounds(length, width, height)] : []));
  const discs: Point[] = [];
  return drawn.map(({ mark, strokes }, index) => {
    const others = drawn.filter((other) => other.mark !== mark).map((other) => other.strokes);
    const disc = marks.length > 1 ? discOf(mark, strokes, { width, height, discs, others, words }) : null;
    if (disc) discs.push(discCentre(disc, width, height));
    return { strokes, dashed: mark.shape === 'grid frame', frame: frameOf(mark, width, height), disc, length: lengths[index] ?? null };
  });
}

/** The rectangle an outline is a share of. */
function frameOf({ within }: DossierMark, width: number, height: number): Stroke[] {
  if (!within) return [];
  const [x1, y1, x2, y2] = within;
  return [{ kind: 'line', points: [[x1 * width, y1 * height], [x2 * width, y1 * height], [x2 * width, y2 * height], [x1 * width, y2 * height]], closed: true }];
}

/** The words of a scale beside the middle of its line, on the side with more room. */
function lengthOf(mark: DossierMark, strokes: readonly Stroke[], room: Pick<Room, 'width' | 'height' | 'others'>): LengthWords | null {
  const [line] = strokes;
  if (mark.length === undefined || line?.kind !== 'line') return null;
  const [[x1, y1], [x2, y2]] = [line.points[0] ?? [0, 0], line.points.at(-1) ?? [0, 0]];
  const long = Math.hypot(x2 - x1, y2 - y1);
  const across: Point = [(y2 - y1) / long, (x1 - x2) / long];
  const sides = (across[1] > 0 ? [turned(across), across] : [across, turned(across)]).map((direction): LengthWords => ({ words: mark.length ?? '', at: [(x1 + x2) / 2, (y1 + y2) / 2], direction }));
  const faults = sides.map((side) => {
    const { left, top, right, bottom } = wordsBounds(side, room.width, room.height);
    const out = Math.max(0, -left, -top, right - room.width, bottom - room.height);
    const middle: Point = [(left + right) / 2, (top + bottom) / 2];
    return 100 * out + room.others.filter((other) => nearest(other, middle) < (bottom - top) / 2).length;
  });
  return ((faults[1] ?? 0) < (faults[0] ?? 0) ? sides[1] : sides[0]) ?? null;
}

function wordsBounds({ words, at, direction }: LengthWords, width: number, height: number): Bounds {
  const longer = Math.max(width, height);
  const [halfWide, halfHigh] = [wordsShare.wide * longer * words.length, wordsShare.high * longer];
  // Beside an upright line the words begin at it, not in it.
  const [x, y] = [at[0] + direction[0] * (wordsShare.away * longer + halfWide), at[1] + direction[1] * wordsShare.away * longer];
  return { left: x - halfWide, top: y - halfHigh, right: x + halfWide, bottom: y + halfHigh };
}

function strokesOf({ shape, numbers }: DossierMark, width: number, height: number): Stroke[] {
  const [a = 0, b = 0, c = 0, d = 0] = numbers;
  const [x1, y1, x2, y2] = [a * width, b * height, c * width, d * height];
  const longer = Math.max(width, height);
  switch (shape) {
    case 'ring':
      return numbers.length === 3 ? [{ kind: 'circle', centre: [x1, y1], radius: c * width }] : [];
    case 'arrow':
      return numbers.length === 4 ? arrow([x1, y1], [x2, y2], longer) : [];
    case 'scale':
      return numbers.length === 4 ? scale([x1, y1], [x2, y2], longer) : [];
    case 'box':
    case 'grid frame':
      return numbers.length === 4 ? [{ kind: 'line', points: [[x1, y1], [x2, y1], [x2, y2], [x1, y2]], closed: true }] : [];
    case 'outline': {
      const points = numbers.flatMap((x, index): Point[] => (index % 2 === 0 ? [[x * width, (numbers[index + 1] ?? 0) * height]] : []));
      return numbers.length >= 6 && numbers.length % 2 === 0 ? [{ kind: 'line', points, closed: true }] : [];
    }
  }
}

/** A shaft with an open head at its second end; the head of a short arrow is no longer than half of it. */
function arrow(from: Point, to: Point, longer: number): Stroke[] {
  const length = distance(from, to);
  if (length === 0) return [];
  const head = Math.min(headShare * longer, length / 2);
  const [ux, uy] = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
  const barb = (side: number): Point => [to[0] - head * (ux + 0.6 * side * uy), to[1] - head * (uy - 0.6 * side * ux)];
  return [
    { kind: 'line', points: [from, to], closed: false },
    { kind: 'line', points: [barb(1), to, barb(-1)], closed: false },
  ];
}

/** A line with an upright at each end, as a measure is drawn. */
function scale(from: Point, to: Point, longer: number): Stroke[] {
  const length = distance(from, to);
  if (length === 0) return [];
  const half = tickShare * longer;
  const [nx, ny] = [(-half * (to[1] - from[1])) / length, (half * (to[0] - from[0])) / length];
  const tick = ([x, y]: Point): Stroke => ({ kind: 'line', points: [[x - nx, y - ny], [x + nx, y + ny]], closed: false });
  return [{ kind: 'line', points: [from, to], closed: false }, tick(from), tick(to)];
}

interface Bounds {
  left: number;
  top: number;
  right: number;
  bottom: number;
}

/** The rectangle around strokes. */
function boundsOf(strokes: readonly Stroke[]): Bounds {
  const points = strokes.flatMap((stroke): readonly Point[] =>
    stroke.kind === 'line' ? stroke.points : [-1, 1].map((side): Point => [stroke.centre[0] + side * stroke.radius, stroke.centre[1] + side * stroke.radius]),
  );
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  return { left: Math.min(...xs), top: Math.min(...ys), right: Math.max(...xs), bottom: Math.max(...ys) };
}

const slant = Math.SQRT1_2;
const ways: readonly Point[] = [[slant, -slant], [-slant, -slant], [slant, slant], [-slant, slant], [1, 0], [-1, 0], [0, -1], [0, 1]];

interface Room {
  width: number;
  height: number;
  /** Centres of the discs placed so far. */
  discs: readonly Point[];
  /** The other marks. */
  others: readonly (readonly Stroke[])[];
  /** Where words stand. */
  words: readonly Bounds[];
}

/** The first place beside a mark that lies in the picture, on no other disc and no words, and on no other mark; the freest there is where none does: within another mark before on its line. */
function discOf(mark: DossierMark, strokes: readonly Stroke[], room: Room): Disc {
  let best: { disc: Disc; fault: number } | null = null;
  for (const place of placesFor(mark, strokes)) {
    const disc: Disc = { number: mark.number, at: place.at, direction: place.direction };
    const fault = faultOf(disc, room) + (place.within ? 4 : 0);
    if (!best || fault < best.fault) best = { disc, fault };
    if (fault === 0) break;
  }
  return best?.disc ?? { number: mark.number, at: [room.width / 2, room.height / 2], direction: [0, 0] };
}

/** Points on a mark and ways away from it, outside before inside. An arrow has its number at its tail, which points at nothing. */
function placesFor(mark: DossierMark, strokes: readonly Stroke[]): { at: Point; direction: Point; within: boolean }[] {
  const [first] = strokes;
  if (first?.kind === 'circle') {
    const { centre, radius } = first;
    const rim = ways.map((way): Point => [centre[0] + way[0] * radius, centre[1] + way[1] * radius]);
    return [false, true].flatMap((within) => ways.map((way, index) => ({ at: rim[index] ?? centre, direction: within ? turned(way) : way, within })));
  }
  if (first && !first.closed) {
    const from: Point = first.points[0] ?? [0, 0];
    const to: Point = first.points.at(-1) ?? from;
    const length = distance(from, to);
    const back: Point = [(from[0] - to[0]) / length, (from[1] - to[1]) / length];
    const sides: Point[] = [[back[1], -back[0]], [-back[1], back[0]]];
    const middle: Point = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2];
    const beside = (at: Point): { at: Point; direction: Point; within: boolean }[] => sides.map((direction) => ({ at, direction, within: false }));
    const along = (share: number): Point => [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])];
    const ahead = mark.shape === 'arrow' ? [] : [{ at: to, direction: turned(back), within: false }];
    return [{ at: from, direction: back, within: false }, ...ahead, ...beside(middle), ...beside(from), ...beside(to), ...beside(along(0.25)), ...beside(along(0.75))];
  }
  const points = first?.points ?? [];
  const into = ([x, y]: Point): Point => [-Math.sign(x), -Math.sign(y)];
  return [false, true].flatMap((within) => ways.map((way) => ({ at: farthest(points, way), direction: within ? into(way) : way, within })));
}

/** The corner that lies farthest in a direction: nothing of the mark lies beyond it. */
function farthest(points: readonly Point[], way: Point): Point {
  const reach = ([x, y]: Point): number => x * way[0] + y * way[1];
  return points.reduce((best, point) => (reach(point) > reach(best) ? point : best), points[0] ?? [0, 0]);
}

function turned([x, y]: Point): Point {
  return [-x, -y];
}

/** Where a disc comes to stand at the size it has on a small page; on a larger one it stands closer to its mark. */
function discCentre({ at, direction }: Disc, width: number, height: number): Point {
  const away = discShare * Math.max(width, height);
  return [at[0] + direction[0] * away, at[1] + direction[1] * away];
}

function faultOf(disc: Disc, { width, height, discs, others, words }: Room): number {
  const longer = Math.max(width, height);
  const [x, y] = discCentre(disc, width, height);
  const edge = discRadiusShare * longer;
  const over = Math.max(0, edge - x, x + edge - width, edge - y, y + edge - height);
  // Where none is in the picture whole, the one that is most.
  const outside = over === 0 ? 0 : 100 + (100 * over) / longer;
  const covers = discs.filter((other) => distance(other, [x, y]) < 2 * edge).length;
  const within = ({ left, top, right, bottom }: Bounds): boolean => x > left - edge && x < right + edge && y > top - edge && y < bottom + edge;
  const inside = others.filter((other) => within(boundsOf(other))).length;
  const upon = (centre: Point, radius: number): number => others.filter((other) => nearest(other, centre) < radius).length;
  const usual: Point = [disc.at[0] + disc.direction[0] * usualDiscShare * longer, disc.at[1] + disc.direction[1] * usualDiscShare * longer];
  return outside + 10 * covers + 5 * words.filter(within).length + 8 * upon(usual, usualDiscRadiusShare * longer) + 2 * upon([x, y], edge) + inside;
}

/** How far a point is from the nearest line of strokes. */
function nearest(strokes: readonly Stroke[], point: Point): number {
  return Math.min(...strokes.flatMap((stroke) => {
    if (stroke.kind === 'circle') return [Math.abs(distance(stroke.centre, point) - stroke.radius)];
    const ends = stroke.closed ? [...stroke.points, ...stroke.points.slice(0, 1)] : stroke.points;
    return ends.slice(1).map((to, index) => fromLine(ends[index] ?? to, to, point));
  }));
}

function fromLine(from: Point, to: Point, [x, y]: Point): number {
  const [wide, high] = [to[0] - from[0], to[1] - from[1]];
  const square = wide * wide + high * high;
  const share = square === 0 ? 0 : Math.min(1, Math.max(0, ((x - from[0]) * wide + (y - from[1]) * high) / square));
  return distance([from[0] + share * wide, from[1] + share * high], [x, y]);
}

function distance(one: Point, other: Point): number {
  return Math.hypot(one[0] - other[0], one[1] - other[1]);
}
