import type { DossierWork } from '../model/dossier-work.ts';
import type { Three } from '../model/cost.ts';
import { partText } from '../model/wording.ts';
import { prints, spotText } from './context.ts';
import type { Context } from './context.ts';

/** Work, parts and cost as data; null where the edition leaves them out. */
export function dossierWork(context: Context): DossierWork | null {
  if (!prints(context, 'work')) return null;
  const { estimate } = context.plan;
  return {
    lines: estimate.lines.map(({ work, hours, litres, ...line }) => ({
      zone: line.zone,
      work: work.steps,
      kind: line.kind,
      name: line.name,
      labour: line.labour,
      hours: hours && three(hours),
      count: line.count,
      litres: litres && three(litres),
      currency: line.currency,
      amount: line.amount,
      reason: line.reason,
      note: line.note,
      spent: line.spent,
      written: spotText(work.spot),
    })),
    totals: estimate.totals,
    spent: estimate.spent,
    unpriced: estimate.unpriced,
    tax: estimate.tax && { percent: estimate.tax.percent, per: estimate.tax.per, rounding: estimate.tax.rounding, assumed: estimate.tax.assumed },
    labour: estimate.labour.map((one) => ({ ...one, hours: three(one.hours) })),
    parts: [
      ...context.plan.parts.map((part) => ({ ...part, cable: null, suggested: false })),
      ...estimate.suggested.map(({ part, size, cable, count, zones }) => ({ name: partText(part, '', context.language), size, cable, count, used: 0, zones, price: null, sums: [], unpriced: count, suggested: true })),
    ],
    materials: estimate.materials.map(({ work, filmUm, wetFilmUm, solidsPercent, lossPercent, litres, ...need }) => ({
      ...need,
      work: work.steps,
      areaM2: thousandths(need.areaM2),
      filmUm: three(filmUm),
      wetFilmUm: three(wetFilmUm),
      solidsPercent: three(solidsPercent),
      lossPercent: three(lossPercent),
      litres: three(litres),
    })),
    unplanned: estimate.unplanned,
  };
}

/** Three numbers without the dust of binary fractions, and without what only some of them carry. */
function three({ low, likely, high }: Three): Three {
  return { low: thousandths(low), likely: thousandths(likely), high: thousandths(high) };
}

function thousandths(value: number): number {
  return Math.round(value * 1000) / 1000;
}
