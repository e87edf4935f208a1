import type { Catalogue } from '../model/catalogue.ts';
import { zonesOf } from '../model/catalogue.ts';

/** Every spelling of every zone, in the form `plainWords` makes. */
export interface ZoneNames {
  /** Spelling with its side → ids of the zones it could be. */
  zones: Map<string, Set<string>>;
  /** Spelling of a sided zone without its side. */
  sideless: Set<string>;
  /** Words in the longest spelling. */
  longest: number;
}

/** Collects the spellings once for a job: British, American and further names, the side before, within or after. */
export function zoneNamesOf(catalogue: Catalogue): ZoneNames {
  const names: ZoneNames = { zones: new Map(), sideless: new Set(), longest: 0 };
  for (const record of catalogue.zones) {
    const bases = new Set([record.name.gb, record.name.us, ...record.also, record.id].map(plainWords));
    for (const base of bases) {
      if (base === '') continue;
      if (record.sided) names.sideless.add(base);
      for (const zone of zonesOf(record)) for (const words of withSide(base, zone.side)) addName(names, words, zone.id);
    }
  }
  return names;
}

function withSide(base: string, side: string | null): string[] {
  if (side === null) return [base];
  const words = base.split(' ');
  return Array.from({ length: words.length + 1 }, (_, at) => [...words.slice(0, at), side, ...words.slice(at)].join(' '));
}

function addName(names: ZoneNames, words: string, zone: string): void {
  const known = names.zones.get(words);
  if (known) known.add(zone);
  else names.zones.set(words, new Set([zone]));
  names.longest = Math.max(names.longest, words.split(' ').length);
}

/** Id of the zone that the words are the name of, null where they name none or could mean two. */
export function zoneNamed(names: ZoneNames, words: string): string | null {
  const found = names.zones.get(plainWords(words));
  const [zone] = found ?? [];
  return zone !== undefined && found?.size === 1 ? zone : null;
}

/** Id and spelling of the zone that the words begin with; the longest spelling wins. */
export function zoneAtStart(names: ZoneNames, text: string): { zone: string; words: string } | null {
  const tokens = plainWords(text).split(' ');
  for (let count = Math.min(tokens.length, names.longest); count > 0; count -= 1) {
    const words = tokens.slice(0, count).join(' ');
    const zone = zoneNamed(names, words);
    if (zone !== null) return { zone, words };
    if (names.zones.has(words)) return null;
  }
  return null;
}

/** A sided zone's name that the words begin with and that lacks its side; null where there is none. */
export function sidelessAtStart(names: ZoneNames, text: string): string | null {
  const tokens = plainWords(text).split(' ');
  for (let count = Math.min(tokens.length, names.longest); count > 0; count -= 1) {
    const words = tokens.slice(0, count).join(' ');
    if (names.sideless.has(words)) return words;
  }
  return null;
}

/**
 * Lower case words and numbers with single spaces: "Left-sill_03" and "SillLeft03" become "left sill 03" and
 * "sill left 03". "LH", "L" and "left hand" become "left", the same for right.
 */
export function plainWords(text: string): string {
  return text
    .normalize('NFKC')
    .replace(/(\p{Ll})(\p{Lu})/gu, '$1 $2')
    .replace(/(\p{L})(\p{N})/gu, '$1 $2')
    .replace(/(\p{N})(\p{L})/gu, '$1 $2')
    .toLowerCase()
    .replace(/[^\p{L}\p{M}\p{N}]+/gu, ' ')
    .trim()
    .replace(/\b(left|right) hand( side)?\b/g, '$1')
    .replace(/\b(?:lhs|lh|l)\b/g, 'left')
    .replace(/\b(?:rhs|rh|r)\b/g, 'right');
}
