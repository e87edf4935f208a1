import { attackUm, classes, classOf, medianRateUm } from './kinetics.ts';
import type { CoatName, Draws, Judgement } from './judgements.ts';
import { horizons, throughChances } from './through.ts';
import type { Course, Past, WornCoat } from './through.ts';
import { coatingStates, metalStates } from './states.ts';
import type { CoatingState, KeptState, MetalState, OpeningState, PlaceInput, SaltState, SectionInput } from './states.ts';

/** States put in the place of what nobody saw: drawn where absent. */
export interface Unseen {
  opening?: OpeningState;
  drainBlocked?: boolean;
  metal?: MetalState;
  nothingLost?: boolean;
  coating?: CoatingState;
  salt?: SaltState;
  kept?: KeptState;
  /** States as another draw has them: of metal and coating, of openings and drains, of the surroundings. */
  inside?: Judgement;
  openings?: Judgement;
  around?: Judgement;
}
/** Everything unseen at its best, where steel nobody saw has lost nothing, and at its worst. */
export const best: Unseen = { opening: 'sound', drainBlocked: false, metal: 'sound', nothingLost: true, coating: 'wax-good', salt: 'none', kept: 'heated' };
export const worst: Unseen = { opening: 'missing', drainBlocked: true, metal: 'holed', coating: 'none', salt: 'heavy', kept: 'coast' };

/** Whether the section is weighed as it is left, or with the work done. */
export type Work = 'left' | 'done';

/** Chances kept for draws that come to the same: like places of like sections share them. First by what is fixed of a place, then by what is drawn. */
export type Memory = Map<string, Map<number, Remembered>>;

interface Remembered {
  through: Float64Array;
  /** Share of the inner draws that agree with what was seen: not through today. */
  agree: number;
}

/** Least share of draws that has to agree with what was seen: below it one outer draw takes the low end of the rate, and where all of them together lie below it, that is said. */
export const leastAgreement = 0.05;
/** Tenth part of the standard normal distribution: the low end of the rate. */
const lowRateZ = -1.2815515655446004;

/** What one outer draw makes of a section. */
export interface DrawnSection {
  /** Chance that water gets in. */
  water: number;
  /** Chance that some place is through today. */
  today: number;
  /** At `horizons`. */
  through: Float64Array;
  /** Steel of each place today. */
  steels: Steel[];
  /** Share of the inner draws that agree with what was seen. */
  agree: number;
}

/** One section in one outer draw: the worst of its places rules. */
export function drawSection(draws: Draws, draw: number, section: SectionInput, work: Work, unseen: Unseen, memory: Memory): DrawnSection {
  const setting = settingOf(draws, draw, section, work, unseen, memory);
  const { water } = setting;
  const result: DrawnSection = { water, today: 0, through: new Float64Array(horizons.length), steels: [], agree: 1 };
  for (const place of section.places) {
    const steel = steelOf(setting, place);
    if (steel.leftUm === 0) result.today = 1;
    const curves = steel.leftUm === 0 ? [] : curvesOf(setting, place, steel);
    result.steels.push(steel);
    if (curves[0] !== undefined) result.agree = Math.min(result.agree, curves[0].agree);
    for (let at = 0; at < horizons.length; at += 1) result.through[at] = Math.max(result.through[at] as number, chanceOf(curves, water, at));
  }
  return result;
}

/** The chance at one horizon only, by its place among `horizons`: what looks are worked out with. */
export function drawChance(draws: Draws, draw: number, section: SectionInput, work: Work, unseen: Unseen, memory: Memory, at: number): number {
  const setting = settingOf(draws, draw, section, work, unseen, memory);
  let chance = 0;
  for (const place of section.places) {
    const steel = steelOf(setting, place);
    if (steel.leftUm === 0) return 1;
    chance = Math.max(chance, chanceOf(curvesOf(setting, place, steel), setting.water, at));
  }
  return chance;
}

