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

/** Whether a place is `wider` itself or inside it: "inner face 2" is within "inner face" and within "". */
export function isWithin(place: string, wider: string): boolean {
  return wider === '' || place === wider || place.startsWith(`${wider} `) || place.startsWith(`${wider},`);
}
