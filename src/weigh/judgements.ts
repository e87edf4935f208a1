import type { RiskMixture, RiskModel, RiskValue } from '../model/risk.ts';
import { normalQuantile, triangularQuantile } from './distributions.ts';
import { axes, sobolAxis, turnedAxis } from './sequence.ts';
import type { CoatingState, KeptState, MetalState, OpeningKind, OpeningPlace, OpeningState, SaltState } from './states.ts';
import { openingStates, places } from './states.ts';

/** Sizes of the two levels: sets of judgements and unseen states, and draws of what varies in each. Powers of two. */
export interface Levels {
  outer: number;
  inner: number;
}
export const fullLevels: Levels = { outer: 64, inner: 256 };

/** Axes of the outer sequence, one for each thing that is not known; the ones that move the answer most come first. */
const axisOf = { metal: 0, opening: 1, loss: 2, pit: 3, openings: 4, place: 5, protection: 6, exponent: 7, coating: 8, sheet: 9, drain: 10, salt: 11, kept: 12, heavy: 13, water: 14, rate: 15 } as const;
/** Unseen openings of one section take axes from here on, in their order, and turned ones when these are used up. */
const firstOpeningAxis = 16;

/** A coat that keeps water off for a time: median years and sigma of their logarithm. */
export interface Coat {
  medianYears: number;
  sigma: number;
}
export type CoatName = CoatingState | 'new' | 'new-over-rust';

/** One outer draw: every judgement settled, every unseen state drawn. */
export interface Judgement {
  leak: number;
  opening: Record<OpeningState, number>;
  place: Record<OpeningPlace, number>;
  water: { standing: number; silt: number; damp: number; rust: number };
  unseenOpening: (kind: OpeningKind, index: number) => OpeningState;
  unseenDrainBlocked: boolean;
  slowDrainBlocked: boolean;
  unseenSalt: SaltState;
  unseenKept: KeptState;
  heavySaltHigher: boolean;
  unseenMetal: MetalState;
  unseenCoating: CoatingState;
  /** Mean loss, µm. */
  lossUm: Record<'sound' | 'surface-rust' | 'scaling', number>;
  /** Deepest pit over the sheet. */
  pitShare: number;
  thinLeftUm: number;
  pitFactor: number;
  sheetFactor: number;
  dryKeptRateUm: number;
  rateSigma: number;
  exponent: Record<'dry' | 'wet' | 'salt' | 'packed', { mean: number; sigma: number }>;
  coat: Record<CoatName, Coat>;
}

/** What all outer draws share: the draws of what varies inside each, as standard normal values. */
export interface Draws {
  judgements: Judgement[];
  rate: Float64Array;
  exponent: Float64Array;
  protection: Float64Array;
  pitSigma: number;
}

/** Draws of both levels: the same for every section and every machine. */
export function drawsOf(model: RiskModel, levels: Levels = fullLevels): Draws {
  const normal = (axis: number): Float64Array => sobolAxis(axis, levels.inner).map(normalQuantile);
  const value = finder(model.values);
  const outer = Object.fromEntries(Object.entries(axisOf).map(([name, axis]) => [name, sobolAxis(axis, levels.outer)])) as Record<keyof typeof axisOf, Float64Array>;
  const opening = openingAxes(outer.opening, levels.outer);
  return {
    judgements: Array.from({ length: levels.outer }, (_, draw) => judgementOf(model, (name) => outer[name][draw] ?? 0.5, (index) => opening(index)[draw] ?? 0.5)),
    rate: normal(0),
    exponent: normal(1),
    protection: normal(2),
    pitSigma: value('pit-factor').spread,
  };
}

/** The first unseen opening of a section has the best axis, the next ones those behind. */
function openingAxes(first: Float64Array, outer: number): (index: number) => Float64Array {
  const made = [first];
  const free = axes - firstOpeningAxis;
  return (index) => {
    while (made.length <= index) {
      const next = made.length - 1;
      made.push(turnedAxis(firstOpeningAxis + (next % free), Math.floor(next / free), outer));
    }
    return made[index] ?? first;
  };
}

/** A job may set a factor or a rate to nothing; its logarithm still has to be a number. */
const least = 1e-6;

