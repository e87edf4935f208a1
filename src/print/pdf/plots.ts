import type { BlockOf } from '../../model/dossier.ts';
import { words } from '../../model/printed-words.ts';
import { drawnScale, signsOf } from '../plots.ts';
import type { DrawnPlot, DrawnScale, Tick } from '../plots.ts';
import { stripOf, tagUnder } from './items.ts';
import type { DrawingItem, Item, Slab, Strip, Tag } from './items.ts';
import { colours, styles } from './look.ts';
import { circle, colourOf, round } from './shapes.ts';
import { abreast, anchored, hairline, keptWithNext, padded, paragraph, piecesOf, slabsOf, stacked } from './strips.ts';
import type { Frame, Setting } from './strips.ts';

type PlotItem = BlockOf<'plots'>['scales'][number]['items'][number];

/** Where name, drawing and words stand side by side, in points. */
export interface Columns {
  name: number;
  scale: { x: number; width: number };
  text: { x: number; width: number };
}

const gutter = 14;
const dotRadius = 1.6;
const rise = 3.7;
/** A high stack is pressed together rather than the page pushed apart. */
const highestStack = 30;
/** Room of a row above and below its words. */
const [above, below] = [6, 5];

/** Three columns across a frame; the text takes `textShare` of it. */
export function columnsOf(frame: Frame, textShare: number): Columns {
  const name = frame.width * 0.19;
  const text = frame.width * textShare;
  return {
    name,
    scale: { x: frame.x + name + gutter, width: frame.width - name - text - 2 * gutter },
    text: { x: frame.x + frame.width - text, width: text },
  };
}

/** Readings along a scale: where, every value, and in words; each reading whole on its page. */
export function plotsStrips(setting: Setting, block: BlockOf<'plots'>, frame: Frame): Strip[] {
  const group = tagUnder(frame.tag, 'Div');
  const scales = block.scales.map((scale) => ({ ...scale, drawn: drawnScale(scale.items) }));
  const legend = signsOf(scales.map(({ drawn }) => drawn)).map((sign) => words.legends.plots[sign]).join(' ');
  return [
    ...keptWithNext(paragraph(setting, piecesOf([block.caption], styles.smallStrong), styles.smallStrong, { ...frame, tag: tagUnder(group, 'P') }, 14)),
    ...keptWithNext(paragraph(setting, piecesOf([legend], styles.quiet), styles.quiet, { ...frame, tag: tagUnder(group, 'P') }, 1)),
    ...scales.flatMap(({ title, items, drawn }) => scaleStrips(setting, title, items, drawn, { ...frame, tag: group })),
  ];
}

function scaleStrips(setting: Setting, title: string, items: readonly PlotItem[], drawn: DrawnScale, frame: Frame): Strip[] {
  const columns = columnsOf(frame, 0.36);
  const list = tagUnder(frame.tag, 'L', { numbering: 'None' });
  const head = slabsOf(setting, piecesOf([title], styles.quiet), styles.quiet, { x: frame.x, width: frame.width, tag: tagUnder(frame.tag, 'P') });
  const [first = { height: 0, items: [] }, ...more] = head;
  const numbers = numberItems(setting, drawn.ticks, columns, 8);
  const decoration: Tag = { role: 'Artifact', parent: null };
  const [again = { height: 0, items: [] }] = slabsOf(setting, piecesOf([`${title}, ${words.pdf.continued}`], styles.quiet), styles.quiet, { x: frame.x, width: columns.name + gutter, tag: decoration });
  const repeat: Slab = { height: 12, items: [...again.items, ...numbers] };
  const rows = items.flatMap((item, at) => {
    const plot = drawn.plots[at];
    const [top, ...rest] = plot ? itemStrips(setting, item, plot, drawn.ticks, columns, { ...frame, tag: tagUnder(tagUnder(list, 'LI'), 'LBody') }) : [];
    return top ? [{ ...top, repeat }, ...rest] : [];
  });
  const end = rows.at(-1);
  if (end) end.items.push(hairline(frame.x, end.height, frame.width));
  return [...keptWithNext([stripOf({ ...first, items: [...first.items, ...numbers] }, { before: 7 }), ...more.map((slab) => stripOf(slab))]), ...rows];
}

