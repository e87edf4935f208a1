import type { CostLine, Total } from './cost.ts';
import type { Note, Spread, Work, WorkDone } from './notes.ts';

/** Which visit a line stands in. */
export interface VisitDay {
  /** Name of its folder, null or empty where the car has one visit only. */
  folder: string | null;
  /** ISO date, null where not written. */
  date: string | null;
  /** True for the visit the dossier is about. */
  current: boolean;
}

/** One line of work done, at whichever visit it was written. */
export interface DoneEntry {
  visit: VisitDay;
  zone: string;
  work: Work;
  done: WorkDone;
  /** What its labour cost, by the rates of the visit it stands in, or why it has no amount; empty for waiting only. Without tax. */
  labour: CostLine[];
}

/** What was planned, with what was done of it. */
export interface Undertaking {
  zone: string;
  /** The estimate: labour and parts as counted when it was planned. Null for work nobody planned. */
  planned: { visit: VisitDay; work: Work; labour: CostLine[]; parts: CostLine[] } | null;
  /** By date, those without one last; empty where nothing of it is written as done. */
  entries: DoneEntry[];
  /** Hours written, of all entries; null where one of them has none. */
  hours: Spread | null;
  /** Ids of the kinds of work that were planned and that no entry names, where something was done. */
  left: string[];
}

/** Hours and money of the works that can be compared, in one sum. */
export interface Comparison {
  /** How many works are in it. */
  works: number;
  took: Spread | null;
  estimated: Spread | null;
}

/** All work written as done at this visit and those before it, beside what was planned. */
export interface WorkRecord {
  /** Oldest first, the one the dossier is about last. */
  visits: VisitDay[];
  undertakings: Undertaking[];
  /** Hours of works that are done whole, with hours on both sides. */
  hours: Comparison;
  /** Cost of labour of works that are done whole, priced on both sides; by currency. */
  cost: { works: number; took: Total[]; estimated: Total[] };
  /** Labour of everything written as done; by currency. */
  spent: Total[];
  /** Entries whose labour has no price. */
  unpriced: number;
}

/** A date to look again, and what became of it by the visit the dossier is about. */
export interface LookAgain {
  zone: string;
  /** `2026-10`, `2026-10-03`, `2026`; empty where the words name no date. */
  due: string;
  note: Note;
  visit: VisitDay;
  /** `looked`: the zone was looked at on that date or later · `due`: the date is there and nobody looked · `open`: it is to come, or not known. */
  state: 'open' | 'due' | 'looked';
  /** Date of the visit that looked. */
  lookedOn: string | null;
}
