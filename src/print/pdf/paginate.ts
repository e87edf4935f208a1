import { moved } from './items.ts';
import type { Destination, Item, Layout, Slab, Strip } from './items.ts';
import type { Geometry } from './look.ts';

/** How far above a heading its destination lies, so that it does not stick to the window's edge. */
const headroomPt = 8;

/** A title with less than this, itself included, at the foot of a page looks left behind. */
const leastBelowTitlePt = 96;

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
    if (strip.heading) layout.outline.push({ ...strip.heading, at });
    put(strip);
  };

  turn();
  for (let index = 0; index < strips.length; ) {
    const chain = chainFrom(strips, index);
    if (!isFresh() && (chain[0]?.startsPage || y + chainHeight(chain) > geometry.bottom)) turn();
    for (const strip of chain) {
      if (!isFresh() && y + strip.before + strip.height > geometry.bottom) turn();
      set(strip);
    }
    index += chain.length;
  }
  return layout;
}

/** The strips that have to stand on one page, beginning with one of them: a title, what it keeps with, and a few lines more. */
function chainFrom(strips: readonly Strip[], start: number): Strip[] {
  const wanted = strips[start]?.heading?.level === 1 ? leastBelowTitlePt : 0;
  let end = start;
  const more = (): boolean => (strips[end]?.keep ?? false) || chainHeight(strips.slice(start, end + 1)) < wanted;
  while (more() && strips[end + 1] && !strips[end + 1]?.startsPage) end += 1;
  return strips.slice(start, end + 1);
}

function chainHeight(chain: readonly Strip[]): number {
  return chain.reduce((sum, strip) => sum + strip.before + strip.height, 0);
}
