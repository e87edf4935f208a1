import path from 'node:path';
import type { Outcome } from '../../model/catalogue.ts';
import type { Block, BlockOf, Dossier, DossierPhoto, Figure, Inline, Section } from '../../model/dossier.ts';
import { drawnBar } from '../bars.ts';
import { drawnScale, signsOf } from '../plots.ts';
import { drawnTimeline } from '../timeline.ts';
import { pairFrame } from '../pairs.ts';
import type { Anchors } from './anchors.ts';
import type { SiteBlock, SiteBlockOf, SiteFigure, SiteSection } from './data.ts';
import { siteMap } from './map.ts';
import { siteMarks } from './marks.ts';
import { checkOf } from './originals.ts';
import { plannedPicture } from './picture.ts';

/** What a block needs to find its links and pictures from the page it stands on. */
export interface Place {
  page: string;
  anchors: Anchors;
  photos: ReadonlyMap<string, DossierPhoto>;
  /** The anchor to quote for each photo that has one. */
  permanent: ReadonlyMap<string, string>;
  /** Where the index stands; null where there is none to lead to. */
  findPage: string | null;
  /** How a figure shows its photo, where it is not by the site's own files with marks drawn over them. */
  shown?: (figure: Figure, photo: DossierPhoto) => Pick<SiteFigure, 'id' | 'picture' | 'marks'>;
}

/** A section as the templates print it on a page. */
export function siteSection(section: Section, dossier: Dossier, place: Place): SiteSection {
  const blocks = section.blocks.map((block) => siteBlock(block, place));
  const other = blocks.findIndex((block) => block.type !== 'paragraph' && !isKeyFacts(block));
  const opening = blocks.slice(0, other === -1 ? blocks.length : other);
  const facts = opening.find(isKeyFacts);
  const counts = section.id === 'register' && place.findPage !== null ? countsOf(section, dossier, place.page, place.findPage) : null;
  if (!facts) return { id: section.id, title: section.title, opening: null, blocks, counts, check: checkOf(section, dossier) };
  const [words, after] = [opening.slice(0, opening.indexOf(facts)), opening.slice(opening.indexOf(facts) + 1)];
  return { id: section.id, title: section.title, opening: { words, facts, after }, blocks: blocks.slice(opening.length), counts: null, check: null };
}

/** Openings of the whole register by state, what wants attention first; before the table. */
function countsOf({ blocks }: Section, { register }: Dossier, page: string, findPage: string): SiteSection['counts'] {
  const order: readonly Outcome[] = ['defect', 'cannot tell', 'not seen', 'sound', 'not fitted'];
  const items = order.flatMap((state) => {
    const count = register.filter((row) => row.outcome === state).length;
    return count === 0 ? [] : [{ state, count, href: `${pageLink(page, findPage)}#kind=opening&state=${state.replace(' ', '-')}` }];
  });
  const at = blocks.findIndex((block) => block.type === 'table');
  return items.length === 0 || at < 0 ? null : { at, items };
}

function isKeyFacts(block: SiteBlock): block is SiteBlockOf<'facts'> {
  return block.type === 'facts' && block.look === 'key';
}

