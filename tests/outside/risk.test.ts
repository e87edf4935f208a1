import jstat from 'jstat';
import { describe, expect, test } from 'vitest';
import { readCatalogue } from '../../src/read/catalogue/index.ts';
import { normalCdfFast } from '../../src/weigh/distributions.ts';
import { airLimits, airRateUm, attackUm, classOf, classUpperUm, drawsOf, noisyOr, normalCdf, normalQuantile, outsideLimits, waterAndLoss, yearsToThrough } from '../../src/weigh/risk.ts';
import type { Draws, RateClass } from '../../src/weigh/risk.ts';
import { horizons, throughChances } from '../../src/weigh/through.ts';
import type { Course, Past } from '../../src/weigh/through.ts';

/*
 * Values of published sources, or worked out from published formulas, and how each is known: T read in a transcription of
 * the standard, R read in the source, C worked out by others than this code from a formula so known, M from memory.
 */

// Source: ISO 9223:2012, the dose-response function of carbon steel; formula T, rates C.
// Temperature °C, relative humidity %, deposition of SO2 and of chloride mg/(m²·d), first-year rate µm.
test.each([
  [10, 75, 5, 5, 23.2221],
  [10, 80, 10, 3, 33.2436],
  [10, 80, 10, 60, 56.0264],
  [20, 80, 10, 60, 57.1913],
  [-3.9, 69, 4.0, 5.9, 4.3549],
  [24.7, 87, 6, 38.7, 58.2332],
  [9.2, 66, 76.51, 2.48, 58.3458],
])('ISO 9223: %d °C, %d %%, SO2 %d, chloride %d gives %d µm in the first year', (temperatureC, humidityPercent, sulphurMg, chlorideMg, expected) => {
  expect(Number(airRateUm({ temperatureC, humidityPercent, sulphurMg, chlorideMg }).toFixed(4))).toBe(expected);
});

// Source: ISO 9223:2012, Table 3, T.
test('ISO 9223: the limits of the function, inside and out', () => {
  expect(airLimits).toEqual({ temperatureC: [-17.1, 28.7], humidityPercent: [34, 93], sulphurMg: [0.7, 150.4], chlorideMg: [0.4, 760.5] });
  const lowest = { temperatureC: -17.1, humidityPercent: 34, sulphurMg: 0.7, chlorideMg: 0.4 };
  const highest = { temperatureC: 28.7, humidityPercent: 93, sulphurMg: 150.4, chlorideMg: 760.5 };
  expect([outsideLimits(lowest), outsideLimits(highest)]).toEqual([[], []]);
  expect(outsideLimits({ ...lowest, temperatureC: -17.2 })).toEqual(['temperatureC']);
  expect(outsideLimits({ ...highest, humidityPercent: 93.1, chlorideMg: 761 })).toEqual(['humidityPercent', 'chlorideMg']);
  expect(outsideLimits({ ...highest, sulphurMg: Number.NaN })).toEqual(['sulphurMg']);
});

// Source: Mikhailov, Strekalov, Panchenko 2008, doi:10.1134/S0033173208070023, R for the measured columns; deposition of SO2
// as the larger of 0.8 times its concentration and 0.7, M; last column, the rate by the function, C.
const stations: readonly (readonly [name: string, temperatureC: number, humidityPercent: number, sulphurUg: number, chlorideMg: number, measuredUm: number, predictedUm: number])[] = [
  ['Aion', -13.0, 88, 1, 33.8, 8.3, 10.11],
  ["Apapel'gino", -12.7, 83, 1, 20.1, 4.8, 6.38],
  ["Arman'", -3.9, 69, 5, 5.9, 4.2, 4.35],
  ['Okhotsk', -5.0, 74, 15, 20.0, 11.7, 9.13],
  ['Ust-Khayryuzovo', -1.9, 85, 1, 16.3, 11.8, 10.27],
  ['Ayan', -3.3, 68, 1, 12.7, 6.8, 4.91],
  ['Chumikhan', -3.9, 77, 1, 17.9, 7.3, 7.54],
  ['Baidukov Island', -2.5, 83, 1, 32.1, 14.5, 13.54],
  ['Okha', -2.4, 83, 5, 10.3, 8.6, 9.07],
  ["Nikol'skoe", 2.0, 85, 1, 34.2, 28.4, 18.92],
  ['Lopatka', 1.0, 90, 5, 45.2, 31.7, 27.69],
  ['Petropavlovsk-Kamchatskii', 1.9, 72, 15, 11.4, 13.7, 13.42],
  ["Nevel'sk", 4.5, 74, 15, 17.3, 17.9, 20.63],
  ['Cape Gamov', 4.2, 73, 1, 22.0, 21.9, 11.97],
];

