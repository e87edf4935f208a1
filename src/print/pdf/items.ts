import type { Outcome } from '../../model/catalogue.ts';
import type { DrawnBar } from '../bars.ts';
import type { DrawnMark } from '../marks.ts';
import type { Shaped } from './fonts.ts';

/** Standard structure types of PDF 1.7 that are used; `Artifact` is content outside of the tree. */
export type Role =
  | 'Document' | 'Sect' | 'Div' | 'H1' | 'H2' | 'H3' | 'H4' | 'P' | 'BlockQuote' | 'Caption'
  | 'Artifact' | 'L' | 'LI' | 'Lbl' | 'LBody' | 'Table' | 'TR' | 'TH' | 'TD' | 'Figure' | 'Link' | 'TOC' | 'TOCI' | 'Reference';

/** A node of the structure tree. It joins its parent when its first content is drawn, so order is drawing order. */
export interface Tag {
  role: Role;
  parent: Tag | null;
  /** Text alternative of a figure. */
  alt?: string;
  /** Label style of a list. */
  numbering?: 'Decimal' | 'Disc' | 'None';
}

/** A new node below `parent`. */
export function tagUnder(parent: Tag, role: Role, more: Pick<Tag, 'alt' | 'numbering'> = {}): Tag {
  return { role, parent, ...more };
}

/** Shaped text of one size and colour; `pageOf` stands in for the page number of an anchor, known after paging. */
export interface Run {
  shaped: Shaped;
  size: number;
  colour: string;
  pageOf?: string;
  /** The number stands at the left of its room, not at the right. */
  inText?: true;
}

interface Placed {
  x: number;
  /** Points from the upper edge of the strip (before paging) or page (after), downwards. */
  y: number;
}
/** Text on a baseline at `y`. */
export interface TextItem extends Placed {
  kind: 'text';
  runs: Run[];
  tag: Tag;
}
/** A photo; `file` is the rendition's path in the picture folder, `marks` are drawn over it, in points from its upper left corner. */
export interface PictureItem extends Placed {
  kind: 'picture';
  width: number;
  height: number;
  file: string;
  marks?: DrawnMark[];
  tag: Tag;
}
/** The sensitive area of a link; the words are drawn by a text item of the same tag. */
export interface LinkItem extends Placed {
  kind: 'link';
  width: number;
  height: number;
  href: string;
  words: string;
  tag: Tag;
}
/** Decoration: a line, or an area when it has a fill. */
export interface BoxItem extends Placed {
  kind: 'box';
  width: number;
  height: number;
  fill?: string;
  stroke?: string;
  strokeWidth?: number;
}
/** Decoration: the shape of a state in a square of `size`; its word is always beside it. */
export interface StateItem extends Placed {
  kind: 'state';
  outcome: Outcome;
  size: number;
}
/** A bar of an outlook on its axis. Place and size are the whole figure's, its words included; `scale` is where the axis stands in it. */
export interface RangeItem extends Placed {
  kind: 'range';
  width: number;
  height: number;
  scale: { dx: number; dy: number; width: number };
  bar: DrawnBar;
  tag: Tag;
}
/** A figure of vectors: `paths` are its operators, painted, from its upper left corner at 0, 0 with y upwards. */
export interface DrawingItem extends Placed {
  kind: 'drawing';
  width: number;
  height: number;
  paths: string;
  tag: Tag;
}
export type Item = TextItem | PictureItem | LinkItem | BoxItem | StateItem | RangeItem | DrawingItem;

/** Something of a height with its items, before it is known where it comes to stand. */
export interface Slab {
  height: number;
  items: Item[];
}

/** An entry of the outline, and of the destinations. */
export interface HeadingMark {
  /** 1 for a section's title. */
  level: number;
  text: string;
  tag: Tag;
}

/** How far a row of photos may be set lower. */
export interface PhotoRow {
  /** The same for all rows of one block, so that they are set lower together. */
  block: object;
  /** Least height of the slab. */
  least: number;
  /** The row again, at most so high; never asked for less than the least. */
  lower(height: number): Slab;
}

/** A slab across the body that is never cut, with what paging has to know. */
export interface Strip extends Slab {
  /** Space above, dropped at the head of a page. */
  before: number;
  /** Stays on one page with the strip that follows. */
  keep: boolean;
  anchors: string[];
  /** Several where small groups stand side by side. */
  headings?: HeadingMark[];
  /** Rows of photos, which may be set lower to get onto a page. */
  photoRow?: PhotoRow;
  /** `mostly`: unless more than half of the page before would stay empty. */
  startsPage?: 'always' | 'mostly';
  /** Stands at the foot of its page. */
  sinks?: true;
  /** Decoration repeated above it when it comes first on a page: the head of a table. */
  repeat?: Slab;
}

/** A strip with what most strips have. */
export function stripOf(slab: Slab, more: Partial<Strip> = {}): Strip {
  return { before: 0, keep: false, anchors: [], ...slab, ...more };
}

/** The item moved by `dy` points downwards and `dx` to the right. */
export function moved(item: Item, dy: number, dx = 0): Item {
  return { ...item, x: item.x + dx, y: item.y + dy };
}

/** A page of placed items; `head` and `foot` are artifacts. */
export interface Page {
  items: Item[];
  head: Item[];
  foot: Item[];
}

/** Where an anchor came to stand. */
export interface Destination {
  /** Counts from 0. */
  page: number;
  y: number;
}

/** The whole document, laid out: what drawing needs and nothing it has to decide. */
export interface Layout {
  pages: Page[];
  anchors: Map<string, Destination>;
  outline: (HeadingMark & { at: Destination })[];
}
