import LineBreaker from 'linebreak';
import type { Outcome } from '../../model/catalogue.ts';
import type { Fonts, Shaped } from './fonts.ts';
import { tagUnder } from './items.ts';
import type { Item, Run, Tag, TextItem } from './items.ts';
import { colours } from './look.ts';
import type { Face } from './look.ts';

/** Words that lead somewhere. One for each span, so that a broken link is still one node of the structure tree. */
export interface Link {
  href: string;
  words: string;
  tag?: Tag;
}

/** A run of text as lines are made of. */
export interface Piece {
  text: string;
  face: Face;
  size: number;
  colour: string;
  link?: Link;
  /** Prints the state's shape instead of `text`. */
  shape?: Outcome;
  /** Prints the page number of an anchor, right-aligned in the room of `text`. */
  pageOf?: string;
  /** The number follows words: it stands at the left of its room. */
  inText?: true;
}

interface Fragment extends Run {
  width: number;
  /** Width without spaces at the end. */
  inkWidth: number;
  link?: Link;
  shape?: Outcome;
}

/** One set line. */
export interface Line {
  fragments: Fragment[];
  /** Without spaces at the end. */
  width: number;
}

/** Room of three digits, for a page number not yet known. */
export const pageNumberRoom = '000';

/** Stands in for a shape while lines are broken: like a letter, so that no line ends between shape and word. No font has it. */
const shapeMark = '\ue000';
const shapeGapEm = 0.35;

/** Breaks pieces into lines of `width` points after UAX #14; a word longer than a line is cut where the line ends. */
export function breakLines(fonts: Fonts, pieces: readonly Piece[], width: number): Line[] {
  const cleaned = cleanedPieces(fonts, pieces);
  const text = cleaned.map((piece) => piece.text).join('');
  const lines: Line[] = [];
  let open: Fragment[] = [];
  let used = 0;
  const close = (): void => {
    lines.push({ fragments: open, width: inkOf(open) });
    open = [];
    used = 0;
  };
  const take = (fragment: Fragment): void => {
    open.push(fragment);
    used += fragment.width;
  };
  const breaker = new LineBreaker(text);
  let from = 0;
  for (let stop = breaker.nextBreak(); stop; stop = breaker.nextBreak()) {
    if (!stop.required && holdsTogether(text, stop.position)) continue;
    const chunk = fragmentsBetween(fonts, cleaned, from, stop.position);
    const ink = inkOf(chunk);
    if (open.length > 0 && used + ink > width && (ink <= width || used > width / 2)) close();
    if (used + ink <= width) chunk.forEach(take);
    else {
      for (const fragment of chunk) {
        let rest: Fragment | null = fragment;
        while (rest) {
          const cut = cutToFit(fonts, rest, width - used, open.length === 0);
          if (cut.head) take(cut.head);
          rest = cut.rest;
          if (rest) close();
        }
      }
    }
    if (stop.required && stop.position < text.length) close();
    from = stop.position;
  }
  if (open.length > 0) close();
  return lines;
}

/** What stays on one line, in points; `ink` without spaces at its end, `ends` where the text breaks the line itself. */
export interface Stretch {
  ink: number;
  width: number;
  ends: boolean;
}

/** The stretches between which pieces may be broken, to count lines for many widths. */
export function stretches(fonts: Fonts, pieces: readonly Piece[]): Stretch[] {
  const cleaned = cleanedPieces(fonts, pieces);
  const text = cleaned.map((piece) => piece.text).join('');
  const found: Stretch[] = [];
  const breaker = new LineBreaker(text);
  let from = 0;
  for (let stop = breaker.nextBreak(); stop; stop = breaker.nextBreak()) {
    if (!stop.required && holdsTogether(text, stop.position)) continue;
    const chunk = fragmentsBetween(fonts, cleaned, from, stop.position);
    found.push({ ink: inkOf(chunk), width: chunk.reduce((sum, { width }) => sum + width, 0), ends: stop.required && stop.position < text.length });
    from = stop.position;
  }
  return found;
}

function cleanedPieces(fonts: Fonts, pieces: readonly Piece[]): Piece[] {
  return pieces.map((piece) => ({ ...piece, text: piece.shape ? shapeMark : fonts.clean(piece.text, piece.face) }));
}

/** Whether a line should not end here although it may: in "€ 55", "25 mm", "190 – 310". */
function holdsTogether(text: string, position: number): boolean {
  const before = text.slice(Math.max(0, position - 4), position);
  const after = text.slice(position, position + 4);
  if (/[€£$] $/.test(before)) return /^\d/.test(after);
  if (/\d – $/.test(before)) return /^\d/.test(after);
  return /\d $/.test(before) && /^((mm|cm|µm|in|h|thou)(?![\p{L}\p{N}])|%|– \d)/u.test(after);
}

/** The width of the longest unbreakable stretch, in points. */
export function widestWord(fonts: Fonts, pieces: readonly Piece[]): number {
  return breakLines(fonts, pieces, 1e6 / 2)
    .flatMap((line) => line.fragments)
    .flatMap((fragment) => fragment.shaped.text.split(/[\s\-/]+/).map((word) => (fonts.shape(word, fragment.shaped.face).width * fragment.size) / 1000))
    .reduce((widest, width) => Math.max(widest, width), 0);
}

