import { describe, expect, test } from 'vitest';
import type { CavityOutlook } from '../../src/model/inspection.ts';
import { assumptionsOf } from '../../src/model/risk.ts';
import { drawsOf, weighSection } from '../../src/weigh/risk.ts';
import type { SectionInput, Weighed } from '../../src/weigh/risk.ts';
import { weigh } from '../../src/weigh/index.ts';
import { metalStates } from '../../src/weigh/states.ts';
import { judged } from '../write/builders.ts';
import { lowerThan, risk, sectionWith, soundPlace, soundPlug } from './sections.ts';

const draws = drawsOf(risk);

function weighed(given: Partial<SectionInput>): Weighed {
  return weighSection(draws, sectionWith(given), new Map());
}

/** Middle of the chance within ten years, in 100. */
function tenYears(one: Weighed, work: 'left' | 'done' = 'left'): number {
  return 100 * (one[work]?.chances.at(-1)?.middle ?? Number.NaN);
}

const missing = { ...soundPlug, state: 'missing' as const, mended: true };
const unseenPlug = { ...soundPlug, state: 'unseen' as const, mended: true };

const head = '# Car\n- body: saloon\n- built: 1971\n- kept: outside\n- winter salt: some\n# Visit\n- seen: 2026-03-14 10:00-11:00\n';
/** Every usual opening of a sill, sound. */
const closed = '# Sill, left\n- plug, inner face: sound\n- drain slot, bottom seam: open\n- end cap, front: sound\n- end cap, rear: sound\n- jacking point: sound\n- access hole, wax hole: sealed over\n- fixing hole, tread strip: sealed over\n- seam, bottom: sound\n';

function section(lines: string, id = 'inner-cell', top = head): CavityOutlook {
  const found = judged(`${top}${lines}`).outlook.cavities.find((one) => one.zone === 'sill-left' && one.cavity === id);
  if (!found) throw new Error(`no section ${id}`);
  return found;
}

function notices(text: string): string[] {
  return judged(text).outlook.car.notices.map((notice) => `${notice.rule} ${notice.spot?.line ?? '-'}`);
}

describe('sense of it: chances in 100 within ten years, sheet of 0.9 mm, left and with the work done', () => {
  // Our judgement: a probe with the first values of the table, so the bounds are loose. The order of the rows is the point.
  const scaling = { ...soundPlace, metal: 'scaling' as const, coating: 'paint' as const };
  const work = { worked: true, protected: true, drainOpened: true };
  const heavy = { salt: 'heavy' as const, kept: 'outside' as const, airRateUm: null };
  const rows: readonly (readonly [name: string, given: Partial<SectionInput>, left: number, done: number])[] = [
    ['plugs sound, waxed, clean', work, 1, 1],
    ['two plugs missing, paint only, salt', { ...work, openings: [missing, missing], places: [{ ...soundPlace, coating: 'paint' }] }, 32, 1],
    ['nothing seen, salt', { ...work, openings: [unseenPlug, unseenPlug, unseenPlug, unseenPlug], drain: 'unseen', places: [{ ...soundPlace, metal: 'unseen', coating: 'unseen' }] }, 51, 6],
    ['scaling, two missing, salt', { ...work, openings: [missing, missing], places: [scaling] }, 61, 4],
    ['the same, drain blocked, heavy salt', { ...work, openings: [missing, missing], drain: 'blocked', places: [scaling], surroundings: heavy }, 98, 4],
  ];

  test.each(rows)('%s', (_, given, left, done) => {
    const one = weighed(given);
    expect(Math.abs(tenYears(one) - left)).toBeLessThanOrEqual(left < 10 ? 1 : 10);
    expect(Math.abs(tenYears(one, 'done') - done)).toBeLessThanOrEqual(4);
  });

  test('in this order', () => {
    const chances = rows.map(([, given]) => tenYears(weighed(given)));
    expect(chances.toSorted((a, b) => a - b)).toEqual(chances);
  });

  test('of the sections nobody saw some three in 100 are through already', () => {
    expect(100 * weighed(rows[2]?.[1] ?? {}).left.today).toBeCloseTo(3, 0);
  });
});

test('closed, drained, waxed and dry: negligible, and nothing unseen to widen it', () => {
  const one = section(`${closed}- metal inside, inner cell: sound\n- coating inside, inner cell: wax good\n- water, inner cell: dry\n`);
  expect(one.unseen).toEqual([]);
  for (const { high, worst } of one.weighed.left.chances) {
    expect(high).toBeLessThan(0.05);
    expect(worst).toBe(high);
  }
  expect(one.share).toEqual({ chance: null, years: null });
});

test('age alone does nothing', () => {
  const lines = '# Sill, left\n- plug, inner face: missing\n- metal inside, inner cell: surface rust\n';
  const young = judged(`${head.replace('1971', '2019')}${lines}`).outlook;
  const old = judged(`${head}${lines}`).outlook;
  expect(young.cavities.map((one) => one.weighed)).toEqual(old.cavities.map((one) => one.weighed));
});

