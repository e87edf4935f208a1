/**
 * Corrosivity classes with their bounds of the first-year rate of carbon steel, µm a year, upper bound inclusive (ISO 9223:2012,
 * Table 2). Here they are a scale of rates: the standard is about open-air coupons and says nothing of car sections.
 */
export const classes = ['C1', 'C2', 'C3', 'C4', 'C5', 'CX'] as const;
export type RateClass = (typeof classes)[number];
export const classUpperUm: Readonly<Record<RateClass, number>> = { C1: 1.3, C2: 25, C3: 50, C4: 80, C5: 200, CX: 700 };

/** Class of a first-year rate in µm; `above CX` over 700, which the standard does not cover. */
export function classOf(rateUm: number): RateClass | 'above CX' {
  return classes.find((one) => rateUm <= classUpperUm[one]) ?? 'above CX';
}

/** Geometric mean of a class's bounds, µm a year; C1 has no lower bound, so its median is a judgement and passed in. */
export function medianRateUm(one: RateClass, dryKeptUm: number): number {
  const index = classes.indexOf(one);
  const below = classes[index - 1];
  return below === undefined ? dryKeptUm : Math.sqrt(classUpperUm[below] * classUpperUm[one]);
}

/** Years up to which the power law holds; after them the loss goes on in a straight line (ISO 9224:2012, clause on long times). */
export const straightFromYears = 20;

/** Growth t^b of the attack over its first year, straight from 20 years on: 20^b + b·20^(b−1)·(t − 20). 0 for no time. */
export function growth(years: number, exponent: number): number {
  if (years <= 0) return 0;
  if (years <= straightFromYears) return years ** exponent;
  return straightFromYears ** exponent * (1 + (exponent * (years - straightFromYears)) / straightFromYears);
}

/** Years in which growth is reached: the inverse of `growth`. */
export function yearsOfGrowth(reached: number, exponent: number): number {
  if (reached <= 0) return 0;
  const bend = straightFromYears ** exponent;
  if (reached <= bend) return reached ** (1 / exponent);
  return straightFromYears * (1 + (reached / bend - 1) / exponent);
}

/** Mean loss in µm after years, from the first-year rate in µm (ISO 9224:2012). */
export function attackUm(rateUm: number, exponent: number, years: number): number {
  return rateUm * growth(years, exponent);
}

/** Years until the deepest place is through: `sheetUm` of steel, first-year rate, deepest pit over mean loss, exponent. */
export function yearsToThrough({ sheetUm, rateUm, pitFactor, exponent }: { sheetUm: number; rateUm: number; pitFactor: number; exponent: number }): number {
  return yearsOfGrowth(sheetUm / (pitFactor * rateUm), exponent);
}

/** Temperature °C, relative humidity %, deposition of SO2 and of chloride in mg a square metre a day. */
export interface Air {
  temperatureC: number;
  humidityPercent: number;
  sulphurMg: number;
  chlorideMg: number;
}

/** Ranges the dose-response function was fitted in (ISO 9223:2012, Table 3). */
export const airLimits: Readonly<Record<keyof Air, readonly [low: number, high: number]>> = {
  temperatureC: [-17.1, 28.7],
  humidityPercent: [34, 93],
  sulphurMg: [0.7, 150.4],
  chlorideMg: [0.4, 760.5],
};

/** Quantities outside the ranges of the function, in the order of `airLimits`; empty where all are inside. */
export function outsideLimits(air: Air): (keyof Air)[] {
  const keys = Object.keys(airLimits) as (keyof Air)[];
  return keys.filter((key) => !(air[key] >= airLimits[key][0] && air[key] <= airLimits[key][1]));
}

/** First-year rate of carbon steel in open air, µm, by the dose-response function of ISO 9223:2012 (its equation for carbon steel). */
export function airRateUm({ temperatureC, humidityPercent, sulphurMg, chlorideMg }: Air): number {
  const warm = (temperatureC <= 10 ? 0.15 : -0.054) * (temperatureC - 10);
  return 1.77 * sulphurMg ** 0.52 * Math.exp(0.02 * humidityPercent + warm) + 0.102 * chlorideMg ** 0.62 * Math.exp(0.033 * humidityPercent + 0.04 * temperatureC);
}

/** Chance that at least one of independent causes acts, besides a leak nobody listed: 1 − (1 − leak) ∏ (1 − p). */
export function noisyOr(leak: number, chances: readonly number[]): number {
  return 1 - chances.reduce((none, chance) => none * (1 - chance), 1 - leak);
}

/** Chance that water gets in AND protection is lost, each by one of several independent causes (ISO 12944-3:1998, 5.7: both are needed). */
export function waterAndLoss(openings: readonly number[], protectionLost: readonly number[]): number {
  return noisyOr(0, openings) * noisyOr(0, protectionLost);
}
