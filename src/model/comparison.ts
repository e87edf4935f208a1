import type { Outcome, Part } from './catalogue.ts';
import type { Notice, Spot } from './notice.ts';
import type { Visit } from './visits.ts';

/**
 * What came of a thing from one visit to the next. `made clear` and `no longer clear`: one of the two looks gave no clear
 * answer. `differs`: not the same, and neither better nor worse. `newly named` and `no longer named`: an opening without a
 * counterpart at the other visit, though its zone was looked at then.
 */
export const turns = ['worse', 'no longer clear', 'differs', 'no longer seen', 'no longer named', 'newly seen', 'newly named', 'made clear', 'better', 'replaced', 'unchanged'] as const;
export type Turn = (typeof turns)[number];

/** How a thing stood at one visit. */
export interface Standing {
  /** Anchor of its row or line within that visit, empty where it has none. */
  id: string;
  /** As it was called then: "inner face 2". */
  place: string;
  outcome: Outcome;
  /** Condition ids, worst first. */
  conditions: string[];
  /** What was found, a clause: "missing", "0.60 mm at the thinnest of 3 values"; of what was not seen the reason. */
  words: string;
  /** Looked at by a grade that counts. */
  seen: boolean;
  /** Photo ids. */
  photos: string[];
  spot: Spot | null;
  /** Of a reading: its values in `unit`. */
  values?: { unit: 'mm' | 'um' | 'Shore A'; least: number; median: number; most: number; count: number };
}

/** What is followed from visit to visit: an opening by name, all openings of a kind that were only counted, a section's inside as a whole, what was found at a place, a reading. */
export const followedKinds = ['opening', 'openings', 'inside', 'finding', 'reading'] as const;
export type FollowedKind = (typeof followedKinds)[number];

export interface Followed {
  kind: FollowedKind;
  zone: string;
  /** Of a reading null. */
  part: Part | null;
  /** As it is called now: by the newest visit that names it. */
  place: string;
  /** Reading: its quantity; inside: the cavity's id; else empty. */
  of: string;
}

/** One thing at two visits. */
export interface Change extends Followed {
  turn: Turn;
  before: Standing | null;
  after: Standing | null;
  /** Its name at the earlier visit where it was another, else empty. */
  wasCalled: string;
}

/** One thing over all visits. */
export interface Life extends Followed {
  /** One for each visit, oldest first; null where nothing was written of it. */
  standings: (Standing | null)[];
}

/** What lies between two visits. */
export interface Between {
  /** Zones in the order of the body, worse things first. */
  changes: Change[];
  /** Things that are as they were. */
  unchanged: Change[];
  /** Ids of zones looked at before and not entered now. */
  zonesLeft: string[];
}

/** A section whose inside a later visit showed, beside what an earlier outlook had said of it. */
export interface LaterLook {
  zone: string;
  cavity: string;
  name: string;
  /** Index of the visit whose outlook it was, and of the visit that looked. */
  from: number;
  to: number;
  years: number;
  /** Chance of being through by the day of the later look, as worked out then. */
  chance: { low: number; middle: number; high: number };
  /** Whether it was seen to be through. */
  through: boolean;
  /** The chance had pointed the other way: through though unlikely, or not through though likely. */
  against: boolean;
}

/** Photos of one thing, or of several that stand on the same two, from two visits. */
export interface PhotoPair {
  zone: string;
  lives: Life[];
  /** Indexes of the two visits. */
  from: number;
  to: number;
  /** Photo ids; those between in order of time. */
  before: string;
  after: string;
  during: string[];
}

/** All visits side by side, oldest first. */
export interface Comparison {
  visits: Visit[];
  lives: Life[];
  /** One fewer than visits. */
  between: Between[];
  laterLooks: LaterLook[];
  pairs: PhotoPair[];
  notices: Notice[];
}
