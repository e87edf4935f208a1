/** How an opening can be, from the one that lets least water in to the one that lets most. */
export const openingStates = ['sound', 'sealed-over', 'ageing', 'hardened', 'cracked', 'loose', 'perished', 'missing'] as const;
export type OpeningState = (typeof openingStates)[number];

/** Openings that turn out alike where nobody looked. */
export type OpeningKind = 'plug' | 'seam' | 'hole';

/** Where an opening stands, wettest first. */
export const places = ['wheel-spray', 'road-spray', 'rain', 'indoors'] as const;
export type OpeningPlace = (typeof places)[number];

/** Metal inside, best to worst. */
export const metalStates = ['sound', 'surface-rust', 'scaling', 'pitted', 'thin', 'holed'] as const;
export type MetalState = (typeof metalStates)[number];

/** Coating inside, best to worst. */
export const coatingStates = ['wax-good', 'paint', 'wax-thin', 'none'] as const;
export type CoatingState = (typeof coatingStates)[number];

export type DrainState = 'open' | 'slow' | 'blocked' | 'unseen' | 'none';

/** Water as found. What is dry on the day says nothing, so it stands with what nobody saw. */
export type WaterState = 'nothing seen' | 'damp' | 'silt' | 'standing';

export const saltStates = ['none', 'some', 'heavy'] as const;
export type SaltState = (typeof saltStates)[number];

export const keptStates = ['heated', 'inside', 'outside', 'coast'] as const;
export type KeptState = (typeof keptStates)[number];

/** One opening of a closed section. */
export interface OpeningInput {
  state: OpeningState | 'unseen';
  kind: OpeningKind;
  place: OpeningPlace;
  /** Whether the work makes it sound. */
  mended: boolean;
}

/** One place inside a closed section; the worst place rules. */
export interface PlaceInput {
  metal: MetalState | 'unseen';
  coating: CoatingState | 'unseen';
  /** Least usable thickness reading, mm; null where none. */
  measuredMm: number | null;
  /** Years since the steel here was known to be new, null where not known or where the metal was seen since. */
  newYears: number | null;
  /** Years since the coating was put on, where nobody looked at it since; 0 otherwise. */
  coatedYears: number;
  /** Whether the work puts new steel here. */
  renewed: boolean;
}

/** What the car stands in. */
export interface Surroundings {
  salt: SaltState | 'unseen';
  kept: KeptState | 'unseen';
  /** First-year rate in open air by the dose-response function, µm; null where nobody gave the four quantities. */
  airRateUm: number | null;
}

/** One closed section as the model takes it: seen as seen, the rest unseen. */
export interface SectionInput {
  /** Nominal sheet, assumed. */
  sheetMm: number;
  openings: readonly OpeningInput[];
  drain: DrainState;
  /** Whether the work opens the drains. */
  drainOpened: boolean;
  water: WaterState;
  places: readonly PlaceInput[];
  /** Whether the work puts new protection in. */
  protected: boolean;
  /** Whether any work at all is written or usual here; without it there is no outlook "with the work done". */
  worked: boolean;
  surroundings: Surroundings;
}

/** Openings in an order of their own, wettest first, so that it does not matter in which they are given: the unseen ones take the axes of the draws in it. */
export function inOrder<O extends OpeningInput>(openings: readonly O[]): O[] {
  const rank = (one: O): string => `${places.indexOf(one.place)} ${one.kind} ${one.state} ${one.mended}`;
  return openings.map((one) => ({ one, key: rank(one) })).sort((a, b) => (a.key < b.key ? -1 : a.key > b.key ? 1 : 0)).map(({ one }) => one);
}
