import type { Block, BlockOf, Dossier, Inline } from '../../model/dossier.ts';
import type { DrawnBar } from '../bars.ts';
import type { SiteMarks } from './marks.ts';
import type { Picture } from './picture.ts';

/** A link as it stands in the HTML: relative, or to the outside. */
export interface SiteLink {
  href: string;
  label: string;
}
/** A figure with its picture looked up; `href` of its inline is already relative. */
export interface SiteFigure {
  id: string | null;
  alt: string;
  caption: Inline;
  picture: Picture;
  /** Drawn over the picture; null where nothing is. */
  marks: SiteMarks | null;
  /** The page's first picture is near the first screen; all others wait until they are scrolled to. */
  eager: boolean;
}
/** One line of an outlook with its bars as they are drawn. */
export type SiteOutlook = Omit<BlockOf<'outlook'>['items'][number], 'bars'> & { bars: DrawnBar[] };
export type SiteZone = BlockOf<'zones'>['items'][number] & { href: string };
/** Blocks as the templates take them: every `href` leads from this page, every photo is looked up. */
export type SiteBlock =
  | Exclude<Block, { type: 'photos' | 'outlook' | 'zones' | 'list' | 'quote' }>
  | { type: 'photos'; look: BlockOf<'photos'>['look']; figures: SiteFigure[] }
  | { type: 'outlook'; caption: string; items: SiteOutlook[] }
  | { type: 'zones'; items: SiteZone[] }
  | { type: 'list'; ordered: boolean; items: SiteBlock[][] }
  | { type: 'quote'; blocks: SiteBlock[] };
export type SiteBlockOf<T extends Block['type']> = Extract<SiteBlock, { type: T }>;

export interface SiteSection {
  id: string;
  title: string;
  /** Opening paragraphs and the key facts set beside them; null where the section opens otherwise. */
  opening: { words: SiteBlock[]; facts: SiteBlockOf<'facts'> } | null;
  blocks: SiteBlock[];
}
export interface SitePage {
  /** `index`, `zones/sill-left`. */
  path: string;
  /** Of the document, for the browser's tab. */
  title: string;
  /** To the overview; null on the overview itself. */
  home: string | null;
  /** To the same dossier as a PDF; null where none lies beside the site. */
  pdf: string | null;
  navigation: (SiteLink & { current: boolean })[];
  /** Way here from the overview, only on pages inside a folder. */
  trail: SiteLink[];
  /** Title of the page's first section. */
  here: string;
  previous: SiteLink | null;
  next: SiteLink | null;
  sections: SiteSection[];
}
/** All that the templates print, as plain data: they look nothing up and decide nothing. */
export interface SiteData {
  language: Dossier['language'];
  title: string;
  subtitle: string;
  draft: boolean;
  /** "Draft, not issued", "Dossier 2026-014, issued 15 March 2026". */
  status: string;
  edition: string;
  limits: string;
  author: string;
  version: string;
  pages: SitePage[];
}
