import path from 'node:path';
import type { Outcome } from '../../model/catalogue.ts';
import type { Block, Dossier, DossierPhoto, Figure, Inline, Section } from '../../model/dossier.ts';
import { dateText } from '../../units.ts';
import { drawnBar } from '../bars.ts';
import { drawnScale, signsOf } from '../plots.ts';
import { drawnTimeline } from '../timeline.ts';
import { pairFrame } from '../pairs.ts';
import { anchorsOf, type Anchors } from './anchors.ts';
import type { SiteBlock, SiteBlockOf, SiteData, SiteFigure, SiteLink, SitePage, SiteSection } from './data.ts';
import { findIn } from './find.ts';
import { siteMap } from './map.ts';
import { siteMarks } from './marks.ts';
import { checkOf } from './originals.ts';
import { plannedPicture } from './picture.ts';

/**
 * The pages of a dossier, `index` first, the rest in the order of their first sections.
 * @param pdf name of the PDF beside `index.html`, null where there is none
 * @throws where an anchor or a photo is missing or doubled: a mistake in the writer, never in the job.
 */
export function sitePages(given: Dossier, pdf: string | null = null): SiteData {
  const findPage = findPageOf(given.sections);
  const { sections, find } = findIn(given, (page, anchor) => `${pageLink(findPage, page)}#${anchor}`);
  const dossier = { ...given, sections };
  const anchors = anchorsOf(dossier.sections);
  const photos = new Map(dossier.photos.map((photo) => [photo.id, photo]));
  const permanent = permanentAnchors(dossier.sections);
  const paths = [...new Set(dossier.sections.map((section) => section.page))];
  if (!paths.includes('index')) throw new Error('No section stands on page "index": the dossier has no overview.');
  const { status } = dossier;
  const printed = (page: string): Omit<SitePage, 'index'> => ({
    ...sitePage(page, paths, dossier, { page, anchors, photos, permanent, findPage }),
    pdf: pdf === null ? null : relativeTo(page, pdf),
    find: page === findPage ? null : pageLink(page, findPage),
  });
  return {
    language: dossier.language,
    title: dossier.title,
    subtitle: dossier.subtitle,
    draft: status.kind === 'draft',
    status: status.kind === 'draft' ? 'Draft, not issued' : `Dossier ${status.number}, issued ${dateText(status.date)}`,
    edition: dossier.edition.title,
    limits: dossier.limits,
    author: dossier.author,
    version: dossier.generator.version,
    pages: [
      ...paths.sort((a, b) => Number(b === 'index') - Number(a === 'index')).map((page) => ({ ...printed(page), index: null })),
      { ...printed(findPage), title: `Find – ${dossier.title}`, here: 'Find', index: find },
    ],
  };
}

/** What a block needs to find its links and pictures from the page it stands on. */
interface Place {
  page: string;
  anchors: Anchors;
  photos: ReadonlyMap<string, DossierPhoto>;
  /** The anchor to quote for each photo that has one. */
  permanent: ReadonlyMap<string, string>;
  findPage: string;
}

/** The site's own page; a dossier may have a page of that name. */
function findPageOf(sections: readonly Section[]): string {
  let page = 'find';
  while (sections.some((section) => section.page === page)) page += '-all';
  return page;
}

/** Of the photo index where it is in one, else of the first place that has an anchor. */
function permanentAnchors(sections: readonly Section[]): Map<string, string> {
  const sheets = sections.flatMap(({ blocks }) => blocks.filter((block) => block.type === 'photos'));
  const inOrder = [...sheets.filter(({ look }) => look === 'large'), ...sheets.filter(({ look }) => look === 'index')];
  // Of equal keys the last stays in a map: the index rules.
  return new Map(inOrder.flatMap(({ figures }) => figures.flatMap(({ photo, id }): [string, string][] => (id === undefined ? [] : [[photo, id]]))));
}

