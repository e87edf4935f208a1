import { describe, expect, test } from 'vitest';
import { outliersOf } from '../../src/place/film.ts';
import { placed, readingNotices, verdictsOf } from './reading-helper.ts';

const roof = '# Roof\n\n- film, front edge: 110 um, 125 um, 118 um, 121 um, 116 um\n- film, middle: 130 um\n';
const sill = '# Sill, left\n\n- film, outer face: 480 um, 520 um, 610 um, 455 um, 540 um\n';

describe('the baseline of film', () => {
  test.each([
    ['roof', 119.5, 6],
    ['the roof', 119.5, 6],
    ['Roof panel. Never painted since new', 119.5, 6],
    ['roof (front and middle)', 119.5, 6],
    ['roof, front edge', 118, 5],
    ['roof, middle', 130, 1],
    ['roof, front edge and middle', 119.5, 6],
  ])('"%s", named in another zone, is %d µm of %d readings', (name, medianUm, count) => {
    const { filmBaseline, notices } = placed(`${roof}\n${sill}- baseline: ${name}\n`);
    expect(filmBaseline).toMatchObject({ medianUm, count, doubts: [] });
    expect(notices.filter(({ rule }) => rule.startsWith('baseline'))).toEqual([]);
    expect(verdictsOf(`${roof}\n${sill}- baseline: ${name}\n`)[0]?.film).toMatchObject({ count: 5, min: 455, median: 520, max: 610, baselineUm: medianUm, ratio: 520 / medianUm });
  });

  test.each([['this place', 130, 1], ['here', 130, 1], ['this zone', 119.5, 6], ['front edge', 118, 5], ['middle', 130, 1]])('"%s", named in its own zone, is %d µm of %d', (name, medianUm, count) => {
    expect(placed(`${roof}- baseline: ${name}\n`).filmBaseline).toMatchObject({ medianUm, count });
  });

  test('several zones, of one note or more, are one pool', () => {
    const bonnet = '# Bonnet\n\n- film: 100 um, 102 um\n';
    const want = { medianUm: 118, count: 7, from: [{ zone: 'roof', place: 'front edge' }, { zone: 'bonnet', place: '' }] };
    const five = roof.replace('- film, middle: 130 um\n', '');
    expect(placed(`${five}\n${bonnet}- baseline: roof, bonnet\n`).filmBaseline).toMatchObject({ medianUm: 116, count: 7 });
    expect(placed(`${roof}\n${bonnet}- baseline: roof, front edge, bonnet\n`).filmBaseline).toMatchObject({ ...want, medianUm: 116 });
    expect(placed(`${roof}- baseline: front edge\n\n${bonnet}- baseline: this zone\n- baseline: hood\n`).filmBaseline).toMatchObject({ ...want, medianUm: 116 });
  });

  test('a sided zone without its side is the one the note stands in, elsewhere unknown', () => {
    expect(placed(`${sill}- baseline: sill\n`).filmBaseline).toMatchObject({ medianUm: 520, from: [{ zone: 'sill-left', place: '' }] });
    expect(placed(`${sill}- baseline: left rocker\n`).filmBaseline).toMatchObject({ medianUm: 520 });
    expect(readingNotices(`${sill}\n# Roof\n\n- baseline: sill\n`)).toEqual([expect.stringContaining('baseline-unknown: "sill" without left or right')]);
    expect(placed(`${sill}\n# Roof\n\n- baseline: sill, left\n`).filmBaseline).toMatchObject({ medianUm: 520 });
  });

  test.each([
    ['rof', '"rof" names no zone and no place with a film reading'],
    ['', 'Nothing after "baseline:"'],
    ['bonnet', 'No film reading at the bonnet'],
    ['roof, rear edge', '"rear edge" names no zone and no place with a film reading'],
    ['the side', '"the side" names no zone'],
  ])('"%s" leads to no reading, and is said to', (name, found) => {
    expect(readingNotices(`${roof}\n${sill}- baseline: ${name}\n`)).toEqual([expect.stringMatching(/^findings\.md:13:1 warning baseline-unknown: /)]);
    expect(readingNotices(`${roof}\n${sill}- baseline: ${name}\n`)[0]).toContain(found);
    expect(placed(`${roof}\n${sill}- baseline: ${name}\n`).filmBaseline).toBeNull();
    expect(verdictsOf(`${roof}\n${sill}- baseline: ${name}\n`)[0]?.film).toMatchObject({ median: 520, baselineUm: null, ratio: null });
  });

  test('readings that were told are no baseline and are compared with nothing', () => {
    const told = '# Bonnet\n\n- film: 90 um. told by the seller\n- baseline: bonnet\n';
    expect(placed(told).filmBaseline).toBeNull();
    expect(readingNotices(told)).toEqual([expect.stringContaining('No film reading at the bonnet')]);
    expect(verdictsOf(`${roof}- baseline: roof\n\n# Bonnet\n\n- film: 90 um. told by the seller\n`, 'bonnet')).toEqual([
      { usable: false, reason: 'told by seller', basis: 'none', lowestMm: null, atMostMm: null, film: { count: 1, min: 90, median: 90, max: 90, baselineUm: null, ratio: null, outliers: [] } },
    ]);
  });
});

