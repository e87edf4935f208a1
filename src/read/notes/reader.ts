import type { Catalogue } from '../../model/catalogue.ts';
import type { Level, Notice, Spot } from '../../model/notice.ts';
import type { Settings } from '../../model/settings.ts';
import type { Lexicon } from './lexicon.ts';
import type { Snippet, Source } from './source.ts';
import { spotOfSnippet } from './source.ts';
import type { PhotoName } from '../../model/notes.ts';

/** What the readers of single items share: the words known, the file, and where notices go. */
export interface Reader {
  catalogue: Catalogue;
  lexicon: Lexicon;
  source: Source;
  settings: Settings;
  /** Plain file names and stems of the photos in the job, for bare mentions. */
  photoNames: ReadonlySet<string>;
  /** Photo names with spaces in them, lower case, longest first. */
  spacedNames: readonly string[];
  notices: Notice[];
}

/** One list item or picture, cut out of the tree. */
export interface Item {
  /** The item's own words without its pictures. */
  head: Snippet;
  /** As typed, pictures included. */
  text: string;
  spot: Spot;
  pictures: PhotoName[];
  children: Item[];
}

/** Adds a notice about a stretch of the findings. */
export function report(
  reader: Reader,
  at: Snippet | Spot,
  level: Level,
  rule: string,
  words: { found: string; expected?: string; advice?: string },
): void {
  const spot = 'offsets' in at ? spotOfSnippet(reader.source, at, { file: reader.source.file }) : at;
  const { found, expected, advice } = words;
  reader.notices.push({ level, rule, spot, found, ...(expected ? { expected } : {}), ...(advice ? { advice } : {}) });
}

/** Cuts a text for a message. */
export function short(text: string): string {
  const units = Array.from(text);
  return units.length > 60 ? `${units.slice(0, 57).join('')}…` : text;
}