function judgementOf(model: RiskModel, at: (name: keyof typeof axisOf) => number, atOpening: (index: number) => number): Judgement {
  const value = finder(model.values);
  const mixture = finder(model.mixtures);
  const drawn = (id: string, axis: keyof typeof axisOf): number => {
    const { low, likely, high } = value(id);
    return triangularQuantile(at(axis), low, likely, high);
  };
  const coat = (id: string): Coat => ({ medianYears: drawn(id, 'protection'), sigma: value(id).spread });
  const exponent = (id: string): { mean: number; sigma: number } => ({ mean: drawn(id, 'exponent'), sigma: value(id).spread });
  return {
    leak: drawn('leak', 'openings'),
    opening: record(openingStates, (state) => drawn(`opening-${state}`, 'openings')),
    place: record(places, (one) => drawn(`place-${one}`, 'place')),
    water: { standing: drawn('water-standing', 'water'), silt: drawn('water-silt', 'water'), damp: drawn('water-damp', 'water'), rust: drawn('water-rust', 'water') },
    unseenOpening: cached((kind, index) => stateAt(mixture(`unseen-${kind}`), atOpening(index), openingStates)),
    unseenDrainBlocked: at('drain') < drawn('unseen-drain-blocked', 'openings'),
    slowDrainBlocked: at('drain') < drawn('slow-drain-blocked', 'openings'),
    unseenSalt: stateAt(mixture('unseen-salt'), at('salt'), ['none', 'some', 'heavy']),
    unseenKept: stateAt(mixture('unseen-kept'), at('kept'), ['heated', 'inside', 'outside', 'coast']),
    heavySaltHigher: at('heavy') < drawn('heavy-salt-higher', 'place'),
    unseenMetal: stateAt(mixture('unseen-metal'), at('metal'), ['sound', 'surface-rust', 'scaling', 'pitted', 'thin', 'holed']),
    unseenCoating: stateAt(mixture('unseen-coating'), at('coating'), ['wax-good', 'paint', 'wax-thin', 'none']),
    lossUm: { sound: drawn('loss-sound', 'loss'), 'surface-rust': drawn('loss-surface-rust', 'loss'), scaling: drawn('loss-scaling', 'loss') },
    pitShare: Math.min(1, drawn('pit-depth', 'loss') / 100),
    // Less steel left is the worse end, as more loss is: the axis is turned round.
    thinLeftUm: triangularQuantile(1 - at('loss'), value('thin-left').low, value('thin-left').likely, value('thin-left').high),
    pitFactor: Math.max(least, drawn('pit-factor', 'pit')),
    sheetFactor: Math.max(least, drawn('sheet', 'sheet')),
    dryKeptRateUm: Math.max(least, drawn('rate-dry-kept', 'rate')),
    rateSigma: drawn('rate-spread', 'rate'),
    exponent: { dry: exponent('exponent-dry'), wet: exponent('exponent-wet'), salt: exponent('exponent-salt'), packed: exponent('exponent-packed') },
    coat: {
      'wax-good': coat('protection-wax-good'), paint: coat('protection-paint'), 'wax-thin': coat('protection-wax-thin'), none: coat('protection-none'),
      new: coat('protection-new'), 'new-over-rust': coat('protection-new-over-rust'),
    },
  };
}

/** A state of each kind and place in the row, worked out once. */
function cached(make: (kind: OpeningKind, index: number) => OpeningState): (kind: OpeningKind, index: number) => OpeningState {
  const made: Record<OpeningKind, OpeningState[]> = { plug: [], seam: [], hole: [] };
  return (kind, index) => (made[kind][index] ??= make(kind, index));
}

function finder<T extends RiskValue | RiskMixture>(all: readonly T[]): (id: string) => T {
  const byId = new Map(all.map((one) => [one.id, one]));
  return (id) => {
    const found = byId.get(id);
    if (!found) throw new Error(`The risk model lacks "${id}"`);
    return found;
  };
}

function record<K extends string>(keys: readonly K[], make: (key: K) => number): Record<K, number> {
  return Object.fromEntries(keys.map((key) => [key, make(key)])) as Record<K, number>;
}

/** The state at a point of the unit interval, which the shares fill in the order of `states`, best first, so that the axis runs from best to worst. */
function stateAt<S extends string>(mixture: RiskMixture, at: number, states: readonly S[]): S {
  let sum = 0;
  for (const state of states) {
    const index = mixture.states.indexOf(state);
    sum += index < 0 ? 0 : (mixture.shares[index] ?? 0);
    if (at < sum) return state;
  }
  return states[states.length - 1] as S;
}
