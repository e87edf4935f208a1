import type { ClockCorrection } from './photo.ts';
import type { Exposure } from './catalogue.ts';
import type { Spot } from './notice.ts';
import type { RustedSaid } from './rusted-area.ts';

/** Text with the place it stands at. */
export interface Words {
  text: string;
  spot: Spot;
}

/** One `key: value` line of Car, Visit or Rates. */
export interface Meta extends Words {
  /** Lower case, as matched: `built`, `kept`, `winter salt`. */
  key: string;
}

/** Whether a line is what was seen, what the inspector makes of it, or what somebody said. */
export type Origin = { kind: 'fact' } | { kind: 'opinion' } | { kind: 'told'; by: string };

/** A photo named in the findings. `name` is as written; the placer finds the file. */
export interface PhotoName extends Words {
  /** Words of the picture, `![words](name)`, which are also the text alternative; empty for a bare name. */
  alt: string;
}

/** How a thing was looked at. */
export interface Looked {
  /** Evidence record id. */
  evidence: string;
  /** "inner face 2" of "seen through inner face 2". */
  through: string | null;
  /** True where nothing was written and *seen directly* was taken. */
  assumed: boolean;
}

/** Money as written, in minor units of `currency`. Null currency: unpriced, said so. */
export interface Money {
  /** The amount; of a range its lower end. */
  minor: number;
  currency: string | null;
  text: string;
  /** Of `20-30` or `20/25/40`. A single price has no range: it is a price, not an estimate. */
  range?: { likelyMinor: number; highMinor: number };
  /** Why the amount cannot count, a clause such as "it runs backwards"; then it is unpriced. */
  flaw?: string;
}

/** Hours or money as low, likely, high. */
export interface Spread {
  low: number;
  likely: number;
  high: number;
  /** True where a single value was given and the spread is judged (−20 % +40 %, ours). */
  judged: boolean;
}

/** A mark on a photo in fractions of the upright picture, x right, y down. */
export interface Mark extends Words {
  shape: 'ring' | 'arrow' | 'box' | 'hide' | 'rusted points' | 'rusted outline' | 'scale';
  /** Coordinates in the order written: ring x y r; arrow and scale x1 y1 x2 y2; box and hide x1 y1 x2 y2; outline pairs; rusted points x1 y1 x2 y2. */
  numbers: number[];
  label: string;
  /** Of rusted points and a rusted outline. */
  rusted?: RustedSaid;
  /** Of a scale: the length written behind it, in mm. */
  lengthMm?: number;
}

interface EntryBase extends Words {
  origin: Origin;
  photos: PhotoName[];
  /** Words after the conditions, without evidence words' loss: kept whole. */
  words: string;
}

/** What a finding or reading is about. */
export interface About {
  /** Part record id (`plug`, `metal`). */
  part: string;
  /** Normalised place: lower case, single spaces, "inner face 2"; empty where none. */
  place: string;
  /** Opening size as written ("25 mm"), else null. */
  size: string | null;
  /** Cable or pipe size as written ("cable 8 mm"), else null. */
  cable: string | null;
  exposure: Exposure | null;
}

/** `plug, inner face 1: cracked, loose. free words. IMG_4023` */
export interface Finding extends EntryBase {
  type: 'finding';
  about: About;
  /** Condition record ids, as written order; empty where none was recognised (then: cannot tell). */
  conditions: string[];
  /** What stood among the conditions and is no condition ("40 x 60 mm", "mud"). */
  details: string[];
  looked: Looked;
  /** `was:` name of the same opening at the last visit. */
  was: string | null;
  marks: Mark[];
  work: Work[];
}

/** `plugs: 4 expected, 1 sound, 2 missing` and `expected: 9 plugs`. */
export interface Count extends EntryBase {
  type: 'count';
  part: string;
  place: string;
  expected: number | null;
  /** Condition id → how many. `not seen` and `not fitted` count under those words. */
  counts: { condition: string; count: number }[];
  looked: Looked;
}

/** `steel, outer face: 0.62 mm, 0.64 mm`: measured values of one place. */
export interface Reading extends EntryBase {
  type: 'reading';
  quantity: 'steel' | 'film' | 'hardness' | 'water depth';
  place: string;
  /** Numbers in `unit`. */
  values: number[];
  unit: 'mm' | 'um' | 'Shore A';
  /** Smallest step of the figures as typed, in `unit`: 0.01 of "0.62 mm", 1 of "480 um". Stands for the gauge's resolution. */
  step: number;
  /** `ultrasonic` unless said: caliper; film: magnetic induction. */
  method: string;
}

/** `not seen: rear third. cover strip fitted. to see it: drill out 14 rivets, 1 h` */
export interface NotSeen extends EntryBase {
  type: 'not seen';
  /** What was not seen, as written; empty for the whole zone. */
  what: string;
  /** Set where `what` names a part the catalogue knows. */
  about: About | null;
  /** Reason record id, null where in own words or none. */
  reason: string | null;
  reasonWords: string;
  toSee: string;
  hours: Spread | null;
}

/** `not fitted: drain tube` */
export interface NotFitted extends EntryBase {
  type: 'not fitted';
  about: About | null;
  what: string;
}

