import { attackUm, classes, medianRateUm } from './kinetics.ts';
import type { Judgement } from './judgements.ts';
import { coatingOf, rateOf } from './setting.ts';
import type { Setting } from './setting.ts';
import type { MetalState, PlaceInput } from './states.ts';

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
export function steelOf(setting: Setting, place: PlaceInput): Steel {
  const { judgement, section, work, unseen } = setting;
  const sheetUm = section.sheetMm * 1000 * judgement.sheetFactor;
  const metal: MetalState = place.metal === 'unseen' ? (unseen.metal ?? (unseen.inside ?? judgement).unseenMetal) : place.metal;
  const steel = { metal, renewed: false, dated: false, sheetUm, lossUm: 0, leftUm: null };
  if (work === 'done' && place.renewed) return { ...steel, metal: 'sound', renewed: true };
  if (place.measuredMm !== null) {
    const leftUm = Math.min(place.measuredMm * 1000, sheetUm);
    return { ...steel, lossUm: (sheetUm - leftUm) / judgement.pitFactor, leftUm };
  }
  if (place.newYears !== null) return { ...steel, metal: 'sound', dated: true, lossUm: lossSinceNew(setting, place, place.newYears) };
  if (place.metal === 'unseen' && unseen.nothingLost) return steel;
  return seenAs(judgement, steel, metal);
}

/** Steel by the state of its metal. A pit or thin steel is known at its deepest place; the mean loss behind it is that depth over the pit factor. */
export function seenAs(judgement: Judgement, steel: Steel, metal: MetalState): Steel {
  const { sheetUm } = steel;
  if (metal === 'holed') return { ...steel, metal, lossUm: sheetUm, leftUm: 0 };
  if (metal !== 'pitted' && metal !== 'thin') return { ...steel, metal, lossUm: judgement.lossUm[metal], leftUm: null };
  const leftUm = metal === 'pitted' ? sheetUm * (1 - judgement.pitShare) : Math.min(judgement.thinLeftUm, sheetUm);
  return { ...steel, metal, lossUm: (sheetUm - leftUm) / judgement.pitFactor, leftUm };
}

/** Mean loss since the steel was new, at the middle of rate, exponent and protection, over water in and out, µm. */
function lossSinceNew(setting: Setting, place: PlaceInput, years: number): number {
  const { judgement, water, blocked } = setting;
  const bare = years - judgement.coat[coatingOf(setting, place)].medianYears;
  const [wet = 0, dry = 0] = (['wet', 'dry'] as const).map((wetness) => {
    const { classIndex, exponent } = rateOf(setting, wetness, blocked);
    return attackUm(medianRateUm(classes[classIndex] ?? 'CX', judgement.dryKeptRateUm), judgement.exponent[exponent].mean, bare);
  });
  return water * wet + (1 - water) * dry;
}
