import { expect, test } from 'vitest';
import { filmFigures, madToDeviation, outliersOf } from '../../src/place/film.ts';
import { rustGrade } from '../../src/model/rust-grade.ts';
import { wilson95 } from '../../src/model/wilson.ts';
import { notesOf } from '../read/notes-helper.ts';

// Source: ASTM D610-08, Table 1, rust grade by percent of surface rusted, upper bound included.
test.each([
  [0.01, 10], [0.0101, 9], [0.03, 9], [0.0301, 8], [0.1, 8], [0.3, 7], [1, 6], [3, 5], [10, 4], [16, 3], [33, 2], [50, 1], [50.01, 0],
])('%d %% rusted is grade %d', (percent, grade) => {
  expect(rustGrade(percent)).toBe(grade);
});

// Source: Wilson 1927, JASA 22:209, the score interval; 34 of 100 worked by hand with z = 1.96: 25.5 to 43.7 %.
// 81 of 263 is the worked example of Newcombe 1998, Statistics in Medicine 17:857, from memory: 0.2553 to 0.3662; none of 20: 0 to 0.1611.
test.each([[34, 100, 25.5, 43.7, 1], [81, 263, 25.53, 36.62, 2], [0, 20, 0, 16.11, 2]])('%d of %d points: %d to %d %%', (hits, points, low, high, digits) => {
  const found = wilson95(hits, points);
  expect([found?.lowPercent, found?.highPercent].map((one) => Number(one?.toFixed(digits)))).toEqual([low, high]);
});

/** Φ(x), the standard normal distribution, by Simpson's rule from 0: independent of any code of ours. */
function normal(x: number): number {
  const steps = 2000;
  const density = (t: number): number => Math.exp((-t * t) / 2) / Math.sqrt(2 * Math.PI);
  let sum = density(0) + density(x);
  for (let at = 1; at < steps; at += 1) sum += density((x * at) / steps) * (at % 2 === 0 ? 2 : 4);
  return 0.5 + (sum * x) / steps / 3;
}

// Source: the constant that makes the MAD of normally distributed values their standard deviation is 1 / Φ⁻¹(3/4), 1.4826
// to four decimals (Hampel 1974, JASA 69:383; manual of R, function mad), from memory, and recomputed here.
test('1.4826 is 1 / Φ⁻¹(3/4)', () => {
  let [low, high] = [0, 2];
  for (let count = 0; count < 60; count += 1) {
    const middle = (low + high) / 2;
    if (normal(middle) < 0.75) low = middle;
    else high = middle;
  }
  expect(Number((1 / low).toFixed(4))).toBe(1.4826);
  expect(madToDeviation).toBe(1.4826);
});

// Source: Leys, Ley, Klein, Bernard, Licata 2013, Journal of Experimental Social Psychology 49:764, worked example: of 1, 3,
// 3, 6, 8, 10, 10, 1000 the median is 7, the MAD 3.5 × 1.4826 = 5.1891, and with three deviations only what lies outside of
// -8.57 to 22.57 is an outlier (read in programs that quote it).
test('the worked example of Leys and others', () => {
  const values = [1, 3, 3, 6, 8, 10, 10, 1000];
  expect(outliersOf(values, 1)).toEqual([1000]);
  expect(outliersOf([...values.slice(0, 7), 22.56], 0.01)).toEqual([]);
  expect(outliersOf([...values.slice(0, 7), 22.58], 0.01)).toEqual([22.58]);
});

// Source: Rousseeuw and Hubert 2011, WIREs Data Mining and Knowledge Discovery 1:73, from memory: of 6.27, 6.34, 6.25, 63.1,
// 6.28, where a point was left out, the median stays 6.28 and 63.1 alone stands out.
test('a value with its point left out stands out, and does not move the median', () => {
  const values = [6.27, 6.34, 6.25, 63.1, 6.28];
  expect(outliersOf(values, 0.01)).toEqual([63.1]);
  expect(filmFigures(film('6.27 um, 6.34 um, 6.25 um, 63.1 um, 6.28 um'))).toMatchObject({ median: 6.28, outliers: [63.1] });
});

function film(values: string): Parameters<typeof filmFigures>[0] {
  const entry = notesOf(`# Roof\n\n- film: ${values}\n`).notes.zones[0]?.entries[0];
  if (entry?.type !== 'reading') throw new Error(`no reading: ${values}`);
  return entry;
}

// Source: international yard and pound agreement of 1959: 1 inch = 25.4 mm exactly; a thou is a thousandth of it.
test.each([
  ['film: 4 thou', [101.6]], ['film: 1 in', null], ['film: 0.01 in', [254]], ['steel: 0.035 in', [0.889]], ['steel: 35 thou', [0.889]], ['steel: 0.1 inch', [2.54]],
])('%s', (line, values) => {
  const entry = notesOf(`# Roof\n\n- ${line}\n`).notes.zones[0]?.entries[0];
  if (values === null) expect(entry?.type).toBe('remark');
  else expect(entry).toMatchObject({ type: 'reading', values });
});
