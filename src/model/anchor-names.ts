/** A text as part of an anchor: ASCII, lower case, hyphens; letters of other scripts by their code point. */
export function anchorOf(text: string): string {
  return text
    .normalize('NFKD')
    .toLowerCase()
    .replace(/\p{M}/gu, '')
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/[^a-z0-9-]/gu, (letter) => `u${(letter.codePointAt(0) ?? 0).toString(16)}`)
    .replace(/^-+|-+$/g, '');
}

/** Hands out every anchor once: a repeated one gets `-2`, `-3`. */
export function anchorsOnce(): (wanted: string) => string {
  const given = new Set<string>();
  return (wanted) => {
    let anchor = wanted;
    for (let count = 2; given.has(anchor); count += 1) anchor = `${wanted}-${count}`;
    given.add(anchor);
    return anchor;
  };
}
