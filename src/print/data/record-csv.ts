import type { DossierRecord } from '../../model/dossier-record.ts';
import type { Dossier } from '../../model/dossier.ts';
import { amounts, csvText, numbers, zoneName } from './csv.ts';

/** Every line of work done; one row for each currency of its cost. Amounts are of labour, in whole units of their currency, without tax. */
export function recordCsv(dossier: Dossier, record: DossierRecord | undefined): string {
  const columns = ['date', 'zone', 'what was done', 'kind of treatment', 'reversible', 'hands', 'hours low', 'hours likely', 'hours high', 'materials', 'batches', 'invoices', 'currency', 'low', 'likely', 'high', 'not priced because', 'kept', 'planned at', 'written at'];
  const rows = (record?.done ?? []).flatMap((one) => {
    const sums = one.labour.sums.length > 0 ? one.labour.sums : [{ currency: null, amount: null }];
    return sums.map(({ currency, amount }) => [
      one.date, zoneName(dossier, one.zone), one.did, one.treatments.join('; '), one.reversible, one.hands.join('; '), ...numbers(one.hours),
      one.materials.map(({ name, words }) => [name, words].filter((text) => text !== '').join(', ')).join('; '), one.materials.map(({ batch }) => batch).join('; '),
      one.invoices.map(({ number, words }) => [number, words].filter((text) => text !== '').join(', ')).join('; '),
      currency, ...amounts(currency, amount), one.reason, one.kept.join('; '), one.planned, one.written,
    ]);
  });
  return csvText(columns, rows);
}
