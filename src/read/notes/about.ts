import { exposures } from '../../model/catalogue.ts';
import type { Exposure, Part } from '../../model/catalogue.ts';
import type { About } from '../../model/notes.ts';
import { plain } from './lexicon.ts';
import type { Lexicon } from './lexicon.ts';
import { placeForm } from '../../model/wording.ts';

/** What the words before the colon name. */
export interface Subject {
  part: Part;
  plural: boolean;
  /** One or, for `inner face 1-3`, several. */
  abouts: About[];
}

const sizePattern = /\b(\d+(?:[.,]\d+)?\s*(?:x\s*\d+(?:[.,]\d+)?\s*)?(?:mm|cm|in|inch|"))(?=$|[\s,])/i;
const cablePattern = /^(?:cable|pipe|hose|loom)\s+\d/i;

/** `plug 25 mm, inner face 1-3, wheel spray`: part, place, size, exposure. Null where no part of the catalogue is named. */
export function subjectOf(lexicon: Lexicon, words: string): Subject | null {
  const pieces = words.split(/,\s+|,$/).map((piece) => piece.trim()).filter((piece) => piece !== '');
  for (const [index, piece] of pieces.entries()) {
    const found = partOf(lexicon, piece);
    if (!found) continue;
    const others = [...pieces.slice(0, index), ...found.rest, ...pieces.slice(index + 1)];
    return { part: found.part, plural: found.plural, abouts: aboutsOf(found.part.id, found.size, others) };
  }
  return null;
}

interface PartFound {
  part: Part;
  plural: boolean;
  size: string | null;
  rest: string[];
}

/** The part a piece names by itself or with its first words; what follows is a place. */
function partOf(lexicon: Lexicon, piece: string): PartFound | null {
  const size = sizePattern.exec(piece)?.[1] ?? null;
  const words = (size === null ? piece : piece.replace(size, ' ')).trim().split(/\s+/);
  for (let count = words.length; count > 0; count -= 1) {
    const entry = lexicon.parts.get(plain(words.slice(0, count).join(' ')));
    if (!entry) continue;
    const rest = words.slice(count).join(' ');
    return { ...entry, size, rest: rest === '' ? [] : [rest] };
  }
  return null;
}

function aboutsOf(part: string, size: string | null, pieces: readonly string[]): About[] {
  let cable: string | null = null;
  let exposure: Exposure | null = null;
  let sized = size;
  const place: string[] = [];
  for (const piece of pieces) {
    const said = exposures.find((one) => one === plain(piece));
    if (said) exposure = said;
    else if (cablePattern.test(piece)) cable = piece;
    else if (sized === null && sizePattern.exec(piece)?.[0] === piece) sized = piece;
    else place.push(placeForm(piece));
  }
  const places = rangeOf(place.join(', '));
  return places.map((one) => ({ part, place: one, size: sized, cable, exposure }));
}

/** `inner face 1-3` is three places, fifty at most. */
function rangeOf(place: string): string[] {
  const match = /^(.*?)(\d{1,3})\s?[-–]\s?(\d{1,3})$/.exec(place);
  if (!match) return [place];
  const [from, to] = [Number(match[2]), Number(match[3])];
  if (to <= from || to - from >= 50) return [place];
  return Array.from({ length: to - from + 1 }, (_, index) => `${match[1]}${from + index}`);
}

/** True where the words before a colon are spelled nearly like a part: then a reader meant one. */
export function partWords(lexicon: Lexicon): string[] {
  return [...lexicon.parts.keys()];
}
