import { distance } from 'fastest-levenshtein';
import type { Catalogue, Condition, Evidence, Part, Reason, View, Zone } from '../../model/catalogue.ts';
import { sides, zonesOf } from '../../model/catalogue.ts';
import { plainWords, zoneNamed, zoneNamesOf } from '../../model/zone-names.ts';
import type { ZoneNames } from '../../model/zone-names.ts';

/** The catalogue's words, ready to be looked up. Keys are in the form `plain` makes. */
export interface Lexicon {
  parts: Map<string, { part: Part; plural: boolean }>;
  /** Group → word → condition. */
  conditions: Map<string, Map<string, Condition>>;
  evidence: { words: string; evidence: Evidence }[];
  reasons: { words: string; reason: Reason }[];
  views: Map<string, View>;
  zones: Map<string, Zone>;
  zoneNames: ZoneNames;
}

/** Lower case, straight quotes, hyphens as spaces, single spaces, no end punctuation: the form in which words are compared. */
export function plain(text: string): string {
  return text
    .normalize('NFC')
    .toLowerCase()
    .replace(/[‘’ʼ]/g, "'")
    .replace(/[“”]/g, '"')
    .replace(/[-‐‑‒–—_]+/g, ' ')
    .replace(/\s+/g, ' ')
    .replace(/[\s.,;:!?]+$/, '')
    .trim();
}

const lexicons = new WeakMap<Catalogue, Lexicon>();

/** The look-up tables of a catalogue, built once however many findings files are read with it. */
export function lexiconOf(catalogue: Catalogue): Lexicon {
  const lexicon = lexicons.get(catalogue) ?? newLexicon(catalogue);
  lexicons.set(catalogue, lexicon);
  return lexicon;
}

function newLexicon(catalogue: Catalogue): Lexicon {
  const parts: Lexicon['parts'] = new Map();
  const add = (word: string, part: Part, plural: boolean): void => {
    if (!parts.has(plain(word))) parts.set(plain(word), { part, plural });
  };
  for (const part of catalogue.parts) for (const word of [part.name.gb, part.name.us, ...part.also]) add(word, part, false);
  for (const part of catalogue.parts) {
    for (const word of [part.plural.gb, part.plural.us, ...part.also.map(pluralOf)]) add(word, part, true);
  }
  const conditions: Lexicon['conditions'] = new Map();
  for (const condition of catalogue.conditions) {
    for (const group of condition.for) {
      const words = conditions.get(group) ?? new Map<string, Condition>();
      for (const word of [condition.name.gb, condition.name.us, ...condition.also]) words.set(plain(word), condition);
      conditions.set(group, words);
    }
  }
  const spellings = (record: { name: { gb: string; us: string }; also: string[] }): string[] =>
    [...new Set([record.name.gb, record.name.us, ...record.also].map(plain))];
  const longestFirst = (a: { words: string }, b: { words: string }): number => b.words.length - a.words.length || (a.words < b.words ? -1 : 1);
  const zones = new Map(catalogue.zones.flatMap(zonesOf).map((zone) => [zone.id, zone]));
  return {
    parts,
    conditions,
    evidence: catalogue.evidence.flatMap((evidence) => spellings(evidence).map((words) => ({ words, evidence }))).sort(longestFirst),
    reasons: catalogue.reasons.flatMap((reason) => spellings(reason).map((words) => ({ words, reason }))).sort(longestFirst),
    views: new Map(catalogue.views.flatMap((view) => spellings(view).map((words) => [words, view] as const))),
    zones,
    zoneNames: zoneNamesOf(catalogue),
  };
}

function pluralOf(word: string): string {
  if (/(s|x|ch|sh)$/.test(word)) return `${word}es`;
  return /[^aeiou]y$/.test(word) ? `${word.slice(0, -1)}ies` : `${word}s`;
}

/** Words that sound nearly like `word`, nearest first, three at most. */
export function nearest(word: string, known: Iterable<string>): string[] {
  const wanted = plain(word);
  const allowed = wanted.length <= 4 ? 1 : wanted.length <= 8 ? 2 : 3;
  return [...new Set(known)]
    .map((candidate) => ({ candidate, away: distance(wanted, candidate) }))
    .filter(({ away }) => away <= allowed)
    .sort((a, b) => a.away - b.away || (a.candidate < b.candidate ? -1 : 1))
    .slice(0, 3)
    .map(({ candidate }) => candidate);
}

/** "Did you mean “blocked”?", or an empty text. */
export function didYouMean(word: string, known: Iterable<string>): string {
  const near = nearest(word, known);
  return near.length === 0 ? '' : `Did you mean ${near.map((one) => `"${one}"`).join(' or ')}?`;
}

/** What a heading, folder or keyword says about a zone. */
export type ZoneMatch =
  | { kind: 'zone'; zone: Zone; extraSide: boolean }
  | { kind: 'side missing'; zones: Zone[] }
  | { kind: 'unknown'; near: string[] };

/** Finds the zone that words name: side word before or after, British or American. */
export function matchZone(lexicon: Lexicon, words: string): ZoneMatch {
  const names = lexicon.zoneNames;
  const tokens = plainWords(words).split(' ');
  const tries = [tokens, tokens.filter((token) => !fillers.has(token))];
  for (const one of tries) {
    const zone = zoneNamed(names, one.join(' '));
    if (zone !== null) return { kind: 'zone', zone: zoneOf(lexicon, zone), extraSide: false };
  }
  for (const one of tries) {
    const sideless = one.filter((token) => token !== 'left' && token !== 'right').join(' ');
    const zone = zoneNamed(names, sideless);
    if (zone !== null) return { kind: 'zone', zone: zoneOf(lexicon, zone), extraSide: true };
    if (names.sideless.has(sideless)) return { kind: 'side missing', zones: sides.map((side) => zoneOf(lexicon, zoneNamed(names, `${sideless} ${side}`) ?? '')) };
  }
  const key = tokens.filter((token) => !fillers.has(token) && token !== 'left' && token !== 'right').join(' ');
  return { kind: 'unknown', near: nearest(key, [...names.sideless, ...names.zones.keys()].filter((name) => !/ (left|right)$|^(left|right) /.test(name))) };
}

/** Words that say nothing about which zone. */
const fillers = new Set(['side', 'hand', 'the']);

function zoneOf(lexicon: Lexicon, id: string): Zone {
  const zone = lexicon.zones.get(id);
  if (!zone) throw new Error(`The catalogue has no zone ${id}`);
  return zone;
}