function settingOf(draws: Draws, draw: number, section: SectionInput, work: Work, unseen: Unseen, memory: Memory): Setting {
  const judgement = draws.judgements[draw] as Judgement;
  return { draws, judgement, draw, section, work, unseen, memory, water: waterChance(judgement, section, work, unseen), blocked: isBlocked(judgement, section, work, unseen) };
}

interface Setting {
  draws: Draws;
  judgement: Judgement;
  draw: number;
  section: SectionInput;
  work: Work;
  unseen: Unseen;
  memory: Memory;
  water: number;
  blocked: boolean;
}

/** Chance that water gets in: noisy-OR over the openings, or what the water found inside says, whichever is more. */
function waterChance(judgement: Judgement, section: SectionInput, work: Work, unseen: Unseen): number {
  let index = 0;
  let none = 1 - judgement.leak;
  let mended = false;
  for (const opening of section.openings) {
    let state: OpeningState;
    if (opening.state === 'unseen') {
      state = unseen.opening ?? (unseen.openings ?? judgement).unseenOpening(opening.kind, index);
      index += 1;
    } else state = opening.state;
    if (work === 'done' && opening.mended) {
      state = 'sound';
      mended = true;
    }
    none *= 1 - judgement.opening[state] * judgement.place[opening.place];
  }
  // Water found inside tells of openings as they were; once those are mended it tells nothing of the time to come.
  const told = section.water === 'nothing seen' || mended ? 0 : judgement.water[section.water];
  return Math.max(1 - none, told);
}

function isBlocked(judgement: Judgement, section: SectionInput, work: Work, unseen: Unseen): boolean {
  if (section.drain === 'none') return false;
  if (work === 'done' && section.drainOpened) return false;
  if (section.water === 'standing' || section.drain === 'blocked') return true;
  if (section.drain === 'unseen') return unseen.drainBlocked ?? (unseen.openings ?? judgement).unseenDrainBlocked;
  return section.drain === 'slow' && judgement.slowDrainBlocked;
}

/** Steel of one place today, as drawn. */
export interface Steel {
  metal: MetalState;
  renewed: boolean;
  /** Whether it was new at a known date and took its course since. */
  dated: boolean;
  sheetUm: number;
  /** Mean loss, µm. */
  lossUm: number;
  /** Left at the deepest place where that is known, µm; 0 where it is through. */
  leftUm: number | null;
}

/** Loss today, and what is left where that is known. A reading above the sheet is no negative loss. */
function steelOf(setting: Setting, place: PlaceInput): Steel {
  const { judgement, section, work, unseen } = setting;
  const sheetUm = section.sheetMm * 1000 * judgement.sheetFactor;
  const drawn: MetalState = place.metal === 'unseen' ? (unseen.metal ?? (unseen.inside ?? judgement).unseenMetal) : place.metal;
  const plain = { renewed: false, dated: false, sheetUm };
  if (work === 'done' && place.renewed) return { ...plain, metal: 'sound', renewed: true, lossUm: 0, leftUm: null };
  if (place.measuredMm !== null) {
    const leftUm = Math.min(place.measuredMm * 1000, sheetUm);
    return { ...plain, metal: drawn, lossUm: (sheetUm - leftUm) / judgement.pitFactor, leftUm };
  }
  if (place.newYears !== null) return { ...plain, metal: 'sound', dated: true, lossUm: lossSinceNew(setting, place, place.newYears), leftUm: null };
  if (place.metal === 'unseen' && unseen.nothingLost) return { ...plain, metal: drawn, lossUm: 0, leftUm: null };
  return { ...plain, metal: drawn, ...lossOf(judgement, drawn, sheetUm) };
}