describe('fourteen measured stations', () => {
  const predicted = stations.map(([, temperatureC, humidityPercent, sulphurUg, chlorideMg]) => airRateUm({ temperatureC, humidityPercent, sulphurMg: Math.max(0.8 * sulphurUg, 0.7), chlorideMg }));

  test('the function gives the rates worked out by others', () => {
    expect(predicted.map((rate) => Number(rate.toFixed(2)))).toEqual(stations.map((station) => station[6]));
  });

  test('all within a factor of 2 of what was measured, twelve within 1.5', () => {
    const factors = stations.map((station, index) => Math.exp(Math.abs(Math.log((predicted[index] ?? 0) / station[5]))));
    expect(factors.filter((factor) => factor <= 2)).toHaveLength(14);
    expect(factors.filter((factor) => factor <= 1.5)).toHaveLength(12);
  });
});

// Source: ISO 9224:2012, Table 3 (exponent B1 of carbon steel, 0.523) and Annex A, T; at the upper bound of each class, C.
const attackYears = [1, 2, 5, 10, 15, 20, 25, 30, 40, 50];
const attacks: Readonly<Record<RateClass, readonly number[]>> = {
  C1: [1.3, 1.87, 3.02, 4.33, 5.36, 6.23, 7.04, 7.86, 9.49, 11.11],
  C2: [25.0, 35.92, 58.01, 83.36, 103.05, 119.78, 135.44, 151.1, 182.42, 213.74],
  C3: [50.0, 71.85, 116.02, 166.71, 206.09, 239.56, 270.88, 302.2, 364.85, 427.49],
  C4: [80.0, 114.96, 185.63, 266.74, 329.75, 383.29, 433.41, 483.52, 583.75, 683.98],
  C5: [200.0, 287.39, 464.08, 666.85, 824.38, 958.23, 1083.52, 1208.8, 1459.38, 1709.96],
  CX: [700.0, 1005.86, 1624.27, 2333.98, 2885.32, 3353.8, 3792.31, 4230.81, 5107.83, 5984.85],
};

test.each(Object.entries(attacks) as [RateClass, readonly number[]][])('ISO 9224: loss over time at the upper bound of %s', (one, expected) => {
  expect(attackYears.map((years) => Number(attackUm(classUpperUm[one], 0.523, years).toFixed(2)))).toEqual(expected);
});

test('ISO 9224: from 20 years on the loss is a straight line, not the power law carried on', () => {
  expect(attackUm(50, 0.523, 50).toFixed(1)).toBe('427.5');
  expect((50 * 50 ** 0.523).toFixed(1)).toBe('386.8');
});

// Source: ISO 9223:2012, Table 2, upper bounds of the first-year rate of carbon steel, µm, T; each belongs to its class.
test.each([
  [1.3, 'C1'], [1.3001, 'C2'], [25, 'C2'], [25.0001, 'C3'], [50, 'C3'], [50.1, 'C4'], [80, 'C4'], [80.1, 'C5'], [200, 'C5'], [200.1, 'CX'], [700, 'CX'], [700.1, 'above CX'],
])('ISO 9223: %d µm is class %s', (rateUm, expected) => {
  expect(classOf(rateUm)).toBe(expected);
});

