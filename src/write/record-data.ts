import type { CostLine, Three } from '../model/cost.ts';
import type { DossierLookAgain, DossierRecord } from '../model/dossier-record.ts';
import { byCodeUnit } from '../model/order.ts';
import { prints, spotText } from './context.ts';
import type { Context } from './context.ts';
import { inlineText } from './inline.ts';
import { zoneLink } from './over-time.ts';
import { doneEntries } from './record.ts';

/** The record and the dates to look again as data, each where the edition prints its section. */
export function dossierRecord(context: Context): { record?: DossierRecord; again?: DossierLookAgain[] } {
  return {
    ...(prints(context, 'ledger') ? { record: recordData(context) } : {}),
    ...(prints(context, 'again') ? { again: againData(context) } : {}),
  };
}

function recordData(context: Context): DossierRecord {
  const { visits, undertakings } = context.plan.record;
  return {
    visits: visits.map(({ folder, date }) => ({ folder, date })),
    done: doneEntries(context).map((entry) => {
      const { zone, work, done, labour } = entry;
      const planned = undertakings.find((one) => one.entries.includes(entry))?.planned ?? null;
      return {
        zone,
        date: done.date,
        did: done.did.join(', ') || work.steps,
        kinds: done.kinds,
        treatments: done.treatments,
        reversible: done.reversible,
        hands: done.hands,
        hours: done.hours && three(done.hours),
        materials: done.materials,
        invoices: done.invoices,
        labour: labourData(labour),
        reason: labour.find((line) => line.amount === null)?.reason ?? '',
        kept: done.kept,
        planned: planned && spotText(planned.work.spot),
        written: spotText(done.spot),
      };
    }),
    works: undertakings.flatMap(({ zone, planned, entries, hours, left }) => (planned === null ? [] : [{
      zone,
      work: planned.work.steps,
      planned: planned.visit.date,
      estimate: { hours: planned.work.hours && three(planned.work.hours), labour: labourData(planned.labour) },
      hours: hours && three(hours),
      labour: labourData(entries.flatMap((entry) => entry.labour)),
      lines: entries.length,
      left,
      written: spotText(planned.work.spot),
    }])),
  };
}

function labourData(lines: readonly CostLine[]): DossierRecord['works'][number]['labour'] {
  const sums = new Map<string, Three>();
  for (const { currency, amount } of lines) {
    if (currency === null || amount === null) continue;
    const sum = sums.get(currency) ?? { low: 0, likely: 0, high: 0 };
    sums.set(currency, { low: sum.low + amount.low, likely: sum.likely + amount.likely, high: sum.high + amount.high });
  }
  return { sums: [...sums].toSorted(([a], [b]) => byCodeUnit(a, b)).map(([currency, amount]) => ({ currency, amount })), unpriced: lines.filter((line) => line.amount === null).length };
}

function againData(context: Context): DossierLookAgain[] {
  return context.plan.again.map(({ zone, due, note, state, lookedOn, visit }) => ({
    zone, name: inlineText([...zoneLink(context, zone)]), due, words: note.words, state, lookedOn, visit: visit.date, written: spotText(note.spot),
  }));
}

/** Without the dust of binary fractions, and without what only some of them carry. */
function three({ low, likely, high }: Three): Three {
  const neat = (value: number): number => Math.round(value * 1000) / 1000;
  return { low: neat(low), likely: neat(likely), high: neat(high) };
}
