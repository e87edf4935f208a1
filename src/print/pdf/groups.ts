import type { Block, BlockOf } from '../../model/dossier.ts';
import { stripOf } from './items.ts';
import type { HeadingMark, Slab, Strip } from './items.ts';
import { contactSheet, figureBeside, figureSlabs } from './photos.ts';
import { abreast, stacked } from './strips.ts';
import type { Frame, Setting } from './strips.ts';

/** A heading and the few photos of a contact sheet below it. */
export interface PhotoGroup {
  heading: BlockOf<'heading'>;
  photos: BlockOf<'photos'>;
}

/** Columns of a contact sheet a group takes: a lone photo has its words beside it, so that its heading has room for a line. */
function columnsOf({ photos }: Pick<PhotoGroup, 'photos'>): number {
  return Math.max(2, photos.figures.length);
}

/** Groups that begin at a block and go into one row of a contact sheet together; none where there are not at least two. */
export function groupsAbreast(blocks: readonly Block[], from: number, most: number): PhotoGroup[] {
  const groups: PhotoGroup[] = [];
  let used = 0;
  for (let index = from; ; index += 2) {
    const [heading, photos] = blocks.slice(index, index + 2);
    if (heading?.type !== 'heading' || photos?.type !== 'photos' || photos.look !== 'index') break;
    if (heading.level !== (groups[0]?.heading ?? heading).level || used + columnsOf({ photos }) > most) break;
    groups.push({ heading, photos });
    used += columnsOf({ photos });
  }
  return groups.length > 1 ? groups : [];
}

/**
 * Groups side by side in one row of a contact sheet, each below its own heading, read one after the other. Null where the
 * words below a photo do not go onto a page.
 * @param headingOf the heading set in a frame, with its mark
 */
export function groupsStrip(setting: Setting, groups: readonly PhotoGroup[], frame: Frame, headingOf: (heading: PhotoGroup['heading'], frame: Frame) => { slab: Slab; mark: HeadingMark; before: number }): Strip | null {
  const sheet = contactSheet(frame);
  const step = sheet.width + sheet.gutter;
  let at = 0;
  const set = groups.map(({ heading, photos }) => {
    const x = frame.x + at * step;
    at += columnsOf({ photos });
    return { ...headingOf(heading, { ...frame, x, width: columnsOf({ photos }) * step - sheet.gutter }), heading, photos, x };
  });
  const tallest = Math.max(...set.map(({ slab }) => slab.height));
  const columns = set.flatMap(({ slab, photos, x }) => {
    const at = (index: number): Frame => ({ ...frame, x: x + index * step, width: sheet.width });
    const [only, ...others] = photos.figures;
    const parts = only && others.length === 0 ? figureBeside(setting, only, sheet, at(0)) : photos.figures.map((figure, index) => figureSlabs(setting, figure, sheet, at(index)));
    return parts.map((slabs, index) => [{ height: tallest + 8, items: index === 0 ? slab.items : [] }, ...slabs]);
  });
  const [row, ...more] = abreast(columns, setting.bodyHeight);
  if (!row || more.length > 0) return null;
  const anchors = set.flatMap(({ heading, photos }) => [heading.id, ...photos.figures.map((figure) => figure.id)]).filter((id) => id !== undefined);
  return stripOf(row, { before: set[0]?.before ?? 0, anchors, headings: set.map(({ mark }) => mark) });
}

/** The strips as one slab, space between them kept. */
export function slabOf(strips: readonly Strip[]): Slab {
  return stacked(strips.flatMap((strip, index) => [{ height: index === 0 ? 0 : strip.before, items: [] }, strip]));
}
