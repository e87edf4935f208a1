import fc from 'fast-check';
import { expect, test } from 'vitest';
import { rustGrade, rustGrades } from '../../src/model/rust-grade.ts';
import { wilson95 } from '../../src/model/wilson.ts';

test.each([Number.NaN, -0.001, 100.001, Infinity, -Infinity])('%d is no share of a surface and has no grade', (percent) => {
  expect(rustGrade(percent)).toBeNull();
  expect(rustGrades(percent, 50)).toBeNull();
  expect(rustGrades(1, percent)).toBeNull();
});

test('nothing rusted is the best grade, everything the worst', () => {
  expect([rustGrade(0), rustGrade(100)]).toEqual([10, 0]);
});

test('an interval has the grades of its ends, in words', () => {
  expect(rustGrades(5, 20)).toEqual({ best: 4, worst: 2, words: '4 to 2' });
  expect(rustGrades(12, 15)).toEqual({ best: 3, worst: 3, words: '3' });
  expect(rustGrades(20, 5)).toBeNull();
});

test('34 of 100 points span one grade more than their share alone', () => {
  const found = wilson95(34, 100);
  // 25.5 to 43.7 %: grade 2 reaches to 33 %.
  expect(rustGrades(found?.lowPercent ?? NaN, found?.highPercent ?? NaN)).toEqual({ best: 2, worst: 1, words: '2 to 1' });
  expect(rustGrade(34)).toBe(1);
});

test('more rust is never a better grade', () => {
  const share = fc.double({ min: 0, max: 100, noNaN: true });
  fc.assert(fc.property(share, share, (a, b) => {
    expect(rustGrade(Math.max(a, b))).toBeLessThanOrEqual(rustGrade(Math.min(a, b)) ?? NaN);
  }));
});

test.each([[1, 0], [-1, 100], [101, 100], [1.5, 100], [1, Number.NaN], [Infinity, Infinity]])('%d of %d is no count', (hits, points) => {
  expect(wilson95(hits, points)).toBeNull();
});

test('the interval holds the share, stays within 0 and 100, and is narrower with more points', () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 400 }), fc.nat(400), (points, some) => {
      const hits = Math.min(some, points);
      const [one, four] = [wilson95(hits, points), wilson95(4 * hits, 4 * points)];
      if (!one || !four) throw new Error('no interval');
      expect(one.lowPercent).toBeGreaterThanOrEqual(0);
      expect(one.highPercent).toBeLessThanOrEqual(100);
      expect(one.lowPercent).toBeLessThanOrEqual(one.percent);
      expect(one.highPercent).toBeGreaterThanOrEqual(one.percent);
      expect(four.highPercent - four.lowPercent).toBeLessThan(one.highPercent - one.lowPercent);
    }),
  );
});
