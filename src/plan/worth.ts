import type { CavityOutlook, Inspection, Outlook, Worth, ZoneInspection } from '../model/inspection.ts';
import type { Work } from '../model/notes.ts';
import type { Range } from '../model/outlook.ts';
import { rangeOf } from '../model/quantile.ts';
import { costOfHours, costOfWorks } from './cost.ts';

/** Five years, by its place among the chances of an outlook. */
const fiveYears = 2;

/**
 * What the work of a zone is worth: (chance if left − chance with the work, within five years) × cost of cutting out and
 * replacing ÷ cost of the work, over the same draws. Null where the risk model sees no work on any closed section.
 */
export function worthOf(inspection: Inspection, outlook: Outlook, zone: ZoneInspection, works: readonly Work[]): Worth | null {
  const cavities = outlook.cavities.filter((one) => one.zone === zone.zone.id && one.weighed.done !== null);
  const [first] = cavities;
  if (!first) return null;
  const gains = cavities.map((one) => ({ one, gain: gainOf(one) }));
  const most = gains.reduce((best, next) => (middleOf(next.gain) > middleOf(best.gain) ? next : best));
  const spared = sum(gains.map(({ gain }) => gain));
  const hours = sum(gains.map(({ one, gain }) => gain.map((chance) => chance * one.replaceHours[1])));
  const rate = costOfHours(inspection, { low: 1, likely: 1, high: 1 }, 'metal');
  const cost = works.length === 0 ? null : costOfWorks(inspection, works);
  const sparedCost = rate === null ? null : { currency: rate.currency, ...times(rangeOf(hours), rate.likely) };
  const comparable = sparedCost !== null && cost !== null && cost.currency === sparedCost.currency && cost.likely > 0;
  return {
    cavity: most.one.cavity,
    spared: rangeOf(spared),
    sparedHours: rangeOf(hours),
    sparedCost,
    cost: cost === null ? null : { currency: cost.currency, low: cost.low, likely: cost.likely, high: cost.high },
    perCost: comparable ? times(rangeOf(hours), (rate?.likely ?? 0) / cost.likely) : null,
  };
}

/** Chance spared in each outer draw; the work never raises it. */
function gainOf({ weighed }: CavityOutlook): number[] {
  return weighed.left.draws.map((left, draw) => Math.max(0, (left[fiveYears] ?? 0) - (weighed.done?.draws[draw]?.[fiveYears] ?? 0)));
}

function sum(rows: readonly number[][]): number[] {
  return (rows[0] ?? []).map((_, draw) => rows.reduce((all, row) => all + (row[draw] ?? 0), 0));
}

function middleOf(values: readonly number[]): number {
  return rangeOf(values).middle;
}

function times({ low, middle, high }: Range, factor: number): Range {
  return { low: low * factor, middle: middle * factor, high: high * factor };
}