function itemStrips(setting: Setting, item: PlotItem, plot: DrawnPlot, ticks: readonly Tick[], columns: Columns, frame: Frame): Strip[] {
  const figure = tagUnder(frame.tag, 'Figure', { alt: plot.label });
  const name = slabsOf(setting, piecesOf(item.name, styles.smallStrong), styles.smallStrong, { x: frame.x, width: columns.name, tag: tagUnder(frame.tag, 'P') });
  const said = plot.marks.map((mark) => ({ text: `\n${words.legends.beside} ${mark.words}`, quiet: true as const }));
  const text = [
    ...slabsOf(setting, piecesOf([plot.text, ...said], styles.small), styles.small, { ...columns.text, tag: figure }),
    ...(item.inline.length === 0 ? [] : slabsOf(setting, piecesOf(item.inline, styles.small), styles.small, { ...columns.text, tag: tagUnder(frame.tag, 'P') })),
  ];
  const most = setting.bodyHeight - above - below;
  const beside = Math.min(Math.max(stacked(name).height, stacked(text).height), most);
  const { height, paths } = plotPaths(plot, ticks, columns.scale.width, beside);
  const drawing: DrawingItem = { kind: 'drawing', x: columns.scale.x, y: 0, width: columns.scale.width, height, paths, tag: figure };
  const [first, ...rest] = abreast([name, [{ height, items: [drawing] }], text], most);
  if (!first) return [];
  const slab = padded(first, above, rest.length === 0 ? below : 0);
  slab.items.push(hairline(frame.x, 0, frame.width));
  return anchored([stripOf(slab), ...rest.map((more) => stripOf(more))], item.id ? [item.id] : []);
}

/** Numbers of a scale above or below it, as decoration. */
export function numberItems(setting: Setting, ticks: readonly Tick[], { scale }: Columns, baseline: number): Item[] {
  const tag: Tag = { role: 'Artifact', parent: null };
  const { face, size, colour } = styles.sheetCaption;
  return ticks.map(({ at, text }) => {
    const shaped = setting.fonts.shape(text, face);
    const width = (shaped.width * size) / 1000;
    return { kind: 'text', x: scale.x + (scale.width * at) / 100 - width / 2, y: baseline, runs: [{ shaped, size, colour }], tag };
  });
}

/** How far a dot stands above the one below it, so that a stack of so many is not too high. */
export function riseOf(levels: number): number {
  return levels > 1 ? Math.min(rise, highestStack / (levels - 1)) : 0;
}

/** Faint uprights at the ticks of a scale, for the eye to go along from one strip to the next. */
export function gridPaths(ticks: readonly Tick[], width: number, from: number, to: number): string {
  const lines = ticks.map(({ at }) => 0.2 + ((width - 0.4) * at) / 100).map((x) => `${round(x)} ${round(from)} m ${round(x)} ${round(to)} l`);
  return `${colourOf(colours.hair)} RG 0.4 w ${lines.join(' ')} S`;
}

/** Operators of one reading on a scale of `width`, at least `room` high: dots above the line of their range, what they stand beside dashed through. */
export function plotPaths(plot: DrawnPlot, ticks: readonly Tick[], width: number, room: number): { height: number; paths: string } {
  const { dots, levels, least, median, most, marks, hollow } = plot;
  const step = riseOf(levels);
  const line = 6.8 + step * (levels - 1);
  const height = Math.max(line + 6, room);
  const along = (at: number): number => (width * at) / 100;
  const centre = (level: number): number => -(line - 3.2 - step * level);
  const [ink, white] = [colourOf(colours.ink), colourOf('#ffffff')];
  const dashed = marks.map(({ at }) => `${round(along(at))} ${above} m ${round(along(at))} ${round(-height - below)} l`).join(' ');
  const reach = `${hollow ? '[1.2 1.2] 0 d ' : ''}0.6 w ${round(along(least))} ${round(-line)} m ${round(along(most))} ${round(-line)} l S${hollow ? ' [] 0 d' : ''}`;
  const paths = [
    gridPaths(ticks, width, above, -height - below),
    `${ink} RG ${ink} rg`,
    ...(dashed === '' ? [] : [`0.8 w [2.6 1.8] 0 d ${dashed} S [] 0 d`]),
    ...(most > least ? [reach, `${round(along(median) - 0.6)} ${round(-line - 4)} 1.2 4 re f`] : []),
    ...dots.map(({ at, level, apart }) => {
      if (apart) return `${white} rg 0.8 w ${lozenge(along(at), centre(level), 2.5)} B ${ink} rg`;
      return hollow ? `${white} rg 0.7 w ${circle(along(at), centre(level), dotRadius - 0.2)} B ${ink} rg` : `${circle(along(at), centre(level), dotRadius)} f`;
    }),
  ];
  return { height, paths: paths.join(' ') };
}

function lozenge(x: number, y: number, radius: number): string {
  const p = (dx: number, dy: number): string => `${round(x + dx)} ${round(y + dy)}`;
  return `${p(-radius, 0)} m ${p(0, radius)} l ${p(radius, 0)} l ${p(0, -radius)} l h`;
}
