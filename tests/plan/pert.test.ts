import fc from 'fast-check';
import { expect, test } from 'vitest';
import { betaQuantile, pertOf, pertQuantile, sumOf } from '../../src/plan/pert.ts';

const three = fc.tuple(fc.integer({ min: 0, max: 1_000_000 }), fc.integer({ min: 0, max: 1_000_000 }), fc.integer({ min: 0, max: 1_000_000 }))
  .map((all) => all.toSorted((a, b) => a - b))
  .map(([low = 0, likely = 0, high = 0]) => ({ low, likely, high }));

test('one value is itself at every quantile', () => {
  expect([0.1, 0.5, 0.9].map((p) => pertQuantile({ low: 7, likely: 7, high: 7 }, p))).toEqual([7, 7, 7]);
  expect(pertOf({ low: 7, likely: 7, high: 7 })).toEqual({ low: 7, high: 7, mean: 7, variance: 0 });
});

// With m at an end the distribution is beta(1, 5) or beta(5, 1), whose quantiles have a closed form.
test('the likely value may stand at an end', () => {
  expect(pertQuantile({ low: 0, likely: 0, high: 1 }, 0.9)).toBeCloseTo(1 - 0.1 ** 0.2, 7);
  expect(pertQuantile({ low: 0, likely: 1, high: 1 }, 0.1)).toBeCloseTo(0.1 ** 0.2, 7);
});

test('a quantile is the integral of the density up to it', () => {
  // Simpson's rule over the density of beta(alpha, beta) from low to high, without its constant.
  const { low, likely, high } = { low: 100, likely: 150, high: 400 };
  const [alpha, beta] = [1 + (4 * (likely - low)) / (high - low), 1 + (4 * (high - likely)) / (high - low)];
  const integral = (to: number): number => {
    const steps = 20_000;
    const width = (to - low) / steps;
    const density = (x: number): number => ((x - low) / (high - low)) ** (alpha - 1) * ((high - x) / (high - low)) ** (beta - 1);
    let sum = density(low) + density(to);
    for (let at = 1; at < steps; at += 1) sum += density(low + at * width) * (at % 2 === 0 ? 2 : 4);
    return (sum * width) / 3;
  };
  for (const p of [0.05, 0.1, 0.5, 0.9, 0.95]) expect(integral(pertQuantile({ low, likely, high }, p)) / integral(high)).toBeCloseTo(p, 6);
});

test('quantiles rise with p and stay between low and high', () => {
  fc.assert(fc.property(three, (given) => {
    const values = [0.01, 0.1, 0.5, 0.9, 0.99].map((p) => pertQuantile(given, p));
    expect(values.every(Number.isFinite)).toBe(true);
    expect(values).toEqual(values.toSorted((a, b) => a - b));
    expect(values[0]).toBeGreaterThanOrEqual(given.low);
    expect(values.at(-1)).toBeLessThanOrEqual(given.high);
  }));
});

test('the quantiles of a sum of independent costs agree with draws', () => {
  // A dozen works as a workshop would write them, and a linear congruential generator (Numerical Recipes, chapter 7) for the draws.
  const works = Array.from({ length: 12 }, (_, index) => ({ low: 40 + 10 * index, likely: 60 + 15 * index, high: 150 + 30 * index }));
  let state = 1;
  const uniform = (): number => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return (state + 0.5) / 2 ** 32;
  };
  const sums = Array.from({ length: 20_000 }, () => works.reduce((sum, work) => sum + pertQuantile(work, uniform()), 0)).sort((a, b) => a - b);
  const total = sumOf(works.map(pertOf));
  for (const p of [0.1, 0.5, 0.9]) {
    const drawn = sums[Math.floor(p * sums.length)] ?? 0;
    expect(Math.abs(betaQuantile(total, p) / drawn - 1), `P${p * 100}`).toBeLessThan(0.005);
  }
});
