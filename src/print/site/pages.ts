import path from 'node:path';
import type { Dossier, Section } from '../../model/dossier.ts';
import { words } from '../../model/printed-words.ts';
import { dateText } from '../../units.ts';
import { anchorsOf } from './anchors.ts';
import { pageLink, relativeTo, siteSection } from './blocks.ts';
import type { Place } from './blocks.ts';
import { briefOf } from './brief.ts';
import type { SiteData, SiteLink, SitePage } from './data.ts';
import { findIn } from './find.ts';
import { wholePage } from './whole.ts';

/**
 * The pages of a dossier, `index` first, the rest in the order of their first sections, then the site's own: the index, and
 * all on one page.
 * @param beside name of the PDF beside `index.html`, null where there is none; and of a page to be made into one file with everything in it
 * @throws where an anchor or a photo is missing or doubled: a mistake in the writer, never in the job.
 */
export function sitePages(given: Dossier, beside: { pdf?: string | null; oneFile?: string | null } = {}): SiteData {
  const { pdf = null, oneFile = null } = beside;
  const findPage = ownPage('find', given.sections);
  const whole = ownPage('whole', given.sections);
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
    whole: pageLink(page, whole),
    form: 'page' as const,
    brief: page === 'index' ? briefOf(dossier) : null,
  });
  return {
    language: dossier.language,
    title: dossier.title,
    subtitle: dossier.subtitle,
    draft: status.kind === 'draft',
    status: status.kind === 'draft' ? words.site.draft : words.site.issued(status.number, dateText(status.date)),
    edition: dossier.edition.title,
    limits: dossier.limits,
    author: dossier.author,
    version: dossier.generator.version,
    pages: [
      ...paths.sort((a, b) => Number(b === 'index') - Number(a === 'index')).map((page) => ({ ...printed(page), index: null })),
      { ...printed(findPage), title: words.site.findTitle(dossier.title), here: words.find.title, contents: [], index: find },
      wholePage(dossier, { page: whole, anchors, photos, permanent, findPage }, pdf),
      ...(oneFile === null ? [] : [wholePage(dossier, { page: oneFile, anchors, photos, permanent, findPage: null }, null)]),
    ],
  };
}

/** A page of the site's own; a dossier may have a page of that name. */
function ownPage(name: string, sections: readonly Section[]): string {
  let page = name;
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

function sitePage(page: string, paths: readonly string[], dossier: Dossier, place: Place): Omit<SitePage, 'pdf' | 'find' | 'index' | 'whole' | 'form' | 'brief'> {
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
    contents: page.includes('/') || page === 'index' ? [] : contentsOf(sections),
    previous: link(neighbours[at - 1]),
    next: link(neighbours[at + 1]),
    sections: printed,
  };
}

/** Headings of a page long enough to need a list of them; those of the first level, which have been given anchors. */
function contentsOf(sections: readonly Section[]): SiteLink[] {
  const headings = sections.flatMap((section, at): SiteLink[] => [
    ...(at === 0 ? [] : [{ href: `#${section.id}`, label: section.title }]),
    ...section.blocks.flatMap((block) => (block.type === 'heading' && block.level === 3 && block.id !== undefined ? [{ href: `#${block.id}`, label: block.text }] : [])),
  ]);
  // Pictures take the whole width.
  const pictures = sections.some(({ blocks }) => blocks.some(({ type }) => type === 'photos'));
  return pictures || headings.length < 3 ? [] : headings;
}

/** To the page; to the section itself where it is not the first of its page. */
function navigationLink(page: string, section: Section, sections: readonly Section[]): string {
  const first = sections.find((other) => other.page === section.page);
  return first === section ? pageLink(page, section.page) : `${pageLink(page, section.page)}#${section.id}`;
}

/** The overview, then the section that lists the zones, where the dossier has one elsewhere. */
function trailTo(page: string, sections: readonly Section[]): SiteLink[] {
  const start = sections.find((section) => section.page === 'index');
  const list = sections.find((section) => section.blocks.some((block) => block.type === 'zones' && block.items.length > 0));
  return [
    ...(start ? [{ href: pageLink(page, 'index'), label: start.title }] : []),
    ...(list && list !== start && list.page !== page ? [{ href: `${pageLink(page, list.page)}#${list.id}`, label: list.title }] : []),
  ];
}
