import type { BlockOf, DossierPhoto, Figure, Rendition } from '../../model/dossier.ts';
import { words } from '../../model/printed-words.ts';
import { drawnMarks } from '../marks.ts';
import { stripOf, tagUnder } from './items.ts';
import type { Item, PictureItem, Slab, Strip } from './items.ts';
import { colours, styles } from './look.ts';
import type { TextStyle } from './look.ts';
import { markNumbers } from './marks.ts';
import { abreast, piecesOf, slabsOf, stacked } from './strips.ts';
import type { Frame, Setting } from './strips.ts';

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

/** A row of photos may be set this much lower to get onto a page. */
const leastShare = 0.7;

/** Photos uncropped with their captions: two abreast, a lone one with its words beside it, or a contact sheet of four. */
export function photosStrips(setting: Setting, block: BlockOf<'photos'>, frame: Frame): Strip[] {
  const sheet = block.look === 'index' ? contactSheet(frame) : largeSheet(frame);
  const strips: Strip[] = [];
  for (let start = 0; start < block.figures.length; start += sheet.abreast) {
    const row = block.figures.slice(start, start + sheet.abreast);
    const anchors = row.flatMap((figure) => (figure.id ? [figure.id] : []));
    const beside = block.look === 'large' && row.length === 1;
    const set = (most: number): Slab[] => abreast(row.flatMap((figure, index) => {
      const at = { ...frame, x: frame.x + index * (sheet.width + sheet.gutter), width: sheet.width };
      return beside ? figureBeside(setting, figure, { ...sheet, most }, at) : [figureSlabs(setting, figure, { ...sheet, most }, at)];
    }), setting.bodyHeight);
    const slabs = set(sheet.most);
    slabs.forEach((slab, part) => {
      const strip = stripOf(slab, { before: part > 0 ? 0 : sheet.before, anchors: part > 0 ? [] : anchors });
      strips.push(slabs.length === 1 && block.look === 'large' ? { ...strip, ...photoRow(slab, block, set) } : strip);
    });
  }
  return strips;
}

/** What paging has to know to set a row of photos lower: `set` makes it with pictures of at most some height. */
export function photoRow(slab: Slab, block: object, set: (most: number) => Slab[]): Pick<Strip, 'photoRow'> {
  const tallest = Math.max(0, ...slab.items.flatMap((item) => (item.kind === 'picture' ? [item.height] : [])));
  const single = (most: number): Slab => {
    const [only = slab, ...more] = set(most);
    return more.length > 0 ? slab : only;
  };
  const least = single(tallest * leastShare).height;
  // Height of the words does not change with the pictures, so pictures give what the row gives.
  return tallest === 0 || least >= slab.height ? {} : { photoRow: { block, least, lower: (height) => single(tallest - (slab.height - height)) } };
}

/** Two abreast. */
export function largeSheet(frame: Frame): Sheet {
  const gutter = 16;
  return { gutter, most: 290, style: styles.caption, before: 12, abreast: 2, width: (frame.width - gutter) / 2 };
}

/** Four abreast, with captions as large as those of two. */
export function quarterSheet(frame: Frame): Sheet {
  const gutter = 16;
  return { ...largeSheet(frame), gutter, most: 110, abreast: 4, width: (frame.width - 3 * gutter) / 4 };
}

/** Four abreast, small. */
export function contactSheet(frame: Frame): Sheet {
  const gutter = 12;
  return { abreast: 4, gutter, width: (frame.width - 3 * gutter) / 4, most: 112, style: styles.sheetCaption, before: 12 };
}

/** A photo with its caption, whose lines may go over to another page. */
export function figureSlabs(setting: Setting, figure: Figure, sheet: Sheet, frame: Frame): Slab[] {
  const [picture, caption] = figureParts(setting, figure, sheet, frame, frame);
  return [picture, { height: 5, items: [] }, ...caption];
}

/** A lone photo and, in the column beside it, its caption; `width` where that has another width than the photo's. */
export function figureBeside(setting: Setting, figure: Figure, sheet: Sheet, frame: Frame, width: number = frame.width): Slab[][] {
  const [picture, caption] = figureParts(setting, figure, sheet, frame, { ...frame, x: frame.x + sheet.width + sheet.gutter, width });
  return [[picture], caption];
}

function figureParts(setting: Setting, figure: Figure, sheet: Sheet, frame: Frame, below: Frame): [Slab, Slab[]] {
  const photo = setting.photos.get(figure.photo);
  if (!photo) throw new Error(`A figure shows the photo "${figure.photo}", which is not in the dossier's list`);
  const group = tagUnder(frame.tag, 'Div');
  const inGroup = { ...frame, tag: group };
  const picture = photo.renditions.length > 0 ? pictureSlab(setting, photo, figure.alt, sheet, inGroup) : flawSlab(setting, photo, sheet, inGroup);
  return [picture, slabsOf(setting, piecesOf(figure.caption, sheet.style), sheet.style, { ...below, tag: tagUnder(group, 'P') })];
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
  const text = stacked([{ height: inset, items: [] }, ...slabsOf(setting, piecesOf([photo.flaw || words.pdf.notShown], sheet.style), sheet.style, inner)]);
  const height = Math.max(text.height + inset, sheet.width * 0.25);
  const box: Item = { kind: 'box', x: frame.x, y: 0, width: frame.width, height, fill: colours.faint, stroke: colours.slate, strokeWidth: 0.6 };
  return { height, items: [box, ...text.items] };
}
