import type { Plan } from '../model/inspection.ts';
import type { PartWanted } from '../model/notes.ts';
import { moneyText } from '../units.ts';

/** Parts as written under the work, summed by name and size, sorted by name. Nothing is added that nobody wrote. */
export function partsOf(work: Plan['work']): Plan['parts'] {
  const groups = new Map<string, { zone: string; part: PartWanted }[]>();
  for (const { zone, work: one } of work) {
    for (const part of one.parts) {
      const key = `${part.name.trim().toLowerCase()}\n${part.size ?? ''}`;
      groups.set(key, [...(groups.get(key) ?? []), { zone, part }]);
    }
  }
  return [...groups.entries()].sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0)).flatMap(([, all]) => {
    const first = all[0];
    return first === undefined ? [] : [{
      name: first.part.name,
      size: first.part.size,
      count: all.reduce((sum, { part }) => sum + part.count, 0),
      zones: [...new Set(all.map(({ zone }) => zone))],
      price: priceText(all.map(({ part }) => part)),
    }];
  });
}

function priceText(parts: readonly PartWanted[]): string | null {
  const prices = [...new Set(parts.flatMap((part) => (part.price ? [`${moneyText(part.price)} each`] : [])))];
  if (prices.length === 0) return null;
  const unpriced = parts.filter((part) => part.price === null).reduce((sum, part) => sum + part.count, 0);
  return [...prices, ...(unpriced > 0 ? [`${unpriced} without a price`] : [])].join('; ');
}