// Source: the closed form Φ((ln r + ln F + b ln N − ln s) / √(σr² + σF²)) for log-normal rate and pit factor, C.
// Sheet µm, median rate µm, pit factor, sigma of the rate, of the pit factor, exponent; then the chances.
const closedYears = [1, 2, 5, 10, 15, 20];
const closedForm: readonly (readonly [sheetUm: number, rateUm: number, pitFactor: number, rateSigma: number, pitSigma: number, exponent: number, chances: readonly number[]])[] = [
  [800, 126.49, 3, 0.405, 0.4, 0.523, [0.095056, 0.250347, 0.566894, 0.789683, 0.880573, 0.925373]],
  [800, 63.25, 3, 0.405, 0.4, 0.523, [0.005739, 0.029316, 0.147071, 0.340087, 0.484169, 0.588864]],
  [700, 200, 3, 0.405, 0.4, 0.69, [0.393271, 0.715458, 0.95353, 0.994137, 0.998701, 0.999611]],
];

/** Bare steel that has lost nothing, with one certain exponent. */
function bareCourse([sheetUm, rateUm, , , , exponent]: (typeof closedForm)[number]): Course {
  return { rateLn: Math.log(rateUm), exponent: { mean: exponent, sigma: 0 }, coats: [], sheetUm, lossUm: 0, leftUm: null };
}

function drawsWith([, , pitFactor, rateSigma, pitSigma]: (typeof closedForm)[number]): { draws: Draws; judgement: Draws['judgements'][number] } {
  const draws = { ...drawsOf(readCatalogue().risk), pitSigma };
  const [first] = draws.judgements;
  if (!first) throw new Error('no draw');
  return { draws, judgement: { ...first, pitFactor, rateSigma } };
}

/** Four standard errors of a share among the inner draws: all of them, or every eighth at the years that only the time until through needs. */
function tolerance(draws: Draws, years: number, chance: number): number {
  const count = draws.rate.length / (horizons.indexOf(years) < 4 ? 1 : 8);
  return 4 * Math.sqrt((chance * (1 - chance)) / count);
}

describe.each(closedForm)('draws against the closed form: sheet %d µm, rate %d µm, pit factor %d', (...row) => {
  const [sheetUm, rateUm, pitFactor, rateSigma, pitSigma, exponent, expected] = row;

  test('the formula gives the chances worked out by others', () => {
    const chances = closedYears.map((years) => normalCdf((Math.log(rateUm) + Math.log(pitFactor) + exponent * Math.log(years) - Math.log(sheetUm)) / Math.hypot(rateSigma, pitSigma)));
    for (const [index, chance] of chances.entries()) expect(chance).toBeCloseTo(expected[index] ?? 0, 6);
  });

  test('the inner draws agree within four sigma', () => {
    const { draws, judgement } = drawsWith(row);
    expect(draws.rate).toHaveLength(256);
    const { through, agree } = throughChances(draws, judgement, bareCourse(row));
    expect(agree).toBe(1);
    for (const [index, chance] of expected.entries()) {
      const years = closedYears[index] ?? 0;
      const at = horizons.indexOf(years);
      if (at < 0) throw new Error(`${years} is no horizon`);
      expect(Math.abs((through[at] ?? Number.NaN) - chance), `${years} years`).toBeLessThan(tolerance(draws, years, chance));
    }
  });
});

// Source: (P(10) − P(5)) / (1 − P(5)) of the second row, C.
test('draws against the closed form: ten years, given that it was sound at five', () => {
  const row = closedForm[1];
  if (!row) throw new Error('no row');
  const { draws, judgement } = drawsWith(row);
  const past: Past = { course: bareCourse(row), years: 5 };
  const { through, agree } = throughChances(draws, judgement, bareCourse(row), past);
  const fiveMore = horizons.indexOf(5);
  expect(Math.abs((through[fiveMore] ?? Number.NaN) - 0.226298)).toBeLessThan(tolerance(draws, 5, 0.226298));
  // The chance that it was sound at five years, 1 − 0.147071.
  expect(Math.abs(agree - 0.852929)).toBeLessThan(tolerance(draws, 5, 0.147071));
});

