import type { DossierPhoto } from '../../model/dossier.ts';
import { drawnMarks } from '../marks.ts';
import type { Stroke } from '../marks.ts';

/** Marks of a photo as SVG takes them. */
export interface SiteMarks {
  /** `0 0 1600 1200`: the large rendition. Lines are drawn in its pixels. */
  viewBox: string;
  lines: { d: string; dashed: boolean }[];
  /** Lengths of scales: place in percent, which way from it, and where the words begin. */
  lengths: { words: string; x: string; y: string; dx: number; dy: number; anchor: 'start' | 'middle' | 'end' }[];
  /** Numbers in discs whose size does not follow the picture: place in percent, then pixels away from it per unit of radius. */
  discs: { number: number; x: string; y: string; dx: number; dy: number }[];
}

/** Null where nothing is marked, or there is no picture to draw it over. */
export function siteMarks(photo: DossierPhoto): SiteMarks | null {
  const largest = photo.renditions.toSorted((a, b) => a.width - b.width).at(-1);
  if (!largest || !photo.marks) return null;
  const { width, height } = largest;
  const marks = drawnMarks(photo.marks, width, height);
  if (marks.length === 0) return null;
  const percent = (value: number, whole: number): string => `${short((100 * value) / whole)}%`;
  return {
    viewBox: `0 0 ${width} ${height}`,
    lines: marks.flatMap(({ strokes, dashed, frame }) => [{ d: strokes.map(pathOf).join(''), dashed }, ...(frame.length > 0 ? [{ d: frame.map(pathOf).join(''), dashed: true }] : [])]),
    lengths: marks.flatMap(({ length }) => (length ? [{ words: length.words, x: percent(length.at[0], width), y: percent(length.at[1], height), dx: two(length.direction[0]), dy: two(length.direction[1]), anchor: anchorFor(length.direction[0]) }] : [])),
    discs: marks.flatMap(({ disc }) => (disc ? [{ number: disc.number, x: percent(disc.at[0], width), y: percent(disc.at[1], height), dx: two(disc.direction[0]), dy: two(disc.direction[1]) }] : [])),
  };
}

/** Words beside an upright line begin or end at it. */
function anchorFor(across: number): 'start' | 'middle' | 'end' {
  return across > 0.5 ? 'start' : across < -0.5 ? 'end' : 'middle';
}

function pathOf(stroke: Stroke): string {
  if (stroke.kind === 'line') return `${stroke.points.map(([x, y], index) => `${index === 0 ? 'M' : 'L'}${short(x)} ${short(y)}`).join('')}${stroke.closed ? 'Z' : ''}`;
  const [x, y] = stroke.centre;
  const r = short(stroke.radius);
  const half = (way: string): string => `a${r} ${r} 0 1 0 ${way}${short(2 * stroke.radius)} 0`;
  return `M${short(x - stroke.radius)} ${short(y)}${half('')}${half('-')}Z`;
}

/** A tenth of a pixel is finer than any line. */
function short(value: number): string {
  return String(Number(value.toFixed(1)));
}

function two(value: number): number {
  return Number(value.toFixed(2));
}
