import type { Condition } from '../../model/catalogue.ts';
import type { Entry, Finding, NotFitted, NotSeen } from '../../model/notes.ts';
import type { Subject } from './about.ts';
import { didYouMean, nearest, plain } from './lexicon.ts';
import { findWord, lookedIn, originIn, takePhotos } from './mentions.ts';
import { typedHours } from './numbers.ts';
import type { Item, Reader } from './reader.ts';
import { report, short } from './reader.ts';
import type { Snippet } from './source.ts';
import { part, split } from './source.ts';

/** Conditions and free words: the first full stop followed by a space parts them. */
export function splitValue(value: Snippet): { first: Snippet; rest: Snippet } {
  const stop = /\.(?=\s|$)/.exec(value.text);
  if (!stop) return { first: value, rest: part(value, value.text.length) };
  return { first: part(value, 0, stop.index), rest: part(value, stop.index + 1) };
}

interface Judged {
  conditions: string[];
  details: string[];
  notSeen: boolean;
  notFitted: boolean;
}

const qualifier = /^(?:slightly|lightly|badly|heavily|partly|mostly|very|a little|light|heavy|some|severely|completely|fully|quite|just|still|now|again|is|are|all) /;
const trailing = / (?:by|with|at|in|on|from|near|under|over|around|along|through|to|across|behind|all|and|for) .*$/;

/** `plug, inner face 1: cracked, loose. free words. IMG_4023`: one finding for each place named. */
export function findingsOf(reader: Reader, subject: Subject, value: Snippet, item: Item): Entry[] {
  const { first, rest } = splitValue(value);
  const head = takePhotos(reader, first);
  const judged = judge(reader, subject, head.rest, item);
  const tail = takePhotos(reader, rest);
  const photos = [...item.pictures, ...head.photos, ...tail.photos];
  const words = tail.rest.text;
  const base = { text: item.text, spot: item.spot, origin: originIn(words), photos, words };
  return subject.abouts.map((about): Finding | NotSeen | NotFitted => {
    if (judged.notSeen && judged.conditions.length === 0) {
      return { ...base, type: 'not seen', what: aboutWords(subject, about.place), about, ...whyUnseen(reader, tail.rest, judged.details) };
    }
    if (judged.notFitted && judged.conditions.length === 0) return { ...base, type: 'not fitted', about, what: aboutWords(subject, about.place) };
    const looked = lookedIn(reader, words);
    const origin = looked.evidence === 'told' && base.origin.kind === 'fact' ? { kind: 'told' as const, by: 'not named' } : base.origin;
    return { ...base, origin, type: 'finding', about, conditions: judged.conditions, details: judged.details, looked, was: null, marks: [], work: [] };
  });
}

function aboutWords(subject: Subject, place: string): string {
  return place === '' ? subject.part.name.gb : `${subject.part.name.gb}, ${place}`;
}

function judge(reader: Reader, subject: Subject, words: Snippet, item: Item): Judged {
  const judged: Judged = { conditions: [], details: [], notSeen: false, notFitted: false };
  if (words.text === '') {
    report(reader, item.spot, 'warning', 'condition-missing', {
      found: `Nothing after "${short(item.head.text)}"`,
      expected: 'a condition such as sound, cracked or missing',
      advice: 'Write what was seen after the colon; until then the line counts as "cannot tell".',
    });
    return judged;
  }
  for (const piece of split(words, /[,;]\s+/g)) takePiece(reader, subject, piece, judged);
  if ((judged.notSeen || judged.notFitted) && judged.conditions.length > 0) {
    report(reader, words, 'warning', 'condition-contradicts', {
      found: `"${short(words.text)}" says that it was and was not seen or fitted`,
      expected: 'one of the two',
      advice: 'What was seen counts; write what was not seen as a line of its own.',
    });
  }
  if (subject.plural && subject.abouts.length === 1 && subject.abouts[0]?.place === '' && judged.conditions.length > 0) {
    report(reader, item.spot, 'note', 'count-missing', {
      found: `"${short(item.head.text)}" without a number`,
      expected: `a count such as "${subject.part.plural.gb}: 4 expected, 4 sound"`,
      advice: 'It counts as one opening until then.',
    });
  }
  return judged;
}

