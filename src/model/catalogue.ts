import { z } from 'zod';
import type { RiskModel } from './risk.ts';

/** A trade term in both kinds of English. */
export const termSchema = z.object({ gb: z.string().min(1), us: z.string().min(1) });
export type Term = z.infer<typeof termSchema>;

/** What came of looking at an expected opening. One to one with W3C EARL: Pass, Fail, Undetermined, Not applicable, Not tested. */
export const outcomes = ['sound', 'defect', 'cannot tell', 'not fitted', 'not seen'] as const;
export const outcomeSchema = z.enum(outcomes);
export type Outcome = z.infer<typeof outcomeSchema>;

/** Usual exposure of an opening to water. */
export const exposures = ['wheel spray', 'road spray', 'rain by design', 'indoors'] as const;
export const exposureSchema = z.enum(exposures);
export type Exposure = z.infer<typeof exposureSchema>;

export const sides = ['left', 'right'] as const;
export type Side = (typeof sides)[number];

const record = {
  /** File name without ending. */
  id: z.string().regex(/^[a-z][a-z0-9-]*$/),
  name: termSchema,
  /** Further spellings the findings reader accepts, lower case. */
  also: z.array(z.string()),
  /** Where the record comes from: a published source, or "common practice, no source". */
  source: z.string().min(1),
};

/**
 * What a finding can be about: an opening that should keep water out or let it out, or the metal, the coating, the
 * water inside, a sign of earlier repair.
 */
export const partTypes = ['opening', 'metal', 'coating', 'water', 'repair'] as const;
export const partSchema = z.object({
  ...record,
  type: z.enum(partTypes),
  /** Group of conditions that apply, matched against a condition's `for`. */
  group: z.string(),
  /** Plural of the British name, for counting ("4 blind plugs"). */
  plural: termSchema,
  meaning: z.string(),
});
export type Part = z.infer<typeof partSchema>;

/** A judgement of one part, with its words and what it means to a lay reader. */
export const conditionSchema = z.object({
  ...record,
  /** Part groups the condition applies to. */
  for: z.array(z.string()).min(1),
  outcome: z.enum(['sound', 'defect', 'cannot tell']),
  /** Rank, 0 best to 100 worst: of several conditions the worst counts. Our judgement. */
  badness: z.number().min(0).max(100),
  /** True where steel is through, thin, or badly patched: such a finding in structure wants licensed examination. */
  weakens: z.boolean(),
  /** True where the usual remedy takes a new part of the same kind. */
  newPart: z.boolean(),
  meaning: z.string(),
  /** What is usually done about it, as a verb phrase ("fit a new plug of the right size"); empty where nothing. */
  remedy: z.string(),
  /** Ids of cautions that go with the remedy. */
  cautions: z.array(z.string()),
  examples: z.array(z.object({ text: z.string(), outcome: z.string() })),
});
export type Condition = z.infer<typeof conditionSchema>;

/** A kind of opening a zone's shell usually has. */
export const expectedOpeningSchema = z.object({
  part: z.string(),
  /** Usual place ("inner face"), empty where the kind alone says it. */
  place: z.string(),
  exposure: exposureSchema,
  /** Id of the cavity of the same zone that the opening leads to. */
  cavity: z.string(),
});
export type ExpectedOpening = z.infer<typeof expectedOpeningSchema>;

/** A closed section of the body: the space nobody can see into. */
export const cavitySchema = z.object({
  id: z.string(),
  name: z.string(),
  walls: z.array(z.string()).min(1),
  /** Nominal sheet thickness. Assumed, our judgement, ±10 %. */
  sheetMm: z.number().positive(),
  /** Inner surface, our judgement. */
  areaM2: z.number().positive(),
  carriesLoad: z.boolean(),
  /** Hours to cut out and replace: low, likely, high. Our judgement. */
  replaceHours: z.tuple([z.number(), z.number(), z.number()]),
});
export type CavityRecord = z.infer<typeof cavitySchema>;

/** One zone of the body, as a kind; a sided one stands for two zones of the car. */
export const zoneRecordSchema = z.object({
  ...record,
  /** Front to rear, for sorting. */
  order: z.number(),
  sided: z.boolean(),
  /** Whether the zone carries structure or a safety mounting. */
  carries: z.enum(['structure', 'part', 'nothing']),
  /** Safety mountings near by ("seat belt", "suspension"), may be empty. */
  mountings: z.array(z.string()),
  /** Body ids the zone is expected on. */
  bodies: z.array(z.string()).min(1),
  /** Expected only when the car is said to have rear doors. */
  rearDoors: z.boolean(),
  waterIn: z.string(),
  waterOut: z.string(),
  /** What to look at, one point each. */
  lookAt: z.array(z.string()).min(1),
  cautions: z.array(z.string()),
  openings: z.array(expectedOpeningSchema).min(1),
  cavities: z.array(cavitySchema).min(1),
});
export type ZoneRecord = z.infer<typeof zoneRecordSchema>;

export const bodySchema = z.object({ ...record, /** How this type differs for an inspector, whole sentences. */ notes: z.array(z.string()) });
export type Body = z.infer<typeof bodySchema>;

