import { normalCdf, normalCdfFast } from './distributions.ts';
import { straightFromYears } from './kinetics.ts';
import type { Coat, Draws, Judgement } from './judgements.ts';

/** Years from today at which chances are worked out; the four that are printed, and further ones for the years until through. */
export const horizons: readonly number[] = [1, 3, 5, 10, 2, 7, 15, 20, 30, 40, 50];
/** How many of `horizons`, from the front, are worked out over all inner draws; the others over an eighth of them. */
export const printed = 4;
const sparse = 8;

/** A coat in force, with the years of its protection that are used up already. */
export interface WornCoat {
  coat: Coat;
  usedYears: number;
}

/** What one outer draw says of one place in one state of wetness. */
export interface Course {
  /** Natural logarithm of the median first-year rate, µm. */
  rateLn: number;
  exponent: { mean: number; sigma: number };
  /** Protection from today on; the longest lasting of several counts in each draw. */
  coats: readonly WornCoat[];
  /** Sheet when new, µm. */
  sheetUm: number;
  /** Mean loss today, µm; not asked for where `leftUm` is known. */
  lossUm: number;
  /** Steel left at the deepest place, µm, where it is known (a reading, a pit, thin steel); null where the pit factor acts on the loss so far too. */
  leftUm: number | null;
}

const exponentLimits = [0.24, 1.1] as const;

/** What went before where the steel was known to be new or newly protected: the course it took since, and for how long. */
export interface Past {
  course: Course;
  years: number;
}

/** Chances at `horizons`, and the share of draws that agree with what was seen: not through today. */
export interface Chances {
  through: Float64Array;
  agree: number;
}

/**
 * Chances that the deepest place is through within each of `horizons`, given that it is not through today. What varies (rate,
 * exponent, protection) is drawn; the pit factor is integrated in closed form: through when F·(L0 + r·ΔD) reaches the sheet.
 * Where it is known what is left, the deepest place goes on along its own curve, F·r·D, from the depth it has. With a `past`
 * the loss of today is worked out in each draw; `rateZ` puts one standard normal value in the place of all draws of the rate.
 */
export function throughChances(draws: Draws, judgement: Judgement, course: Course, past: Past | null = null, rateZ: number | null = null): Chances {
  const { leftUm, sheetUm } = course;
  const knownLn = leftUm === null && course.lossUm > 0 ? Math.log(course.lossUm) : null;
  const exponents = exponentsOf(course.exponent, draws);
  const delays = delaysOf(course.coats, draws);
  const run: Run = {
    course, past, knownLn, exponents, delays,
    shifts: shiftsOf(draws, judgement, rateZ),
    pastExponents: past === null ? exponents : exponentsOf(past.course.exponent, draws),
    pastDelays: past === null ? delays : delaysOf(past.course.coats, draws),
    eaten: leftUm === null ? 0 : Math.max(0, 1 - leftUm / sheetUm),
    against: Math.log(judgement.pitFactor) - Math.log(sheetUm),
    perSigma: 1 / draws.pitSigma,
    exact: rateZ !== null,
  };
  const whole = new Float64Array(horizons.length);
  const inner = draws.rate.length;
  const today = addWhole(run, whole, [0, inner], [0, printed]);
  const todayFew = addWhole(run, whole, middle(draws, sparse), [printed, horizons.length]);
  return { through: whole.map((sum, at) => shareThrough(sum, at < printed ? today : todayFew)), agree: today / inner };
}

/** What is the same for all inner draws of one course. */
interface Run {
  course: Course;
  past: Past | null;
  /** ln of the loss today where it is the same in all draws. */
  knownLn: number | null;
  /** What is added to the logarithm of the rate, in each draw. */
  shifts: Float64Array;
  exponents: Float64Array;
  delays: Float64Array;
  pastExponents: Float64Array;
  pastDelays: Float64Array;
  /** Share of the sheet that is gone at the deepest place; 0 where that is not known. */
  eaten: number;
  /** ln of pit factor over sheet. */
  against: number;
  perSigma: number;
  /** With one rate for all draws next to none may expect the steel to be whole: there the tail counts. */
  exact: boolean;
}

/** Adds up whole steel over a part of the draws, at some of the horizons; gives that of today. */
function addWhole(run: Run, whole: Float64Array, [from, to]: readonly [number, number], [first, last]: readonly [number, number]): number {
  const { course, past, knownLn, shifts, exponents, delays, pastExponents, pastDelays, eaten, against, perSigma, exact } = run;
  const eatenLn = Math.log(eaten);
  let sumToday = 0;
  for (let index = from; index < to; index += 1) {
    const shift = shifts[index] as number;
    const rateLn = course.rateLn + shift;
    const lossLn = past === null ? knownLn : pastLossLn(past.course.rateLn + shift, past.years - (pastDelays[index] as number), pastExponents[index] as number);
    const today = lossLn === null ? 1 : wholeOf((lossLn + against) * perSigma, exact);
    sumToday += today;
    const delay = delays[index] as number;
    const b = exponents[index] as number;
    const startYears = lossLn === null ? 0 : equivalentYears(lossLn - rateLn, b);
    const root = eaten === 0 ? 0 : Math.exp(eatenLn / b);
    for (let at = first; at < last; at += 1) {
      const years = (horizons[at] as number) - delay;
      const reachedLn = years <= 0 ? 0 : eaten === 0 ? growthLn(startYears + years, b) : growthAtThroughLn(years, b, eaten, root);
      whole[at] = (whole[at] as number) + (years <= 0 ? today : wholeOf((rateLn + reachedLn + against) * perSigma, exact));
    }
  }
  return sumToday;
}

