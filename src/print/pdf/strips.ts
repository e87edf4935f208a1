import type { Block, DossierPhoto, Inline } from '../../model/dossier.ts';
import type { Outcome } from '../../model/catalogue.ts';
import { words } from '../../model/printed-words.ts';
import type { Fonts } from './fonts.ts';
import { moved, stripOf } from './items.ts';
import type { Item, Slab, Strip, Tag } from './items.ts';
import { breakLines, lineItems, pageNumberRoom } from './lines.ts';
import type { Line, Link, Piece } from './lines.ts';
import { colours, measurePt, stateColours } from './look.ts';
import type { Face, TextStyle } from './look.ts';

/** What block printers need beside the block. */
export interface Setting {
  fonts: Fonts;
  /** By photo id. */
  photos: ReadonlyMap<string, DossierPhoto>;
  /** Height of a page's body: the most a strip may have. */
  bodyHeight: number;
  /** The first outlook of the document: how its bars are read is said there, and the others refer to it. */
  firstOutlook: Block | undefined;
}

/** Where a block is to stand: its left edge, its width, and its parent in the structure tree. */
export interface Frame {
  x: number;
  width: number;
  tag: Tag;
}

/** The dossier's inline text in a style. Links are set in the accent; an address that is none stays text. */
export function piecesOf(inline: Inline, style: TextStyle): Piece[] {
  return inline.map((span) => {
    const { size, colour } = style;
    if (typeof span === 'string') return { text: span, face: style.face, size, colour };
    const piece: Piece = { text: span.text, face: faceOf(style.face, span), size: span.code ? size * 0.95 : size, colour: span.quiet ? colours.soft : colour };
    if (span.href !== undefined && (span.href.startsWith('#') || URL.canParse(span.href))) {
      piece.colour = colours.accent;
      piece.link = { href: span.href, words: span.text };
    }
    return piece;
  });
}

function faceOf(face: Face, span: { strong?: true | undefined; emphasis?: true | undefined }): Face {
  const bold = span.strong || face === 'bold' || face === 'boldItalic';
  const italic = span.emphasis || face === 'italic' || face === 'boldItalic';
  if (bold) return italic ? 'boldItalic' : 'bold';
  return italic ? 'italic' : 'regular';
}

/** A state's shape and word, in its colour. */
export function statePieces(outcome: Outcome, style: TextStyle): Piece[] {
  const { size } = style;
  const look = { size, colour: stateColours[outcome] };
  const face: Face = outcome === 'sound' || outcome === 'not fitted' ? 'regular' : 'bold';
  return [
    { ...look, text: '', face, shape: outcome },
    { ...look, text: words.states[outcome], face },
  ];
}

/** A link to an anchor by its page number, to be set at the right. */
export function pageNumberPiece(anchor: string, style: TextStyle, link: Link): Piece {
  return { text: pageNumberRoom, face: style.face, size: style.size, colour: style.colour, pageOf: anchor, link };
}

/** Lines of pieces as slabs of the style's line height. */
export function slabsOf(setting: Setting, pieces: readonly Piece[], style: TextStyle, frame: Frame, align: 'left' | 'right' = 'left'): Slab[] {
  return breakLines(setting.fonts, pieces, frame.width).map((line) => lineSlab(line, style, frame, align));
}

function lineSlab(line: Line, style: TextStyle, frame: Frame, align: 'left' | 'right'): Slab {
  const x = align === 'left' ? frame.x : frame.x + frame.width - line.width;
  return { height: style.lineHeight, items: lineItems(line, x, baselineOf(style), frame.tag) };
}

/** Distance of the baseline from the top of a line. */
export function baselineOf(style: TextStyle): number {
  return (style.lineHeight - style.size) / 2 + style.size * 0.84;
}

/** Slabs as strips that may part between lines, never leaving one line of several alone. */
export function flowing(slabs: readonly Slab[], before: number): Strip[] {
  const last = slabs.length - 1;
  return slabs.map((slab, index) => stripOf(slab, { before: index === 0 ? before : 0, keep: index < last && (index === 0 || index === last - 1) }));
}

