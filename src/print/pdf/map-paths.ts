import type { Outcome } from '../../model/catalogue.ts';
import type { DrawnArea, Pen } from '../map/index.ts';
import { colours, stateColours } from './look.ts';
import { colourOf, round } from './shapes.ts';

/** Where a view's origin stands in the figure, in points from its upper left corner downwards, and points per unit of the drawing. */
export interface Place {
  scale: number;
  x: number;
  y: number;
}

/** Path operators of path data with absolute M, L, C, Z, not yet painted. */
export function operatorsOf(d: string, { scale, x, y }: Place): string {
  return [...d.matchAll(/([MLCZ])([^MLCZ]*)/g)].map(([, command = '', numbers = '']) => {
    const values = numbers.trim() === '' ? [] : numbers.trim().split(/\s+/).map(Number);
    const points = values.map((value, at) => round(at % 2 === 0 ? x + value * scale : -(y + value * scale)));
    return command === 'M' ? `${points.join(' ')} m` : command === 'L' ? `${points.join(' ')} l` : command === 'C' ? `${points.join(' ')} c` : 'h';
  }).join(' ');
}

const pens: Record<Pen, { width: number; stroke: string; filled: boolean }> = {
  outline: { width: 0.8, stroke: colours.ink, filled: true },
  line: { width: 0.4, stroke: colours.slate, filled: true },
  wheel: { width: 0.4, stroke: colours.slate, filled: true },
  glass: { width: 0.3, stroke: colours.slate, filled: false },
  ghost: { width: 0.4, stroke: colours.hair, filled: false },
  ground: { width: 0.5, stroke: colours.hair, filled: false },
};

/** A quiet line, painted. */
export function inkPaths(pen: Pen, d: string, place: Place): string {
  const { width, stroke, filled } = pens[pen];
  return `${colourOf(stroke)} RG 1 1 1 rg 1 j ${width} w ${operatorsOf(d, place)} ${filled ? 'B*' : 'S'}`;
}

/** Pitch and pen of what fills an area, and its edge. */
const edges: Record<Outcome, { width: number; dash: string }> = {
  defect: { width: 0.9, dash: '' },
  'cannot tell': { width: 0.6, dash: '' },
  'not seen': { width: 0.5, dash: '[1.9 1.4] 0 d' },
  sound: { width: 0.45, dash: '' },
  'not fitted': { width: 0.4, dash: '' },
};
/** Ground of an area: paper, or a tint of its state's colour. */
const grounds: Record<Outcome, string> = { defect: '#f8f1ed', 'cannot tell': '#ffffff', 'not seen': '#ffffff', sound: '#e6ecea', 'not fitted': '#ffffff' };

/** An area in the pattern of its state: dots, level lines, hatching with a dashed edge, a plain tint, or short dashes. Painted. */
export function areaPaths({ d, detail, state }: Pick<DrawnArea, 'd' | 'detail' | 'state'>, place: Place): string {
  const path = operatorsOf(d, place);
  const colour = colourOf(stateColours[state]);
  const { width, dash } = edges[state];
  const pattern = patternPaths(state, boundsOf(path));
  return [
    `q 1 j ${colour} RG ${colourOf(grounds[state])} rg ${path} f*`,
    ...(pattern === '' ? [] : [`q ${path} W* n ${pattern} Q`]),
    `${width} w ${dash} ${path} S`,
    ...(detail === '' ? [] : [`0.35 w [] 0 d ${operatorsOf(detail, place)} S`]),
    'Q',
  ].join('\n');
}

/** Left, bottom, right and top of the points of path operators. */
export function boundsOf(path: string): [number, number, number, number] {
  const points = [...path.matchAll(/(-?[\d.]+) (-?[\d.]+)(?= )/g)].map(([, x, y]) => [Number(x), Number(y)] as const);
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

type Bounds = ReturnType<typeof boundsOf>;

function patternPaths(state: Outcome, bounds: Bounds): string {
  switch (state) {
    case 'defect':
      // Dashes without length, with round ends, are dots.
      return `1 J 1.05 w ${levels(bounds, 1.7, (row) => `[0 3.4] ${row % 2 === 0 ? 0 : 1.7} d`, 3.4)}`;
    case 'cannot tell':
      return `0.3 w ${levels(bounds, 2.6, () => '', 1)}`;
    case 'not fitted':
      return `0.35 w ${levels(bounds, 4, () => '[3 3] 0 d', 6)}`;
    case 'not seen':
      return `0.22 w ${hatching(bounds, 4.2)}`;
    case 'sound':
      return '';
  }
}

/** Level lines, which begin on a grid of their own, so that neighbours' patterns meet. */
function levels([left, bottom, right, top]: Bounds, pitch: number, dash: (row: number) => string, grid: number): string {
  const start = Math.floor(left / grid) * grid;
  const [first, last] = [Math.floor(bottom / pitch), Math.ceil(top / pitch)];
  return Array.from({ length: last - first + 1 }, (_, at) => {
    const row = first + at;
    return `${dash(row)} ${round(start)} ${round(row * pitch)} m ${round(right)} ${round(row * pitch)} l S`;
  }).join(' ');
}

/** Lines rising to the right. */
function hatching([left, bottom, right, top]: Bounds, pitch: number): string {
  const height = top - bottom;
  const [first, last] = [Math.floor((left - top) / pitch), Math.ceil((right - bottom) / pitch)];
  return Array.from({ length: last - first + 1 }, (_, at) => {
    const x = (first + at) * pitch + bottom;
    return `${round(x)} ${round(bottom)} m ${round(x + height)} ${round(top)} l`;
  }).join(' ') + ' S';
}