function takePiece(reader: Reader, subject: Subject, piece: Snippet, judged: Judged): void {
  const known = reader.lexicon.conditions.get(subject.part.group) ?? new Map<string, Condition>();
  const words = plain(piece.text);
  if (unseenWords.has(words)) judged.notSeen = true;
  else if (words === 'not fitted') judged.notFitted = true;
  else if (/\?\s*$/.test(piece.text)) doubted(reader, piece, judged);
  else {
    const found = conditionsIn(words, known);
    for (const { id } of found) if (!judged.conditions.includes(id)) judged.conditions.push(id);
    if (found.length === 0 || (found.length === 1 && !known.has(words))) judged.details.push(piece.text);
    if (found.length === 0 && !isDetail(words, judged, known)) unknownCondition(reader, subject, piece, known);
  }
}

const unseenWords = new Set(['not seen', 'unseen', 'not checked', 'unchecked', 'not looked at', 'not inspected', 'not examined', 'could not see', "couldn't see", 'not visible']);

/** `sound?` is a doubt, not a state: it is kept as words, and the opening cannot be told. */
function doubted(reader: Reader, piece: Snippet, judged: Judged): void {
  judged.details.push(piece.text);
  report(reader, piece, 'note', 'condition-doubted', {
    found: `"${short(piece.text)}" with a question mark`,
    expected: 'a condition without one',
    advice: 'It counts as "cannot tell".',
  });
}

/** The conditions a piece names: by itself, behind a qualifier, before a cause, or two joined by "and". */
function conditionsIn(words: string, known: ReadonlyMap<string, Condition>): Condition[] {
  const exact = known.get(words);
  if (exact) return [exact];
  // "wax good 60 %" is wax good, with its extent.
  const bare = words.replace(qualifier, '').replace(/,? \d[\d.,x ]*(%|mm|cm|per cent|percent)?$/, '');
  if (bare.includes(' and ')) {
    const both = bare.split(' and ').map((one) => known.get(one.replace(qualifier, '')) ?? known.get(one.replace(trailing, '')));
    if (both.every((one) => one !== undefined)) return both;
  }
  const found = known.get(bare) ?? known.get(bare.replace(trailing, '')) ?? known.get(words.replace(trailing, ''));
  return found ? [found] : [];
}

/** Measures and causes are details: a number with a unit, or words after a condition that are not one misspelled. */
function isDetail(words: string, judged: Judged, known: ReadonlyMap<string, Condition>): boolean {
  return /\d/.test(words) || (judged.conditions.length > 0 && (words.includes(' ') || nearest(words, known.keys()).length === 0));
}

function unknownCondition(reader: Reader, subject: Subject, piece: Snippet, known: ReadonlyMap<string, Condition>): void {
  const names = [...new Set([...known.values()].map((one) => one.name.gb))];
  const rust = subject.part.group === 'metal' && /^(some |a bit of |a little )?(rust\w*|corro\w+)\b/.test(plain(piece.text));
  const hint = rust ? 'Say which: surface rust, scaling, pitted, thin or holed.' : didYouMean(piece.text, known.keys());
  report(reader, piece, 'warning', 'condition-unknown', {
    found: `Unexpected "${short(piece.text)}"`,
    expected: `one of ${names.join(', ')} for a ${subject.part.name.gb}`,
    advice: hint || 'The words are kept as they are; put free words after a full stop.',
  });
}

/** Reason, way and hours to see what was not seen, from free words and details. */
export function whyUnseen(
  reader: Reader,
  words: Snippet,
  details: readonly string[],
): { reason: string | null; reasonWords: string; toSee: string; hours: NotSeen['hours'] } {
  const sentences = [...details, ...split(words, /\.(?=\s|$)/g).map((one) => one.text)];
  const way = sentences.filter((one) => /^to see( it)?\b/i.test(one));
  const why = sentences.filter((one) => !/^to see( it)?\b/i.test(one));
  const toSee = way.map((one) => one.replace(/^to see( it)?\s*:?\s*/i, '')).join('. ');
  const reasonWords = why.join('. ');
  const hours = typedHours(toSee);
  return { reason: reasonOf(reader, reasonWords), reasonWords, toSee, hours };
}

/** The catalogue's reason that the words name, the longest spelling first. */
export function reasonOf(reader: Reader, words: string): string | null {
  const text = ` ${plain(words)} `;
  const found = reader.lexicon.reasons.find(({ words: phrase }) => phrase !== '' && findWord(text, phrase) >= 0);
  return found?.reason.id ?? null;
}