describe('a baseline somebody doubts', () => {
  test.each([
    ['metal, front edge: filled. magnet', 'metal, front edge: filled'],
    ['metal: patched', 'metal: patched'],
    ['metal, front edge: overlaid. told by the seller', 'metal, front edge: overlaid'],
    ['repair, middle: overspray', 'sign of repair, middle: overspray'],
    ['opinion: the front edge was leaded', 'the front edge was leaded'],
  ])('%s', (line, doubt) => {
    const { filmBaseline } = placed(`${roof}- ${line}\n- baseline: roof\n`);
    expect(filmBaseline).toMatchObject({ medianUm: 119.5, doubts: [doubt] });
    expect(readingNotices(`${roof}- ${line}\n- baseline: roof\n`)).toEqual([
      `findings.md:10:1 warning baseline-doubtful: The roof is the baseline for film, and “${doubt}” is written of it at findings.md:9, expected a panel nobody suspects of repair. It is used all the same, and the dossier says so. Name another panel, or correct the line.`,
    ]);
  });

  test('what is said of another place or zone, or denied, is no doubt', () => {
    for (const lines of ['- metal, front edge: filled\n- baseline: roof, middle\n', '- opinion: never filled\n- baseline: roof\n', '- metal, front edge: surface rust\n- baseline: roof\n', `- baseline: roof\n\n${sill}- metal: filled\n`]) {
      expect(readingNotices(roof + lines), lines).toEqual([]);
    }
  });
});

// Invented numbers, worked by hand.
describe('single values that stand out', () => {
  test.each<[string, number[], number, number[]]>([
    ['median 118, MAD 3, limit 13.34: 132 is beyond, 131 is not', [110, 118, 121, 116, 132, 118, 131], 1, [132]],
    ['of four none can be told', [118, 118, 118, 900], 1, []],
    ['of five one can', [118, 118, 119, 118, 900], 1, [900]],
    ['on both sides, ascending', [900, 100, 101, 99, 100, 100, 5], 1, [5, 900]],
    ['MAD 0 is taken as the step of 1: 104 is within 4.45, 105 is not', [100, 100, 100, 100, 100, 104, 105], 1, [105]],
    ['a coarser gauge: step of 10, within 44.5', [100, 100, 100, 100, 100, 140, 150], 10, [150]],
    ['none of equal ones', [100, 100, 100, 100, 100], 1, []],
  ])('%s', (_why, values, step, expected) => {
    expect(outliersOf(values, step)).toEqual(expected);
  });

  test('the step is that of the figures as typed', () => {
    const film = (values: string): unknown => verdictsOf(`# Roof\n\n- film: ${values}\n`, 'roof')[0]?.film?.outliers;
    expect(film('100 um, 100 um, 100 um, 100 um, 102 um')).toEqual([]);
    expect(film('100.0 um, 100.0 um, 100.0 um, 100.0 um, 102.0 um')).toEqual([102]);
  });
});