/** Items of a line at a left edge and baseline. Link nodes are made below `tag`. */
export function lineItems(line: Line, x: number, baseline: number, tag: Tag): Item[] {
  const items: Item[] = [];
  let at = x;
  let text: TextItem | null = null;
  line.fragments.forEach((fragment, index) => {
    const { shaped, size, colour, link, shape, pageOf } = fragment;
    if (shape) {
      items.push({ kind: 'state', x: at, y: baseline - size * 0.74, outcome: shape, size: size * 0.78 });
      text = null;
    } else {
      const owner = link ? linkTag(link, tag) : tag;
      if (text?.tag !== owner || pageOf) {
        text = { kind: 'text', x: at, y: baseline, runs: [], tag: owner };
        items.push(text);
      }
      text.runs.push(pageOf ? { shaped, size, colour, pageOf, ...(fragment.inText && { inText: true as const }) } : { shaped, size, colour });
      if (link && line.fragments[index - 1]?.link !== link) items.push(...linkItems(line.fragments.slice(index), link, owner, at, baseline));
    }
    at += fragment.width;
  });
  return items;
}

function linkTag(link: Link, parent: Tag): Tag {
  link.tag ??= tagUnder(parent, 'Link');
  return link.tag;
}

/** The area of a link on one line, and a hairline under its words where they have the link's colour. */
function linkItems(fragments: readonly Fragment[], link: Link, tag: Tag, x: number, baseline: number): Item[] {
  const last = fragments.findIndex((fragment) => fragment.link !== link);
  const own = last < 0 ? fragments : fragments.slice(0, last);
  const width = inkOf(own);
  const first = own[0];
  if (!first || width === 0) return [];
  const { size, colour } = first;
  const area: Item = { kind: 'link', x, y: baseline - size, width, height: size * 1.3, href: link.href, words: link.words, tag };
  if (colour !== colours.accent) return [area];
  return [area, { kind: 'box', x, y: baseline + size * 0.16, width, height: 0, stroke: colours.accent, strokeWidth: 0.35 }];
}

function inkOf(fragments: readonly Fragment[]): number {
  let ink = 0;
  let pending = 0;
  for (const fragment of fragments) {
    if (fragment.inkWidth > 0) {
      ink += pending + fragment.inkWidth;
      pending = fragment.width - fragment.inkWidth;
    } else pending += fragment.width;
  }
  return ink;
}

/** The text between two offsets, a fragment for each piece it touches. */
function fragmentsBetween(fonts: Fonts, pieces: readonly Piece[], from: number, to: number): Fragment[] {
  const fragments: Fragment[] = [];
  let start = 0;
  for (const piece of pieces) {
    const end = start + piece.text.length;
    // A line end is drawn as a space, so that the words on both sides stay apart when the text is taken out.
    const part = piece.text.slice(Math.max(from - start, 0), Math.max(to - start, 0)).replace(/\n/g, ' ');
    if (part.length > 0) fragments.push(fragmentOf(fonts, piece, part));
    start = end;
  }
  return fragments;
}

function fragmentOf(fonts: Fonts, piece: Pick<Piece, 'face' | 'size' | 'colour' | 'link' | 'shape' | 'pageOf' | 'inText'>, text: string): Fragment {
  const { face, size, colour, link, shape, pageOf } = piece;
  const shaped = fonts.shape(shape ? '' : text, face);
  const ink = fonts.shape(shape ? '' : text.replace(/ +$/, ''), face);
  const width = shape ? size * (0.78 + shapeGapEm) : widthOf(shaped, size);
  const fragment: Fragment = { shaped, size, colour, width, inkWidth: shape ? width : widthOf(ink, size) };
  if (link) fragment.link = link;
  if (shape) fragment.shape = shape;
  if (pageOf) fragment.pageOf = pageOf;
  if (piece.inText) fragment.inText = true;
  return fragment;
}

function widthOf(shaped: Shaped, size: number): number {
  return (shaped.width * size) / 1000;
}

/** As many letters as fit in `room`, marks with their letter; at least one where the line is empty. */
function cutToFit(fonts: Fonts, fragment: Fragment, room: number, lineIsEmpty: boolean): { head: Fragment | null; rest: Fragment | null } {
  if (fragment.inkWidth <= room || fragment.shape) return { head: fragment, rest: null };
  const { face, text } = fragment.shaped;
  const clusters = text.match(/\P{M}\p{M}*|\p{M}+/gu) ?? [];
  let used = 0;
  let count = 0;
  for (const cluster of clusters) {
    used += widthOf(fonts.shape(cluster, face), fragment.size);
    if (used > room && (count > 0 || !lineIsEmpty)) break;
    count += 1;
  }
  if (/^[0-9a-f]{32,}$/.test(text)) count = evenShare(clusters.length, count);
  const cut = (part: string): Fragment | null => (part ? fragmentOf(fonts, { ...fragment, face }, part) : null);
  return { head: cut(clusters.slice(0, count).join('')), rest: cut(clusters.slice(count).join('')) };
}

/** A hash over several lines is shared out evenly in eights, so that two of them can be compared by eye. */
function evenShare(total: number, count: number): number {
  if (count < 8) return count;
  const share = Math.ceil(total / Math.ceil(total / count) / 8) * 8;
  return Math.min(share, Math.floor(count / 8) * 8);
}