function sitePage(page: string, paths: readonly string[], dossier: Dossier, place: Place): Omit<SitePage, 'pdf' | 'find' | 'index'> {
  const sections = dossier.sections.filter((section) => section.page === page);
  const here = sections[0]?.title ?? dossier.title;
  const neighbours = page.includes('/') ? paths.filter((other) => path.dirname(other) === path.dirname(page)) : [];
  const at = neighbours.indexOf(page);
  const printed = sections.map((section) => siteSection(section, dossier, place));
  const first = printed.flatMap((section) => section.blocks).find((block) => block.type === 'photos')?.figures[0];
  if (first) first.eager = true;
  const link = (to: string | undefined): SiteLink | null => {
    const target = dossier.sections.find((section) => section.page === to);
    return target ? { href: pageLink(page, target.page), label: target.title } : null;
  };
  return {
    path: page,
    title: page === 'index' ? dossier.title : `${here} – ${dossier.title}`,
    home: page === 'index' ? null : pageLink(page, 'index'),
    navigation: dossier.sections.flatMap((section) =>
      section.nav === undefined
        ? []
        : [{ href: navigationLink(page, section, dossier.sections), label: section.nav, current: section === sections[0] }],
    ),
    trail: page.includes('/') ? trailTo(page, dossier.sections) : [],
    here,
    previous: link(neighbours[at - 1]),
    next: link(neighbours[at + 1]),
    sections: printed,
  };
}

/** To the page; to the section itself where it is not the first of its page. */
function navigationLink(page: string, section: Section, sections: readonly Section[]): string {
  const first = sections.find((other) => other.page === section.page);
  return first === section ? pageLink(page, section.page) : `${pageLink(page, section.page)}#${section.id}`;
}

/** The overview, then the section that lists the zones, where the dossier has one elsewhere. */
function trailTo(page: string, sections: readonly Section[]): SiteLink[] {
  const start = sections.find((section) => section.page === 'index');
  const list = sections.find((section) => section.blocks.some((block) => block.type === 'zones'));
  return [
    ...(start ? [{ href: pageLink(page, 'index'), label: start.title }] : []),
    ...(list && list !== start && list.page !== page ? [{ href: `${pageLink(page, list.page)}#${list.id}`, label: list.title }] : []),
  ];
}

function siteSection(section: Section, dossier: Dossier, place: Place): SiteSection {
  const blocks = section.blocks.map((block) => siteBlock(block, place));
  const other = blocks.findIndex((block) => block.type !== 'paragraph' && !isKeyFacts(block));
  const opening = blocks.slice(0, other === -1 ? blocks.length : other);
  const facts = opening.find(isKeyFacts);
  const counts = section.id === 'register' ? countsOf(section, dossier, place) : null;
  if (!facts) return { id: section.id, title: section.title, opening: null, blocks, counts, check: checkOf(section, dossier) };
  const words = opening.filter((block) => block !== facts);
  return { id: section.id, title: section.title, opening: { words, facts }, blocks: blocks.slice(opening.length), counts: null, check: null };
}

/** Openings of the whole register by state, what wants attention first; before the table. */
function countsOf({ blocks }: Section, { register }: Dossier, { page, findPage }: Place): SiteSection['counts'] {
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
      const figures = block.figures.map((figure) => ({ ...siteFigure(figure, place), id: figure.id ?? null }));
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

function siteFigure({ photo: id, alt, caption }: Figure, place: Place): SiteFigure {
  const photo = place.photos.get(id);
  if (!photo) throw new Error(`Page "${place.page}" shows photo "${id}", which the dossier does not list.`);
  const permanent = place.permanent.get(id);
  return {
    id: null,
    alt,
    caption: linked(caption, place),
    picture: plannedPicture(photo, (file) => relativeTo(place.page, file)),
    marks: siteMarks(photo),
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

function pageLink(from: string, to: string): string {
  return relativeTo(from, `${to}.html`);
}

/** Address of a file of the site, seen from a page: `../photos/a.jpg`. Percent-encoded, so that no name ends early. */
export function relativeTo(page: string, file: string): string {
  const relative = path.posix.relative(path.posix.dirname(page), file);
  return relative.split('/').map(encodeURIComponent).join('/');
}
