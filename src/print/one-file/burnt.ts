import type { DossierMark } from '../../model/dossier-mark.ts';
import { drawnMarks, markColours } from '../marks.ts';
import type { Point, Stroke } from '../marks.ts';
import { openFonts } from '../pdf/fonts.ts';

/** Pens and letters as shares of the picture's longer side: read on a phone, where it is as wide as the screen. */
const lineShare = 0.0045;
const casingShare = 0.0095;
const discRadiusShare = 0.026;
const lettersShare = 0.032;

/**
 * Marks of a photo as an SVG to lay over its picture, of that size, with numbers and words as outlines of the PDF's font: no
 * font of the machine is asked. Null where nothing is marked.
 */
export function marksOverlay(marks: readonly DossierMark[] | undefined, width: number, height: number): string | null {
  const drawn = drawnMarks(marks ?? [], width, height);
  if (drawn.length === 0) return null;
  const longer = Math.max(width, height);
  const dash = `stroke-dasharray="${short(longer * 0.012)} ${short(longer * 0.009)}"`;
  const both = (strokes: readonly Stroke[], dashed: boolean): string => {
    const d = strokes.map(pathOf).join('');
    const path = (colour: string, share: number, more: string): string => `<path d="${d}" fill="none" stroke="${colour}" stroke-width="${short(share * longer)}" ${more}/>`;
    return d === '' ? '' : path(markColours.casing, casingShare, 'stroke-linejoin="round" stroke-linecap="round"') + path(markColours.line, lineShare, dashed ? dash : 'stroke-linejoin="round" stroke-linecap="round"');
  };
  const parts = drawn.flatMap(({ strokes, dashed, frame, length, disc }) => [both(frame, true), both(strokes, dashed), ...(length ? [wordsAt(length, longer)] : []), ...(disc ? [discAt(disc, longer)] : [])]);
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}">${parts.join('')}</svg>`;
}

/** The number of a mark on its disc. */
function discAt({ number, at, direction }: { number: number; at: Point; direction: Point }, longer: number): string {
  const radius = discRadiusShare * longer;
  const [x, y] = [at[0] + direction[0] * radius * 1.3, at[1] + direction[1] * radius * 1.3];
  const circle = `<circle cx="${short(x)}" cy="${short(y)}" r="${short(radius)}" fill="${markColours.casing}" stroke="${markColours.line}" stroke-width="${short(longer * 0.0025)}"/>`;
  return circle + letters(String(number), [x, y], radius * 1.3, 'middle', '');
}

/** The length of a scale: light letters with a dark rim, beginning or ending beside an upright line. */
function wordsAt({ words, at, direction }: { words: string; at: Point; direction: Point }, longer: number): string {
  const away = 0.024 * longer;
  const anchor = direction[0] > 0.5 ? 'start' : direction[0] < -0.5 ? 'end' : 'middle';
  const rim = `stroke="${markColours.casing}" stroke-width="${short(0.006 * longer)}" stroke-linejoin="round" `;
  return letters(words, [at[0] + direction[0] * away, at[1] + direction[1] * away], lettersShare * longer, anchor, rim);
}

const fonts = openFonts();

/** A line of text whose middle height is at a point; below it the same in the pen of `rim`. */
function letters(text: string, [x, y]: Point, sizePx: number, anchor: 'start' | 'middle' | 'end', rim: string): string {
  const { font } = fonts.opened('bold');
  const { glyphs, positions } = font.layout(fonts.clean(text, 'bold').replaceAll('\n', ' '));
  const scale = sizePx / font.unitsPerEm;
  const width = positions.reduce((sum, position) => sum + position.xAdvance, 0) * scale;
  let left = x - (anchor === 'middle' ? width / 2 : anchor === 'end' ? width : 0);
  const baseline = y + 0.36 * sizePx;
  const outlines = glyphs.map((glyph, index) => {
    const at = left + (positions[index]?.xOffset ?? 0) * scale;
    left += (positions[index]?.xAdvance ?? 0) * scale;
    return outline(glyph.path.commands, at, baseline, scale);
  }).join('');
  return `${rim === '' ? '' : `<path d="${outlines}" fill="none" ${rim}/>`}<path d="${outlines}" fill="${markColours.line}"/>`;
}

const operators = { moveTo: 'M', lineTo: 'L', quadraticCurveTo: 'Q', bezierCurveTo: 'C', closePath: 'Z' } as const;

/** A glyph in pixels; fonts count upwards. */
function outline(commands: readonly { command: keyof typeof operators; args: number[] }[], x: number, y: number, scale: number): string {
  return commands.map(({ command, args }) => operators[command] + args.map((value, index) => short(index % 2 === 0 ? x + value * scale : y - value * scale)).join(' ')).join('');
}

function pathOf(stroke: Stroke): string {
  if (stroke.kind === 'line') return `${stroke.points.map(([x, y], index) => `${index === 0 ? 'M' : 'L'}${short(x)} ${short(y)}`).join('')}${stroke.closed ? 'Z' : ''}`;
  const [x, y] = stroke.centre;
  const r = short(stroke.radius);
  return `M${short(x - stroke.radius)} ${short(y)}a${r} ${r} 0 1 0 ${short(2 * stroke.radius)} 0a${r} ${r} 0 1 0 ${short(-2 * stroke.radius)} 0Z`;
}

/** Hundredths of a pixel are finer than any pixel. */
function short(value: number): string {
  return String(Number(value.toFixed(2)));
}
