import type { Entry, Note } from '../../model/notes.ts';
import type { Item, Reader } from './reader.ts';
import { report } from './reader.ts';
import type { Snippet } from './source.ts';

/** `same view: IMG_4022`: the photo of an earlier visit that the picture above repeats. It is looked for there. Null where no picture stands above. */
export function sameViewOf(reader: Reader, above: readonly Entry[], value: Snippet, item: Item): Note | null {
  const of = above.findLast((entry) => entry.photos.length > 0)?.photos.at(-1);
  if (of) return { type: 'note', key: 'same view', text: item.text, spot: item.spot, origin: { kind: 'fact' }, photos: item.pictures, words: value.text, of };
  report(reader, item.spot, 'warning', 'same-view-alone', { found: '"same view:" with no picture above it', expected: 'the picture that shows the same as one of an earlier visit', advice: 'Move it under that picture; the line is kept as a remark.' });
  return null;
}
