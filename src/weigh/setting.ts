import { classes, classOf } from './kinetics.ts';
import type { Draws, Judgement } from './judgements.ts';
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

/** One section in one outer draw, with everything that all its places share. */
export interface Setting {
  draws: Draws;
  judgement: Judgement;
  draw: number;
  section: SectionInput;
  work: Work;
  unseen: Unseen;
  /** Chance that water gets in. */
  water: number;
  /** Whether the drain is blocked. */
  blocked: boolean;
  /** Place of the rate among `classes` where water gets in and runs off; before storage. */
  wetClass: number;
  salted: boolean;
  heated: boolean;
}

/** Settles what a draw makes of openings, drain and surroundings. */
export function settingOf(draws: Draws, draw: number, section: SectionInput, work: Work, unseen: Unseen): Setting {
  const judgement = draws.judgements[draw] as Judgement;
  const { surroundings } = section;
  const kept = surroundings.kept === 'unseen' ? (unseen.kept ?? (unseen.around ?? judgement).unseenKept) : surroundings.kept;
  const said = surroundings.salt === 'unseen' ? (unseen.salt ?? (unseen.around ?? judgement).unseenSalt) : surroundings.salt;
  const salt: SaltState = said === 'none' && kept === 'coast' ? 'some' : said;
  const higher = salt === 'heavy' && (unseen.salt === 'heavy' || judgement.heavySaltHigher);
  return {
    draws, judgement, draw, section, work, unseen,
    water: waterChance(judgement, section, work, unseen),
    blocked: isBlocked(judgement, section, work, unseen),
    wetClass: Math.max(salt === 'none' ? 2 : higher ? 4 : 3, airClass(surroundings.airRateUm)),
    salted: salt !== 'none',
    heated: kept === 'heated',
  };
}

function airClass(rateUm: number | null): number {
  if (rateUm === null) return 0;
  const air = classOf(rateUm);
  return air === 'above CX' ? classes.length - 1 : classes.indexOf(air);
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

/** Coating of a place as drawn. */
export function coatingOf({ unseen, judgement }: Setting, place: PlaceInput): CoatingState {
  return place.coating === 'unseen' ? (unseen.coating ?? (unseen.inside ?? judgement).unseenCoating) : place.coating;
}

/** `fresh` is water in at the rate of the surroundings, but with the exponent of water without salt: where the air sets the class, salt must not make it better. */
export type Wetness = 'wet' | 'fresh' | 'dry';

export const exponents = ['dry', 'wet', 'salt', 'packed'] as const;
export type ExponentName = (typeof exponents)[number];

/** Class of the rate and exponent by wetness, drain, salt and where the car is kept. */
export function rateOf({ wetClass, salted, heated }: Setting, wetness: Wetness, blocked: boolean): { classIndex: number; exponent: ExponentName } {
  const base = wetness === 'dry' ? 1 : wetClass;
  const classIndex = Math.min(classes.length - 1, Math.max(0, base + (blocked ? 1 : 0) - (heated ? 1 : 0)));
  return { classIndex, exponent: wetness === 'dry' ? 'dry' : blocked ? 'packed' : salted && wetness === 'wet' ? 'salt' : 'wet' };
}
