import type { RustGrades } from './rust-grade.ts';
import { rustGrades } from './rust-grade.ts';
import { wilson95 } from './wilson.ts';

/** Left, top, right, bottom in fractions of the upright picture; neither width nor height is nothing. */
export type Region = readonly [left: number, top: number, right: number, bottom: number];

/** x from the left, y from the top, in fractions of the upright picture. */
export type Corner = readonly [x: number, y: number];

/** What an outline is a share of where nothing else is written. */
export const wholePicture: Region = [0, 0, 1, 1];

/** What a mark says of rusted area. `words` stand behind the count, or behind the colon of an outline. */
export type RustedSaid =
  | { how: 'points'; region: Region; hits: number; points: number; words: string }
  | { how: 'outline'; region: Region; corners: readonly Corner[]; words: string };

/**
 * A rusted share of a region of one picture. It is the visible painted region only, says nothing of depth, and
 * perspective distorts it.
 */
export type RustedArea = {
  region: Region;
  percent: number;
  grades: RustGrades;
} & (
  | { how: 'points'; hits: number; points: number; lowPercent: number; highPercent: number }
  /** How closely the line follows the rust is not known, so there is no interval. */
  | { how: 'outline'; outlines: number }
);

/**
 * Share of a region by a count of points on an even grid, with its 95 % interval (Wilson) and the grades of the interval's
 * ends. Null where the numbers are no count.
 */
export function rustedByPoints(region: Region, hits: number, points: number): RustedArea | null {
  const found = wilson95(hits, points);
  const grades = found && rustGrades(found.lowPercent, found.highPercent);
  return grades && { how: 'points', region, hits, points, ...found, grades };
}

/**
 * Share of a region by traced outlines, parts that lie in several of them once. Corners stand within the region and no
 * outline crosses itself (`outlineFault`). Null where there is no outline.
 */
export function rustedByOutlines(region: Region, outlines: readonly (readonly Corner[])[]): RustedArea | null {
  const [left, top, right, bottom] = region;
  if (outlines.length === 0 || !(right > left) || !(bottom > top)) return null;
  const share = (100 * unionArea(outlines)) / ((right - left) * (bottom - top));
  // Steadied against the dust of binary fractions, which would lift 10 % into the next grade.
  const percent = Math.min(100, Math.round(share * 1e9) / 1e9);
  const grades = rustGrades(percent, percent);
  return grades && { how: 'outline', region, outlines: outlines.length, percent, grades };
}

/** Areas that somebody counted or traced themselves: not told, no opinion. */
export function rustCounted<T extends { area: RustedArea; origin: { kind: string } }>(all: readonly T[]): T[] {
  return all.filter(({ origin }) => origin.kind === 'fact');
}

/** Whether rust was seen: more than none in any area counted or traced. */
export function seenRust(all: readonly { area: RustedArea; origin: { kind: string } }[]): boolean {
  return rustCounted(all).some(({ area }) => area.percent > 0);
}

/** Whether a region is the picture itself. */
export function isWhole(region: Region): boolean {
  return region.every((side, index) => side === wholePicture[index]);
}

/** Points at the middles of `side` × `side` equal cells of a region, row by row from the top left. */
export function gridPoints([left, top, right, bottom]: Region, side: number): Corner[] {
  return Array.from({ length: side * side }, (_, index): Corner => [
    left + ((index % side) + 0.5) * ((right - left) / side),
    top + (Math.floor(index / side) + 0.5) * ((bottom - top) / side),
  ]);
}

/** Why corners enclose no area that can be told, a clause; null where they do. Corners in order, the last joined to the first. */
export function outlineFault(region: Region, corners: readonly Corner[]): string | null {
  const [left, top, right, bottom] = region;
  const outside = corners.find(([x, y]) => !(x >= left && x <= right && y >= top && y <= bottom));
  if (outside) return `the corner ${outside.join(' ')} lies outside of its region`;
  const edges = edgesOf(corners);
  if (edges.length < 3) return 'fewer than three corners';
  const cross = edges.some((one, at) => edges.some((other, then) => then > at + 1 && !(at === 0 && then === edges.length - 1) && meet(one, other)));
  if (cross) return 'the line crosses or touches itself';
  return unionArea([corners]) > 0 ? null : 'it encloses no area';
}

