import type { Catalogue, WorkKind } from './catalogue.ts';

/** A word of a text. A clause ends at punctuation, "then" and "but": no phrase and no "not" reaches beyond it. */
interface Token {
  word: string;
  clause: number;
}

/** A spelling as words; `…` stands for up to `widest` words of the same clause. */
interface Phrase {
  kind: WorkKind;
  words: string[];
  /** Words without the gaps. */
  count: number;
}

interface Words {
  /** First word → phrases. */
  phrases: Map<string, Phrase[]>;
  beside: Map<string, Phrase[]>;
  /** Whole step → kind. */
  alone: Map<string, WorkKind>;
  /** Spellings of parts of more than one word: the "seal" of "boot seal" is no work. */
  parts: Set<string>;
}

interface Match {
  kind: WorkKind;
  from: number;
  /** One behind the last word. */
  to: number;
  count: number;
}

const widest = 6;
/** Words back to which a "not" is looked for: nobody types a longer clause. */
const farthest = 40;
const set = (words: string): ReadonlySet<string> => new Set(words.split(' '));

/** Words a phrase may have between its own: "fit the 4 plugs". */
const fillers = set('the a an both all each every its some two three four five six seven eight nine ten mm cm x h hr hrs hour hours min mins minutes l');
/** Ends of phrases over which "and" carries on: "take the mat and the pad out". */
const particles = set('off out up back in away down apart again on shut open drip');
/** What comes behind these in a clause is not done, or not here. */
const negators = set('no not never without neither nor cannot avoid skip omit unless except than instead rather before after until till once when while where if since following prior ready prepare prepared');
/** A kind behind one of these is a thing: "clean under the wax", "old paint". */
const articles = set('the old any this these those existing its original previous loose flaking over under behind from near round around beside between onto on keep kept keeps stay stays');
/** A kind before one of these is no work either: "weld line", "wax lance". */
const heads = set('hole holes line lines film lance lances gun code thickness silt rag rags cloth bath run runs');
/** What may follow new metal. */
const joints = set('and or with from in into at of on to for by where under over behind left right inside outside underneath again front rear both');
const auxiliaries = set('is was are were be been being has have had still yet');

const known = new WeakMap<Catalogue, Words>();

/**
 * Kinds of work named in a text, in the order of the words, each once. The longest spelling counts, as whole words;
 * what is negated ("no welding"), put off ("before waxing"), asked ("weld?"), looked at ("examine the weld") or a thing
 * ("under the wax") does not count.
 */
export function kindsIn(catalogue: Catalogue, words: string): WorkKind[] {
  const { phrases, beside, alone, parts } = wordsOf(catalogue);
  const { tokens, doubted } = tokensOf(words);
  const matches = longest(tokens, phrases);
  const kept = matches.filter((match) => !doubted.has(tokens[match.from]?.clause ?? -1) && isWork(tokens, match, parts));
  const looked = withoutLookedAt(tokens, kept);
  const taken = new Set(matches.flatMap(({ from, to }) => Array.from({ length: to - from }, (_, at) => from + at)));
  const more = [...candidates(tokens, beside).filter((match) => !doubted.has(tokens[match.from]?.clause ?? -1) && isWork(tokens, match, parts)), ...whole(tokens, taken, doubted, alone)];
  const found = [...looked, ...more].sort((a, b) => a.from - b.from || a.kind.order - b.kind.order);
  return [...new Set(found.map((match) => match.kind))];
}

/** The record of a kind of work, undefined where the catalogue has none. */
export function workKindOf(catalogue: Catalogue, id: string): WorkKind | undefined {
  return catalogue.works.find((kind) => kind.id === id);
}

/** How many of the kinds `a` are among `b`. Drains opened again stand for drains opened, and the other way round. */
export function kindsInCommon(catalogue: Catalogue, a: readonly string[], b: readonly string[]): number {
  const isDrain = (id: string): boolean => workKindOf(catalogue, id)?.effect === 'opens drains';
  return a.filter((id) => b.includes(id) || (isDrain(id) && b.some(isDrain))).length;
}

/** Why a kind comes after another, needs it, or undoes it: the reason given for the two, else the general one. A clause. */
export function whyOf(kind: WorkKind, other: string): string {
  return kind.reasons.find((reason) => reason.of.includes(other))?.why ?? kind.why;
}

