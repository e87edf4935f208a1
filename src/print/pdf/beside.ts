import type { Block, BlockOf } from '../../model/dossier.ts';
import { stripOf } from './items.ts';
import type { Slab, Strip } from './items.ts';
import { slabOf } from './groups.ts';
import { figureSlabs, largeSheet, photoRow, photosStrips } from './photos.ts';
import { abreast } from './strips.ts';
import type { Frame, Setting } from './strips.ts';

/** Paragraphs that may stand beside a photo. */
const mostParagraphs = 4;
/** Words may be this much higher than the photo beside them. */
const mostTimes = 1.3;

type Paragraph = BlockOf<'paragraph'>;

/**
 * The few paragraphs before an odd number of photos, with the first photo beside them: it would leave half a row empty.
 * Read in the order of the blocks: words, photo, further photos. Null where a block does not begin such a thing; else the
 * strips, and how many blocks they hold.
 */
export function besidePhoto(setting: Setting, blocks: readonly Block[], from: number, frame: Frame, paragraphStrips: (block: Paragraph, frame: Frame) => Strip[]): { strips: Strip[]; blocks: number } | null {
  const count = leadingParagraphs(blocks, from);
  const photos = blocks[from + count];
  if (count === 0 || photos?.type !== 'photos' || photos.look !== 'large' || photos.figures.length % 2 === 0) return null;
  const [figure, ...others] = photos.figures;
  if (!figure) return null;
  const sheet = largeSheet(frame);
  const left = { ...frame, width: sheet.width };
  const right = { ...left, x: frame.x + sheet.width + sheet.gutter };
  const paragraphs = (): Strip[] => (blocks.slice(from, from + count) as Paragraph[]).flatMap((block) => paragraphStrips(block, left));
  const set = (most: number): Slab[] => abreast([[slabOf(paragraphs())], [{ height: 3, items: [] }, ...figureSlabs(setting, figure, { ...sheet, most }, right)]], setting.bodyHeight);
  const [row, ...more] = set(sheet.most);
  const pictured = abreast([figureSlabs(setting, figure, sheet, right)], setting.bodyHeight)[0]?.height ?? 0;
  if (!row || more.length > 0 || slabOf(paragraphs()).height > pictured * mostTimes) return null;
  const rest: BlockOf<'photos'> = { ...photos, figures: others };
  const strip = stripOf(row, { before: paragraphs()[0]?.before ?? 0, anchors: figure.id ? [figure.id] : [], ...photoRow(row, rest, set) });
  return { strips: [strip, ...photosStrips(setting, rest, frame)], blocks: count + 1 };
}

function leadingParagraphs(blocks: readonly Block[], from: number): number {
  if (blocks[from - 1]?.type === 'paragraph') return 0;
  let count = 0;
  while (count <= mostParagraphs && blocks[from + count]?.type === 'paragraph') count += 1;
  return count > mostParagraphs ? 0 : count;
}