/** A part of the inner draws whose points lie in the middle of equal parts of every axis: the second of so many parts of the sequence. */
function middle(draws: Draws, parts: number): readonly [from: number, to: number] {
  const count = Math.ceil(draws.rate.length / parts);
  return [count, 2 * count];
}

/** Share that is through of what is whole today, from sums over the draws; 1 where no draw expects it to be whole. */
function shareThrough(whole: number, today: number): number {
  return today > 0 ? Math.min(1, Math.max(0, 1 - whole / today)) : 1;
}

/** Share of steel whose pit factor leaves it whole, from how far the middle one is beyond that, in sigmas. */
function wholeOf(z: number, exact: boolean): number {
  return exact ? normalCdf(-z) : 1 - normalCdfFast(z);
}

const kept = new WeakMap<object, Float64Array>();

/** Values of all inner draws that hang on one judgement only: worked out once for each. */
function keptFor(key: object, make: () => Float64Array): Float64Array {
  let values = kept.get(key);
  if (!values) kept.set(key, (values = make()));
  return values;
}

function shiftsOf(draws: Draws, judgement: Judgement, rateZ: number | null): Float64Array {
  if (rateZ !== null) return new Float64Array(draws.rate.length).fill(judgement.rateSigma * rateZ);
  return keptFor(judgement, () => draws.rate.map((z) => judgement.rateSigma * z));
}

function exponentsOf(exponent: Course['exponent'], draws: Draws): Float64Array {
  return keptFor(exponent, () => draws.exponent.map((z) => exponentAt({ exponent }, z)));
}

/** Years from today that the longest lasting of several coats keeps water off, in each inner draw. */
function delaysOf(coats: readonly WornCoat[], draws: Draws): Float64Array {
  const drawn = (coat: Coat): Float64Array => keptFor(coat, () => draws.protection.map((z) => (coat.medianYears > 0 ? coat.medianYears * Math.exp(coat.sigma * z) : 0)));
  const [only] = coats;
  if (coats.length === 1 && only?.usedYears === 0) return drawn(only.coat);
  const delays = new Float64Array(draws.protection.length);
  for (const { coat, usedYears } of coats) {
    const years = drawn(coat);
    for (let index = 0; index < delays.length; index += 1) delays[index] = Math.max(delays[index] as number, (years[index] as number) - usedYears);
  }
  return delays;
}

const bendPerExponent = Math.log(straightFromYears);

/** ln of `growth`. */
function growthLn(years: number, b: number): number {
  return years <= straightFromYears ? b * Math.log(years) : b * bendPerExponent + Math.log1p((b * (years - straightFromYears)) / straightFromYears);
}

/**
 * ln of the growth G a place has reached when it comes through in just `years` from today: D⁻¹(G) − D⁻¹(e·G) = years, with the
 * share `eaten` e of the sheet gone today. `root` is e^(1/b). Never falls where `years` or `eaten` rises.
 */
function growthAtThroughLn(years: number, b: number, eaten: number, root: number): number {
  const age = years / (1 - root);
  if (age <= straightFromYears) return b * Math.log(age);
  // Growth in parts of that at the bend: straight from before it to behind it, or across it.
  const straight = (b * years) / (straightFromYears * (1 - eaten));
  if (straight * eaten >= 1) return b * bendPerExponent + Math.log(straight);
  const wanted = years / straightFromYears - 1 + 1 / b;
  // Newton on G/b − e^(1/b)·G^(1/b), from the bend, the side where it cannot step across.
  let reached = 1 + (b * (years / straightFromYears - 1 + root)) / (1 - root);
  for (let step = 0; step < newtonSteps; step += 1) {
    const before = root * Math.exp(Math.log(reached) / b);
    const move = (reached / b - before - wanted) / (1 / b - before / (b * reached));
    reached -= move;
    if (Math.abs(move) < 1e-4 * reached) break;
  }
  return b * bendPerExponent + Math.log(reached);
}

const newtonSteps = 12;

/** ln of the mean loss in µm in so many years without protection; null for none. */
function pastLossLn(rateLn: number, bareYears: number, b: number): number | null {
  return bareYears <= 0 ? null : rateLn + growthLn(bareYears, b);
}

/** Indices of `horizons` in the order of time. */
export const inTime: readonly number[] = horizons.map((_, index) => index).sort((a, b) => (horizons[a] as number) - (horizons[b] as number));

/** The drawn exponent, within the limits found in the field (0.24 to 1.1; Benarie, Lipfert 1986 and others). */
function exponentAt(course: Pick<Course, 'exponent'>, z: number): number {
  return Math.min(exponentLimits[1], Math.max(exponentLimits[0], course.exponent.mean + course.exponent.sigma * z));
}

/** Time after which the drawn rate gives the loss of today: r·D(t) = L0, from ln(L0 / r). */
function equivalentYears(reachedLn: number, b: number): number {
  const bendLn = b * bendPerExponent;
  if (reachedLn <= bendLn) return Math.exp(reachedLn / b);
  return straightFromYears * (1 + Math.expm1(reachedLn - bendLn) / b);
}
