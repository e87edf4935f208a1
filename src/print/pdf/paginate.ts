import { moved } from './items.ts';
import type { Destination, Item, Layout, Slab, Strip } from './items.ts';
import type { Geometry } from './look.ts';

/** How far above a heading its destination lies, so that it does not stick to the window's edge. */
const headroomPt = 8;

/** A title with less than this, itself included, at the foot of a page looks left behind. */
const leastBelowTitlePt = 96;
/** A heading below a title wants two lines with it. */
const leastBelowHeadingPt = 24;
/** Photos that follow a title after no more than this are on its page. */
const photosNearTitlePt = 110;

/** Sets strips on pages, in order. Throws when two things have one anchor: a link would lead to the wrong one. */
export function paginate(strips: readonly Strip[], geometry: Geometry): Layout {
  const layout: Layout = { pages: [], anchors: new Map(), outline: [] };
  let items: Item[] = [];
  let y = geometry.bottom;

  const turn = (): void => {
    items = [];
    layout.pages.push({ items, head: [], foot: [] });
    y = geometry.top;
  };
  const isFresh = (): boolean => items.length === 0;
  const put = (slab: Slab): void => {
    items.push(...slab.items.map((item) => moved(item, y)));
    y += slab.height;
  };
  const set = (strip: Strip): void => {
    if (isFresh() && strip.repeat) put(strip.repeat);
    else if (!isFresh()) y += strip.before;
    if (strip.sinks) y = Math.max(y, geometry.bottom - strip.height);
    const at: Destination = { page: layout.pages.length - 1, y: y - headroomPt };
    for (const anchor of strip.anchors) {
      if (layout.anchors.has(anchor)) throw new Error(`Two things of the dossier have the anchor "${anchor}"`);
      layout.anchors.set(anchor, at);
    }
    for (const heading of strip.headings ?? []) layout.outline.push({ ...heading, at });
    put(strip);
  };
  const room = (): number => geometry.bottom - y;
  const startsPage = (strip: Strip | undefined, left: number): boolean => strip?.startsPage === 'always' || (strip?.startsPage === 'mostly' && left < (geometry.bottom - geometry.top) / 2);

  turn();
  for (let index = 0; index < strips.length; ) {
    const chain = chainFrom(strips, index);
    let fitted = !isFresh() && startsPage(chain[0], room()) ? null : fittedTo(chain, photosAfter(strips, index + chain.length, chain), room());
    if (!fitted && !isFresh()) {
      turn();
      fitted = fittedTo(chain, photosAfter(strips, index + chain.length, chain), room());
    }
    for (const strip of fitted ?? chain) {
      if (!isFresh() && strip.before + strip.height > room()) turn();
      set(strip);
    }
    index += (fitted ?? chain).length;
  }
  return layout;
}

/** The strips that have to stand on one page, beginning with one of them: a heading, what it keeps with, and a few lines more. */
function chainFrom(strips: readonly Strip[], start: number): Strip[] {
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
  if (level === 1) {
    const photos = photosNear(strips, end + 1);
    if (photos !== null) end = photos;
    keepOn();
  }
  return chain();
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

function heightOf(chain: readonly Strip[]): number {
  return chain.reduce((sum, strip) => sum + strip.before + strip.height, 0);
}
