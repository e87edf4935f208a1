import type { Words } from '../../../src/model/printed-words.ts';
import type { Found, Kind } from './compare-files.ts';

/** What comes of checking the originals; `{}` is a number or a name. The page that has the check carries these words, no script holds any. */
export type CheckWords = Words['check'];

/** "22 files in the list: 19 unchanged, 1 changed, 1 renamed, 1 missing.", and what was given besides: counts first, none left out. */
export function originalsWords(say: CheckWords, listed: number, counts: Readonly<Record<Kind, number>>): string {
  const said = (kind: Kind): string => say.counts[kind].replace('{}', String(counts[kind]));
  const some = (kinds: readonly Kind[]): string[] => kinds.filter((kind) => counts[kind] > 0).map(said);
  const first: readonly Kind[] = ['unchanged', 'changed', 'renamed', 'missing'];
  const besides = some(['unknown', 'copy', 'other list', 'list', 'dossier']);
  return [
    `${say.listed[listed === 1 ? 'one' : 'more'].replace('{}', String(listed))}: ${[...first.map(said), ...some(['unread', 'no hash'])].join(', ')}.`,
    ...(besides.length > 0 ? [`${say.besides}: ${besides.join(', ')}.`] : []),
  ].join(' ');
}

/** What is said of one file, after its name. */
export function foundWords(say: CheckWords, { kind, other }: Found): string {
  return say.found[kind].replace('{}', () => other);
}
