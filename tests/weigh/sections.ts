import fc from 'fast-check';
import { readCatalogue } from '../../src/read/catalogue/index.ts';
import { drawsOf, weighSection } from '../../src/weigh/risk.ts';
import type { Chance, OpeningInput, PlaceInput, Prospect, SectionInput, Weighed } from '../../src/weigh/risk.ts';
import { coatingStates, keptStates, metalStates, openingStates, places, saltStates } from '../../src/weigh/states.ts';

export const risk = readCatalogue().risk;

/** Few draws of both levels: what has to hold for any number of them. */
export const fewDraws = drawsOf(risk, { outer: 8, inner: 16 });

export function weighFew(section: SectionInput): Weighed {
  return weighSection(fewDraws, section, new Map());
}

export const soundPlug: OpeningInput = { state: 'sound', kind: 'plug', place: 'wheel-spray', mended: false };
export const soundPlace: PlaceInput = { metal: 'sound', coating: 'wax-good', measuredMm: null, newYears: null, coatedYears: 0, renewed: false };

/** Closed, drained, waxed and all seen, of 0.9 mm, on salted roads; change what the test is about. */
export function sectionWith(given: Partial<SectionInput> = {}): SectionInput {
  return {
    sheetMm: 0.9, openings: [soundPlug, soundPlug], drain: 'open', drainOpened: false, water: 'nothing seen', places: [soundPlace],
    protected: false, worked: false, surroundings: { salt: 'some', kept: 'outside', airRateUm: null }, ...given,
  };
}

export const anyOpening: fc.Arbitrary<OpeningInput> = fc.record({
  state: fc.constantFrom(...openingStates, 'unseen' as const, 'unseen' as const),
  kind: fc.constantFrom('plug' as const, 'seam' as const, 'hole' as const),
  place: fc.constantFrom(...places),
  mended: fc.boolean(),
});

/** A gauge shows hundredths. */
export const reading = fc.nat(140).map((hundredths) => hundredths / 100);
const years = fc.constantFrom(0, 0.5, 2, 7, 15, 40);
/** One place in five has a reading, from eaten through to above nominal; one in five is known to have been new. */
export const anyPlace: fc.Arbitrary<PlaceInput> = fc
  .record({
    metal: fc.constantFrom(...metalStates, 'unseen' as const, 'unseen' as const),
    coating: fc.constantFrom(...coatingStates, 'unseen' as const, 'unseen' as const),
    measuredMm: fc.constantFrom(null, null, null, null, 0.55).chain((one) => (one === null ? fc.constant(null) : reading)),
    newYears: fc.constantFrom(null, null, null, null, 1).chain((one) => (one === null ? fc.constant(null) : years)),
    coatedYears: fc.constantFrom(0, 0, 0, 3, 12),
    renewed: fc.boolean(),
  })
  .map((place) => ({ ...place, newYears: place.measuredMm === null ? place.newYears : null, coatedYears: place.coating === 'unseen' || place.coating === 'none' ? 0 : place.coatedYears }));

export const anySection: fc.Arbitrary<SectionInput> = fc.record({
  sheetMm: fc.constantFrom(0.7, 0.8, 0.9, 1, 1.5, 2),
  openings: fc.array(anyOpening, { maxLength: 6 }),
  drain: fc.constantFrom('open', 'slow', 'blocked', 'unseen', 'none'),
  drainOpened: fc.boolean(),
  water: fc.constantFrom('nothing seen', 'nothing seen', 'damp', 'silt', 'standing'),
  places: fc.array(anyPlace, { minLength: 1, maxLength: 3 }),
  protected: fc.boolean(),
  worked: fc.constant(true),
  surroundings: fc.record({
    salt: fc.constantFrom(...saltStates, 'unseen' as const),
    kept: fc.constantFrom(...keptStates, 'unseen' as const),
    airRateUm: fc.constantFrom(null, null, null, 3, 40, 120, 250, 900),
  }),
});

/** A section with its dates taken away: what is known of a date speaks of the rate too, which nobody sees. */
export function undated(section: SectionInput): SectionInput {
  return { ...section, places: section.places.map((place) => ({ ...place, newYears: null, coatedYears: 0 })) };
}

export const chanceKeys = ['best', 'low', 'middle', 'high', 'worst'] as const;

/** Where one prospect has a lower chance than another, by more than rounding: "5 years, middle: 0.31 after 0.33". */
export function lowerThan(later: Prospect, earlier: Prospect, keys: readonly (typeof chanceKeys)[number][] = chanceKeys, by = 1e-7): string[] {
  return later.chances.flatMap((chance, at) => {
    const before = earlier.chances[at] as Chance;
    return keys.filter((key) => chance[key] < before[key] - by).map((key) => `${chance.years} years, ${key}: ${chance[key]} after ${before[key]}`);
  });
}

/** Every number there is in a value, however deep. */
export function numbersIn(value: unknown): number[] {
  if (typeof value === 'number') return [value];
  if (value === null || typeof value !== 'object') return [];
  return (ArrayBuffer.isView(value) ? [...(value as Float64Array)] : Object.values(value)).flatMap(numbersIn);
}
