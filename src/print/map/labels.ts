import type { Point } from './curves.ts';
import { isInside } from './paper.ts';
import type { SetArea } from './paper.ts';

/** A name on the drawing or beside it. */
export interface DrawnLabel {
  zone: string;
  /** One or two. */
  lines: string[];
  /** Middle of the first line's baseline. */
  at: Point;
  /** From the name to its area; null where the name stands on it. */
  leader: readonly [Point, Point] | null;
}

/** A name to be set. */
interface Wanted {
  zone: string;
  name: string;
  structure: boolean;
  area: SetArea;
}

/** The names of a view with the bands they take above and below it. */
export interface LabelSet {
  top: number;
  bottom: number;
  labels: DrawnLabel[];
}

/** Share of its size that a letter of a bold face takes on average, a little generous; and height of a line. */
const letterShare = 0.6;
const lineShare = 1.15;
const longest = 15;

/**
 * Sets names on areas that have room for them, else beside the view in the order of their areas, with a line to each. What
 * finds no room is left out: each area has its name for those who point at it, and the list has them all.
 * @param size of the letters, in units of the drawing
 */
export function setLabels(wanted: readonly Wanted[], view: { width: number; height: number }, size: number): LabelSet {
  const on: DrawnLabel[] = [];
  const beside: { top: Wanted[]; bottom: Wanted[] } = { top: [], bottom: [] };
  for (const one of wanted) {
    const placed = onArea(one, size);
    if (placed) on.push(placed);
    else beside[one.area.label[1] < view.height / 2 ? 'top' : 'bottom'].push(one);
  }
  const bands = { top: bandOf(beside.top, size), bottom: bandOf(beside.bottom, size) };
  const row = (side: 'top' | 'bottom'): DrawnLabel[] => packed(beside[side], view.width, size).map(({ one, x }) => {
    const lines = linesOf(one.name);
    const height = lines.length * size * lineShare;
    const y = side === 'top' ? -4 - height + size : view.height + 4 + size;
    return { zone: one.zone, lines, at: [x, y], leader: [[x, side === 'top' ? -3 : view.height + 3], one.area.label] };
  });
  return { ...bands, labels: [...on, ...row('top'), ...row('bottom')] };
}

function bandOf(wanted: readonly Wanted[], size: number): number {
  return wanted.length === 0 ? 0 : Math.ceil(Math.max(...wanted.map(({ name }) => linesOf(name).length)) * size * lineShare) + 6;
}

function onArea({ zone, name, area }: Wanted, size: number): DrawnLabel | null {
  for (const lines of [[name], linesOf(name)]) {
    const [width, height] = [widthOf(lines, size) + size, lines.length * size * lineShare + size * 0.5];
    const [x, y] = area.label;
    const fits = [-0.5, -0.25, 0, 0.25, 0.5].every((across) => [-0.5, 0, 0.5].every((down) => isInside(area.rings, [x + across * width, y + down * height])));
    if (fits) return { zone, lines, at: [x, y + size * 0.35 - ((lines.length - 1) * size * lineShare) / 2], leader: null };
  }
  return null;
}

/** Places along a row, each as near to its area as its neighbours let it. */
function packed(wanted: readonly Wanted[], width: number, size: number): { one: Wanted; x: number }[] {
  const room = size * 0.9;
  const all = wanted.map((one, index) => ({ one, index, half: widthOf(linesOf(one.name), size) / 2 + room / 2, x: one.area.label[0] })).sort((a, b) => a.x - b.x || a.index - b.index);
  // Too many for the row: those that carry no load go first.
  while (all.reduce((sum, { half }) => sum + 2 * half, 0) > width) all.splice(leastOf(all), 1);
  for (let round = 0; round < 24; round += 1) {
    all.forEach((one, at) => {
      const next = all[at + 1];
      if (!next) return;
      const over = one.x + one.half - (next.x - next.half);
      if (over <= 0) return;
      one.x -= over / 2;
      next.x += over / 2;
    });
    for (const one of all) one.x = Math.max(one.half, Math.min(width - one.half, one.x));
  }
  // Whatever is still too close moves on to the right, then what stands out there to the left, for which there is room.
  all.forEach((one, at) => {
    const before = all[at - 1];
    one.x = Math.max(one.x, before ? before.x + before.half + one.half : one.half);
  });
  for (let at = all.length - 1; at >= 0; at -= 1) {
    const [one, next] = [all[at], all[at + 1]];
    if (one) one.x = Math.min(one.x, next ? next.x - next.half - one.half : width - one.half);
  }
  return all.map(({ one, x }) => ({ one, x }));
}

/** The last that carries no load, else the last; -1 for the last is what `splice` takes. */
function leastOf(all: readonly { one: Wanted }[]): number {
  return all.findLastIndex(({ one }) => !one.structure);
}

/** A long name on two lines, parted where both are about as long. */
function linesOf(name: string): string[] {
  if (name.length <= longest) return [name];
  const words = name.split(' ');
  const parted = words.slice(1).map((_, at) => [words.slice(0, at + 1).join(' '), words.slice(at + 1).join(' ')]);
  return parted.sort((a, b) => Math.max(...a.map((line) => line.length)) - Math.max(...b.map((line) => line.length)))[0] ?? [name];
}

function widthOf(lines: readonly string[], size: number): number {
  return Math.max(...lines.map((line) => line.length)) * size * letterShare;
}