/** Mean loss and what is left by the state of the metal. A pit or thin steel is known at its deepest place; the mean loss behind it is that depth over the pit factor. */
function lossOf(judgement: Judgement, metal: MetalState, sheetUm: number): Pick<Steel, 'lossUm' | 'leftUm'> {
  if (metal === 'holed') return { lossUm: sheetUm, leftUm: 0 };
  if (metal !== 'pitted' && metal !== 'thin') return { lossUm: judgement.lossUm[metal], leftUm: null };
  const leftUm = metal === 'pitted' ? sheetUm * (1 - judgement.pitShare) : Math.min(judgement.thinLeftUm, sheetUm);
  return { lossUm: (sheetUm - leftUm) / judgement.pitFactor, leftUm };
}

/** Mean loss since the steel was new, at the middle of rate, exponent and protection, over water in and out, µm. */
function lossSinceNew(setting: Setting, place: PlaceInput, years: number): number {
  const { judgement, section, unseen, water, blocked } = setting;
  const bare = years - judgement.coat[coatingOf(setting, place)].medianYears;
  const [wet = 0, dry = 0] = (['wet', 'dry'] as const).map((wetness) => {
    const { classIndex, exponent } = rateOf(judgement, section, unseen, wetness, blocked);
    return attackUm(medianRateUm(classes[classIndex] ?? 'CX', judgement.dryKeptRateUm), judgement.exponent[exponent].mean, bare);
  });
  return water * wet + (1 - water) * dry;
}

/** Chances of one place where water gets in, and where it does not. */
interface Curves {
  /** The highest counts at each horizon: behind what is drawn stands what must not be worse than it, such as the same with the drain open. */
  wet: readonly Float64Array[];
  dry: readonly Float64Array[];
  /** Share of the inner draws that agree with what was seen, over water in and out. */
  agree: number;
}

/** Curves of a place; behind them those of scaling where the metal is worse, so that pits and thin steel never count as better. */
function curvesOf(setting: Setting, place: PlaceInput, steel: Steel): Curves[] {
  const coating = coatingOf(setting, place);
  const own = curvesWith(setting, place, steel, coating);
  if (place.measuredMm !== null || steel.renewed || (steel.metal !== 'pitted' && steel.metal !== 'thin')) return [own];
  return [own, curvesWith(setting, place, { ...steel, metal: 'scaling', ...lossOf(setting.judgement, 'scaling', steel.sheetUm) }, coating)];
}

function coatingOf({ unseen, judgement }: Setting, place: PlaceInput): CoatingState {
  return place.coating === 'unseen' ? (unseen.coating ?? (unseen.inside ?? judgement).unseenCoating) : place.coating;
}

function curvesWith(setting: Setting, place: PlaceInput, steel: Steel, coating: CoatingState): Curves {
  const { blocked, water } = setting;
  const of = (wetness: Wetness, held: boolean): Remembered => remembered(setting, place, steel, coating, wetness, held);
  const wet = of('wet', blocked);
  const dry = of('dry', blocked);
  return {
    wet: [wet.through, ...(blocked ? [of('wet', false).through] : []), ...(setting.section.surroundings.airRateUm === null ? [] : [of('fresh', false).through])],
    dry: [dry.through, ...(blocked ? [of('dry', false).through] : [])],
    agree: water * wet.agree + (1 - water) * dry.agree,
  };
}

/** The worst of the curves; 1 where there is none, as the steel is through. */
function chanceOf(curves: readonly Curves[], water: number, at: number): number {
  let chance = curves.length === 0 ? 1 : 0;
  for (const one of curves) chance = Math.max(chance, mixed(one, water, at));
  return chance;
}

/** Over wet and dry by the chance that water gets in. Water in never counts as better than dry. */
function mixed({ wet, dry }: Curves, water: number, at: number): number {
  const ofDry = highest(dry, at);
  return ofDry + water * Math.max(0, highest(wet, at) - ofDry);
}

function highest(curves: readonly Float64Array[], at: number): number {
  let chance = 0;
  for (const curve of curves) chance = Math.max(chance, curve[at] as number);
  return chance;
}

/** `fresh` is water in at the rate of the surroundings, but with the exponent of water without salt: where the air sets the class, salt must not make it better. */
type Wetness = 'wet' | 'fresh' | 'dry';