describe('a year', () => {
  const open = '# Sill, left\n- plug, inner face: missing\n- access hole, wax hole: hole open\n';
  const since = (words: string): CavityOutlook => section(`${open}- metal inside, inner cell: new${words}\n- coating inside, inner cell: bare\n`);

  test('of new steel starts its loss then, which is less steel left today', () => {
    const left = [since(' 2025'), since(' 2019'), since(' 2004')].map((one) => one.weighed.leftUm.middle);
    expect(left.toSorted((a, b) => b - a)).toEqual(left);
    expect(new Set(left).size).toBe(3);
    expect(left[0]).toBeLessThanOrEqual(since('').weighed.leftUm.high);
    expect(left[2]).toBeLessThan(600);
  });

  test('of new steel counts what was survived: later years are no likelier than from new, once most weak ones would be gone', () => {
    const place = { ...soundPlace, coating: 'none' as const };
    const given = { openings: [missing, missing] };
    const [fresh, aged] = [0, 20].map((newYears) => weighed({ ...given, places: [{ ...place, newYears }] }));
    expect(fresh && aged && tenYears(aged) < tenYears(fresh)).toBe(true);
    // Soon after today it is the other way round: the loss is there already.
    expect(aged?.left.chances[0]?.middle).toBeGreaterThan(fresh?.left.chances[0]?.middle ?? 1);
  });

  test('of a coat of wax uses up what it lasts, but not what new wax lasts', () => {
    const waxed = (coatedYears: number): Weighed => weighed({ openings: [missing], worked: true, protected: true, places: [{ ...soundPlace, coatedYears }] });
    expect(tenYears(waxed(6))).toBeGreaterThan(tenYears(waxed(0)) + 1);
    expect(tenYears(waxed(6), 'done')).toBeCloseTo(tenYears(waxed(0), 'done'), 6);
  });

  test('that the model hardly believes is said, at its line', () => {
    const text = `${head.replace('outside', 'by the sea').replace('some', 'heavy').replace('1971', '1951')}# Sill, left\n- end cap, front: missing\n- drain slot, bottom seam: blocked\n- metal inside, outer cell: new 1952\n- coating inside, outer cell: bare\n`;
    expect(notices(text)).toContain('outlook-strained 11');
    expect(notices(text.replace('new 1952', 'new 2024'))).toEqual([]);
    expect(notices(text.replace('new 1952', 'sound'))).toEqual([]);
  });
});

test('a reading above nominal is no negative loss: it counts as the full sheet', () => {
  const place = { ...soundPlace, metal: 'unseen' as const, coating: 'none' as const };
  const above = weighed({ openings: [missing], places: [{ ...place, measuredMm: 1.4 }] });
  const nominal = weighed({ openings: [missing], places: [{ ...place, measuredMm: 0.99 }] });
  expect(above.left.chances).toEqual(nominal.left.chances);
  expect(above.leftUm.high).toBeLessThanOrEqual(990);
});

test('worse metal is never less likely to come through, and leaves no more steel', () => {
  for (const coating of ['wax-good', 'none'] as const) {
    const all = metalStates.map((metal) => weighed({ openings: [missing, missing], places: [{ ...soundPlace, metal, coating }] }));
    for (const [at, one] of all.entries()) {
      const before = all[at - 1];
      if (!before) continue;
      // Pits and thin steel are judged each by itself: less than a thousandth is nothing.
      expect(lowerThan(one.left, before.left, undefined, 1e-3), `${metalStates[at]}, ${coating}`).toEqual([]);
      expect(one.leftUm.middle).toBeLessThan(before.leftUm.middle);
    }
    expect(all.at(-1)?.left).toMatchObject({ today: 1, years: { low: 0, middle: 0, high: 0 } });
  }
});

test('new wax over rust protects for a shorter time than over clean metal', () => {
  const waxed = (metal: 'sound' | 'surface-rust'): Weighed => weighed({ openings: [{ ...missing, mended: false }], worked: true, protected: true, places: [{ ...soundPlace, metal, coating: 'none' }] });
  expect(tenYears(waxed('surface-rust'), 'done')).toBeGreaterThan(tenYears(waxed('sound'), 'done') + 2);
  expect(tenYears(waxed('surface-rust'), 'done')).toBeLessThan(tenYears(waxed('surface-rust')));
});

