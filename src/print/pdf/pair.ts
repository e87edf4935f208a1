import type { BlockOf, Figure, Inline } from '../../model/dossier.ts';
import { words } from '../../model/printed-words.ts';
import { pairFrame } from '../pairs.ts';
import { stripOf, tagUnder } from './items.ts';
import type { Strip } from './items.ts';
import { styles } from './look.ts';
import { figureSlabs, largeSheet } from './photos.ts';
import type { Sheet } from './photos.ts';
import { abreast, anchored, keptIfShort, keptWithNext, paragraph, piecesOf, textFrame } from './strips.ts';
import type { Frame, Setting } from './strips.ts';

/**
 * The same place before and after: title, both photos abreast in frames of one size, what was taken between the two, words.
 * On one page together where that is high enough.
 */
export function pairStrips(setting: Setting, block: BlockOf<'pair'>, frame: Frame): Strip[] {
  const group = { ...frame, tag: tagUnder(frame.tag, 'Div') };
  const shape = pairFrame(block, setting.photos);
  const sheet = largeSheet(frame);
  const width = shape ? Math.min(sheet.width, (sheet.most * shape.width) / shape.height) : sheet.width;
  const framed: Sheet = shape ? { ...sheet, width, most: (width * shape.height) / shape.width, level: (width * shape.height) / shape.width } : sheet;
  const between = block.during ?? [];
  const notes: Inline[] = [...(shape?.unlike ? [[words.pair.unlike]] : []), ...(block.caption.length > 0 ? [block.caption] : [])];
  const strips = [
    ...keptWithNext(paragraph(setting, piecesOf([{ text: block.title, strong: true }], styles.body), styles.body, { ...textFrame(frame), tag: tagUnder(group.tag, 'P') }, 14)),
    ...rowStrips(setting, [said(words.pair.before, block.before), said(words.pair.after, block.after)], { ...framed, before: 6 }, group),
    ...between.flatMap((_, index) => (index % 2 === 0 ? rowStrips(setting, between.slice(index, index + 2).map((figure) => said(words.pair.during, figure)), { ...sheet, before: 10 }, group) : [])),
    ...notes.flatMap((inline) => paragraph(setting, piecesOf(inline, styles.caption), styles.caption, { ...textFrame(frame), tag: tagUnder(group.tag, 'P') }, 6)),
  ];
  return anchored(keptIfShort(strips, setting.bodyHeight), block.id === undefined ? [] : [block.id]);
}

/** Two columns as on a sheet of photos, whatever width the pictures themselves have. */
function rowStrips(setting: Setting, figures: readonly Figure[], sheet: Sheet, frame: Frame): Strip[] {
  const column = largeSheet(frame).width;
  const columns = figures.map((figure, index) => figureSlabs(setting, figure, sheet, { ...frame, x: frame.x + index * (column + sheet.gutter), width: column }));
  return abreast(columns, setting.bodyHeight).map((slab, part) => stripOf(slab, { before: part > 0 ? 0 : sheet.before }));
}

function said(when: string, figure: Figure): Figure {
  return { ...figure, caption: [{ text: `${when}.`, strong: true }, ' ', ...figure.caption] };
}