function remembered(setting: Setting, place: PlaceInput, steel: Steel, coating: CoatingState, wet: Wetness, blocked: boolean): Remembered {
  const { judgement, section, unseen, memory, draw } = setting;
  const fixed = keyOf(place, section, steel.renewed);
  let drawn = memory.get(fixed);
  if (!drawn) memory.set(fixed, (drawn = new Map()));
  const { classIndex, exponent } = rateOf(judgement, section, unseen, wet, blocked);
  const anew = setting.work === 'done' && section.protected;
  const metal = place.metal === 'unseen' && unseen.nothingLost ? metalStates.length : metalStates.indexOf(steel.metal);
  const key = ((((draw * 8 + classIndex) * 4 + exponents.indexOf(exponent)) * 8 + metal) * 4 + coatingStates.indexOf(coating)) * 2 + (anew ? 1 : 0);
  const known = drawn.get(key);
  if (known) return known;
  const made = courseChances(setting, place, steel, { coating, rateUm: medianRateUm(classes[classIndex] ?? 'CX', judgement.dryKeptRateUm), exponent, anew });
  drawn.set(key, made);
  return made;
}

/** What is fixed of a place; one place may stand in sections of several sheets. */
function keyOf(place: PlaceInput, section: SectionInput, renewed: boolean): string {
  return renewed ? `${section.sheetMm} renewed` : `${section.sheetMm} ${place.measuredMm} ${place.newYears} ${place.coatedYears}`;
}

function courseChances({ draws, judgement }: Setting, place: PlaceInput, steel: Steel, { coating, rateUm, exponent, anew }: { coating: CoatingState; rateUm: number; exponent: ExponentName; anew: boolean }): Remembered {
  const coats = coatsOf(steel, coating, anew).map((coat, index): WornCoat => ({ ...judgement.coat[coat], usedYears: index > 0 || steel.renewed ? 0 : place.coatedYears }));
  const course: Course = { rateLn: Math.log(rateUm), exponent: judgement.exponent[exponent], coats, sheetUm: steel.sheetUm, lossUm: steel.lossUm, leftUm: steel.leftUm };
  const past: Past | null = steel.dated ? { course: { ...course, coats: [{ ...judgement.coat[coating], usedYears: 0 }] }, years: place.newYears ?? 0 } : null;
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

const exponents = ['dry', 'wet', 'salt', 'packed'] as const;
type ExponentName = (typeof exponents)[number];

/** Class of the rate and exponent by wetness, drain, salt and where the car is kept. */
function rateOf(judgement: Judgement, { surroundings }: SectionInput, unseen: Unseen, wet: Wetness, blocked: boolean): { classIndex: number; exponent: ExponentName } {
  const kept = surroundings.kept === 'unseen' ? (unseen.kept ?? (unseen.around ?? judgement).unseenKept) : surroundings.kept;
  const said = surroundings.salt === 'unseen' ? (unseen.salt ?? (unseen.around ?? judgement).unseenSalt) : surroundings.salt;
  const salt: SaltState = said === 'none' && kept === 'coast' ? 'some' : said;
  const higher = salt === 'heavy' && (unseen.salt === 'heavy' || judgement.heavySaltHigher);
  const bySalt = salt === 'none' ? 2 : higher ? 4 : 3;
  const air = surroundings.airRateUm === null ? null : classOf(surroundings.airRateUm);
  const byAir = air === null ? 0 : air === 'above CX' ? classes.length - 1 : classes.indexOf(air);
  const base = wet === 'dry' ? 1 : Math.max(bySalt, byAir);
  const classIndex = Math.min(classes.length - 1, Math.max(0, base + (blocked ? 1 : 0) - (kept === 'heated' ? 1 : 0)));
  return { classIndex, exponent: wet === 'dry' ? 'dry' : blocked ? 'packed' : salt === 'none' || wet === 'fresh' ? 'wet' : 'salt' };
}
