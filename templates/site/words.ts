import type { SiteBlockOf } from '../../src/print/site/data.ts';

/** The site's own words, in one place. Everything else a page says comes from the dossier. */
export const words = {
  skip: 'Skip to the text',
  parts: 'Parts of this dossier',
  trail: 'Where this page stands',
  neighbours: 'Neighbouring zones',
  previous: 'Previous',
  next: 'Next',
  caution: 'Caution',
  /** Before what the caution applies to. */
  applies: 'Applies',
  source: 'Source',
  structure: 'carries load',
  /** Once above the bars of an outlook. */
  bars: 'The thick line, solid or hollow, is the range; the short upright is its middle; the dashed line is how far what nobody saw could move it.',
  notShown: 'Photo not shown',
  pdf: 'as a PDF',
  madeWith: 'made with Sillbook',
  viewer: { title: 'Photo', close: 'Close', previous: 'Previous photo', next: 'Next photo', file: 'The picture by itself', unmarked: 'The picture by itself, without marks' },
} as const;

/** Marks whose words a remark are: fact, opinion or hearsay. */
export function originWords(remark: Pick<SiteBlockOf<'remark'>, 'origin' | 'by'>): string {
  if (remark.origin === 'fact') return 'Seen';
  if (remark.origin === 'opinion') return 'Opinion';
  return remark.by === undefined ? 'Told' : `Told by ${remark.by}`;
}
