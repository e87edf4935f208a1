import type { Dossier } from '../../model/dossier.ts';
import { words } from '../../model/printed-words.ts';
import { plannedFigures } from '../one-file/figures.ts';
import { pageLink, relativeTo, siteSection } from './blocks.ts';
import type { Place } from './blocks.ts';
import { briefOf } from './brief.ts';
import type { SitePage } from './data.ts';

/**
 * Every section of a dossier on one page, in the dossier's order: for a print of all, for the browser's own search, and as
 * what the one-file edition is made from. Links within the dossier stay on the page.
 * @param place where that page is; without an index to lead to it is the page of the one-file edition, which leads to no other file
 * @param pdf name of the PDF beside it, null where there is none
 */
export function wholePage(dossier: Dossier, place: Omit<Place, 'shown'>, pdf: string | null): SitePage {
  const { page, findPage } = place;
  const alone = findPage === null;
  const anchors = new Map([...place.anchors.keys()].map((anchor) => [anchor, page]));
  const here: Place = { ...place, anchors, ...(alone ? { shown: plannedFigures(dossier) } : {}) };
  const sections = dossier.sections.map((section) => siteSection(section, dossier, here));
  const first = sections.flatMap(({ blocks }) => blocks).find((block) => block.type === 'photos')?.figures[0];
  if (first) first.eager = true;
  return {
    path: page,
    title: alone ? dossier.title : words.site.wholeTitle(dossier.title),
    form: alone ? 'one file' : 'whole',
    home: null,
    find: findPage === null ? null : pageLink(page, findPage),
    index: null,
    pdf: pdf === null ? null : relativeTo(page, pdf),
    whole: alone ? null : pageLink(page, 'index'),
    brief: briefOf(dossier),
    navigation: dossier.sections.flatMap(({ id, nav }) => (nav === undefined ? [] : [{ href: `#${id}`, label: nav, current: false }])),
    trail: [],
    contents: [],
    here: dossier.title,
    previous: null,
    next: null,
    sections,
  };
}
