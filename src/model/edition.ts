import type { Notice } from './notice.ts';

/**
 * Every section an edition may list. `visits` tells of each visit in turn, `changes` what came of things since the one before, `lives` the same over all visits,
 * `hindsight` what later looks say of earlier outlooks, `pairs` before and after; all five are left out where there is one visit. `map` is the body drawn, which stands with `zones` where an edition does not list it; `zones` is the list of all zones, `zone-pages` one section per zone.
 * The writer has one function for each; the compiler names what is missing.
 */
export const sectionIds = [
  'summary', 'visits', 'changes', 'pairs', 'lives', 'hindsight', 'map', 'steps', 'zones', 'zone-pages', 'outlook', 'not-seen', 'register', 'readings', 'repairs', 'work', 'ledger', 'again', 'photos',
  'views', 'car', 'scope', 'corrections', 'method', 'cautions', 'files', 'as-written', 'notices', 'notices-count',
] as const;
export type SectionId = (typeof sectionIds)[number];

/** An edition may order these and may not leave them out: without them a dossier would say less than was seen. */
export const requiredSections: readonly SectionId[] = [
  'summary', 'zones', 'zone-pages', 'outlook', 'not-seen', 'register', 'photos', 'scope', 'method', 'cautions', 'files',
];

/** One reader's dossier: which sections, in which order, with which opening words. Read from `templates/editions/<id>.md`. */
export interface Edition {
  id: string;
  title: string;
  reader: string;
  /** In order. `page` is set where the edition puts a section on another page than usual. */
  sections: { id: SectionId; page: string | null }[];
  /** Markdown, may be empty. */
  opening: string;
  /** Markdown, may be empty. */
  limits: string;
  /** Errors in the edition file itself. */
  notices: Notice[];
}
