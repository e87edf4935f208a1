import { byCodeUnit } from '../model/order.ts';

/** Orders places as people count them: "inner face 2" before "inner face 10". */
export function byPlace(a: string, b: string): number {
  const [left, right] = [piecesOf(a), piecesOf(b)];
  for (let index = 0; index < Math.max(left.length, right.length); index += 1) {
    const [one, other] = [left[index] ?? '', right[index] ?? ''];
    if (one === other) continue;
    const numbers = /^\d+$/.test(one) && /^\d+$/.test(other);
    const order = numbers ? Number(one) - Number(other) : 0;
    return order || byCodeUnit(one, other);
  }
  return 0;
}

function piecesOf(text: string): string[] {
  return text.match(/\d+|\D+/g) ?? [];
}

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

/** Whether a place is `wider` itself or inside it: "inner face 2" is within "inner face" and within "". */
export function isWithin(place: string, wider: string): boolean {
  return wider === '' || place === wider || place.startsWith(`${wider} `) || place.startsWith(`${wider},`);
}