/** A paragraph whose lines are of about one length and end between words: for titles. */
export function balanced(setting: Setting, pieces: readonly Piece[], style: TextStyle, frame: Frame, before: number): Strip[] {
  const lines = (width: number): Line[] => breakLines(setting.fonts, pieces, width);
  const count = lines(frame.width).length;
  let best = frame.width;
  for (let width = best; count > 1 && width > frame.width / 2; width -= 6) {
    const tried = lines(width);
    if (tried.length > count) break;
    const endsInHyphen = tried.slice(0, -1).some((line) => line.fragments.at(-1)?.shaped.text.endsWith('-'));
    if (!endsInHyphen) best = width;
  }
  return paragraph(setting, pieces, style, { ...frame, width: best }, before);
}

/** A paragraph as strips. */
export function paragraph(setting: Setting, pieces: readonly Piece[], style: TextStyle, frame: Frame, before: number): Strip[] {
  return flowing(slabsOf(setting, pieces, style, frame), before);
}

/** Running text keeps to a comfortable line; tables and photos use the whole width. */
export function textFrame(frame: Frame): Frame {
  return { ...frame, width: Math.min(frame.width, measurePt) };
}

/** Height of the strips one below the other, with the space above each. */
export function heightOf(strips: readonly Strip[]): number {
  return strips.reduce((sum, strip) => sum + strip.before + strip.height, 0);
}

/** The strips, kept together from the first to the last. */
export function kept(strips: readonly Strip[]): Strip[] {
  return strips.map((strip, index) => (index < strips.length - 1 ? { ...strip, keep: true } : strip));
}

/** The strips on one page together when they are no higher than `most`. */
export function keptIfShort(strips: readonly Strip[], most: number): Strip[] {
  return heightOf(strips) <= most ? kept(strips) : [...strips];
}

/** The strips, the last kept with whatever follows. */
export function keptWithNext(strips: readonly Strip[]): Strip[] {
  return strips.map((strip) => ({ ...strip, keep: true }));
}

/** The strips, at the top of a page whatever came before. */
export function startingPage(strips: readonly Strip[]): Strip[] {
  return strips.map((strip, index) => (index === 0 ? { ...strip, startsPage: 'always' } : strip));
}

/** The strips with anchors on the first. */
export function anchored(strips: readonly Strip[], anchors: readonly string[]): Strip[] {
  return strips.map((strip, index) => (index === 0 ? { ...strip, anchors: [...anchors, ...strip.anchors] } : strip));
}

/** Slabs of one column, one below the other. */
export function stacked(slabs: readonly Slab[]): Slab {
  let height = 0;
  const items: Item[] = [];
  for (const slab of slabs) {
    items.push(...slab.items.map((item) => moved(item, height)));
    height += slab.height;
  }
  return { height, items };
}

/** Columns side by side as one slab, or as several when they are higher than `most`. */
export function abreast(columns: readonly (readonly Slab[])[], most: number): Slab[] {
  const queues = columns.map((slabs) => [...slabs]);
  const rows: Slab[] = [];
  while (queues.some((queue) => queue.length > 0)) {
    const parts = queues.map((queue) => stacked(takeUpTo(queue, most)));
    rows.push({ height: Math.max(...parts.map((part) => part.height)), items: parts.flatMap((part) => part.items) });
  }
  return rows;
}

function takeUpTo(queue: Slab[], most: number): Slab[] {
  const taken: Slab[] = [];
  let height = 0;
  for (let next = queue[0]; next && (taken.length === 0 || height + next.height <= most); next = queue[0]) {
    taken.push(next);
    height += next.height;
    queue.shift();
  }
  return taken;
}

/** A slab with room above and below. */
export function padded(slab: Slab, above: number, below: number): Slab {
  return { height: above + slab.height + below, items: slab.items.map((item) => moved(item, above)) };
}

/** Strips with space above turned into height and decoration drawn along each, so that it has no gaps. */
export function lined(strips: readonly Strip[], decorate: (height: number, index: number) => Item[]): Strip[] {
  return strips.map((strip, index) => {
    const above = index === 0 ? 0 : strip.before;
    const slab = padded(strip, above, 0);
    return { ...strip, before: index === 0 ? strip.before : 0, height: slab.height, items: [...decorate(slab.height, index), ...slab.items] };
  });
}

/** A horizontal line as decoration. */
export function hairline(x: number, y: number, width: number, stroke: string = colours.hair, strokeWidth = 0.5): Item {
  return { kind: 'box', x, y, width, height: 0, stroke, strokeWidth };
}