// Source: worked out from the growth law of ISO 9224:2012, C. The second crosses 20 years, where the law turns straight.
test.each([
  [800, 80, 3, 0.523, 9.994663],
  [800, 50, 3, 0.523, 24.327582],
  [700, 200, 1, 0.523, 10.971931],
  [1000, 80, 3, 0.523, 15.31315],
  [1000, 80, 3, 0.69, 7.91124],
])('a sheet of %d µm at %d µm, pit factor %d, exponent %d, is through after %d years', (sheetUm, rateUm, pitFactor, exponent, years) => {
  expect(Number(yearsToThrough({ sheetUm, rateUm, pitFactor, exponent }).toFixed(6))).toBe(years);
});

// Source: probability calculus, C. Water in by any of 0.3, 0.2, 0.1; protection lost by any of 0.5, 0.2.
test('water in and protection lost: exact, neither the sum of rare events nor the bound of the cut sets', () => {
  const openings = [0.3, 0.2, 0.1];
  const lost = [0.5, 0.2];
  expect(noisyOr(0, openings)).toBeCloseTo(0.496, 12);
  expect(noisyOr(0, lost)).toBeCloseTo(0.6, 12);
  expect(waterAndLoss(openings, lost)).toBeCloseTo(0.2976, 12);
  const cuts = openings.flatMap((opening) => lost.map((loss) => opening * loss));
  expect(cuts.reduce((sum, cut) => sum + cut, 0)).toBeCloseTo(0.42, 12);
  expect(noisyOr(0, cuts)).toBeCloseTo(0.357297184, 9);
});

// Source: probability calculus, C.
test('a leak of 0.05 beside 0.3 and 0.5 lets water in with 0.6675', () => {
  expect(noisyOr(0.05, [0.3, 0.5])).toBeCloseTo(0.6675, 12);
});

// Source: Abramowitz, Stegun 1964, Handbook of Mathematical Functions, Tables 26.1 and 26.5, M.
test.each([
  [0, 0.5], [0.5, 0.6914624613], [1, 0.8413447461], [1.5, 0.9331927987], [1.96, 0.9750021049], [2, 0.9772498681], [2.5, 0.9937903347], [3, 0.9986501020],
])('the normal distribution at %d is %d', (z, chance) => {
  expect(Math.abs(normalCdf(z) - chance)).toBeLessThan(1.2e-7);
  expect(Math.abs(normalCdf(-z) - (1 - chance))).toBeLessThan(1.2e-7);
  expect(Math.abs(normalCdfFast(z) - chance)).toBeLessThan(3e-7);
});

test.each([[0.5, 0], [0.75, 0.6744897502], [0.9, 1.2815515655], [0.95, 1.6448536270], [0.975, 1.9599639845], [0.99, 2.3263478740], [0.995, 2.5758293035], [0.999, 3.0902323062]])('the quantile of %d is %d', (chance, z) => {
  expect(Math.abs(normalQuantile(chance) - z)).toBeLessThan(1e-8);
  expect(Math.abs(normalQuantile(1 - chance) + z)).toBeLessThan(1e-8);
});

/** Of the library only what is asked here; its types name what the program uses. */
const { normal } = jstat as unknown as { normal: { cdf(x: number, mean: number, sigma: number): number; inv(p: number, mean: number, sigma: number): number } };

// Source: the library jstat, whose normal distribution comes of another series.
test('the normal distribution and its quantile agree with jstat', () => {
  for (let step = -780; step <= 780; step += 1) {
    const z = step / 100;
    const other = normal.cdf(z, 0, 1);
    expect(Math.abs(normalCdf(z) - other), `at ${z}`).toBeLessThan(1.2e-7);
    expect(Math.abs(normalCdfFast(z) - other), `at ${z}`).toBeLessThan(3e-7);
  }
  for (let step = 1; step < 1000; step += 1) {
    const chance = step / 1000;
    expect(Math.abs(normalQuantile(chance) - normal.inv(chance, 0, 1)), `of ${chance}`).toBeLessThan(1e-6);
  }
});
