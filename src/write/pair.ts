import type { BlockOf, Figure, Inline } from '../model/dossier.ts';
import { dateText } from '../units.ts';

/** What is said of a pair besides its two photos. */
export interface PairAbout {
  /** What is compared: "Plug, inner face 2". */
  title: string;
  /** ISO date of either photo, null where none is known. */
  beforeOn: string | null;
  afterOn: string | null;
  /** Taken between the two, in order of time. */
  during?: readonly Figure[];
  /** What changed, before the dates. */
  words?: Inline;
  id?: string;
}

/** Two photos of one place, the earlier first, with their dates in words; null where both are the same photo, as there is nothing to compare. */
export function pairBlock(before: Figure, after: Figure, about: PairAbout): BlockOf<'pair'> | null {
  if (before.photo === after.photo) return null;
  const { title, beforeOn, afterOn, during = [], words = [], id } = about;
  const between = during.filter(({ photo }) => photo !== before.photo && photo !== after.photo);
  return {
    type: 'pair',
    ...(id === undefined ? {} : { id }),
    title,
    before,
    after,
    ...(between.length === 0 ? {} : { during: between }),
    caption: [...words, { text: `${words.length > 0 ? ' ' : ''}${datesText(beforeOn, afterOn)}`, quiet: true }],
  };
}

/** A date not known is said: whether a day or a year lies between the two is the first thing to ask. */
function datesText(beforeOn: string | null, afterOn: string | null): string {
  const day = (date: string | null): string => (date === null ? 'date not known' : dateText(date));
  if (beforeOn !== null && beforeOn === afterOn) return `Both on ${day(beforeOn)}.`;
  return `Before: ${day(beforeOn)}; after: ${day(afterOn)}.`;
}
