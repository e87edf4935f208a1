import type { Outcome } from '../../model/catalogue.ts';
import type { Block, BlockOf, Dossier, Inline } from '../../model/dossier.ts';
import type { DrawnBar } from '../bars.ts';
import type { DrawnScale, Sign } from '../plots.ts';
import type { DrawnTimeline } from '../timeline.ts';
import type { PairFrame } from '../pairs.ts';
import type { SiteMap } from './map.ts';
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
  /** Local time as shown, null where none, and where that is known from, a clause. */
  taken: string | null;
  takenFrom: string;
  /** To its place in the photo index, which stays the same from build to build; null where it has none. */
  permanent: string | null;
  /** The page's first picture is near the first screen; all others wait until they are scrolled to. */
  eager: boolean;
}
/** One line of an outlook with its bars as they are drawn. */
export type SiteOutlook = Omit<BlockOf<'outlook'>['items'][number], 'bars'> & { bars: DrawnBar[] };
/** Readings of one quantity with their scale; those of `items` and `drawn.plots` belong together. */
export type SiteScale = BlockOf<'plots'>['scales'][number] & { drawn: DrawnScale };
export type SiteZone = BlockOf<'zones'>['items'][number] & { href: string };
/** What the index links to, though the dossier gives it no anchor. */
export interface Place {
  id?: string | undefined;
}
/** Blocks as the templates take them: every `href` leads from this page, every photo is looked up. */
export type SiteBlock =
  | Exclude<Block, { type: 'paragraph' | 'remark' | 'code' | 'facts' | 'photos' | 'pair' | 'steps' | 'outlook' | 'plots' | 'timeline' | 'zones' | 'list' | 'quote' }>
  | ((BlockOf<'paragraph'> | BlockOf<'remark'> | BlockOf<'code'>) & Place)
  | { type: 'facts'; look: BlockOf<'facts'>['look']; items: (BlockOf<'facts'>['items'][number] & Place)[] }
  | { type: 'photos'; look: BlockOf<'photos'>['look']; figures: SiteFigure[] }
  | { type: 'pair'; id: string | null; title: string; before: SiteFigure; after: SiteFigure; during: SiteFigure[]; caption: Inline; frame: PairFrame | null }
  | { type: 'steps'; items: (Omit<BlockOf<'steps'>['items'][number], 'state'> & { state: Outcome | null })[] }
  | { type: 'outlook'; caption: string; items: SiteOutlook[] }
  | { type: 'plots'; caption: string; scales: SiteScale[]; signs: Sign[] }
  | { type: 'timeline'; caption: string; label: string; drawn: DrawnTimeline }
  | { type: 'zones'; map: SiteMap | null; items: SiteZone[] }
  | { type: 'list'; ordered: boolean; items: SiteBlock[][] }
  | { type: 'quote'; blocks: SiteBlock[] };
export type SiteBlockOf<T extends Block['type']> = Extract<SiteBlock, { type: T }>;

export interface SiteSection {
  id: string;
  title: string;
  /** Opening paragraphs and the key facts set beside them; null where the section opens otherwise. */
  opening: { words: SiteBlock[]; facts: SiteBlockOf<'facts'>; /** What follows the facts; it stands below the words where there is room beside. */ after: SiteBlock[] } | null;
  blocks: SiteBlock[];
  /** Openings by state, each number a link to them in the index, before which block; null where the section is no register. */
  counts: { at: number; items: { state: Outcome; count: number; href: string }[] } | null;
  /** Where originals can be checked against the table of their hashes: before which block, and the hash of the list; null elsewhere. */
  check: { at: number; listSha256: string } | null;
}
/** The first steps in a line each, and the hash to be lodged elsewhere. */
export interface SiteBrief {
  steps: { title: Inline; state: Outcome | null }[];
  /** How many there are in all. */
  count: number;
  listSha256: string;
}
export interface SitePage {
  /** `index`, `zones/sill-left`. */
  path: string;
  /** Of the document, for the browser's tab. */
  title: string;
  /** To the overview; null on the overview itself. */
  home: string | null;
  /** One page of several; everything on one page; or that one made into a file that needs no other. */
  form: 'page' | 'whole' | 'one file';
  /** To everything on one page; on that page itself back to the overview; null in a file that needs no other. */
  whole: string | null;
  /** What a print on one sheet adds to the answer and the drawing; null where it is not printed from. */
  brief: SiteBrief | null;
  /** To the index; null on the index itself, and where there is none. */
  find: string | null;
  /** The index, on its own page. */
  index: SiteFind | null;
  /** To the same dossier as a PDF; null where none lies beside the site. */
  pdf: string | null;
  navigation: (SiteLink & { current: boolean })[];
  /** Way here from the overview, only on pages inside a folder. */
  trail: SiteLink[];
  /** Headings of this page, where it is long; empty elsewhere. */
  contents: SiteLink[];
  /** Title of the page's first section. */
  here: string;
  previous: SiteLink | null;
  next: SiteLink | null;
  sections: SiteSection[];
}
/** What a line of the index is: its words stand in `printed-words.ts`. */
export type FindKind = 'section' | 'opening' | 'observation' | 'reading' | 'photo' | 'step' | 'words' | 'outlook' | 'row' | 'caution';
/** A line of the index: a link to its permanent place, its state, and what is said there. */
export interface FindLine {
  kind: FindKind;
  href: string;
  /** Words of the link; empty where `origin` says whose words they are. */
  title: string;
  state: Outcome | null;
  text: string;
  origin: { origin: BlockOf<'remark'>['origin']; by?: string } | null;
  /** Id of the part it is about; null where it is about none. */
  part: string | null;
  /** Further zones it belongs to. */
  zones: string[];
  /** In metal that carries load, or within 30 cm of a safety mounting. */
  load: boolean;
  /** Numbers of the terms of the index it is about, besides those of its group. */
  terms: number[];
}
/** Lines of one zone; of one page where `zone` is null. */
export interface FindGroup {
  zone: string | null;
  title: string;
  load: boolean;
  terms: number[];
  lines: FindLine[];
}
export interface SiteFind {
  groups: FindGroup[];
  /** By name. */
  parts: { id: string; name: string }[];
  /** Names that mean the same, with `|` between; the first is the usual one. Behind `=` only whole ones count. */
  terms: string[];
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