function wordsOf(catalogue: Catalogue): Words {
  const have = known.get(catalogue);
  if (have) return have;
  const made: Words = { phrases: new Map(), beside: new Map(), alone: new Map(), parts: new Set() };
  const add = (to: Map<string, Phrase[]>, kind: WorkKind, spelling: string): void => {
    const words = form(spelling);
    const [first] = words;
    if (first !== undefined) to.set(first, [...(to.get(first) ?? []), { kind, words, count: words.filter((word) => word !== '…').length }]);
  };
  for (const kind of catalogue.works) {
    for (const spelling of new Set([kind.name.gb, kind.name.us, ...kind.also].map((one) => form(one).join(' ')))) add(made.phrases, kind, spelling);
    for (const spelling of kind.beside) add(made.beside, kind, spelling);
    for (const spelling of kind.alone) made.alone.set(form(spelling).join(' '), kind);
  }
  for (const part of catalogue.parts) {
    for (const spelling of [part.name.gb, part.name.us, ...part.also]) made.parts.add(form(spelling).join(' '));
  }
  known.set(catalogue, made);
  return made;
}

function form(text: string): string[] {
  return plainOf(text).split(/[\s-]+/).filter((word) => word !== '');
}

function plainOf(text: string): string {
  return text.normalize('NFC').toLowerCase().replace(/[‘’ʼ]/g, "'");
}

/** Words with the clause they stand in; `doubted` are clauses that end in a question mark. */
function tokensOf(text: string): { tokens: Token[]; doubted: Set<number> } {
  const tokens: Token[] = [];
  const doubted = new Set<number>();
  let clause = 0;
  for (const [piece] of plainOf(text).matchAll(/\d+(?:[.,]\d+)*\p{L}*|\p{L}[\p{L}\p{M}\p{N}]*(?:'\p{L}+)?|[^\s\p{L}\p{N}'_-]|[–—-](?=\s)/gu)) {
    if (piece === '&' || piece === '+') tokens.push({ word: 'and', clause });
    else if (/^[\p{L}\p{N}]/u.test(piece) && piece !== 'then' && piece !== 'but') tokens.push({ word: piece, clause });
    else {
      if (piece === '?') doubted.add(clause);
      clause += 1;
    }
  }
  return { tokens, doubted };
}

/** Matches that do not overlap, the one of most words first; of two as long the one that spans less. */
function longest(tokens: readonly Token[], phrases: ReadonlyMap<string, Phrase[]>): Match[] {
  const all = candidates(tokens, phrases).sort((a, b) => b.count - a.count || a.to - a.from - (b.to - b.from) || a.from - b.from || a.kind.order - b.kind.order);
  const taken = new Set<number>();
  const chosen: Match[] = [];
  for (const match of all) {
    const span = Array.from({ length: match.to - match.from }, (_, at) => match.from + at);
    if (span.some((at) => taken.has(at))) continue;
    for (const at of span) taken.add(at);
    chosen.push(match);
  }
  return chosen.sort((a, b) => a.from - b.from);
}

function candidates(tokens: readonly Token[], phrases: ReadonlyMap<string, Phrase[]>): Match[] {
  return tokens.flatMap((token, from) => {
    const single = phrases.get(token.word) ?? [];
    const plural = token.word.endsWith('s') ? (phrases.get(token.word.slice(0, -1)) ?? []).filter((phrase) => phrase.count > 1) : [];
    return [...single, ...plural].flatMap((phrase) => {
      const to = endOf(tokens, from, phrase);
      return to < 0 || isHalf(tokens, phrase.kind, to) ? [] : [{ kind: phrase.kind, from, to, count: phrase.count }];
    });
  });
}

/** One behind the last word of the phrase, where it stands at `from`; -1 where it does not. */
function endOf(tokens: readonly Token[], from: number, phrase: Phrase): number {
  const clause = tokens[from]?.clause;
  let at = from + 1;
  let gap = 0;
  for (const word of phrase.words.slice(1)) {
    if (word === '…') {
      gap = widest;
      continue;
    }
    for (let left = gap; ; at += 1) {
      const token = tokens[at];
      if (token?.clause !== clause || token === undefined) return -1;
      if (token.word === word || token.word === `${word}s`) break;
      if (fillers.has(token.word) || /^\d/.test(token.word)) continue;
      if (left === 0 || (token.word === 'and' && !particles.has(word))) return -1;
      left -= 1;
    }
    at += 1;
    gap = 0;
  }
  return at;
}

