import type { Body, Exposure, Outcome, Part, Zone } from './catalogue.ts';
import type { Estimate, PartSum } from './cost.ts';
import type { Job } from './job.ts';
import type { Finding, Looked, Mark, Mounting, Narrative, NotFitted, Note, NotSeen, Origin, PhotoName, Reading, Remark, Spread, Work } from './notes.ts';
import type { Notice, Spot } from './notice.ts';
import type { CarOutlook, Range, Sensitivity, SumRange, UnseenShare, Weighed } from './outlook.ts';
import type { Photo } from './photo.ts';
import type { LookAgain, WorkRecord } from './record.ts';
import type { RustedArea } from './rusted-area.ts';

/** Which placing rule put a photo where it is. */
export const placingRules = ['named in the findings', 'folder', 'file name', 'keyword', 'time of a heading', 'taken between'] as const;
export type PlacingRule = (typeof placingRules)[number];

export interface PlacedPhoto {
  photo: Photo;
  /** Date and seconds since midnight by the clock on the wall of the visit; null where no such time is known. */
  wall: { date: string; second: number } | null;
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

/** What one reading can mean. */
export interface ReadingVerdict {
  /** Whether the values count for what they measure: for steel as thickness left. Never for what was told, guessed or opinion. */
  usable: boolean;
  /** In words, a clause: why not, naming what was seen and where ("metal inside, towards the rear: scaling"), or how far. Empty where nothing is to be said. */
  reason: string;
  /** `none` where the values count for nothing. */
  basis: 'measured' | 'none';
  /** Least thickness left in mm, of a usable reading of steel; else null. */
  lowestMm: number | null;
  /** Of a reading of steel refused for roughness: what is left is at most this, in mm, as such a gauge reads too much; else null. */
  atMostMm: number | null;
  /** Of a film reading only. */
  film: FilmFigures | null;
}

/** Film thickness in µm, and beside the car's own baseline. No band of it is a verdict. */
export interface FilmFigures {
  count: number;
  min: number;
  median: number;
  max: number;
  /** Median of the readings named as baseline; null where none was named or the reading is not usable. */
  baselineUm: number | null;
  /** Median over baseline. */
  ratio: number | null;
  /** Values beyond median ± 3 × 1.4826 × MAD, ascending; from five readings on. */
  outliers: number[];
}

/** What film readings of this car are compared with: the median of the readings that `baseline:` notes name. */
export interface FilmBaseline {
  medianUm: number;
  /** Values it is the median of. */
  count: number;
  /** Zone ids and places as named, in the order written; an empty place is the whole zone. */
  from: { zone: string; place: string }[];
  /** The readings themselves. */
  readings: Reading[];
  /** What somebody wrote that speaks against it: "metal, front edge: filled". */
  doubts: string[];
}

/** Rusted share of a region of one picture, as counted or traced under it. */
export interface RustedMeasure {
  area: RustedArea;
  /** Photo ids; empty where the photo named is not in the job. */
  photos: string[];
  /** The photo as named. */
  names: PhotoName[];
  origin: Origin;
  /** Words behind the count or the outlines; empty where none. */
  words: string;
  /** Of the lines, in the order written. */
  spots: Spot[];
}

export interface ZoneInspection {
  zone: Zone;
  /** The same zone on the other side. */
  partner: string | null;
  /** False where nothing at all was written and no photo placed. */
  entered: boolean;
  /** Set where it stands as an earlier visit found it, as the newest did not enter it: that visit's day, and the name of its folder. */
  carried?: { date: string | null; visit: string };
  rows: RegisterRow[];
  observations: Observation[];
  readings: { reading: Reading; photos: string[]; verdict: ReadingVerdict }[];
  /** Rusted areas counted or traced on photos, in the order written. */
  rusted: RustedMeasure[];
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
  /** Worst outcome of rows and observations, rust counted on a photo a defect; `not seen` where nothing was seen; `sound` only where all known is sound and nothing is unseen. */
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
  /** Null where no `baseline:` note names film readings. */
  filmBaseline: FilmBaseline | null;
  /** Views of the insurer's set: present and missing. */
  views: { id: string; photo: string | null }[];
  /** Notes under headings no zone was recognised in. */
  unplacedNotes: { heading: string; spot: Spot; texts: string[] }[];
  notices: Notice[];
}

/** What `weigh` says of one cavity: the states the shared risk model starts from, and what it makes of them. */
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
  /** Whether the metal inside was seen whole, in part, or not at all. */
  insideSeen: 'whole' | 'part' | 'none';
  /** Least usable thickness reading, mm; null where the sheet is assumed. */
  measuredMm: number | null;
  /** Least refused reading that still says what is left at most, mm; null where there is none. */
  atMostMm: number | null;
  /** Nominal sheet, assumed. */
  sheetMm: number;
  /** Hours to cut out and replace: low, likely, high. */
  replaceHours: [number, number, number];
  /** Whether the work behind "with the work done" is written, only usual, or none. */
  work: 'written' | 'usual' | 'none';
  weighed: Weighed;
  share: UnseenShare;
}

