import type { BlockOf, Figure, Inline } from '../../model/dossier.ts';
import { words } from '../../model/printed-words.ts';
import { pairFrame } from '../pairs.ts';
import { stripOf, tagUnder } from './items.ts';
import type { Slab, Strip } from './items.ts';
import { styles } from './look.ts';
import { figureBeside, figureSlabs, largeSheet, photoRow, quarterSheet } from './photos.ts';
import type { Sheet } from './photos.ts';
import { abreast, anchored, keptIfShort, keptWithNext, paragraph, piecesOf, textFrame } from './strips.ts';
import type { Frame, Setting } from './strips.ts';

/**
 * The same place before and after: title, both photos abreast in frames of one size, smaller what was taken between the
 * two, words. On one page together where that is high enough; the photos are set lower to get onto what is left of one.
 */
export function pairStrips(setting: Setting, block: BlockOf<'pair'>, frame: Frame): Strip[] {
  const group = { ...frame, tag: tagUnder(frame.tag, 'Div') };
  const shape = pairFrame(block, setting.photos);
  const sheet = largeSheet(frame);
  const framed = (most: number): Sheet => {
    if (!shape) return { ...sheet, most };
    const width = Math.min(sheet.width, (most * shape.width) / shape.height);
    const level = (width * shape.height) / shape.width;
    return { ...sheet, width, most: level, level };
  };
  const compared = [said(words.pair.before, block.before), said(words.pair.after, block.after)];
  const quarters = quarterSheet(frame);
  const between = (block.during ?? []).map((figure) => said(words.pair.during, figure));
  const notes: Inline[] = [...(shape?.unlike ? [[words.pair.unlike]] : []), ...(block.caption.length > 0 ? [block.caption] : [])];
  const strips = [
    ...keptWithNext(paragraph(setting, piecesOf([{ text: block.title, strong: true }], styles.body), styles.body, { ...textFrame(frame), tag: tagUnder(group.tag, 'P') }, 14)),
    ...rowStrips(setting, compared, { sheet, framed, before: 6 }, block, group),
    ...between.flatMap((_, index) => (index % quarters.abreast === 0 ? rowStrips(setting, between.slice(index, index + quarters.abreast), { sheet: quarters, framed: (most) => ({ ...quarters, most }), before: 10 }, block, group) : [])),
    ...notes.flatMap((inline) => paragraph(setting, piecesOf(inline, styles.caption), styles.caption, { ...textFrame(frame), tag: tagUnder(group.tag, 'P') }, 6)),
  ];
  return anchored(keptIfShort(strips, setting.bodyHeight), block.id === undefined ? [] : [block.id]);
}

/** Columns as on a sheet of photos, whatever width the pictures themselves have; `framed` is how those of at most some height are set. */
function rowStrips(setting: Setting, figures: readonly Figure[], { sheet, framed, before }: { sheet: Sheet; framed: (most: number) => Sheet; before: number }, block: object, frame: Frame): Strip[] {
  const set = (most: number): Slab[] => {
    const columns = figures.flatMap((figure, index) => {
      const at = { ...frame, x: frame.x + index * (sheet.width + sheet.gutter), width: sheet.width };
      return figures.length === 1 ? figureBeside(setting, figure, framed(most), at, frame.width - sheet.width - sheet.gutter) : [figureSlabs(setting, figure, framed(most), at)];
    });
    return abreast(columns, setting.bodyHeight);
  };
  const slabs = set(sheet.most);
  return slabs.map((slab, part) => ({ ...stripOf(slab, { before: part > 0 ? 0 : before }), ...(slabs.length === 1 ? photoRow(slab, block, set) : {}) }));
}

function said(when: string, figure: Figure): Figure {
  return { ...figure, caption: [{ text: `${when}.`, strong: true }, ' ', ...figure.caption] };
}
