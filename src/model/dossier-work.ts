import { z } from 'zod';
import { labours } from './catalogue.ts';
import { itemKinds } from './cost.ts';
import { roundings, taxSpans } from './rates.ts';

/** The tables of it, beside `dossier.json`. */
export const workName = 'work.csv';
export const partsName = 'parts.csv';

const minor = z.int();
/** Hours as low, likely, high. */
export const spreadSchema = z.strictObject({ low: z.number(), likely: z.number(), high: z.number() });
/** Whole minor units of a currency. */
export const amountSchema = z.strictObject({ low: minor, likely: minor, high: minor });
const ends = z.strictObject({ low: minor, high: minor });
export const currencySchema = z.string().regex(/^[A-Z]{3}$/);
const sum = z.strictObject({
  mean: minor,
  /** What 10 in 100 and 90 in 100 stay below, where all lines vary independently. */
  independent: ends,
  /** The same, where all run high or low together. */
  tied: ends,
});
const total = sum.extend({ currency: currencySchema, lines: z.int(), withTax: sum.nullable() });

/** Work, parts and cost as data. All money is in whole minor units and, where it does not say otherwise, without tax. */
export const dossierWorkSchema = z.strictObject({
  lines: z.array(
    z.strictObject({
      zone: z.string(),
      /** The work as written. */
      work: z.string(),
      kind: z.enum(itemKinds),
      name: z.string(),
      /** Kinds of labour the words name. */
      labour: z.array(z.enum(labours)),
      hours: spreadSchema.nullable(),
      count: z.int().nullable(),
      litres: spreadSchema.nullable(),
      currency: currencySchema.nullable(),
      /** Null where it is unpriced, which is never zero. */
      amount: amountSchema.nullable(),
      /** Why it is unpriced; empty where it is priced. */
      reason: z.string(),
      note: z.string(),
      /** Written as done: in no total of what is to do. */
      spent: z.boolean(),
      /** `findings.md:12:3` */
      written: z.string(),
    }),
  ),
  /** Of what is to do, one for each currency; nothing is converted. */
  totals: z.array(total),
  spent: z.array(total),
  /** Lines without an amount, which are in no total. */
  unpriced: z.strictObject({ toDo: z.int(), spent: z.int() }),
  tax: z.strictObject({ percent: z.string(), per: z.enum(taxSpans), rounding: z.enum(roundings), assumed: z.array(z.enum(['per', 'rounding'])) }).nullable(),
  labour: z.array(
    z.strictObject({
      /** Kinds of labour that share one time; empty where the words name none. */
      labour: z.array(z.enum(labours)),
      hours: spreadSchema,
      zones: z.array(z.string()),
      /** Time that passes while nobody works, which costs nothing. */
      waits: z.boolean(),
      amounts: z.array(z.strictObject({ currency: currencySchema, amount: amountSchema })),
      unpriced: z.int(),
    }),
  ),
  parts: z.array(
    z.strictObject({
      name: z.string(),
      size: z.string().nullable(),
      cable: z.string().nullable(),
      count: z.int(),
      /** How many stand under work written as done. */
      used: z.int(),
      zones: z.array(z.string()),
      /** As written. */
      price: z.string().nullable(),
      sums: z.array(z.strictObject({ currency: currencySchema, amount: amountSchema })),
      unpriced: z.int(),
      /** True where nobody wrote it and the register calls for it. */
      suggested: z.boolean(),
    }),
  ),
  materials: z.array(
    z.strictObject({
      zone: z.string(),
      work: z.string(),
      material: z.string(),
      cavities: z.array(z.string()),
      areaM2: z.number(),
      filmUm: spreadSchema,
      wetFilmUm: spreadSchema,
      solidsPercent: spreadSchema,
      lossPercent: spreadSchema,
      litres: spreadSchema,
      /** True where a part line of the work names it, which is priced in its place. */
      named: z.boolean(),
    }),
  ),
  /** Zones with a defect and no work written. */
  unplanned: z.array(z.string()),
});
export type DossierWork = z.infer<typeof dossierWorkSchema>;
