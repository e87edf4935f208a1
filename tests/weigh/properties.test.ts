import fc from 'fast-check';
import { expect, test } from 'vitest';
import { numbersFault } from '../../src/model/risk.ts';
import type { RiskModel } from '../../src/model/risk.ts';
import { classes, drawsOf, medianRateUm, noisyOr, quantileOf, weighSection } from '../../src/weigh/risk.ts';
import type { OpeningInput, Prospect, SectionInput } from '../../src/weigh/risk.ts';
import { openingStates } from '../../src/weigh/states.ts';
import { throughChances } from '../../src/weigh/through.ts';
import { anyOpening, anySection, chanceKeys, fewDraws, lowerThan, numbersIn, reading, risk, sectionWith, undated, weighFew } from './sections.ts';

/*
 * What has to hold of any closed section, over at least a thousand of them each: the model may be wrong in its numbers, which
 * are judgements, but never in these.
 */
const runs = { numRuns: 1000 };

function both(section: SectionInput): Prospect[] {
  const { left, done } = weighFew(section);
  return done === null ? [left] : [left, done];
}

test('chances lie between 0 and 1, in the order of their names, and never fall with the years; no number is none', () => {
  fc.assert(fc.property(anySection, (section) => {
    const weighed = weighFew(section);
    for (const number of numbersIn(weighed)) expect(Number.isFinite(number)).toBe(true);
    for (const { chances, years, today, draws } of [weighed.left, weighed.done as Prospect]) {
      expect(chances.map((chance) => chance.years)).toEqual([1, 3, 5, 10]);
      for (const [at, chance] of chances.entries()) {
        const row = [0, ...chanceKeys.map((key) => chance[key]), 1];
        expect(row.toSorted((a, b) => a - b)).toEqual(row);
        for (const key of chanceKeys) expect(chance[key]).toBeGreaterThanOrEqual((chances[at - 1]?.[key] ?? 0) - 1e-12);
      }
      for (const one of draws) for (const [at, chance] of one.entries()) expect(chance).toBeGreaterThanOrEqual((one[at - 1] ?? 0) - 1e-12);
      const times = [years.low, years.middle, years.high].map((time) => time ?? Number.POSITIVE_INFINITY);
      expect(times.toSorted((a, b) => a - b)).toEqual(times);
      expect(today).toBeGreaterThanOrEqual(0);
      expect(today).toBeLessThanOrEqual(1);
    }
    const { low, middle, high } = weighed.leftUm;
    expect([0, low, middle, high, section.sheetMm * 1100].toSorted((a, b) => a - b)).toEqual([0, low, middle, high, section.sheetMm * 1100]);
  }), runs);
});

test('a faster class of rates never makes it less likely, at the same exponent', () => {
  const loss = fc.record({ lossUm: fc.double({ min: 0, max: 500, noNaN: true }), left: fc.option(fc.double({ min: 0.01, max: 1, noNaN: true })) });
  fc.assert(fc.property(loss, fc.constantFrom('dry', 'wet', 'salt', 'packed'), fc.constantFrom('wax-good', 'paint', 'none'), fc.nat(7), ({ lossUm, left }, exponent, coat, draw) => {
    const judgement = fewDraws.judgements[draw];
    if (!judgement) throw new Error('no draw');
    let before = new Float64Array(11);
    for (const one of classes) {
      const rateLn = Math.log(medianRateUm(one, judgement.dryKeptRateUm));
      const { through } = throughChances(fewDraws, judgement, { rateLn, exponent: judgement.exponent[exponent], coats: [{ coat: judgement.coat[coat], usedYears: 0 }], sheetUm: 900, lossUm, leftUm: left === null ? null : left * 900 });
      for (const [at, chance] of through.entries()) expect(chance).toBeGreaterThanOrEqual((before[at] as number) - 1e-9);
      before = Float64Array.from(through);
    }
  }), runs);
});

test('worse air never makes it less likely', () => {
  fc.assert(fc.property(anySection, fc.double({ min: 0.1, max: 900, noNaN: true }), fc.double({ min: 0.1, max: 900, noNaN: true }), (given, one, other) => {
    const section = undated(given);
    const withAir = (airRateUm: number): Prospect => weighFew({ ...section, surroundings: { ...section.surroundings, airRateUm } }).left;
    expect(lowerThan(withAir(Math.max(one, other)), withAir(Math.min(one, other)))).toEqual([]);
  }), runs);
});

