import { normalCdf, normalCdfFast } from './distributions.ts';
import { growth, straightFromYears } from './kinetics.ts';
import type { Coat, Draws, Judgement } from './judgements.ts';

/** Years from today at which chances are worked out; the four that are printed, and further ones for the years until through. */
export const horizons: readonly number[] = [1, 3, 5, 10, 2, 7, 15, 20, 30, 40, 50];
/** How many of `horizons`, from the front, are worked out over all inner draws; the others over an eighth of them. */
export const printed = 4;
const sparse = 8;

/** A coat in force, with the years of its protection that are used up already. */
export interface WornCoat extends Coat {
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
  const count = horizons.length;
  const sums = new Float64Array(count);
  const sparseToday = [0, 0];
  const inner = draws.rate.length;
  // The second eighth of the sequence: its points lie in the middle of equal parts of every axis.
  const few = Math.ceil(inner / sparse);
  const { leftUm, sheetUm } = course;
  const eaten = leftUm === null ? null : Math.max(0, 1 - leftUm / sheetUm);
  const against = Math.log(judgement.pitFactor) - Math.log(sheetUm);
  const perSigma = 1 / draws.pitSigma;
  const knownLn = course.lossUm > 0 ? Math.log(course.lossUm) : null;
  // With one rate for all draws next to none may expect the steel to be whole: there the tail counts.
  const whole = (lossLn: number): number => (rateZ === null ? 1 - normalCdfFast((lossLn + against) * perSigma) : normalCdf(-(lossLn + against) * perSigma));
  const todayOf = (lossLn: number | null): number => (eaten === null && lossLn !== null ? whole(lossLn) : 1);
  const knownToday = todayOf(knownLn);
  for (let index = 0; index < inner; index += 1) {
    const z = rateZ ?? (draws.rate[index] as number);
    const rateLn = course.rateLn + judgement.rateSigma * z;
    const zExponent = draws.exponent[index] as number;
    const zProtection = draws.protection[index] as number;
    const b = exponentAt(course, zExponent);
    const delay = protectionYears(course.coats, zProtection);
    const bendLn = b * Math.log(straightFromYears);
    const lossLn = past === null ? knownLn : pastLossLn(past, judgement.rateSigma * z, zExponent, zProtection);
    const today = past === null ? knownToday : todayOf(lossLn);
    sparseToday[0] = (sparseToday[0] as number) + today;
    const isFew = index >= few && index < 2 * few;
    if (isFew) sparseToday[1] = (sparseToday[1] as number) + today;
    const startYears = eaten !== null || lossLn === null ? 0 : equivalentYears(lossLn - rateLn, b, bendLn);
    const root = eaten === null ? 0 : eaten ** (1 / b);
    const upTo = isFew ? count : printed;
    for (let at = 0; at < upTo; at += 1) {
      const years = (horizons[at] as number) - delay;
      if (years <= 0) {
        sums[at] = (sums[at] as number) + today;
        continue;
      }
      const reachedLn = eaten === null ? growthLn(startYears + years, b, bendLn) : growthAtThroughLn(years, b, bendLn, eaten, root);
      sums[at] = (sums[at] as number) + whole(rateLn + reachedLn);
    }
  }
  return given(sums, sparseToday as [number, number], inner);
}

/** ln of `growth`, with ln of the growth at the bend worked out once. */
function growthLn(years: number, b: number, bendLn: number): number {
  return years <= straightFromYears ? b * Math.log(years) : bendLn + Math.log1p((b * (years - straightFromYears)) / straightFromYears);
}

/**
 * ln of the growth G a place has reached when it comes through in just `years` from today: D⁻¹(G) − D⁻¹(e·G) = years, with the
 * share `eaten` e of the sheet gone today. `root` is e^(1/b). Never falls where `years` or `eaten` rises.
 */
function growthAtThroughLn(years: number, b: number, bendLn: number, eaten: number, root: number): number {
  const age = years / (1 - root);
  if (age <= straightFromYears) return b * Math.log(age);
  const bend = Math.exp(bendLn);
  const straight = (bend * b * years) / (straightFromYears * (1 - eaten));
  if (straight * eaten >= bend) return Math.log(straight);
  // From before the bend to behind it: Newton, from the side where it cannot step across.
  let growth = bend;
  for (let step = 0; step < newtonSteps; step += 1) {
    const before = root * growth ** (1 / b);
    const miss = straightFromYears * (1 + (growth / bend - 1) / b) - before - years;
    growth -= miss / (straightFromYears / (b * bend) - before / (b * growth));
    if (Math.abs(miss) < 1e-12 * age) break;
  }
  return Math.log(growth);
}

const newtonSteps = 12;

/** Shares of whole steel over the draws, given that it is whole today; where no draw expects that, through. */
function given(sums: Float64Array, [all, some]: [number, number], inner: number): Chances {
  const through = sums.map((sum, at) => {
    const today = at < printed ? all : some;
    return today > 0 ? Math.min(1, Math.max(0, 1 - sum / today)) : 1;
  });
  return { through, agree: all / inner };
}

/** ln of the mean loss in µm since the steel was new; null while its protection lasted. */
function pastLossLn({ course, years }: Past, rateShift: number, zExponent: number, zProtection: number): number | null {
  const bare = years - protectionYears(course.coats, zProtection);
  return bare <= 0 ? null : course.rateLn + rateShift + Math.log(growth(bare, exponentAt(course, zExponent)));
}

/** Indices of `horizons` in the order of time. */
export const inTime: readonly number[] = horizons.map((_, index) => index).sort((a, b) => (horizons[a] as number) - (horizons[b] as number));

/** The drawn exponent, within the limits found in the field (0.24 to 1.1; Benarie, Lipfert 1986 and others). */
export function exponentAt(course: Pick<Course, 'exponent'>, z: number): number {
  return Math.min(exponentLimits[1], Math.max(exponentLimits[0], course.exponent.mean + course.exponent.sigma * z));
}

/** Years from today that the longest lasting of several coats keeps water off in one draw. */
export function protectionYears(coats: readonly WornCoat[], z: number): number {
  let years = 0;
  for (const coat of coats) if (coat.medianYears > 0) years = Math.max(years, coat.medianYears * Math.exp(coat.sigma * z) - coat.usedYears);
  return years;
}

/** Time after which the drawn rate gives the loss of today: r·D(t) = L0, from ln(L0 / r). */
function equivalentYears(growthLn: number, b: number, bendLn: number): number {
  if (growthLn <= bendLn) return Math.exp(growthLn / b);
  return straightFromYears * (1 + Math.expm1(growthLn - bendLn) / b);
}
