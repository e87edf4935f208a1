import { expect, test } from 'vitest';
import type { NextLook } from '../../src/model/outlook.ts';
import { sectionOf } from '../../src/weigh/input.ts';
import { remediesOf } from '../../src/weigh/remedies.ts';
import { drawsOf, weighSection } from '../../src/weigh/risk.ts';
import type { SectionInput } from '../../src/weigh/risk.ts';
import { surroundingsOf } from '../../src/weigh/surroundings.ts';
import { carYearsOf } from '../../src/weigh/years.ts';
import { judged } from '../write/builders.ts';
import type { Judged } from '../write/builders.ts';
import { risk } from './sections.ts';

const head = '# Car\n- body: saloon\n- built: 1971\n- kept: outside\n- winter salt: some\n# Visit\n- seen: 2026-03-14 10:00-11:00\n';
/** The openings of a sill, sound but for the end cap at the front, in wheel spray, which nobody saw. */
const closed = '# Sill, left\n- plug, inner face: sound\n- drain slot, bottom seam: open\n- end cap, rear: sound\n- jacking point: sound\n- access hole, wax hole: sealed over\n- fixing hole, tread strip: sealed over\n- seam, bottom: sound\n';

/** The two kinds of look at the left sill. */
function lookAt({ outlook }: Judged, cavity: string | null): NextLook {
  const found = outlook.car.looks.find((look) => look.zone === 'sill-left' && look.cavity === cavity);
  if (!found) throw new Error(`no look at ${cavity ?? 'the openings'}`);
  return found;
}

/** Sections of the left sill as the model takes them, with the hours to replace each. */
function sectionsOf({ inspection }: Judged): { input: SectionInput; hours: number; id: string }[] {
  const { catalogue, notes } = inspection.job;
  const zone = inspection.zones.find((one) => one.zone.id === 'sill-left');
  if (!zone) throw new Error('no sill');
  const remedies = remediesOf(catalogue, zone, []);
  const { surroundings } = surroundingsOf(notes);
  return zone.zone.record.cavities.map((cavity) => ({ id: cavity.id, hours: cavity.replaceHours[1], input: sectionOf({ catalogue, zone, cavity, remedies, surroundings, years: carYearsOf(notes) }) }));
}

