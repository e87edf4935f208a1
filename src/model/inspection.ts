import type { Body, Exposure, Outcome, Part, Zone } from './catalogue.ts';
import type { Job } from './job.ts';
import type { Finding, Looked, Mark, Mounting, Narrative, NotFitted, Note, NotSeen, PhotoName, Reading, Remark, Spread, Work } from './notes.ts';
import type { Notice, Spot } from './notice.ts';
import type { Photo } from './photo.ts';

/** Which placing rule put a photo where it is. */
export const placingRules = ['named in the findings', 'folder', 'file name', 'keyword', 'time of a heading', 'taken between'] as const;
export type PlacingRule = (typeof placingRules)[number];

export interface PlacedPhoto {
  photo: Photo;
  /** Zone ids; empty where not placed. A photo named in two zones stands in both. */
  zones: string[];
  rule: PlacingRule | null;
  /** Reason in words: "named at findings.md:21", "keyword “boot”". */
  reason: string;
  /** View ids of the insurer's set it serves. */
  views: string[];
  /** Text alternative and caption, from the finding or picture words; empty where nothing was written. */
  caption: string;
  /** Marks written under the picture, `hide` among them; a `hide` on an ambiguous name stands on every photo it could mean. */
  marks: Mark[];
}

/** One expected opening, in the register exactly once. */
export interface RegisterRow {
  /** Permanent: zone, kind and place: `sill-left--plug--inner-face-2`. */
  id: string;
  zone: string;
  part: Part;
  /** "inner face 2"; empty where the kind alone names it. */
  place: string;
  size: string | null;
  /** `named`: written with its place · `counted`: one of a count · `kind`: nobody named or counted it, number unknown. */
  known: 'named' | 'counted' | 'kind';
  outcome: Outcome;
  /** Condition ids, worst first. */
  conditions: string[];
  details: string[];
  exposure: Exposure;
  /** Cavity id within the zone. */
  cavity: string;
  looked: Looked | null;
  origin: 'fact' | 'opinion' | 'told';
  /** Counts as seen in coverage: looked at by a grade that counts, and not told or inferred. */
  seen: boolean;
  /** Reason in words for cannot tell, not fitted, not seen. */
  reason: string;
  toSee: string;
  lookHours: Spread | null;
  /** Nearest safety mounting given, in mm, and whether within 300 mm inclusive. */
  mounting: { distanceMm: number; of: string; near: boolean } | null;
  findings: Finding[];
  /** Photo ids. */
  photos: string[];
  /** Row id of the same opening on the other side, where there is one. */
  partner: string | null;
  spot: Spot | null;
}

/** Something of a zone that is no opening: metal, coating, water, earlier repair. */
export interface Observation {
  id: string;
  zone: string;
  part: Part;
  outcome: Outcome;
  finding: Finding;
  photos: string[];
  /** Carries load or stands within 300 mm of a safety mounting. */
  structure: boolean;
  mounting: { distanceMm: number; of: string; near: boolean } | null;
}

export interface Coverage {
  /** Named and counted openings, without those not fitted. */
  known: number;
  seen: number;
  /** Of the seen, those whose look gave no clear answer. */
  cannotTell: number;
  notFitted: number;
  /** Kinds nobody named or counted. */
  kindsNotCounted: number;
}

export interface ZoneInspection {
  zone: Zone;
  /** The same zone on the other side. */
  partner: string | null;
  /** False where nothing at all was written and no photo placed. */
  entered: boolean;
  rows: RegisterRow[];
  observations: Observation[];
  readings: { reading: Reading; photos: string[] }[];
  notSeen: { entry: NotSeen; photos: string[] }[];
  notFitted: NotFitted[];
  remarks: { entry: Remark; photos: string[] }[];
  work: Work[];
  notes: Note[];
  mountings: Mounting[];
  narrative: Narrative[];
  /** Photo ids in time order. */
  photos: string[];
  coverage: Coverage;
  /** Worst outcome of rows and observations; `not seen` where nothing was seen; `sound` only where all known is sound and nothing is unseen. */
  state: Outcome;
}

/** Job with everything in its place; computed, nothing judged about steel nobody saw. */
export interface Inspection {
  job: Job;
  body: Body | null;
  /** All zones expected on this body, and those written about, front to rear, left before right. */
  zones: ZoneInspection[];
  photos: PlacedPhoto[];
  /** Names of photos in the findings that stand for no photo of the job, or for not one alone, and why: "not in the job". */
  unfound: Map<PhotoName, string>;
  coverage: Coverage;
  /** Views of the insurer's set: present and missing. */
  views: { id: string; photo: string | null }[];
  /** Notes under headings no zone was recognised in. */
  unplacedNotes: { heading: string; spot: Spot; texts: string[] }[];
  notices: Notice[];
}

/** What `weigh` says of one cavity. The shared risk model adds likelihoods; the states it starts from are these. */
export interface CavityOutlook {
  zone: string;
  cavity: string;
  name: string;
  carriesLoad: boolean;
  /** Row ids of openings that let water in as seen, worst first. */
  letsIn: string[];
  /** Row ids of drains that hold water back as seen. */
  holdsBack: string[];
  /** Row ids not seen, each of which could do either. */
  unseen: string[];
  /** Condition id of the coating inside, null where not seen. */
  coating: string | null;
  /** Condition id of the worst metal seen inside, null where not seen. */
  metal: string | null;
  /** Water as found, condition ids. */
  water: string[];
}

export interface Outlook {
  cavities: CavityOutlook[];
}

/** One of the first steps, in order. */
export interface Step {
  id: string;
  /** Zone id; empty where several zones are gathered. */
  zone: string;
  /** Every zone with a page of its own that it concerns. */
  zones: string[];
  title: string;
  /** 1 licensed examination · 2 stop water and open drains · 3 other work written · 4 look at what was not seen. */
  rank: 1 | 2 | 3 | 4;
  structure: boolean;
  outcome: Outcome;
  why: string;
  /** What the inspector wrote to do, or the usual remedy marked as a suggestion. */
  what: string;
  suggested: boolean;
  hours: Spread | null;
  cautions: string[];
  /** Anchors of the rows and observations it answers. */
  answers: string[];
}

export interface Plan {
  steps: Step[];
  parts: { name: string; size: string | null; count: number; zones: string[]; price: string | null }[];
  /** Work written, per zone, as it stands. */
  work: { zone: string; work: Work }[];
  /** Caution ids that belong to this job, in order. */
  cautions: string[];
  notices: Notice[];
}
