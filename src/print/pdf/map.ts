import { words } from '../../model/printed-words.ts';
import type { ZoneMap } from '../../model/zone-map.ts';
import { drawnMap } from '../map/index.ts';
import type { DrawnMap, DrawnView } from '../map/index.ts';
import { stripOf, tagUnder } from './items.ts';
import type { Item, Strip, Tag, TextItem } from './items.ts';
import { colours, stateColours, styles } from './look.ts';
import type { TextStyle } from './look.ts';
import { areaPaths, inkPaths, operatorsOf } from './map-paths.ts';
import type { Place } from './map-paths.ts';
import { paragraph, piecesOf, textFrame } from './strips.ts';
import type { Frame, Setting } from './strips.ts';
import { colourOf, round } from './shapes.ts';

const columnGap = 18;
const rowGap = 13;
const titleHeight = 13;
const edgeHeight = 9.5;
const keyHeight = 24;
/** Of the names on the drawing. */
const labelPt = 6.4;
const labelStyle: TextStyle = { face: 'bold', size: labelPt, lineHeight: labelPt * 1.15, colour: colours.ink };

/** The body map across the page: views two abreast at one scale with their key, one figure; how it is to be read below. */
export function mapStrips(setting: Setting, map: ZoneMap, frame: Frame): Strip[] {
  const column = (frame.width - columnGap) / 2;
  const width = drawnMap(map).views[0]?.frame[2] ?? column;
  const scale = column / width;
  const drawn = drawnMap(map, labelPt / scale);
  const figure = tagUnder(frame.tag, 'Figure', { alt: drawn.alt });
  const rows = pairs(drawn.views);
  const words: Item[] = [];
  const paths: string[] = [];
  let y = 0;
  for (const row of rows) {
    const height = Math.max(...row.map(({ frame: [, , , tall] }) => tall)) * scale;
    row.forEach((view, at) => {
      const x = at * (column + columnGap);
      const top = y + titleHeight + (view.edges.top === '' ? 0 : edgeHeight);
      const place: Place = { scale, x, y: top - view.frame[1] * scale };
      paths.push(viewPaths(setting, view, place), arrow(view.front === 'left' ? x : x + column, view.front, top + height + 4.6));
      words.push(...viewWords(setting, view, { x: frame.x + x, y, column, top, foot: top + height, scale }, figure), ...labelItems(setting, view, { ...place, x: frame.x + x }, figure));
    });
    y += titleHeight + (row.some(({ edges }) => edges.top !== '') ? edgeHeight : 0) + height + edgeHeight + rowGap;
  }
  const key = keyItems(setting, drawn, frame.x, y, figure);
  const drawing: Item = { kind: 'drawing', x: frame.x, y: 0, width: frame.width, height: y + keyHeight - rowGap, paths: [...paths, key.paths].join('\n'), tag: figure };
  const strip = stripOf({ height: y + keyHeight - rowGap, items: [drawing, ...words, ...key.items] }, { before: 12, keep: true });
  return [strip, ...paragraph(setting, piecesOf([drawn.notes.join(' ')], styles.quiet), styles.quiet, { ...textFrame(frame), tag: tagUnder(frame.tag, 'P') }, 7)];
}

/** The views in one row without names, as a reminder of what stands in full in a section of that title, and is heard there. */
export function smallMapStrip(setting: Setting, map: ZoneMap, section: string, frame: Frame): Strip {
  const drawn = drawnMap(map, 1);
  const column = (frame.width - columnGap * (drawn.views.length - 1)) / drawn.views.length;
  const figure = tagUnder(frame.tag, 'Figure', { alt: words.pdf.smallMap(section) });
  const scaleOf = ({ frame: [, , wide] }: DrawnView): number => column / wide;
  const height = Math.max(...drawn.views.map((view) => view.frame[3] * scaleOf(view)));
  const top = titleHeight;
  const title: TextStyle = styles.sheetCaption;
  const titles = drawn.views.map((view, at) => textAt(setting, view.title, title, frame.x + at * (column + columnGap), 8, figure));
  const paths = drawn.views.map((view, at) => {
    const scale = scaleOf(view);
    const x = at * (column + columnGap);
    // Views of different heights stand on one line.
    const y = top + height - (view.frame[1] + view.frame[3]) * scale;
    return [viewPaths(setting, { ...view, labels: [] }, { scale, x, y }), arrow(view.front === 'left' ? x : x + column, view.front, top + height + 5)].join('\n');
  });
  const key = keyItems(setting, drawn, frame.x, top + height + 11, figure);
  const whole = top + height + 11 + keyHeight - rowGap;
  const drawing: Item = { kind: 'drawing', x: frame.x, y: 0, width: frame.width, height: whole, paths: [...paths, key.paths].join('\n'), tag: figure };
  return stripOf({ height: whole, items: [drawing, ...titles, ...key.items] }, { before: 4 });
}

function pairs(views: readonly DrawnView[]): DrawnView[][] {
  return Array.from({ length: Math.ceil(views.length / 2) }, (_, row) => views.slice(2 * row, 2 * row + 2));
}