const draws = drawsOf(risk, { outer: 64, inner: 32 });
/** Width of the 10-90 % range within five years. */
function widthOf(input: SectionInput): number {
  const five = weighSection(draws, input, new Map()).left.chances[2];
  return (five?.high ?? Number.NaN) - (five?.low ?? Number.NaN);
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** The outcomes of a look: the states of the second half of the outer draws. */
const outcomes = draws.judgements.slice(32);

test('a look at an inside is worth what its outcomes narrow, each put in place as seen and weighed again', () => {
  const from = judged(`${head}# Sill, left\n- plug, inner face: missing\n`);
  const own = sectionsOf(from).find((one) => one.id === 'inner-cell');
  if (!own) throw new Error('no section');
  const seenAs = ({ unseenMetal, unseenCoating }: (typeof outcomes)[number]): SectionInput => ({
    ...own.input,
    places: own.input.places.map((place) => ({ ...place, metal: place.metal === 'unseen' ? unseenMetal : place.metal, coating: place.coating === 'unseen' ? unseenCoating : place.coating })),
  });
  const narrowing = widthOf(own.input) - mean(outcomes.map((outcome) => widthOf(seenAs(outcome))));
  const look = lookAt(from, 'inner-cell');
  expect(narrowing).toBeGreaterThan(0.05);
  expect(look.shrinksHours).toBeCloseTo(narrowing * own.hours, 9);
  expect(look.perHour).toBeCloseTo(look.shrinksHours / look.hours.likely, 9);
});

test('a look at openings is worth what its outcomes narrow, over all sections of the zone', () => {
  const from = judged(`${head}# Sill, left\n- metal inside, inner cell: surface rust\n- coating inside, inner cell: bare\n- metal inside, outer cell: sound\n`);
  const seenAs = ({ unseenOpening, unseenDrainBlocked }: (typeof outcomes)[number], input: SectionInput): SectionInput => {
    let index = 0;
    return {
      ...input,
      openings: input.openings.map((opening) => (opening.state === 'unseen' ? { ...opening, state: unseenOpening(opening.kind, index++) } : opening)),
      drain: input.drain === 'unseen' ? (unseenDrainBlocked ? 'blocked' : 'open') : input.drain,
    };
  };
  const hours = sectionsOf(from).map((own) => own.hours * Math.max(0, widthOf(own.input) - mean(outcomes.map((outcome) => widthOf(seenAs(outcome, own.input))))));
  expect(hours).toHaveLength(2);
  const sum = hours.reduce((all, one) => all + one, 0);
  expect(sum).toBeGreaterThan(0.1);
  expect(lookAt(from, null).shrinksHours).toBeCloseTo(sum, 9);
});

/** Words that say each state of a mixture in the findings. */
const words: Readonly<Record<string, string>> = { 'wax-good': 'wax good', 'wax-thin': 'wax thin', paint: 'paint only', none: 'bare', 'surface-rust': 'surface rust' };

/** Every state of a mixture with its share, as the findings say it. */
function mixture(id: string): { state: string; share: number }[] {
  const found = risk.mixtures.find((one) => one.id === id);
  return (found?.states ?? []).map((state, index) => ({ state: words[state] ?? state, share: found?.shares[index] ?? 0 }));
}

test('the same by writing every outcome into the findings, each by its share: an inside', () => {
  const open = `${head}# Sill, left\n- plug, inner face: missing\n`;
  const width = (text: string): number => {
    const five = judged(text).outlook.cavities.find((one) => one.zone === 'sill-left' && one.cavity === 'inner-cell')?.weighed.left.chances[2];
    return (five?.high ?? Number.NaN) - (five?.low ?? Number.NaN);
  };
  const after = mixture('unseen-metal').flatMap((metal) => mixture('unseen-coating').map((coating) => metal.share * coating.share * width(`${open}- metal inside, inner cell: ${metal.state}\n- coating inside, inner cell: ${coating.state}\n`)));
  expect(after).toHaveLength(24);
  const look = lookAt(judged(open), 'inner-cell');
  const hours = 18 * (width(open) - after.reduce((sum, one) => sum + one, 0));
  expect(Math.abs(look.shrinksHours / hours - 1)).toBeLessThan(0.15);
});

test('the same by writing every outcome into the findings, each by its share: the one opening nobody saw', () => {
  const inside = '- metal inside, outer cell: scaling\n- coating inside, outer cell: bare\n- metal inside, inner cell: sound\n- coating inside, inner cell: wax good\n';
  const hoursOf = (text: string): number => judged(text).outlook.cavities.filter((one) => one.zone === 'sill-left').reduce((sum, one) => sum + one.replaceHours[1] * ((one.weighed.left.chances[2]?.high ?? 0) - (one.weighed.left.chances[2]?.low ?? 0)), 0);
  const unseen = `${head}${closed}${inside}`;
  const after = mixture('unseen-plug').reduce((sum, { state, share }) => sum + share * hoursOf(`${unseen}- end cap, front: ${state}\n`), 0);
  const look = lookAt(judged(unseen), null);
  expect(look.sections).toEqual(['outer cell']);
  const hours = hoursOf(unseen) - after;
  expect(hours).toBeGreaterThan(0);
  expect(Math.abs(look.shrinksHours / hours - 1), `${look.shrinksHours} for ${hours}`).toBeLessThan(0.25);
});

test('looks stand by what an hour of each narrows, with the hours written for it', () => {
  const { outlook } = judged(`${head}# Sill, left\n- not seen: inner cell. cover strip. to see it: drill out 14 rivets, 4 h\n`);
  const worth = outlook.car.looks.map((look) => look.perHour);
  expect(worth.length).toBeGreaterThan(60);
  expect(worth.toSorted((a, b) => b - a)).toEqual(worth);
  const [left, right] = ['sill-left', 'sill-right'].map((zone) => outlook.car.looks.find((look) => look.zone === zone && look.cavity === 'inner-cell'));
  expect(left).toMatchObject({ assumed: false, hours: { likely: 4 }, shrinksHours: right?.shrinksHours });
  expect(right).toMatchObject({ assumed: true, hours: { low: 0.25, likely: 0.5, high: 1.5 } });
  expect((right?.perHour ?? 0) / (left?.perHour ?? 1)).toBeCloseTo(8, 9);
});

test('where all was seen there is nothing to look at', () => {
  const all = `${head}${closed}- end cap, front: sound\n- metal inside, inner cell: sound\n- coating inside, inner cell: wax good\n- metal inside, outer cell: sound\n- coating inside, outer cell: wax good\n`;
  expect(judged(all).outlook.car.looks.filter((look) => look.zone === 'sill-left')).toEqual([]);
});