/** `mounting: 22 cm from seat-belt bolt`: distance of the finding above (or of the zone) from a safety mounting. */
export interface Mounting extends EntryBase {
  type: 'mounting';
  /** Millimetres. */
  distanceMm: number;
  of: string;
}

/** A remark: told, opinion, or free words that fit no other form. */
export interface Remark extends EntryBase {
  type: 'remark';
  /** Set where the line is a mark that cannot be read or drawn: it says nothing, and is printed as typed. */
  unread?: true;
}

/** A photo put into the zone without a finding, `![](file)`. */
export interface PhotoOnly extends EntryBase {
  type: 'photo';
  marks: Mark[];
}

export interface PartWanted extends Words {
  name: string;
  size: string | null;
  count: number;
  price: Money | null;
  /** True where the price was written for all of them together ("5.00 together"), not for each. */
  together: boolean;
}

/** What is known of a work for the record: who, with what, on which paper, how it treats the old, what was kept. */
export interface Particulars {
  /** Names as typed. */
  hands: string[];
  /** `name` or `batch` may be empty, not both; `words` is what else was said of it, such as "0.5 l". */
  materials: { name: string; batch: string; words: string }[];
  /** `words` is what else the line says of the invoice. */
  invoices: { number: string; words: string }[];
  /** One of `treatments`, or the word as typed where it is none of them. */
  treatments: string[];
  /** "reversible", "not reversible", or how far, as typed; empty where nothing was written. */
  reversible: string;
  /** What was kept and where, as typed: "old plug, tin in boot". */
  kept: string[];
  /** Lines under it as typed, which say the above. */
  lines: Words[];
}

/** Kinds of treatment, in plain words of conservation, the least change first (after the FIVA Charter of Turin; the order is our judgement). */
export const treatments = ['cared for', 'conserved', 'restored', 'repaired', 'changed'] as const;

export interface WorkDone extends Words, Particulars {
  /** ISO date, null where none was written. */
  date: string | null;
  /** Every piece of the line behind the date, as typed. */
  details: string[];
  /** Those pieces that are words of what was done. */
  did: string[];
  /** Hours it took, as written: a fact, so a single value has no spread. Null where none were written. */
  hours: Spread | null;
  /** What it cost, as written with a currency. */
  cost: Money | null;
  /** Ids of the kinds of work done, as the details name them; where they name none, those of the work. */
  kinds: string[];
}

/** `do: wash out, dry, wax. 2-3 h` with what stands under it. */
export interface Work extends EntryBase {
  type: 'work';
  steps: string;
  /** Ids of the kinds of work named, in the order of the words. */
  kinds: string[];
  /** All hours of work written, summed; waiting is not among them. */
  hours: Spread | null;
  /** Hours that pass while nobody works, such as drying; null where none were written. */
  waits: Spread | null;
  /** Where several times are written, those of `hours` with the kinds each stands for; empty where one time stands for all. */
  split: { kinds: string[]; hours: Spread }[];
  cost: Money | null;
  parts: PartWanted[];
  done: WorkDone[];
  /** What stands under the work before it is done. */
  particulars?: Particulars;
  /** True of a `done:` line that stands by itself: no line of this visit planned it. */
  unplanned?: true;
}

/** `again: 2026-10`, `ask: …`, `kept: …`, `invoice: …`, `baseline: roof`, `was: …` standing by themselves; `same view: IMG_4022` under a picture. */
export interface Note extends EntryBase {
  type: 'note';
  key: 'again' | 'ask' | 'kept' | 'invoice' | 'baseline' | 'was' | 'same view';
  /** Of `same view`: the picture it stands under; `words` names the one of an earlier visit that shows the same from the same place. */
  of?: PhotoName;
}

export type Entry = Finding | Count | Reading | NotSeen | NotFitted | Mounting | Remark | PhotoOnly | Work | Note;

/** A stretch of the inspector's own prose: Markdown source, with raw HTML as the text it is. */
export interface Narrative extends Words {}

/** Everything under one level-1 heading that names a zone, or names none we know. */
export interface ZoneNotes {
  heading: Words;
  /** Zone id (`sill-left`), or null where the heading was not recognised: nothing under it is lost. */
  zone: string | null;
  /** `(10:12)` in the heading: photos taken from then to the next heading's time belong here. `HH:MM`. */
  from: string | null;
  entries: Entry[];
  narrative: Narrative[];
}

/** A photo of the insurer's set. */
export interface ViewPhoto extends Words {
  view: string;
  photo: PhotoName;
}

/** Date and hours of the visit, from `seen:`. */
export interface Seen {
  /** `2026-03-14` */
  date: string;
  /** `10:00`, null where not written. */
  from: string | null;
  to: string | null;
  /** IANA zone, null where not written. */
  timeZone: string | null;
  spot: Spot;
}

/** `findings.md` read whole. */
export interface Notes {
  /** Path relative to the job folder. */
  file: string;
  car: Meta[];
  visit: Meta[];
  rates: Meta[];
  seen: Seen | null;
  clocks: ClockCorrection[];
  views: ViewPhoto[];
  zones: ZoneNotes[];
  /** What stood before the first heading. */
  preamble: Narrative[];
}
