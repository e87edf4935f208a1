import { z } from 'zod';
import { amountSchema, currencySchema, spreadSchema } from './dossier-work.ts';

/** Beside `dossier.json`: the record as a table, and the dates to look again for a calendar. */
export const recordName = 'record.csv';
export const lookAgainName = 'look-again.ics';

/** A date such as `2026-05-02`; null where none was written. */
const day = z.string().nullable();
/** Priced lines of labour added up by currency, without tax, in whole minor units; `unpriced` lines are in none. */
const labour = z.strictObject({ sums: z.array(z.strictObject({ currency: currencySchema, amount: amountSchema })), unpriced: z.int() });

/** Work written as done, at the visit the dossier is about and those before it. */
export const dossierRecordSchema = z.strictObject({
  /** Oldest first, the one the dossier is about last. */
  visits: z.array(z.strictObject({ folder: z.string().nullable(), date: day })),
  /** By date. */
  done: z.array(
    z.strictObject({
      zone: z.string(),
      date: day,
      /** Words of what was done, as typed. */
      did: z.string(),
      /** Ids of the kinds of work. */
      kinds: z.array(z.string()),
      /** Cared for, conserved, restored, repaired, changed, or as typed. */
      treatments: z.array(z.string()),
      /** "reversible", "not reversible", or as typed; empty where not written. */
      reversible: z.string(),
      hands: z.array(z.string()),
      /** As written; null where none were. */
      hours: spreadSchema.nullable(),
      materials: z.array(z.strictObject({ name: z.string(), batch: z.string(), words: z.string() })),
      invoices: z.array(z.strictObject({ number: z.string(), words: z.string() })),
      labour,
      /** Why labour has no amount; empty where it has one, and for waiting only. */
      reason: z.string(),
      kept: z.array(z.string()),
      /** The line of the work it belongs to, `findings.md:12:3`; null where nobody planned it. */
      planned: z.string().nullable(),
      written: z.string(),
    }),
  ),
  /** Planned work, with what was done of it. */
  works: z.array(
    z.strictObject({
      zone: z.string(),
      work: z.string(),
      /** Date of the visit that planned it. */
      planned: day,
      estimate: z.strictObject({ hours: spreadSchema.nullable(), labour }),
      /** Null where a line of it has no hours, and where nothing is done. */
      hours: spreadSchema.nullable(),
      labour,
      lines: z.int(),
      /** Kinds of work of it no line names. */
      left: z.array(z.string()),
      written: z.string(),
    }),
  ),
});
export type DossierRecord = z.infer<typeof dossierRecordSchema>;

/** A date to look again. */
export const lookAgainSchema = z.strictObject({
  zone: z.string(),
  /** The name of the zone. */
  name: z.string(),
  /** `2026-10`, `2026-10-03`, `2026`; empty where the words name no date. */
  due: z.string(),
  /** As typed. */
  words: z.string(),
  state: z.enum(['open', 'due', 'looked']),
  lookedOn: day,
  /** Date of the visit that wrote it. */
  visit: day,
  written: z.string(),
});
export type DossierLookAgain = z.infer<typeof lookAgainSchema>;
