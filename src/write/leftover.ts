import type { Block, Inline } from '../model/dossier.ts';
import type { Words } from '../model/notes.ts';
import { dateText } from '../units.ts';
import { aside, bullets, inlineText } from './inline.ts';
import { spotText } from './context.ts';

/** Words that say what sort of line it is; a section says the same in its own words. */
const opener = /^[\s>*+-]*(?:!\[\s*)?(?:do|part|done|told|said|opinion|again|ask|kept|invoice|baseline|expected|mounting|not seen|unseen|not fitted|view)\b/i;
/** Coordinates of a mark are drawn, not said. */
const coordinates = /^[\s>*+-]*(?:ring|arrow|box|hide|scale|rust(?:ed|y)?\s+(?:points?|outlines?))\s[\d.,;+\sinto]+(?=:|$)/i;

/**
 * The safety net under every section: lines of the findings of which the blocks leave a word out, as they were typed, so
 * that every word of the findings is printed. Nothing where all is said already.
 */
export function leftover(lines: readonly Words[], blocks: readonly Block[]): Block[] {
  const printed = new Set(wordsIn(blocks.flatMap(textsOf).join('\n')));
  const left = lines.filter((line) => !('unread' in line) && wordsIn(line.text.replace(opener, '').replace(coordinates, '')).some((word) => !printed.has(word)));
  const once = [...new Map(left.map((line) => [`${spotText(line.spot)} ${line.text}`, line])).values()];
  const said = once.map((line): Inline => [line.text.replace(/\s+/g, ' ').trim(), { text: ` (${spotText(line.spot)})`, quiet: true }]);
  const intro = 'As typed, for words that are put differently above: ';
  return said.length === 1 ? [aside(intro, ...(said[0] ?? []))] : said.length === 0 ? [] : [aside(intro.trim()), ...bullets(said)];
}

/** Marks that cannot be read or drawn, as they were typed: their figures are no fact. */
export function unreadMarks(lines: readonly Words[]): Block[] {
  const unread = lines.filter((line) => 'unread' in line);
  return unread.length === 0 ? [] : [aside('Marks that could not be drawn or counted, as typed:'), ...bullets(unread.map((line): Inline => [line.text.replace(/\s+/g, ' ').trim(), { text: ` (${spotText(line.spot)})`, quiet: true }]))];
}

/** Words and numbers in small letters, dates and units as the dossier writes them. */
function wordsIn(text: string): string[] {
  const plain = text.normalize('NFC').replace(/\b\d{4}-\d{2}(-\d{2})?\b/g, dateText).replace(/\b(um|microns?)\b/g, 'µm').toLowerCase();
  return (plain.match(/[\p{L}\p{M}\p{N}]+/gu) ?? []).filter((word) => word !== 'x' && word !== 'each');
}

function textsOf(block: Block): string[] {
  switch (block.type) {
    case 'heading':
    case 'code':
      return [block.text];
    case 'paragraph':
      return [inlineText(block.inline)];
    case 'remark':
      return [inlineText(block.inline), block.by ?? ''];
    case 'facts':
      return block.items.map((item) => `${item.term} ${inlineText(item.value)}`);
    case 'table':
      return block.rows.flatMap((row) => row.cells.map((cell) => `${cell.state ?? ''} ${inlineText(cell.inline)}`));
    case 'photos':
      return block.figures.map((figure) => inlineText(figure.caption));
    case 'pair':
      return [block.title, ...[block.before, ...(block.during ?? []), block.after].map((figure) => inlineText(figure.caption)), inlineText(block.caption)];
    case 'plots':
      return block.scales.flatMap(({ title, items }) => [title, ...items.flatMap((item) => [inlineText(item.name), inlineText(item.inline), item.plot.text])]);
    case 'list':
      return block.items.flat().flatMap(textsOf);
    case 'quote':
      return block.blocks.flatMap(textsOf);
    case 'steps':
    case 'outlook':
    case 'timeline':
    case 'zones':
    case 'caution':
    case 'rule':
      return [];
  }
}