function viewPaths(setting: Setting, view: DrawnView, place: Place): string {
  const leaders = view.labels.flatMap(({ leader }) => (leader ? [`${operatorsOf(`M${leader[0].join(' ')}L${leader[1].join(' ')}`, place)} S`, dotAt(leader[1], place)] : []));
  const ink = colourOf(colours.ink);
  return [
    ...view.ink.map(({ pen, d }) => inkPaths(pen, d, place)),
    ...view.areas.map((area) => areaPaths(area, place)),
    `${ink} RG ${ink} rg 0.4 w`,
    ...leaders,
    ...view.labels.filter(({ leader }) => !leader).map((label) => plate(setting, label, place)),
  ].join('\n');
}

function dotAt([x, y]: readonly [number, number], place: Place): string {
  return `1 J 2 w ${round(place.x + x * place.scale)} ${round(-(place.y + y * place.scale))} m ${round(place.x + x * place.scale)} ${round(-(place.y + y * place.scale))} l S 0 J 0.4 w`;
}

/** Paper below a name that stands on its area. */
function plate(setting: Setting, { lines, at }: DrawnView['labels'][number], place: Place): string {
  const width = Math.max(...lines.map((line) => widthOf(setting, line, labelStyle))) + 3;
  const [x, top] = [place.x + at[0] * place.scale - width / 2, place.y + at[1] * place.scale - labelPt * 0.95];
  const height = lines.length * labelStyle.lineHeight + 1.5;
  return `1 1 1 rg ${round(x)} ${round(-top - height)} ${round(width)} ${round(height)} re f`;
}

const arrowRoom = 11;

/** Where the front is, from the edge of a column inwards. */
function arrow(x: number, way: 'left' | 'right', y: number): string {
  const step = way === 'left' ? 1 : -1;
  const at = (dx: number, dy: number): string => `${round(x + step * dx)} ${round(-(y + dy))}`;
  return `${colourOf(colours.soft)} RG 0.6 w ${at(8, 0)} m ${at(0.6, 0)} l S ${at(2.8, -1.9)} m ${at(0.4, 0)} l ${at(2.8, 1.9)} l S`;
}

/** Title, and what stands at the edges of a view. */
function viewWords(setting: Setting, { title, edges, front }: DrawnView, at: { x: number; y: number; column: number; top: number; foot: number; scale: number }, tag: Tag): TextItem[] {
  const { x, column } = at;
  const set = (text: string, style: TextStyle, share: 0 | 0.5 | 1, baseline: number, aside = 0): TextItem[] => (text === '' ? [] : [textAt(setting, text, style, x + aside + column * share - widthOf(setting, text, style) * share, baseline, tag)]);
  const foot = at.foot + 7;
  return [
    ...set(title, styles.smallStrong, 0, at.y + 9),
    ...set(edges.top, styles.sheetCaption, 0.5, at.top - 3),
    ...set(edges.left, styles.sheetCaption, 0, foot, front === 'left' ? arrowRoom : 0),
    ...set(edges.bottom, styles.sheetCaption, 0.5, foot),
    ...set(edges.right, styles.sheetCaption, 1, foot, front === 'right' ? -arrowRoom : 0),
  ];
}

function labelItems(setting: Setting, view: DrawnView, place: Place, tag: Tag): TextItem[] {
  return view.labels.flatMap(({ lines, at }) => lines.map((line, index) => textAt(setting, line, labelStyle, place.x + at[0] * place.scale - widthOf(setting, line, labelStyle) / 2, place.y + at[1] * place.scale + index * labelStyle.lineHeight, tag)));
}

/** A swatch, the state's shape, and its word, for each state that occurs. */
function keyItems(setting: Setting, { states }: DrawnMap, left: number, y: number, tag: Tag): { items: Item[]; paths: string } {
  const items: Item[] = [];
  const paths: string[] = [];
  const [swatch, tall] = [22, 10];
  let x = 0;
  for (const state of states) {
    const style: TextStyle = { ...styles.small, face: state === 'sound' || state === 'not fitted' ? 'regular' : 'bold', colour: stateColours[state] };
    const word = words.states[state];
    paths.push(areaPaths({ d: `M0 0L${swatch} 0L${swatch} ${tall}L0 ${tall}Z`, detail: '', state }, { scale: 1, x: x + 0.5, y: y + 1 }));
    items.push({ kind: 'state', outcome: state, size: 6.5, x: left + x + swatch + 6, y: y + 2.8 }, textAt(setting, word, style, left + x + swatch + 15.5, y + 9, tag));
    x += swatch + 15.5 + widthOf(setting, word, style) + 20;
  }
  return { items, paths: paths.join('\n') };
}

function textAt(setting: Setting, text: string, { face, size, colour }: TextStyle, x: number, y: number, tag: Tag): TextItem {
  // A space ends it, so that words of neighbours are not read as one.
  return { kind: 'text', x, y, runs: [{ shaped: setting.fonts.shape(`${setting.fonts.clean(text, face)} `, face), size, colour }], tag };
}

function widthOf(setting: Setting, text: string, { face, size }: TextStyle): number {
  return (setting.fonts.shape(setting.fonts.clean(text, face), face).width * size) / 1000;
}