test('a worse opening never makes it less likely, nor less wet', () => {
  fc.assert(fc.property(anySection, anyOpening, fc.nat(openingStates.length - 1), fc.nat(openingStates.length - 1), (section, opening, one, other) => {
    const withState = (at: number): SectionInput => ({ ...section, openings: [...section.openings, { ...opening, state: openingStates[at] ?? 'sound' }] });
    const better = weighFew(withState(Math.min(one, other)));
    const worse = weighFew(withState(Math.max(one, other)));
    expect(lowerThan(worse.left, better.left)).toEqual([]);
    for (const key of ['low', 'middle', 'high'] as const) expect(worse.water[key]).toBeGreaterThanOrEqual(better.water[key] - 1e-12);
  }), runs);
});

// A reading, or steel seen thin, says what is left whatever the sheet was: then a thicker sheet has lost more.
test('thinner sheet never makes it less likely', () => {
  const unmeasured = anySection.filter((section) => section.places.every((place) => place.measuredMm === null && place.metal !== 'thin' && place.metal !== 'unseen'));
  fc.assert(fc.property(unmeasured, fc.double({ min: 0.5, max: 3, noNaN: true }), fc.double({ min: 0.5, max: 3, noNaN: true }), (given, one, other) => {
    const section = undated(given);
    const of = (sheetMm: number): Prospect => weighFew({ ...section, sheetMm }).left;
    expect(lowerThan(of(Math.min(one, other)), of(Math.max(one, other)))).toEqual([]);
  }), runs);
});

test('a lower reading never makes it less likely, and never leaves more steel', () => {
  fc.assert(fc.property(anySection, reading, reading, (section, one, other) => {
    const of = (measuredMm: number): ReturnType<typeof weighFew> => weighFew({ ...section, places: section.places.map((place, at) => (at === 0 ? { ...place, measuredMm, newYears: null } : place)) });
    const less = of(Math.min(one, other));
    const more = of(Math.max(one, other));
    expect(lowerThan(less.left, more.left)).toEqual([]);
    for (const key of ['low', 'middle', 'high'] as const) expect(less.leftUm[key]).toBeLessThanOrEqual(more.leftUm[key] + 1e-9);
  }), runs);
});

test('work never makes it more likely, in no draw, and gives back no steel', () => {
  fc.assert(fc.property(anySection, (section) => {
    const { left, done, leftUm } = weighFew(section);
    if (done === null) throw new Error('no work');
    expect(lowerThan(left, done)).toEqual([]);
    for (const [draw, chances] of done.draws.entries()) for (const [at, chance] of chances.entries()) expect(chance).toBeLessThanOrEqual(left.draws[draw]?.[at] ?? 0);
    expect(done.today).toBeLessThanOrEqual(left.today);
    const untouched = weighFew({ ...section, worked: false, protected: false, drainOpened: false, openings: section.openings.map((one) => ({ ...one, mended: false })), places: section.places.map((place) => ({ ...place, renewed: false })) });
    expect(untouched.done).toBeNull();
    expect(untouched.leftUm).toEqual(leftUm);
    expect(untouched.left).toEqual(left);
  }), runs);
});

test('where there is no opening only a leak lets water in; each opening adds its own chance to it', () => {
  fc.assert(fc.property(fc.array(anyOpening.filter((one) => one.state !== 'unseen'), { maxLength: 5 }), fc.constantFrom('open', 'none'), (openings, drain) => {
    const { water } = weighFew(sectionWith({ openings, drain }));
    const waterOf = (draw: (typeof fewDraws.judgements)[number]): number => noisyOr(draw.leak, openings.map((one: OpeningInput) => (one.state === 'unseen' ? 0 : draw.opening[one.state] * draw.place[one.place])));
    for (const [key, share] of [['low', 0.1], ['middle', 0.5], ['high', 0.9]] as const) expect(water[key]).toBeCloseTo(quantileOf(fewDraws.judgements.map(waterOf), share), 12);
    if (openings.length === 0) expect(water.middle).toBeCloseTo(quantileOf(fewDraws.judgements.map((draw) => draw.leak), 0.5), 12);
    else expect(water.middle).toBeGreaterThan(quantileOf(fewDraws.judgements.map((draw) => draw.leak), 0.5));
  }), runs);
});

