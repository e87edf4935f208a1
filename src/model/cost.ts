import type { Labour, Part } from './catalogue.ts';
import type { Spread, Work } from './notes.ts';
import type { Amount, Tax } from './rates.ts';

/** Low, likely and high of a quantity that is no money. */
export interface Three {
  low: number;
  likely: number;
  high: number;
}

/** What one line of cost is for. */
export const itemKinds = ['labour', 'whole work', 'part', 'material'] as const;
export type ItemKind = (typeof itemKinds)[number];

/** One line of cost: an amount from the user's own rates and prices, or the reason there is none. */
export interface CostLine {
  zone: string;
  work: Work;
  kind: ItemKind;
  /** "labour", "plug 25 mm, 4", "cavity wax". */
  name: string;
  /** Kinds of labour the words name, in the usual order; waiting is none. One alone may have a rate of its own. */
  labour: Labour[];
  hours: Spread | null;
  /** Of a part. */
  count: number | null;
  /** Of a material. */
  litres: Three | null;
  currency: string | null;
  /** Without tax, in whole minor units of the currency. Null: unpriced, never zero. */
  amount: Amount | null;
  /** Why it is unpriced, a clause: "no rate for labour"; empty where it is priced. */
  reason: string;
  /** What the amount stands for where that is not plain: "the cost written for the whole work stands for its labour"; else empty. */
  note: string;
  /** Written as done: not among what is to do. */
  spent: boolean;
}

/** Of a sum that varies: what 10 in 100 stay below, and what 90 in 100 stay below. Whole minor units. */
export interface Ends {
  low: number;
  high: number;
}

/** A sum in one currency, in whole minor units. */
export interface Sum {
  mean: number;
  /** All lines vary independently of each other. */
  independent: Ends;
  /** All run high or low together. */
  tied: Ends;
}

/** The sum of the priced lines of one currency. Currencies are never converted. */
export interface Total extends Sum {
  currency: string;
  /** How many lines are in it. */
  lines: number;
  /** With tax as set; null where none is set. */
  withTax: Sum | null;
}

/** Hours to do of one kind of labour, or of several that share one time, with what they cost. */
export interface LabourSum {
  /** In the usual order; empty where the words name no kind of work we know. */
  labour: Labour[];
  hours: Three;
  zones: string[];
  /** True for time that passes while nobody works, which costs nothing. */
  waits: boolean;
  /** By currency, bound by bound; not tax. */
  amounts: { currency: string; amount: Amount }[];
  /** How many times carry no amount of their own. */
  unpriced: number;
}

/** Wax or paint one work takes, worked out from the area of the closed sections of its zone. */
export interface MaterialNeed {
  zone: string;
  work: Work;
  /** Material id of the catalogue. */
  material: string;
  /** Ids of the closed sections counted. */
  cavities: string[];
  areaM2: number;
  filmUm: Three;
  wetFilmUm: Three;
  solidsPercent: Three;
  lossPercent: Three;
  litres: Three;
  /** True where a `part:` line of the work names the material: that line is priced, and this one is not counted again. */
  named: boolean;
}

/** Parts as written under the work, summed by name and size over all zones. */
export interface PartSum {
  name: string;
  size: string | null;
  count: number;
  /** How many of them stand under work written as done. */
  used: number;
  zones: string[];
  /** Prices as written: "EUR 1.90 each; 2 without a price"; null where none was written. */
  price: string | null;
  /** What they cost together, by currency; those without a price are not in it. */
  sums: { currency: string; amount: Amount }[];
  /** Pieces that carry no price that counts. */
  unpriced: number;
}

/** Openings whose usual remedy takes a new part, and for which no part line is written in their zone. */
export interface SuggestedPart {
  part: Part;
  /** As written at the opening; null where it was not. */
  size: string | null;
  cable: string | null;
  count: number;
  zones: string[];
}

/** What the work costs, from the user's own rates and prices only. */
export interface Estimate {
  lines: CostLine[];
  /** Of what is to do, by currency. */
  totals: Total[];
  /** Of what is written as done, by currency. */
  spent: Total[];
  /** Lines without an amount. */
  unpriced: { toDo: number; spent: number };
  tax: Tax | null;
  labour: LabourSum[];
  materials: MaterialNeed[];
  suggested: SuggestedPart[];
  /** Zones with a defect and no work written: nothing of theirs is in any total. */
  unplanned: string[];
}

/** Whether a part as somebody wrote it names one of several spellings as whole words. */
export function namesOne(name: string, spellings: readonly string[]): boolean {
  const words = ` ${folded(name)} `;
  return spellings.some((spelling) => words.includes(` ${folded(spelling)} `));
}

function folded(text: string): string {
  return text.normalize('NFC').toLowerCase().replace(/[^\p{L}\p{N}]+/gu, ' ').trim();
}