export const cautionSchema = z.object({
  ...record,
  /** When it applies, a clause ("before a jack or lift touches the car"). */
  when: z.string(),
  /** What to do, one sentence each. The last defers to local codes and licensed people. */
  points: z.array(z.string()).min(2),
  /** Public address of the source. */
  link: z.string(),
  order: z.number(),
});
export type Caution = z.infer<typeof cautionSchema>;

/** How a thing was looked at, best first. */
export const evidenceSchema = z.object({
  ...record,
  /** 1 is best. */
  grade: z.int().min(1),
  /** Whether it counts as seen, in coverage and model: told, inferred and not seen do not. */
  counts: z.boolean(),
});
export type Evidence = z.infer<typeof evidenceSchema>;

/** Why something was not seen. */
export const reasonSchema = z.object({ ...record, /** What it usually takes to see it. */ toSee: z.string() });
export type Reason = z.infer<typeof reasonSchema>;

/** A photo of the set insurers usually ask for. */
export const viewSchema = z.object({ ...record, order: z.number() });
export type View = z.infer<typeof viewSchema>;

/** What work is paid for, and waited for: `dry` is waiting, not labour. */
export const labours = ['inspect', 'strip trim', 'clean', 'dry', 'metal', 'weld', 'seal', 'paint', 'wax', 'refit', 'look again'] as const;
export type Labour = (typeof labours)[number];

/** What work does to a closed section, for the outlook. `none` wherever that is not sure from the word alone. */
export const workEffects = ['none', 'dries', 'closes openings', 'opens drains', 'protects', 'patches', 'replaces'] as const;
export type WorkEffect = (typeof workEffects)[number];

/** A kind of work, with its place in the usual order and the damage that order prevents. */
export const workKindSchema = z.object({
  ...record,
  /** Words that name it only where they are the whole step: "plugs" of "wax, plugs, membranes". */
  alone: z.array(z.string()),
  /** Longer phrases of another kind that name this one too: "touch in rust". */
  beside: z.array(z.string()),
  /** Place in the usual order, unique. */
  order: z.number(),
  labour: z.enum(labours),
  effect: z.enum(workEffects),
  /** Makes heat or sparks. */
  hot: z.boolean(),
  /** Time passes and nobody is paid. */
  waits: z.boolean(),
  /** Ids of kinds that come before this one where both are done in one zone. */
  after: z.array(z.string()),
  /** Ids of kinds without which this one does damage, before or after it. */
  needs: z.array(z.string()),
  /** Where others need this one: only in zones that carry structure, near fuel, with a drain, or where work is named that comes after it; null everywhere. */
  where: z.enum(['structure', 'fuel', 'drain', 'covered']).nullable(),
  /** Ids of kinds that are not to be done beside this one in one zone. */
  against: z.array(z.string()),
  /** Ids of kinds that this one undoes where it comes later. */
  undoes: z.array(z.string()),
  /** The damage the order prevents, one clause; empty where nothing hangs on it. */
  why: z.string(),
  /** Reasons of their own for some of the ids above. */
  reasons: z.array(z.object({ of: z.array(z.string()).min(1), why: z.string().min(1) })),
});
export type WorkKind = z.infer<typeof workKindSchema>;

const rising = (three: readonly number[]): boolean => three.every((one, index) => index === 0 || one >= (three[index - 1] ?? 0));

/** A material whose amount follows from the area it is put on. */
export const materialSchema = z.object({
  ...record,
  /** Ids of the kinds of work that put it on. */
  usedBy: z.array(z.string()).min(1),
  /** Dry film, what of the liquid stays, and what misses the surface: low, likely, high. Our judgement. */
  filmUm: z.tuple([z.number().positive(), z.number(), z.number().max(10_000)]).refine(rising),
  solidsPercent: z.tuple([z.number().positive(), z.number(), z.number().max(100)]).refine(rising),
  lossPercent: z.tuple([z.number().min(0), z.number(), z.number().max(95)]).refine(rising),
});
export type Material = z.infer<typeof materialSchema>;

/** Everything the trade knows, read from `content/`, each list sorted by `order`/`grade`, else by id. */
export interface Catalogue {
  zones: ZoneRecord[];
  parts: Part[];
  conditions: Condition[];
  bodies: Body[];
  cautions: Caution[];
  evidence: Evidence[];
  reasons: Reason[];
  views: View[];
  /** In the usual order of work. */
  works: WorkKind[];
  materials: Material[];
  /** Every assumption of the shared risk model. */
  risk: RiskModel;
}

/** A zone of a car: a record, and the side where it is sided. */
export interface Zone {
  /** `sill-left`, `boot-floor`. */
  id: string;
  record: ZoneRecord;
  side: Side | null;
  /** "Sill, left" in British terms. */
  name: string;
  /** "Rocker, left". */
  nameUs: string;
}

/** The zones a record stands for on the car: one, or left and right. */
export function zonesOf(zone: ZoneRecord): Zone[] {
  if (!zone.sided) return [{ id: zone.id, record: zone, side: null, name: zone.name.gb, nameUs: zone.name.us }];
  return sides.map((side) => ({
    id: `${zone.id}-${side}`,
    record: zone,
    side,
    name: `${zone.name.gb}, ${side}`,
    nameUs: `${zone.name.us}, ${side}`,
  }));
}