export interface Outlook {
  /** Version of the shared risk model, and assumptions this job changed. */
  model: string;
  cavities: CavityOutlook[];
  car: CarOutlook;
  /** Each assumption at its low and high end, largest effect first; empty where it was not asked for. */
  sensitivity: Sensitivity[];
}

/** What mending one zone is worth: how likely its closed sections go through within five years, and what that would cost. */
export interface Worth {
  /** Cavity id of the section that gains most, or is likeliest through. */
  cavity: string;
  /** Sections expected to be spared within five years: the chance if left less the chance with the work, summed over the zone. */
  spared: Range;
  /** The same times the hours to cut out and replace each section. */
  sparedHours: Range;
  /** The same times the rate of labour, minor units; null where no rate is given. */
  sparedCost: { currency: string; low: number; middle: number; high: number } | null;
  /** What the work costs, minor units; null where anything of it is unpriced. */
  cost: { currency: string; low: number; likely: number; high: number } | null;
  /** Cost spared for each unit of cost now; null where either is not known or the currencies differ. */
  perCost: Range | null;
}

/** One of the first steps, in order. */
export interface Step {
  id: string;
  /** Zone id; empty where several zones are gathered. */
  zone: string;
  /** Every zone with a page of its own that it concerns. */
  zones: string[];
  title: string;
  /** 1 licensed examination · 2 what has to come before other work · 3 work, by what it is worth · 4 look at what was not seen. */
  rank: 1 | 2 | 3 | 4;
  /** Whether it keeps water out or lets it out. */
  stopsWater: boolean;
  structure: boolean;
  outcome: Outcome;
  why: string;
  /** What the inspector wrote to do, or the usual remedy marked as a suggestion. */
  what: string;
  suggested: boolean;
  hours: Spread | null;
  /** Null for steps that mend nothing, and where the risk model sees no gain. */
  worth: Worth | null;
  cautions: string[];
  /** Anchors of the rows and observations it answers. */
  answers: string[];
}

export interface Plan {
  steps: Step[];
  /** Work is ordered by cost spared for each unit of cost where every work is priced, else by sections spared. */
  orderedBy: 'cost' | 'chance';
  parts: PartSum[];
  /** Work written, per zone, as it stands. */
  work: { zone: string; work: Work }[];
  /** Work of cutting out and replacing to be expected within five years if all is left; cost and rate in minor units, null where no rate is given. */
  expected: { hours: SumRange; cost: { currency: string; alike: Range; apart: Range } | null; perHour: number | null };
  /** What the work costs, from the user's own rates and prices only. */
  estimate: Estimate;
  /** Caution ids that belong to this job, in order. */
  cautions: string[];
  /** Work done beside what was planned, over this visit and those before it. */
  record: WorkRecord;
  /** Dates to look again of this visit and those before it, the soonest first. */
  again: LookAgain[];
  notices: Notice[];
}
