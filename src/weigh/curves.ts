import { classes, medianRateUm } from './kinetics.ts';
import type { CoatName } from './judgements.ts';
import { coatingOf, exponents, rateOf } from './setting.ts';
import type { ExponentName, Setting, Wetness } from './setting.ts';
import { seenAs } from './steel.ts';
import type { Steel } from './steel.ts';
import { coatingStates, metalStates } from './states.ts';
import type { CoatingState, PlaceInput } from './states.ts';
import { throughChances } from './through.ts';
import type { Chances, Course, Past, WornCoat } from './through.ts';

/** Least share of draws that has to agree with what was seen: below it one outer draw takes the low end of the rate, and where all of them together lie below it, that is said. */
export const leastAgreement = 0.05;
/** Tenth part of the standard normal distribution: the low end of the rate. */
const lowRateZ = -1.2815515655446004;

/** Chances of one place at `horizons` with water in and with water out, and the shares of inner draws that agree with what was seen. */
export interface Curves {
  wet: Float64Array;
  dry: Float64Array;
  wetAgree: number;
  dryAgree: number;
}

/** What was worked out for one kind of place: by the numbers of what is drawn. */
interface Part {
  chances: Map<number, Chances>;
  curves: Map<number, Curves>;
}

/** Chances kept for draws that come to the same: like places of like sections share them. By what is fixed of a place. */
export type Memory = Map<string, Part>;

/**
 * Curves of a place. Water in never counts as better than dry, nor a blocked drain as better than an open one, nor salt as
 * better than none, nor pits and thin steel, whose depth is better known, as better than scaling: the highest of these counts.
 */
export function curvesOf(setting: Setting, place: PlaceInput, steel: Steel, memory: Memory): Curves {
  const { section, blocked, wetClass, salted, heated } = setting;
  const part = partOf(memory, place, section.sheetMm, steel.renewed);
  const coating = coatingOf(setting, place);
  const aired = section.surroundings.airRateUm !== null;
  const flags = (((blocked ? 1 : 0) * 2 + (salted ? 1 : 0)) * 2 + (heated ? 1 : 0)) * 2 + (aired ? 1 : 0);
  const key = (keyOf(setting, place, steel, coating) * 8 + wetClass) * 16 + flags;
  const known = part.curves.get(key);
  if (known) return known;
  const of = (one: Steel, wetness: Wetness, held: boolean): Chances => remembered(part, setting, place, one, coating, wetness, held);
  const wet = of(steel, 'wet', blocked);
  const dry = of(steel, 'dry', blocked);
  const made = { wet: wet.through.slice(), dry: dry.through.slice(), wetAgree: wet.agree, dryAgree: dry.agree };
  const worse = place.measuredMm === null && (steel.metal === 'pitted' || steel.metal === 'thin');
  const others = worse ? [steel, seenAs(setting.judgement, steel, 'scaling')] : [steel];
  for (const one of others) {
    for (const held of blocked ? [true, false] : [false]) {
      raise(made.dry, of(one, 'dry', held).through);
      raise(made.wet, of(one, 'wet', held).through);
    }
    if (aired) raise(made.wet, of(one, 'fresh', false).through);
  }
  raise(made.wet, made.dry);
  part.curves.set(key, made);
  return made;
}

function raise(curve: Float64Array, other: Float64Array): void {
  for (const [at, chance] of other.entries()) curve[at] = Math.max(curve[at] as number, chance);
}

/** What is drawn of a place, apart from wetness and surroundings, as one number. */
function keyOf({ draw, work, section, unseen }: Setting, place: PlaceInput, steel: Steel, coating: CoatingState): number {
  const anew = work === 'done' && section.protected;
  const metal = place.metal === 'unseen' && unseen.nothingLost ? metalStates.length : metalStates.indexOf(steel.metal);
  return ((draw * 8 + metal) * 4 + coatingStates.indexOf(coating)) * 2 + (anew ? 1 : 0);
}

const partsOf = new WeakMap<Memory, WeakMap<PlaceInput, { sheetMm: number; plain: Part; renewed: Part }>>();

/** The part of the memory for what is fixed of a place; kept with the place, though one place may stand in sections of several sheets. */
function partOf(memory: Memory, place: PlaceInput, sheetMm: number, renewed: boolean): Part {
  let byPlace = partsOf.get(memory);
  if (!byPlace) partsOf.set(memory, (byPlace = new WeakMap()));
  let known = byPlace.get(place);
  if (known?.sheetMm !== sheetMm) {
    known = { sheetMm, plain: partFor(memory, `${sheetMm} ${place.measuredMm} ${place.newYears} ${place.coatedYears}`), renewed: partFor(memory, `${sheetMm} renewed`) };
    byPlace.set(place, known);
  }
  return renewed ? known.renewed : known.plain;
}

function partFor(memory: Memory, key: string): Part {
  let part = memory.get(key);
  if (!part) memory.set(key, (part = { chances: new Map(), curves: new Map() }));
  return part;
}

function remembered(part: Part, setting: Setting, place: PlaceInput, steel: Steel, coating: CoatingState, wetness: Wetness, blocked: boolean): Chances {
  const { classIndex, exponent } = rateOf(setting, wetness, blocked);
  const key = (keyOf(setting, place, steel, coating) * 8 + classIndex) * 4 + exponents.indexOf(exponent);
  const known = part.chances.get(key);
  if (known) return known;
  const made = chancesOf(setting, place, steel, { coating, rateUm: medianRateUm(classes[classIndex] ?? 'CX', setting.judgement.dryKeptRateUm), exponent });
  part.chances.set(key, made);
  return made;
}

function chancesOf(setting: Setting, place: PlaceInput, steel: Steel, { coating, rateUm, exponent }: { coating: CoatingState; rateUm: number; exponent: ExponentName }): Chances {
  const { draws, judgement, work, section } = setting;
  const worn = steel.renewed ? 0 : place.coatedYears;
  const coats = coatsOf(steel, coating, work === 'done' && section.protected).map((coat, index): WornCoat => ({ coat: judgement.coat[coat], usedYears: index > 0 ? 0 : worn }));
  // A coat of a known year lies over whatever else is there, which nobody saw: it takes nothing away.
  if (worn > 0) coats.push(...coatsOf(steel, judgement.unseenCoating, false).map((coat): WornCoat => ({ coat: judgement.coat[coat], usedYears: 0 })));
  const course: Course = { rateLn: Math.log(rateUm), exponent: judgement.exponent[exponent], coats, sheetUm: steel.sheetUm, lossUm: steel.lossUm, leftUm: steel.leftUm };
  const past: Past | null = steel.dated ? { course: { ...course, coats: [{ coat: judgement.coat[coating], usedYears: 0 }] }, years: place.newYears ?? 0 } : null;
  const usual = throughChances(draws, judgement, course, past);
  if (usual.agree >= leastAgreement) return usual;
  return { through: throughChances(draws, judgement, course, past, lowRateZ).through, agree: usual.agree };
}

/** Coats in force: rust takes the hold from paint and shortens wax; new protection is added to what is there, which stands first. */
function coatsOf({ metal, renewed }: Steel, coating: CoatingState, anew: boolean): CoatName[] {
  const rusting = metal !== 'sound';
  const now: CoatName = renewed ? 'paint' : !rusting ? coating : coating === 'paint' ? 'none' : coating === 'wax-good' ? 'wax-thin' : coating;
  return anew ? [now, rusting ? 'new-over-rust' : 'new'] : [now];
}