type Edge = readonly [from: Corner, to: Corner];

/** Edges round an outline; corners written twice in a row, the first again as last among them, count once. */
function edgesOf(corners: readonly Corner[]): Edge[] {
  return corners.flatMap((from, index): Edge[] => {
    const to = corners[(index + 1) % corners.length] ?? from;
    return from[0] === to[0] && from[1] === to[1] ? [] : [[from, to]];
  });
}

/** On which side of a line a point lies: more than nothing, less, or nothing on the line itself. */
function side([[ax, ay], [bx, by]]: Edge, [x, y]: Corner): number {
  return Math.sign((bx - ax) * (y - ay) - (by - ay) * (x - ax));
}

function meet(one: Edge, other: Edge): boolean {
  const [a, b, c, d] = [side(one, other[0]), side(one, other[1]), side(other, one[0]), side(other, one[1])];
  if (a !== b && c !== d) return a * b <= 0 && c * d <= 0;
  // On one line: they meet where their boxes do.
  return a === 0 && b === 0 && overlap(one, other, 0) && overlap(one, other, 1);
}

function overlap(one: Edge, other: Edge, axis: 0 | 1): boolean {
  const [a, b] = [one, other].map(([from, to]) => [Math.min(from[axis], to[axis]), Math.max(from[axis], to[axis])] as const) as [readonly [number, number], readonly [number, number]];
  return a[0] <= b[1] && b[0] <= a[1];
}

/**
 * Area of outlines together, overlaps once. Exact: between two heights at which a corner or a crossing lies no edges cross,
 * so what is covered there is as wide on average as it is half-way.
 */
function unionArea(outlines: readonly (readonly Corner[])[]): number {
  const edges = outlines.map(edgesOf);
  const heights = [...new Set([...outlines.flat().map(([, y]) => y), ...crossings(edges)])].toSorted((a, b) => a - b);
  let area = 0;
  for (const [index, low] of heights.entries()) {
    const high = heights[index + 1];
    if (high !== undefined) area += (high - low) * coveredAt(edges, (low + high) / 2);
  }
  return area;
}

/** Heights at which edges of two outlines cross. */
function crossings(outlines: readonly (readonly Edge[])[]): number[] {
  const found: number[] = [];
  for (const [index, edges] of outlines.entries()) {
    for (const other of outlines.slice(index + 1).flat()) {
      for (const edge of edges) {
        if (!overlap(edge, other, 1) || !overlap(edge, other, 0) || !meet(edge, other)) continue;
        const [[ax, ay], [bx, by]] = edge;
        const [[cx, cy], [dx, dy]] = other;
        const across = (bx - ax) * (dy - cy) - (by - ay) * (dx - cx);
        if (across !== 0) found.push(ay + ((by - ay) * ((cx - ax) * (dy - cy) - (cy - ay) * (dx - cx))) / across);
      }
    }
  }
  return found;
}

/** Width covered at a height no corner lies on: inside is where a line from the left has crossed an odd number of edges. */
function coveredAt(outlines: readonly (readonly Edge[])[], y: number): number {
  const spans = outlines.flatMap((edges) => {
    const at = edges.flatMap(([[ax, ay], [bx, by]]) => (ay < y === by < y ? [] : [ax + ((y - ay) / (by - ay)) * (bx - ax)])).toSorted((a, b) => a - b);
    return at.flatMap((from, index) => (index % 2 === 0 ? [[from, at[index + 1] ?? from] as const] : []));
  });
  let [covered, reached] = [0, -Infinity];
  for (const [from, to] of spans.toSorted((a, b) => a[0] - b[0])) {
    covered += Math.max(0, to - Math.max(from, reached));
    reached = Math.max(reached, to);
  }
  return covered;
}