describe('what nobody saw', () => {
  const seen = `${closed}- metal inside, inner cell: sound\n- coating inside, inner cell: wax good\n`;

  test('is the rest, where half was seen', () => {
    const half = section(seen.replaceAll('inner cell:', 'inner cell, front half:'));
    expect(section(seen).insideSeen).toBe('whole');
    expect(half.insideSeen).toBe('part');
    expect(half.weighed.left.chances[3]?.worst).toBe(1);
    expect(half.weighed.left.chances[3]?.middle).toBeGreaterThan(section(seen).weighed.left.chances[3]?.middle ?? 1);
  });

  test('is what is written as not seen, whatever else was', () => {
    expect(section(`${seen}- not seen: rear third. cover strip\n`)).toMatchObject({ insideSeen: 'part', weighed: { left: { chances: [{ worst: 1 }, { worst: 1 }, { worst: 1 }, { worst: 1 }] } } });
    // Of the other section it says nothing.
    expect(section(`${seen}- not seen: outer cell. cover strip\n`).weighed).toEqual(section(seen).weighed);
  });

  test('is wax that somebody told of', () => {
    const told = section(`${closed}- metal inside, inner cell: sound\n- coating inside, inner cell: wax good. told by seller\n`);
    expect(told.coating).toBeNull();
    expect(told.weighed).toEqual(section(`${closed}- metal inside, inner cell: sound\n`).weighed);
    expect(told.weighed.left.chances[3]?.middle).toBeGreaterThan(section(seen).weighed.left.chances[3]?.middle ?? 1);
  });

  test('is everything, where nothing is written: a wide range, nothing sound, nothing done', () => {
    const { inspection, outlook } = judged(head);
    expect(inspection.zones.filter((zone) => zone.state === 'sound')).toEqual([]);
    for (const { weighed: one, insideSeen, share } of outlook.cavities) {
      const ten = one.left.chances[3] ?? { low: 1, high: 0, worst: 0 };
      expect({ insideSeen, done: one.done, worst: ten.worst }).toEqual({ insideSeen: 'none', done: null, worst: 1 });
      expect(ten.high - ten.low).toBeGreaterThan(0.1);
      expect(share.chance).toBeGreaterThan(0.3);
    }
    const widths = outlook.cavities.map(({ weighed: one }) => (one.left.chances[3]?.high ?? 0) - (one.left.chances[3]?.low ?? 0)).toSorted((a, b) => a - b);
    expect(widths[Math.floor(widths.length / 2)]).toBeGreaterThan(0.4);
  });
});

describe('the air of a place', () => {
  const withAir = (air: string): string => head.replace('# Visit', `- air: ${air}\n# Visit`);

  test('counts where all four quantities are there, and is said', () => {
    const { outlook } = judged(withAir('20 C, 80 %, SO2 10 mg, chloride 60 mg'));
    // ISO 9223:2012, dose-response function: 57.1913 µm, class C4; see tests/outside/risk.test.ts.
    expect(outlook.car.surroundings.air?.rateUm).toBeCloseTo(57.1913, 4);
    expect(outlook.car.surroundings.air?.rateClass).toBe('C4');
    expect(judged(withAir('68 F, 80 %, SO2 12.5 µg, chloride 60 mg')).outlook.car.surroundings.air?.rateUm).toBeCloseTo(57.1913, 4);
  });

  test('counts for nothing where one is missing or outside the limits, and that is said', () => {
    for (const [air, rule] of [['20 C, 80 %, SO2 10 mg', 'air-incomplete'], ['35 C, 80 %, SO2 10 mg, chloride 60 mg', 'air-outside-limits']] as const) {
      const { outlook } = judged(withAir(air));
      expect(outlook.car.notices.map((notice) => notice.rule)).toEqual([rule]);
      expect(outlook.cavities.map((one) => one.weighed)).toEqual(judged(head).outlook.cavities.map((one) => one.weighed));
    }
  });
});

test('words for the surroundings that say nothing are said, and count as not written', () => {
  const text = head.replace('kept: outside', 'kept: with my brother');
  expect(notices(text)).toEqual(['surroundings-unclear 4']);
  expect(judged(text).outlook.car.surroundings.kept).toBe('unseen');
});

test('every assumption that a chance depends on is tried at its ends, largest effect first', () => {
  const { inspection } = judged(`${head}# Sill, left\n- plug, inner face: missing\n- drain slot, bottom seam: slow\n- metal inside, inner cell: scaling\n`);
  const { sensitivity, cavities } = weigh(inspection, { sensitivity: true });
  expect(sensitivity.map((one) => one.id).toSorted()).toEqual(assumptionsOf(risk).map((one) => one.id).filter((id) => id !== 'look-hours').toSorted());
  const effects = sensitivity.map((one) => Math.abs(one.high - one.low));
  expect(effects.toSorted((a, b) => b - a)).toEqual(effects);
  expect(effects[0]).toBeGreaterThan(1);
  for (const { low, high } of sensitivity) for (const end of [low, high]) expect(end >= 0 && end <= cavities.length).toBe(true);
  const endsOf = (id: string): { low: number; high: number } => sensitivity.find((one) => one.id === id) ?? { low: Number.NaN, high: Number.NaN };
  // More rust at the high end of the pit factor, less of good protection and of thicker sheet.
  expect(endsOf('pit-factor').high).toBeGreaterThan(endsOf('pit-factor').low);
  expect(endsOf('protection-paint').high).toBeLessThan(endsOf('protection-paint').low);
  expect(endsOf('sheet').high).toBeLessThan(endsOf('sheet').low);
  expect(endsOf('unseen-metal').high).toBeGreaterThan(endsOf('unseen-metal').low);
});
