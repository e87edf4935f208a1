import type { Spread } from './notes.ts';
import type { Notice } from './notice.ts';

/** Median and 10-90 % range over what is not known. */
export interface Range {
  low: number;
  middle: number;
  high: number;
}

/** A chance between 0 and 1 within so many years, with its two ends: everything unseen at its best, and at its worst. `best ≤ low ≤ middle ≤ high ≤ worst`. */
export interface Chance extends Range {
  years: number;
  best: number;
  worst: number;
}

/** Years until one in ten, one half, nine in ten of such sections are through; null beyond 50. */
export interface YearsThrough {
  low: number | null;
  middle: number | null;
  high: number | null;
}

/** What is to be expected of a closed section, left as it is or with the work done. */
export interface Prospect {
  /** Within 1, 3, 5 and 10 years. */
  chances: Chance[];
  years: YearsThrough;
  /** Share of what is possible in which it is through already; 0 where that was seen not to be so. */
  today: number;
  /** For each outer draw, the chances at the same four horizons: what sums and differences are made of. */
  draws: Float64Array[];
}

/** A closed section weighed by the shared risk model. */
export interface Weighed {
  left: Prospect;
  /** Null where no work is written or usual. */
  done: Prospect | null;
  /** Chance that water gets in, as it is. */
  water: Range;
  /** Steel left today at the deepest place, µm. */
  leftUm: Range;
  /** Whether the draws hardly agreed with what was seen, so that the low end of the rate was taken. */
  strained: boolean;
}

/** How much of a 10-90 % range would go, on average, if everything unseen were seen: between 0 and 1; null where nothing is unseen or the range has no width. */
export interface UnseenShare {
  /** Of the chance within five years. */
  chance: number | null;
  /** Of the years until through, counted to 50. */
  years: number | null;
}

/** One look at something nobody saw, with what it is worth. */
export interface NextLook {
  zone: string;
  /** Cavity id where the inside is looked at, null where it is the openings of the zone. */
  cavity: string | null;
  /** Names of the closed sections whose range it narrows. */
  sections: string[];
  hours: Spread;
  /** True where nobody wrote a time. */
  assumed: boolean;
  /** What it takes, as written; may be empty. */
  toSee: string;
  /** By how much the 10-90 % range of the work of cutting out and replacing those sections, to be expected within five years, shrinks on average: in hours of that work. */
  shrinksHours: number;
  /** The same for each hour of looking: what looks are sorted by. */
  perHour: number;
}

/** What the answer would be with one assumption at its low and at its high end. */
export interface Sensitivity {
  id: string;
  name: string;
  /** Closed sections expected to be through within ten years if left, of all weighed. */
  low: number;
  high: number;
}

/** The surroundings the outlook was worked out for. */
export interface SurroundingsSaid {
  salt: string;
  kept: string;
  /** First-year rate of open air by the dose-response function, µm, and its class; null where the air was not described. */
  air: { rateUm: number; rateClass: string } | null;
}

/** A sum over closed sections, whose range lies between two ends: all turn out alike, or each by itself. Means add, percentiles do not. */
export interface SumRange {
  alike: Range;
  apart: Range;
}

/** What the whole car comes to. */
export interface CarOutlook {
  /** Closed sections weighed, and how many are to be expected through within five years: left, and with all work done. */
  sections: number;
  through: SumRange;
  throughDone: SumRange;
  /** Hours of cutting out and replacing to be expected within five years if left: likely hours of each section times its chance. */
  hours: SumRange;
  /** How much of the range of `hours` (all alike) is owed to what was not seen; null where nothing is unseen or the range has no width. */
  hoursShare: number | null;
  looks: NextLook[];
  surroundings: SurroundingsSaid;
  notices: Notice[];
}
