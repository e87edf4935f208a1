/** Words in front of a phrase that turn it into its contrary: "no sign of scale", "not pitted", "free of rust". */
const denied = /\b(?:no|not|never|without|nor|isn't|free (?:of|from))\s+(?:(?!but\b)[\p{L}'’-]+\s+){0,2}$/iu;

/** The first place in free words where the pattern is found and not denied, as it is typed; null where it is not. */
export function saidIn(words: string, pattern: RegExp): string | null {
  const every = new RegExp(pattern.source, pattern.flags.includes('g') ? pattern.flags : `${pattern.flags}g`);
  for (const match of words.matchAll(every)) if (!denied.test(words.slice(0, match.index))) return match[0];
  return null;
}

/** A pattern of any of the spellings as whole words, hyphens like spaces. */
export function anyOf(spellings: readonly string[]): RegExp {
  const escaped = spellings.filter((one) => one !== '').map((one) => one.replace(/[.*+?^${}()|[\]\\]/g, '\\$&').replace(/[\s-]+/g, '[\\s-]+'));
  return new RegExp(`(?<![\\p{L}\\p{N}])(?:${escaped.join('|')})(?![\\p{L}\\p{N}])`, 'iu');
}
