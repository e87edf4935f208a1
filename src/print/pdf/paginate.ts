import { moved } from './items.ts';
import type { Destination, Layout, Slab, Strip } from './items.ts';
import type { Geometry } from './look.ts';
import { heightOf } from './strips.ts';

/** How far above a heading its destination lies, so that it does not stick to the window's edge. */
const headroomPt = 8;

/** A title with less than this, itself included, at the foot of a page looks left behind. */
const leastBelowTitlePt = 96;
/** A heading below a title wants two lines with it. */
const leastBelowHeadingPt = 24;
/** Photos that follow a title after no more than this are on its page. */
const photosNearTitlePt = 110;

/** A section that may go on where the one before ends does so for a page less, if this share of that page is left for it. Our judgement. */
const leastShareForLess = 0.25;

/** Sets strips on pages, in order. Throws when two things have one anchor: a link would lead to the wrong one. */
export function paginate(strips: readonly Strip[], geometry: Geometry): Layout {
  const layout: Layout = { pages: [], anchors: new Map(), outline: [] };
  const place = (strip: Strip, y: number): void => {
    const at: Destination = { page: layout.pages.length - 1, y: y - headroomPt };
    for (const anchor of strip.anchors) {
      if (layout.anchors.has(anchor)) throw new Error(`Two things of the dossier have the anchor "${anchor}"`);
      layout.anchors.set(anchor, at);
    }
    for (const heading of strip.headings ?? []) layout.outline.push({ ...heading, at });
  };
  const writer: Writer = {
    turn: () => layout.pages.push({ items: [], head: [], foot: [] }),
    put(slab, y, strip) {
      layout.pages.at(-1)?.items.push(...slab.items.map((item) => moved(item, y)));
      if (strip) place(strip, y);
    },
  };
  writer.turn();
  let at: Place = { y: geometry.top, fresh: true, turns: 0 };
  for (const part of partsOf(strips)) {
    if (!at.fresh && startsPage(part, at, geometry)) at = turned(at, geometry, writer);
    at = flow(part, at, geometry, writer);
  }
  return layout;
}

/** How far a document has come: `fresh` where nothing stands on the page yet, `turns` how many pages were turned. */
interface Place {
  y: number;
  fresh: boolean;
  turns: number;
}

/** Takes what is set: a slab at its place on the last page, and the strip it is of, where it is not decoration repeated. */
interface Writer {
  turn(): void;
  put(slab: Slab, y: number, strip: Strip | null): void;
}

/** For a try of which only the end counts. */
const nobody: Writer = { turn: () => {}, put: () => {} };

/** The strips from each that may start a page to the next. */
function partsOf(strips: readonly Strip[]): Strip[][] {
  const parts: Strip[][] = [];
  for (const strip of strips) {
    if (strip.startsPage || parts.length === 0) parts.push([]);
    parts.at(-1)?.push(strip);
  }
  return parts;
}

function startsPage(part: readonly Strip[], at: Place, geometry: Geometry): boolean {
  const starts = part[0]?.startsPage;
  if (starts !== 'mostly') return starts === 'always';
  const share = (geometry.bottom - at.y) / (geometry.bottom - geometry.top);
  if (share >= 0.5) return false;
  if (share < leastShareForLess) return true;
  return flow(part, at, geometry, nobody).turns >= flow(part, turned(at, geometry, nobody), geometry, nobody).turns;
}

function turned({ turns }: Place, geometry: Geometry, writer: Writer): Place {
  writer.turn();
  return { y: geometry.top, fresh: true, turns: turns + 1 };
}

