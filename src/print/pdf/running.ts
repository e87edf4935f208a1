import type { Dossier } from '../../model/dossier.ts';
import type { Fonts } from './fonts.ts';
import { moved } from './items.ts';
import type { Item, Layout, Tag } from './items.ts';
import { breakLines, lineItems } from './lines.ts';
import { styles } from './look.ts';
import type { Geometry } from './look.ts';
import { baselineOf, hairline, piecesOf } from './strips.ts';
import { pageOfPages, statusInWords } from './words.ts';

const headTop = 38;
const numberRoom = 90;

/** Adds the running head (not on the cover) and the foot with limits and "page n of m" to each page. */
export function addRunning(layout: Layout, dossier: Dossier, fonts: Fonts, geometry: Geometry): void {
  const style = styles.running;
  const { left, bodyWidth } = geometry;
  const tag: Tag = { role: 'Artifact', parent: null };
  const lines = (text: string, width: number, most: number): Item[][] => {
    const all = breakLines(fonts, piecesOf([text], style), width);
    const shown = all.slice(0, most);
    return shown.map((line, index) => moveAll(lineItems(line, left, baselineOf(style), tag), index * style.lineHeight));
  };
  const rightAligned = (text: string): Item[] => {
    const [line] = breakLines(fonts, piecesOf([text], style), bodyWidth);
    return line ? lineItems(line, left + bodyWidth - line.width, baselineOf(style), tag) : [];
  };
  const title = lines(shortened(dossier.title), bodyWidth * 0.62, 1).flat();
  const status = rightAligned(statusInWords(dossier.status));
  const limits = lines(dossier.limits, bodyWidth - numberRoom, 3).flat();
  const footTop = geometry.bottom + 22;
  layout.pages.forEach((page, index) => {
    if (index > 0) page.head = [...moveAll([...title, ...status], headTop), hairline(left, headTop + style.lineHeight + 4, bodyWidth)];
    const number = rightAligned(pageOfPages(index + 1, layout.pages.length));
    page.foot = [hairline(left, footTop - 5, bodyWidth), ...moveAll([...limits, ...number], footTop)];
  });
}

/** The title, cut at a word for the running head. */
function shortened(title: string): string {
  const most = 64;
  if (title.length <= most) return title;
  const cut = title.slice(0, most);
  return `${cut.slice(0, Math.max(cut.lastIndexOf(' '), most / 2)).trimEnd()}…`;
}

function moveAll(items: readonly Item[], dy: number): Item[] {
  return items.map((item) => moved(item, dy));
}
