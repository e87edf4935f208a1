import type { Dossier } from '../../model/dossier.ts';
import { words } from '../../model/printed-words.ts';
import type { Fonts } from './fonts.ts';
import { moved } from './items.ts';
import type { Item, Layout, Tag } from './items.ts';
import { breakLines, lineItems } from './lines.ts';
import type { Line } from './lines.ts';
import { styles } from './look.ts';
import type { Geometry } from './look.ts';
import { statusInWords } from './status.ts';
import { baselineOf, hairline, piecesOf } from './strips.ts';

const headTop = 38;
const numberRoom = 90;

/** Adds the running head (not on the cover) and the foot with limits and "page n of m" to each page. */
export function addRunning(layout: Layout, dossier: Dossier, fonts: Fonts, geometry: Geometry): void {
  const style = styles.running;
  const { left, bodyWidth } = geometry;
  const tag: Tag = { role: 'Artifact', parent: null };
  const atLeft = (text: string, width: number, most: number): Item[] =>
    fitted(fonts, text, width, most).flatMap((line, index) => moveAll(lineItems(line, left, baselineOf(style), tag), index * style.lineHeight));
  const rightAligned = (text: string): Item[] => {
    const [line] = breakLines(fonts, piecesOf([text], style), bodyWidth);
    return line ? lineItems(line, left + bodyWidth - line.width, baselineOf(style), tag) : [];
  };
  const title = atLeft(dossier.title, bodyWidth * 0.6, 1);
  const status = rightAligned(statusInWords(dossier.status));
  const limits = atLeft(dossier.limits, bodyWidth - numberRoom, 3);
  const footTop = geometry.bottom + 16;
  layout.pages.forEach((page, index) => {
    if (index > 0) page.head = [...moveAll([...title, ...status], headTop), hairline(left, headTop + style.lineHeight + 4, bodyWidth)];
    const number = rightAligned(words.pdf.pageOfPages(index + 1, layout.pages.length));
    page.foot = [hairline(left, footTop - 5, bodyWidth), ...moveAll([...limits, ...number], footTop)];
  });
}

/** Text in at most so many lines; what is longer ends in an ellipsis and stands in full on the cover. */
function fitted(fonts: Fonts, text: string, width: number, most: number): Line[] {
  const set = (shown: string): Line[] => breakLines(fonts, piecesOf([shown], styles.running), width);
  let lines = set(text);
  const parts = text.split(' ');
  while (lines.length > most && parts.length > 1) {
    parts.pop();
    lines = set(`${parts.join(' ')} …`);
  }
  return lines.slice(0, most);
}

function moveAll(items: readonly Item[], dy: number): Item[] {
  return items.map((item) => moved(item, dy));
}