/** Sets strips from a place on; gives where they end. */
function flow(strips: readonly Strip[], from: Place, geometry: Geometry, writer: Writer): Place {
  let at = from;
  const room = (): number => geometry.bottom - at.y;
  const set = (strip: Strip): void => {
    let { y } = at;
    if (!at.fresh) y += strip.before;
    else if (strip.repeat) {
      writer.put(strip.repeat, y, null);
      y += strip.repeat.height;
    }
    if (strip.sinks) y = Math.max(y, geometry.bottom - strip.height);
    writer.put(strip, y, strip);
    // A page without a thing on it is as good as new, whatever room was left.
    at = { ...at, y: y + strip.height, fresh: at.fresh && strip.items.length === 0 && !strip.repeat };
  };
  for (let index = 0; index < strips.length; ) {
    const chain = chainFrom(strips, index);
    const more = photosAfter(strips, index + chain.length, chain);
    let fitted = fittedTo(chain, more, room()) ?? withoutPhotos(strips, index, room(), geometry);
    if (!fitted && !at.fresh) {
      at = turned(at, geometry, writer);
      fitted = fittedTo(chain, more, room());
    }
    for (const strip of fitted ?? chain) {
      if (!at.fresh && strip.before + strip.height > room()) at = turned(at, geometry, writer);
      set(strip);
    }
    index += (fitted ?? chain).length;
  }
  return at;
}

/** The strips that have to stand on one page, beginning with one of them: a heading, what it keeps with, and a few lines more; below a title the first photos too, if they are to be. */
function chainFrom(strips: readonly Strip[], start: number, photosToo = true): Strip[] {
  const level = strips[start]?.headings?.[0]?.level;
  let end = start;
  const goesOn = (): boolean => strips[end + 1] !== undefined && !strips[end + 1]?.startsPage;
  const chain = (): Strip[] => strips.slice(start, end + 1);
  const keepOn = (): void => {
    while (strips[end]?.keep && goesOn()) end += 1;
  };
  keepOn();
  if (level === undefined) return chain();
  const follows = (): number => heightOf(chain().filter((strip) => !(strip.headings && strip.keep)));
  while (goesOn() && (level === 1 ? heightOf(chain()) < leastBelowTitlePt : follows() < leastBelowHeadingPt)) {
    end += 1;
    keepOn();
  }
  if (level === 1 && photosToo && !chain().some((strip) => strip.photoRow)) {
    const photos = photosNear(strips, end + 1);
    if (photos !== null) end = photos;
    keepOn();
  }
  return chain();
}

/** A title and the words below it, their photos on the next page, where more than a third of this one would stay empty. */
function withoutPhotos(strips: readonly Strip[], start: number, room: number, geometry: Geometry): Strip[] | null {
  const chain = chainFrom(strips, start, false);
  return room > (geometry.bottom - geometry.top) / 3 && !chain.some((strip) => strip.photoRow) ? lowered(chain, room) : null;
}

/** Where the first row of photos stands, if little text comes before it. */
function photosNear(strips: readonly Strip[], from: number): number | null {
  let height = 0;
  for (let index = from; height < photosNearTitlePt; index += 1) {
    const strip = strips[index];
    if (!strip || strip.startsPage || strip.headings || strip.repeat) return null;
    if (strip.photoRow) return index;
    height += strip.before + strip.height;
  }
  return null;
}

/** The further rows of the block of photos that the chain ends in. */
function photosAfter(strips: readonly Strip[], from: number, chain: readonly Strip[]): Strip[] {
  const block = chain.at(-1)?.photoRow?.block;
  if (block === undefined) return [];
  let end = from;
  while (strips[end]?.photoRow?.block === block) end += 1;
  return strips.slice(from, end);
}

/** The chain with all rows of its photos, else the chain alone, on what is left of a page; photos are set lower where that is enough. Null where nothing helps. */
function fittedTo(chain: readonly Strip[], more: readonly Strip[], room: number): Strip[] | null {
  return (more.length > 0 ? lowered([...chain, ...more], room) : null) ?? lowered(chain, room);
}

function lowered(chain: readonly Strip[], room: number): Strip[] | null {
  const over = heightOf(chain) - room;
  if (over <= 0) return [...chain];
  const give = (strip: Strip): number => (strip.photoRow ? strip.height - strip.photoRow.least : 0);
  const most = chain.reduce((sum, strip) => sum + give(strip), 0);
  // A little more than is lacking, as heights are sums of fractions.
  const share = (over + 0.01) / most;
  if (!(share <= 1)) return null;
  return chain.map((strip) => (strip.photoRow ? { ...strip, ...strip.photoRow.lower(strip.height - give(strip) * share) } : strip));
}