function siteBlock(block: Block, place: Place): SiteBlock {
  const led = (inline: Inline): Inline => linked(inline, place);
  const nested = (blocks: readonly Block[]): SiteBlock[] => blocks.map((inner) => siteBlock(inner, place));
  switch (block.type) {
    case 'heading':
    case 'code':
    case 'rule':
      return block;
    case 'paragraph':
    case 'remark':
      return { ...block, inline: led(block.inline) };
    case 'facts':
      return { ...block, items: block.items.map((item) => ({ ...item, value: led(item.value) })) };
    case 'table': {
      const rows = block.rows.map((row) => ({ ...row, cells: row.cells.map((cell) => ({ ...cell, inline: led(cell.inline) })) }));
      return { ...block, rows };
    }
    case 'photos': {
      const figures = block.figures.map((figure) => {
        const shown = siteFigure(figure, place);
        return { ...shown, id: figure.id ?? shown.id };
      });
      return { ...block, figures };
    }
    case 'pair': {
      const { type, title } = block;
      const [before, after] = [siteFigure(block.before, place), siteFigure(block.after, place)];
      const during = (block.during ?? []).map((figure) => siteFigure(figure, place));
      return { type, id: block.id ?? null, title, before, after, during, caption: led(block.caption), frame: pairFrame(block, place.photos) };
    }
    case 'steps': {
      const items = block.items.map((step) => ({
        ...step,
        state: stateOf(step),
        title: led(step.title),
        why: led(step.why),
        what: led(step.what),
        ...(step.figures === undefined ? {} : { figures: led(step.figures) }),
        cautions: led(step.cautions),
      }));
      return { ...block, items };
    }
    case 'outlook': {
      const items = block.items.map((item) => ({ ...item, inline: led(item.inline), bars: item.bars.map(drawnBar) }));
      return { ...block, items };
    }
    case 'plots': {
      const scales = block.scales.map((scale) => ({ ...scale, items: scale.items.map((item) => ({ ...item, name: led(item.name), inline: led(item.inline) })), drawn: drawnScale(scale.items) }));
      return { ...block, scales, signs: signsOf(scales.map(({ drawn }) => drawn)) };
    }
    case 'timeline': {
      const drawn = drawnTimeline(block);
      const rows = drawn.rows.map((row) => ({ ...row, marks: row.marks.map((mark) => ({ ...mark, figure: anchorLink(mark.figure, place) })) }));
      return { type: block.type, caption: block.caption, label: block.label, drawn: { ...drawn, rows } };
    }
    case 'zones':
      return {
        type: block.type,
        map: block.map ? siteMap(block.map, (anchor) => (place.anchors.has(anchor) ? anchorLink(anchor, place) : null)) : null,
        items: block.items.map((zone) => ({ ...zone, href: anchorLink(zone.zone, place) })),
      };
    case 'caution':
      return { ...block, source: led(block.source) };
    case 'list':
      return { ...block, items: block.items.map(nested) };
    case 'quote':
      return { ...block, blocks: nested(block.blocks) };
  }
}

/** The step that gathers what several works need is the state of no one thing. */
export function stateOf({ id, state }: BlockOf<'steps'>['items'][number]): Outcome | null {
  return id === 'step-needs' ? null : state;
}

function siteFigure(figure: Figure, place: Place): SiteFigure {
  const { photo: id, alt, caption } = figure;
  const photo = place.photos.get(id);
  if (!photo) throw new Error(`Page "${place.page}" shows photo "${id}", which the dossier does not list.`);
  const permanent = place.permanent.get(id);
  return {
    ...(place.shown?.(figure, photo) ?? { id: null, picture: plannedPicture(photo, (file) => relativeTo(place.page, file)), marks: siteMarks(photo) }),
    alt,
    caption: linked(caption, place),
    taken: photo.taken,
    takenFrom: photo.takenFrom,
    permanent: permanent === undefined ? null : anchorLink(permanent, place),
    eager: false,
  };
}

/** Links of an inline as they lead from this page; a kind of address we do not print leaves its words behind. */
function linked(inline: Inline, place: Place): Inline {
  return inline.map((run) => {
    if (typeof run === 'string' || run.href === undefined) return run;
    const { href, ...words } = run;
    if (href.startsWith('#')) return { ...words, href: anchorLink(href.slice(1), place) };
    return /^(https?:\/\/|mailto:|tel:)[^\s\p{Cc}]+$/iu.test(href) ? run : words;
  });
}

function anchorLink(anchor: string, place: Place): string {
  const page = place.anchors.get(anchor);
  if (page === undefined) throw new Error(`Page "${place.page}" links to "#${anchor}", which stands nowhere in the dossier.`);
  return page === place.page ? `#${anchor}` : `${pageLink(place.page, page)}#${anchor}`;
}

/** Address of a page of the site, seen from another. */
export function pageLink(from: string, to: string): string {
  return relativeTo(from, `${to}.html`);
}

/** Address of a file of the site, seen from a page: `../photos/a.jpg`. Percent-encoded, so that no name ends early. */
export function relativeTo(page: string, file: string): string {
  const relative = path.posix.relative(path.posix.dirname(page), file);
  return relative.split('/').map(encodeURIComponent).join('/');
}