function isWork(tokens: readonly Token[], match: Match, parts: ReadonlySet<string>): boolean {
  const clause = tokens[match.from]?.clause;
  const wordAt = (at: number): string => (tokens[at]?.clause === clause ? (tokens[at]?.word ?? '') : '');
  const next = wordAt(match.to);
  if (isPutOff(wordAt, match.from) || isDenied(wordAt, match.to)) return false;
  // "do the welding" is work, "under the weld" is not.
  const last = wordAt(match.to - 1);
  if (articles.has(wordAt(match.from - 1)) && !last.endsWith('ing') && !particles.has(last)) return false;
  return match.count > 1 || !(heads.has(next) || parts.has(`${wordAt(match.from - 1)} ${wordAt(match.from)}`));
}

/** New metal is named by the last word of its phrase: the "new sill" of "new sill plugs" is none. */
function isHalf(tokens: readonly Token[], kind: WorkKind, to: number): boolean {
  const next = tokens[to];
  const metal = kind.effect === 'patches' || kind.effect === 'replaces';
  return metal && next !== undefined && next.clause === tokens[to - 1]?.clause && !joints.has(next.word) && !/^\d/.test(next.word);
}

/** "not", "without", "before" and the like earlier in the clause. */
function isPutOff(wordAt: (at: number) => string, from: number): boolean {
  for (let at = from - 1; wordAt(at) !== '' && at > from - farthest; at -= 1) {
    const word = wordAt(at);
    // "after that" goes on with the work; "3 h for welding" is the time of it.
    if (negators.has(word) || word.endsWith("n't")) return !(word === 'after' && /^(that|this|which)$/.test(wordAt(at + 1)));
    if (word === 'for' && !/^(h|hrs?|hours?|min|mins|minutes)$/.test(wordAt(at - 1))) return true;
    if (word === 'to' && /^(back|down)$/.test(wordAt(at - 1))) return true;
  }
  return false;
}

/** "welding not needed", "wax is not done". */
function isDenied(wordAt: (at: number) => string, to: number): boolean {
  let at = to;
  while (auxiliaries.has(wordAt(at))) at += 1;
  return wordAt(at) === 'not' || wordAt(at) === 'never' || wordAt(at).endsWith("n't");
}

/** Behind "examine" in its clause stands what is examined, unless "and" begins something new. */
function withoutLookedAt(tokens: readonly Token[], matches: readonly Match[]): Match[] {
  let looking = -1;
  return matches.filter(({ kind, from }) => {
    const clause = tokens[from]?.clause ?? -1;
    const begins = clause !== looking || /^(and|or)$/.test(tokens[from - 1]?.word ?? '');
    if (begins) looking = kind.labour === 'inspect' || kind.labour === 'look again' ? clause : -1;
    return begins;
  });
}

/** Clauses, and the sides of an "and", that are nothing but a word like "plugs", with its number and time. */
function whole(tokens: readonly Token[], taken: ReadonlySet<number>, doubted: ReadonlySet<number>, alone: ReadonlyMap<string, WorkKind>): Match[] {
  const found: Match[] = [];
  let from = 0;
  for (let at = 0; at <= tokens.length; at += 1) {
    const token = tokens[at];
    if (token && token.clause === tokens[from]?.clause && token.word !== 'and') continue;
    const words = tokens.slice(from, at).map((one) => one.word).filter((word) => word !== 'and' && !fillers.has(word) && !/^\d/.test(word)).join(' ');
    const kind = alone.get(words) ?? alone.get(words.replace(/s$/, ''));
    const free = !Array.from({ length: at - from }, (_, index) => from + index).some((index) => taken.has(index));
    if (kind && free && !doubted.has(tokens[from]?.clause ?? -1)) found.push({ kind, from, to: at, count: 1 });
    from = at;
  }
  return found;
}
