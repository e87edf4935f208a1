import type { PartSum } from '../model/cost.ts';
import type { Plan } from '../model/inspection.ts';
import type { PartWanted } from '../model/notes.ts';
import { byCodeUnit } from '../model/order.ts';
import { priceText } from '../units.ts';
import { partCost } from './cost.ts';

interface Written {
  zone: string;
  part: PartWanted;
  used: boolean;
}

/** Parts as written under the work, summed by name and size, sorted by name. Nothing is added that nobody wrote. */
export function partsOf(work: Plan['work']): PartSum[] {
  const groups = new Map<string, Written[]>();
  for (const { zone, work: one } of work) {
    for (const part of one.parts) {
      const key = `${part.name.trim().toLowerCase()}\n${part.size ?? ''}`;
      groups.set(key, [...(groups.get(key) ?? []), { zone, part, used: one.done.length > 0 }]);
    }
  }
  return [...groups.entries()].sort(([a], [b]) => byCodeUnit(a, b)).flatMap(([, all]) => {
    const first = all[0];
    return first === undefined ? [] : [{
      name: first.part.name,
      size: first.part.size,
      count: pieces(all),
      used: pieces(all.filter((one) => one.used)),
      zones: [...new Set(all.map(({ zone }) => zone))],
      price: pricesText(all.map(({ part }) => part)),
      ...sumsOf(all),
    }];
  });
}

function pieces(all: readonly Written[]): number {
  return all.reduce((sum, { part }) => sum + part.count, 0);
}

function sumsOf(all: readonly Written[]): Pick<PartSum, 'sums' | 'unpriced'> {
  const sums = new Map<string, PartSum['sums'][number]['amount']>();
  for (const { part } of all) {
    const { currency, amount } = partCost(part);
    if (currency === null || amount === null) continue;
    const sum = sums.get(currency) ?? { low: 0, likely: 0, high: 0 };
    sums.set(currency, { low: sum.low + amount.low, likely: sum.likely + amount.likely, high: sum.high + amount.high });
  }
  return {
    sums: [...sums].sort(([a], [b]) => byCodeUnit(a, b)).map(([currency, amount]) => ({ currency, amount })),
    unpriced: pieces(all.filter(({ part }) => partCost(part).amount === null)),
  };
}

function pricesText(parts: readonly PartWanted[]): string | null {
  const prices = [...new Set(parts.flatMap((part) => (part.price ? [priceText(part.price, part.together)] : [])))];
  if (prices.length === 0) return null;
  const unpriced = parts.filter((part) => part.price === null).reduce((sum, part) => sum + part.count, 0);
  return [...prices, ...(unpriced > 0 ? [`${unpriced} without a price`] : [])].join('; ');
}
