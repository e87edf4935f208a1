import type { BlockOf } from '../../model/dossier.ts';
import { words } from '../../model/printed-words.ts';
import { drawnTimeline } from '../timeline.ts';
import type { DrawnTimeline } from '../timeline.ts';
import { stripOf, tagUnder } from './items.ts';
import type { DrawingItem, Slab, Strip } from './items.ts';
import { colours, styles } from './look.ts';
import { columnsOf, gridPaths, numberItems, riseOf } from './plots.ts';
import type { Columns } from './plots.ts';
import { circle, colourOf } from './shapes.ts';
import { abreast, hairline, keptIfShort, keptWithNext, padded, paragraph, piecesOf, slabsOf, stacked } from './strips.ts';
import type { Frame, Setting } from './strips.ts';

type Row = DrawnTimeline['rows'][number];

/** When the photos of a day were taken: one row for each zone, whole on its page with its name and count. */
export function timelineStrips(setting: Setting, block: BlockOf<'timeline'>, frame: Frame): Strip[] {
  const group = tagUnder(frame.tag, 'Div');
  const list = tagUnder(group, 'L', { numbering: 'None' });
  const columns = columnsOf(frame, 0.27);
  const drawn = drawnTimeline(block);
  const axis: Slab = { height: 14, items: [...numberItems(setting, drawn.ticks, columns, 8), ...axisItems(drawn, columns, 12)] };
  const rows = drawn.rows.map((row) => ({ ...rowStrip(setting, row, drawn, columns, { ...frame, tag: tagUnder(tagUnder(list, 'LI'), 'LBody') }), repeat: axis }));
  const end = rows.at(-1);
  if (end) end.items.push(hairline(frame.x, end.height, frame.width));
  return [
    ...keptWithNext(paragraph(setting, piecesOf([block.caption], styles.smallStrong), styles.smallStrong, { ...frame, tag: tagUnder(group, 'P') }, 14)),
    ...keptWithNext(paragraph(setting, piecesOf([`${block.label} ${words.pdf.timeline}`], styles.quiet), styles.quiet, { ...frame, tag: tagUnder(group, 'P') }, 1)),
    ...keptIfShort([stripOf(axis, { before: 5, keep: true }), ...rows], setting.bodyHeight / 2),
  ];
}

/** The time line as decoration, dashed where no photo was taken for long. */
function axisItems({ gaps, solid }: DrawnTimeline, { scale }: Columns, y: number): Slab['items'] {
  const along = (at: number): number => scale.x + (scale.width * at) / 100;
  const dashes = gaps.flatMap(({ from, to }) => {
    const count = Math.max(1, Math.floor((along(to) - along(from)) / 3));
    return Array.from({ length: count }, (_, index) => hairline(along(from) + 1 + 3 * index, y, 1, colours.slate, 0.7));
  });
  return [...solid.map(({ from, to }) => hairline(along(from), y, along(to) - along(from), colours.slate, 1.2)), ...dashes];
}

function rowStrip(setting: Setting, row: Row, { ticks }: DrawnTimeline, columns: Columns, frame: Frame): Strip {
  const figure = tagUnder(frame.tag, 'Figure', { alt: row.label });
  const step = riseOf(row.levels);
  const height = 12 + step * (row.levels - 1);
  const dots = row.marks.map(({ at, level }) => circle((columns.scale.width * at) / 100, -(height - 6 - step * level), 1.9));
  const paths = `${gridPaths(ticks, columns.scale.width, 1, -height - 1)} ${colourOf(colours.ink)} rg ${dots.join(' ')} f`;
  const drawing: DrawingItem = { kind: 'drawing', x: columns.scale.x, y: 0, width: columns.scale.width, height, paths, tag: figure };
  const name = slabsOf(setting, piecesOf([row.name], styles.small), styles.small, { x: frame.x, width: columns.name, tag: figure });
  const text = slabsOf(setting, piecesOf([row.text], styles.quiet), styles.quiet, { ...columns.text, tag: figure });
  const middled = (slabs: Slab[]): Slab[] => [{ height: Math.max(0, (height - stacked(slabs).height) / 2), items: [] }, ...slabs];
  const [slab = { height: 0, items: [] }] = abreast([[{ height, items: [drawing] }], middled(name), middled(text)], Number.POSITIVE_INFINITY);
  const strip = padded(slab, 1, 1);
  strip.items.push(hairline(frame.x, 0, frame.width));
  return stripOf(strip);
}
