import type { Labour } from './catalogue.ts';
import type { Spot } from './notice.ts';

/**
 * Kinds of labour a rate can be set for, in the order of work (common practice, no source). Drying is waiting, no labour.
 */
export const labourKinds = ['inspect', 'strip trim', 'clean', 'metal', 'weld', 'seal', 'paint', 'wax', 'refit', 'look again'] as const satisfies readonly Labour[];
export type LabourKind = (typeof labourKinds)[number];

/** Where a value was set. The findings win over `sillbook.json`. */
export type SetIn = 'findings' | 'sillbook.json';

/** Money as low, likely and high, in whole minor units of a currency. */
export interface Amount {
  low: number;
  likely: number;
  high: number;
}

/** What an hour costs, without tax. */
export interface Rate extends Amount {
  /** ISO 4217; null where neither the line nor the job names one: then it prices nothing. */
  currency: string | null;
  /** As written: "EUR 55", "50-65". */
  text: string;
  from: SetIn;
  /** Null for a rate out of `sillbook.json`. */
  spot: Spot | null;
}

export const taxSpans = ['line', 'invoice'] as const;
export const roundings = ['half-up', 'half-even', 'down'] as const;
export type Rounding = (typeof roundings)[number];

/** Tax on top of rates and prices, which are taken as without it. */
export interface Tax {
  /** Exact, as a decimal number in digits: "20", "8.875". */
  percent: string;
  /** Rounded on every line, or once on the sum. */
  per: (typeof taxSpans)[number];
  /** Half up goes away from zero; down goes towards it. */
  rounding: Rounding;
  from: SetIn;
  /** What nobody set and is therefore ours: `per`, `rounding`. */
  assumed: ('per' | 'rounding')[];
}

/** The workshop's own rates and tax; nothing is built in. */
export interface Rates {
  /** For any work. */
  labour: Rate | null;
  /** For work of one kind. */
  byKind: { kind: LabourKind; rate: Rate }[];
  tax: Tax | null;
  /** What `sillbook.json` sets and the findings set otherwise: "labour", "labour, weld", "tax". */
  overridden: string[];
}

/** Nothing set. */
export const noRates: Rates = { labour: null, byKind: [], tax: null, overridden: [] };