type Unsee = (section: SectionInput) => SectionInput;

/** Ways to forget one thing that was seen. */
const forgets: Readonly<Record<string, Unsee>> = {
  'an opening': (section) => ({ ...section, openings: section.openings.map((one, at) => (at === 0 ? { ...one, state: 'unseen' } : one)) }),
  'the drain': (section) => ({ ...section, drain: section.drain === 'none' ? 'none' : 'unseen' }),
  'the metal': (section) => ({ ...section, places: section.places.map((place, at) => (at === 0 ? { ...place, metal: 'unseen' } : place)) }),
  'the coating': (section) => ({ ...section, places: section.places.map((place, at) => (at === 0 ? { ...place, coating: 'unseen', coatedYears: 0 } : place)) }),
  'a reading and the metal': (section) => ({ ...section, places: section.places.map((place, at) => (at === 0 ? { ...place, metal: 'unseen', measuredMm: null } : place)) }),
  'salt': (section) => ({ ...section, surroundings: { ...section.surroundings, salt: 'unseen' } }),
  'where it is kept': (section) => ({ ...section, surroundings: { ...section.surroundings, kept: 'unseen' } }),
};

test.each(Object.entries(forgets))('forgetting %s never narrows what is possible', (_, forget) => {
  fc.assert(fc.property(anySection, (given) => {
    const seen = { ...given, places: given.places.map((place) => ({ ...place, newYears: null })) };
    const before = both(seen);
    const after = both(forget(seen));
    for (const [at, prospect] of after.entries()) {
      const known = before[at];
      if (!known) throw new Error('no prospect');
      expect(lowerThan(known, prospect, ['best'])).toEqual([]);
      expect(lowerThan(prospect, known, ['worst'])).toEqual([]);
    }
  }), runs);
});

test('the order of openings and of places changes nothing', () => {
  const shuffled = anySection.chain((section) => fc.record({
    section: fc.constant(section),
    openings: fc.shuffledSubarray([...section.openings], { minLength: section.openings.length }),
    places: fc.shuffledSubarray([...section.places], { minLength: section.places.length }),
  }));
  fc.assert(fc.property(shuffled, ({ section, openings, places }) => {
    expect(weighFew({ ...section, openings, places })).toEqual(weighFew(section));
  }), runs);
});

test('the same again, and the same whatever was weighed before', () => {
  const memory = new Map();
  fc.assert(fc.property(anySection, (section) => {
    const alone = JSON.stringify(weighFew(section));
    expect(JSON.stringify(weighFew(structuredClone(section)))).toBe(alone);
    expect(JSON.stringify(weighSection(fewDraws, section, memory))).toBe(alone);
  }), runs);
});

test('whatever numbers a job may put in the place of an assumption, every chance stays a chance', () => {
  const number = fc.oneof(fc.constantFrom(0, 1e-9, 1, 1e9), fc.double({ min: 0, max: 1000, noNaN: true }));
  const changed = fc.record({ at: fc.nat(risk.values.length - 1), numbers: fc.tuple(number, number, number).map((all) => all.toSorted((a, b) => a - b)) });
  fc.assert(fc.property(anySection, fc.array(changed, { minLength: 1, maxLength: 4 }), (section, changes) => {
    const values = risk.values.map((value, index) => {
      const [low = 0, likely = 0, high = 0] = changes.find(({ at }) => at === index)?.numbers ?? [value.low, value.likely, value.high];
      return numbersFault(value, [low, likely, high]) === '' ? { ...value, low, likely, high } : value;
    });
    const model: RiskModel = { ...risk, values };
    const weighed = weighSection(drawsOf(model, { outer: 8, inner: 16 }), section, new Map());
    for (const found of numbersIn(weighed)) expect(Number.isFinite(found)).toBe(true);
    for (const chance of [...weighed.left.draws, ...(weighed.done?.draws ?? [])].flatMap((all) => [...all])) expect(chance >= 0 && chance <= 1).toBe(true);
  }), runs);
});
