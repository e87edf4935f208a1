import type { BlockOf, DossierPhoto, Figure, Rendition } from '../../model/dossier.ts';
import { drawnMarks } from '../marks.ts';
import { stripOf, tagUnder } from './items.ts';
import type { Item, PictureItem, Slab, Strip } from './items.ts';
import { colours, styles } from './look.ts';
import type { TextStyle } from './look.ts';
import { markNumbers } from './marks.ts';
import { abreast, piecesOf, slabsOf, stacked } from './strips.ts';
import type { Frame, Setting } from './strips.ts';
import { words } from './words.ts';

/** How figures are set beside each other. Lengths in points. */
export interface Sheet {
  abreast: number;
  gutter: number;
  width: number;
  /** Highest picture: an upright one is drawn narrower rather than cut. */
  most: number;
  style: TextStyle;
  before: number;
  /** Height every picture is given, those that are lower in the middle of it; as high as it is where there is none. */
  level?: number;
}

/** Least dots per inch on paper; the smallest rendition that has them is taken. */
const leastDpi = 200;

/** Photos uncropped with their captions: one or two abreast, or as a contact sheet of four. */
export function photosStrips(setting: Setting, block: BlockOf<'photos'>, frame: Frame): Strip[] {
  const sheet = block.look === 'index' ? contactSheet(frame) : largeSheet(frame, block.figures.length);
  const strips: Strip[] = [];
  for (let start = 0; start < block.figures.length; start += sheet.abreast) {
    const row = block.figures.slice(start, start + sheet.abreast);
    const columns = row.map((figure, index) => figureSlabs(setting, figure, sheet, { ...frame, x: frame.x + index * (sheet.width + sheet.gutter), width: sheet.width }));
    const anchors = row.flatMap((figure) => (figure.id ? [figure.id] : []));
    abreast(columns, setting.bodyHeight).forEach((slab, part) => {
      strips.push(stripOf(slab, { before: part > 0 ? 0 : sheet.before, anchors: part > 0 ? [] : anchors }));
    });
  }
  return strips;
}

/** One or two abreast. */
export function largeSheet(frame: Frame, count: number): Sheet {
  const gutter = 16;
  const base = { gutter, most: 290, style: styles.caption, before: 14 };
  return count === 1 ? { ...base, abreast: 1, width: (frame.width - gutter) / 2 } : { ...base, abreast: 2, width: (frame.width - gutter) / 2 };
}

function contactSheet(frame: Frame): Sheet {
  const gutter = 12;
  return { abreast: 4, gutter, width: (frame.width - 3 * gutter) / 4, most: 112, style: styles.sheetCaption, before: 12 };
}

/** A photo with its caption, whose lines may go over to another page. */
export function figureSlabs(setting: Setting, figure: Figure, sheet: Sheet, frame: Frame): Slab[] {
  const photo = setting.photos.get(figure.photo);
  if (!photo) throw new Error(`A figure shows the photo "${figure.photo}", which is not in the dossier's list`);
  const group = tagUnder(frame.tag, 'Div');
  const inGroup = { ...frame, tag: group };
  const picture = photo.renditions.length > 0 ? pictureSlab(setting, photo, figure.alt, sheet, inGroup) : flawSlab(setting, photo, sheet, inGroup);
  const caption = slabsOf(setting, piecesOf(figure.caption, sheet.style), sheet.style, { ...frame, tag: tagUnder(group, 'P') });
  return [picture, { height: 5, items: [] }, ...caption];
}

function pictureSlab(setting: Setting, { renditions, marks = [] }: DossierPhoto, alt: string, sheet: Sheet, frame: Frame): Slab {
  const largest = renditions.at(-1) as Rendition;
  const scale = Math.min(sheet.width / largest.width, sheet.most / largest.height);
  const width = largest.width * scale;
  const height = largest.height * scale;
  const rendition = renditions.find((candidate) => candidate.width >= (width / 72) * leastDpi) ?? largest;
  const [x, y] = sheet.level === undefined ? [frame.x, 0] : [frame.x + (sheet.width - width) / 2, (sheet.level - height) / 2];
  const picture: PictureItem = { kind: 'picture', x, y, width, height, file: rendition.file, marks: drawnMarks(marks, width, height), tag: tagUnder(frame.tag, 'Figure', { alt }) };
  return { height: sheet.level ?? height, items: [picture, ...markNumbers(setting.fonts, picture)] };
}

/** A photo that cannot be shown keeps its place, and says why. */
function flawSlab(setting: Setting, photo: DossierPhoto, sheet: Sheet, frame: Frame): Slab {
  const inset = 8;
  const inner: Frame = { x: frame.x + inset, width: frame.width - 2 * inset, tag: tagUnder(frame.tag, 'P') };
  const text = stacked([{ height: inset, items: [] }, ...slabsOf(setting, piecesOf([photo.flaw || words.notShown], sheet.style), sheet.style, inner)]);
  const height = Math.max(text.height + inset, sheet.width * 0.25);
  const box: Item = { kind: 'box', x: frame.x, y: 0, width: frame.width, height, fill: colours.faint, stroke: colours.slate, strokeWidth: 0.6 };
  return { height, items: [box, ...text.items] };
}
