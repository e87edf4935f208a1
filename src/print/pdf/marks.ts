import { markColours } from '../marks.ts';
import type { Disc, DrawnMark, LengthWords, Point, Stroke } from '../marks.ts';
import type { Fonts, Shaped } from './fonts.ts';
import type { BoxItem, PictureItem, TextItem } from './items.ts';
import { circle, colourOf, round } from './shapes.ts';

/** Pens and discs in points, by the size of the picture. */
interface Pens {
  line: number;
  casing: number;
  radius: number;
  /** Of the number in the disc. */
  size: number;
}

/** Below this width a picture is one of a contact sheet. */
const smallPt = 130;
const large: Pens = { line: 1.4, casing: 3.2, radius: 6, size: 8 };
const small: Pens = { line: 0.9, casing: 2.1, radius: 4.6, size: 6.2 };
const gapPt = 1.8;
/** Round the words of a length. */
const insetPt = 1.4;

type Framed = Pick<PictureItem, 'x' | 'y' | 'width' | 'height'>;

function pensFor({ width }: Framed): Pens {
  return width < smallPt ? small : large;
}

/**
 * Path operators of marks over a picture of a page of `pageHeight` points, clipped to it: a light line in a dark casing, and
 * dark discs for the numbers. The marks are in points from the picture's upper left corner.
 */
export function markOperators(marks: readonly DrawnMark[], frame: Framed, pageHeight: number): string {
  if (marks.length === 0) return '';
  const pens = pensFor(frame);
  const top = pageHeight - frame.y;
  const at = ([x, y]: Point): Point => [frame.x + x, top - y];
  const [line, casing] = [colourOf(markColours.line), colourOf(markColours.casing)];
  const pen = (strokes: readonly Stroke[], dashed: boolean): string => {
    const path = strokes.map((stroke) => strokePath(stroke, at)).join(' ');
    return `${casing} RG ${pens.casing} w ${path} S\n${line} RG ${pens.line} w ${dashed ? `0 J [${round(pens.line * 3)} ${round(pens.line * 2)}] 0 d ${path} S [] 0 d 1 J` : `${path} S`}\n`;
  };
  const drawn = marks.map(({ strokes, dashed, frame }) => `${pen(strokes, dashed)}${frame.length > 0 ? pen(frame, true) : ''}`);
  const discs = marks.flatMap(({ disc }) => {
    if (!disc) return [];
    const [x, y] = at(centreOf(disc, frame, pens));
    return [`${casing} rg ${line} RG ${pens.line * 0.7} w ${circle(x, y, pens.radius)} B\n`];
  });
  return `q ${round(frame.x)} ${round(top - frame.height)} ${round(frame.width)} ${round(frame.height)} re W n 1 j 1 J\n${drawn.join('')}${discs.join('')}Q\n`;
}

/** Numbers of marks as text of the figure itself, each in its disc, and lengths of scales, each in a dark field. */
export function markNumbers(fonts: Fonts, picture: PictureItem): (TextItem | BoxItem)[] {
  const pens = pensFor(picture);
  return (picture.marks ?? []).flatMap(({ disc, length }): (TextItem | BoxItem)[] => [...numberOf(fonts, picture, pens, disc), ...lengthOf(fonts, picture, pens, length)]);
}

function numberOf(fonts: Fonts, picture: PictureItem, pens: Pens, disc: Disc | null): TextItem[] {
  if (!disc) return [];
  const shaped = fonts.shape(String(disc.number), 'bold');
  const [x, y] = centreOf(disc, picture, pens);
  const width = (shaped.width * pens.size) / 1000;
  return [textAt(picture, pens, shaped, x - width / 2, y)];
}

function textAt(picture: PictureItem, pens: Pens, shaped: Shaped, x: number, y: number): TextItem {
  return { kind: 'text', x: picture.x + x, y: picture.y + y + pens.size * 0.36, runs: [{ shaped, size: pens.size, colour: markColours.line }], tag: picture.tag };
}

function lengthOf(fonts: Fonts, picture: PictureItem, pens: Pens, length: LengthWords | null): (TextItem | BoxItem)[] {
  if (!length) return [];
  const { at, direction, words } = length;
  const shaped = fonts.shape(words, 'bold');
  const width = (shaped.width * pens.size) / 1000 + 2 * insetPt;
  const height = pens.size + 2 * insetPt;
  const within = (value: number, size: number, whole: number): number => Math.max(0, Math.min(value - size / 2, whole - size));
  const x = within(at[0] + direction[0] * (pens.casing + gapPt + width / 2), width, picture.width);
  const y = within(at[1] + direction[1] * (pens.casing + gapPt + height / 2), height, picture.height);
  return [
    { kind: 'box', x: picture.x + x, y: picture.y + y, width, height, fill: markColours.casing },
    textAt(picture, pens, shaped, x + insetPt, y + height / 2),
  ];
}

/** Beside its mark, and whole within the picture where that is wide enough. */
function centreOf({ at, direction }: Disc, frame: Framed, pens: Pens): Point {
  const away = pens.radius + gapPt;
  const edge = pens.radius + pens.line / 2;
  const within = (value: number, length: number): number => Math.max(Math.min(value, length - edge), Math.min(edge, length / 2));
  return [within(at[0] + direction[0] * away, frame.width), within(at[1] + direction[1] * away, frame.height)];
}

function strokePath(stroke: Stroke, at: (point: Point) => Point): string {
  if (stroke.kind === 'circle') return circle(...at(stroke.centre), stroke.radius);
  const points = stroke.points.map((point, index) => `${at(point).map(round).join(' ')} ${index === 0 ? 'm' : 'l'}`);
  return `${points.join(' ')}${stroke.closed ? ' h' : ''}`;
}
