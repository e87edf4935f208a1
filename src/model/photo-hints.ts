import type { Notice } from './notice.ts';
import { inSentence } from './wording.ts';

/**
 * Rules whose notices say what is worth a second look about one photo. Their `found` is a clause that can stand alone:
 * "Looks unsharp". A hint is never a verdict, and nothing is left out for it.
 */
export const photoHintRules: readonly string[] = ['photo-unsharp', 'photo-dark', 'photo-bright', 'photo-similar', 'photo-twice', 'photo-edited', 'photo-changed-later', 'clock-jump'];

/** Hints about the photo of this path, as clauses that begin small: "looks unsharp". */
export function hintsAbout(notices: readonly Notice[], path: string): string[] {
  return notices.filter(({ rule, spot }) => spot?.file === path && photoHintRules.includes(rule)).map(({ found }) => inSentence(found));
}
