import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { canBeSamePlace, inOtherCavity } from '../../src/model/same-place.ts';
import { catalogue } from '../read/notes-helper.ts';
import { readingNotices, verdictsOf } from './reading-helper.ts';

const sill = (...lines: string[]): string => `# Sill, left\n\n${lines.map((line) => `- ${line}\n`).join('')}`;
const gauge = 'steel, outer face: 0.62 mm, 0.64 mm, 0.60 mm';

describe('steel by ultrasound', () => {
  test.each([
    ['rust behind, in the closed section', 'metal inside, towards the rear: scaling. seen through inner face 2', 'metal inside, towards the rear: scaling'],
    ['pits at the same place', 'metal, outer face: pitted', 'metal, outer face: pitted'],
    ['metal without a place', 'metal: pitted', 'metal: pitted'],
    ['a place within the place', 'metal, outer face, rear: thin. pressed', 'metal, outer face, rear: thin'],
    ['another word for the place', 'metal, outer sill: holed', 'metal, outer sill: holed'],
    ['filler over it', 'metal, outer face: filled. magnet', 'metal, outer face: filled'],
    ['another sheet over it', 'repair, outer face: overlaid', 'sign of repair, outer face: overlaid'],
    ['metal seen through an opening', 'metal, middle: scaling. seen through inner face 2', 'metal, middle: scaling'],
    ['the outer cell is the one behind', 'metal inside, outer cell: scaling. inspection camera', 'metal inside, outer cell: scaling'],
  ])('does not count as thickness left: %s', (_why, line, reason) => {
    expect(verdictsOf(sill(line, gauge))).toEqual([{ usable: false, reason, basis: 'none', lowestMm: null, atMostMm: 0.6, film: null }]);
    expect(readingNotices(sill(line, gauge))).toEqual([expect.stringContaining(`findings.md:8:1 warning reading-refused: “steel, outer face” of the left sill does not count as thickness left: ${reason}`)]);
  });

  test.each([
    ['nothing was seen', 'plug, inner face 1: sound', 'the far side was not seen'],
    ['surface rust is smooth enough', 'metal inside, middle: surface rust', 'what was seen of the section behind is not rough'],
    ['rust elsewhere', 'metal, bottom: pitted', 'the far side was not seen'],
    ['rust in another section', 'metal inside, inner cell: scaling. inspection camera', 'the far side was not seen'],
    ['hearsay', 'metal inside, middle: scaling. told by the seller', 'the far side was not seen'],
    ['inferred from neighbours', 'metal inside, middle: scaling. inferred from neighbours', 'the far side was not seen'],
  ])('counts: %s', (_why, line, reason) => {
    expect(verdictsOf(sill(line, gauge))).toEqual([{ usable: true, reason, basis: 'measured', lowestMm: 0.6, atMostMm: null, film: null }]);
    expect(readingNotices(sill(line, gauge))).toEqual([]);
  });

  test.each(['Rough place', 'the face is pitted', 'scaled', 'flaking below', 'read over filler', 'over old lead', 'loose scale', 'not smooth, rough'])('the words of the reading speak against it: %s', (words) => {
    expect(verdictsOf(sill(`${gauge}. ${words}`))[0]).toMatchObject({ usable: false, reason: expect.stringMatching(/^“\w.*” is written with the reading$/) as string });
  });

  test.each(['not pitted', 'no scale', 'no sign of scale', 'never rough', 'free of scale', 'roughly in the middle', 'beside the fuel filler', 'far side not seen', 'through the paint'])('words that deny or mean another thing do not: %s', (words) => {
    expect(verdictsOf(sill(`${gauge}. ${words}`))[0]?.usable).toBe(true);
  });

  test('a denial ends at "but"', () => {
    expect(verdictsOf(sill(`${gauge}. no rust but pitted`))[0]?.usable).toBe(false);
  });

  test('a reading without a place could be anywhere in the zone', () => {
    expect(verdictsOf(sill('metal, bottom: pitted', 'steel: 0.62 mm'))[0]).toMatchObject({ usable: false, reason: 'metal, bottom: pitted' });
  });

  test('rust in the zone on the other side says nothing', () => {
    expect(verdictsOf(`# Sill, right\n\n- metal inside, middle: scaling\n\n${sill(gauge)}`)[0]?.usable).toBe(true);
  });
});

describe('other readings of steel', () => {
  test.each(['caliper', 'micrometer'])('by %s both faces are touched, however rough', (method) => {
    expect(verdictsOf(sill('metal inside, middle: pitted', `${gauge}. ${method}`))[0]).toMatchObject({ usable: true, lowestMm: 0.6, reason: `by ${method}, both faces touched` });
  });

  test.each([['told by the seller', 'told by seller'], ['assumed', 'inferred from neighbours'], ['owner says', 'told by someone']])('what is "%s" counts for nothing', (words, reason) => {
    expect(verdictsOf(sill(`${gauge}. caliper, ${words}`))[0]).toMatchObject({ usable: false, basis: 'none', lowestMm: null, reason });
    expect(readingNotices(sill(`${gauge}. caliper, ${words}`))[0]).toContain(`warning reading-refused: “steel, outer face” of the left sill does not count as thickness left: ${reason}`);
  });

  // The sill's two sections have 0.9 mm of sheet in the catalogue, assumed; a tenth above is our limit.
  test('more than a tenth above every sheet of the zone is said, and counts', () => {
    expect(readingNotices(sill('steel, outer face: 0.99 mm'))).toEqual([]);
    expect(readingNotices(sill('steel, outer face: 0.80 mm, 1.00 mm'))).toEqual([
      'findings.md:7:1 note reading-above-nominal: “steel, outer face” of the left sill reads 1.00 mm, thicker than the sheet this zone usually has: an overlaid panel, paint in the reading, or a rough far side, expected no more than 0.99 mm, a tenth above the sheet of 0.90 mm assumed here. Look which it is and write it down. The reading counts as it is.',
    ]);
    expect(verdictsOf(sill('steel, outer face: 0.80 mm, 1.00 mm'))[0]).toMatchObject({ usable: true, lowestMm: 0.8, reason: expect.stringContaining('thicker than the sheet') as string });
  });

  test('a zone with several sheets is held against the thickest', () => {
    // Inner wing: top box 0.9 mm, turret 1.5 mm.
    expect(readingNotices('# Inner wing, left\n\n- steel, turret: 1.60 mm\n')).toEqual([]);
    expect(readingNotices('# Inner wing, left\n\n- steel, turret: 1.70 mm\n')).toEqual([expect.stringContaining('expected no more than 1.65 mm')]);
  });

  test('hardness and depth of water are no thickness', () => {
    expect(verdictsOf(sill('metal inside: pitted', 'hardness: 62 Shore A', 'water depth: 12 mm'))).toEqual([
      { usable: true, reason: '', basis: 'measured', lowestMm: null, atMostMm: null, film: null },
      { usable: true, reason: '', basis: 'measured', lowestMm: null, atMostMm: null, film: null },
    ]);
  });
});

test('places of a zone that can be one, and cavities that cannot', () => {
  const record = catalogue.zones.find(({ id }) => id === 'sill');
  if (!record) throw new Error('no sill');
  const same: [string, string, boolean][] = [
    ['outer face', 'outer face', true], ['outer face, rear', 'rear, outer face', true], ['outer face', 'outer skin', true], ['outer face', 'inner face', false],
    ['outer face, front', 'outer face, rear', false], ['', 'rear end', true], ['rear half', 'rear third', true], ['rear end', 'bottom', false],
  ];
  for (const [a, b, can] of same) expect([canBeSamePlace(record, a, b), canBeSamePlace(record, b, a)], `${a} / ${b}`).toEqual([can, can]);
  expect(inOtherCavity(record, 'outer face', 'inner cell')).toBe(true);
  expect(inOtherCavity(record, 'outer face', 'middle membrane')).toBe(false);
  expect(inOtherCavity(record, 'bottom', 'inner cell')).toBe(false);
});

test('more that was seen never makes a refused reading count', () => {
  const lines = fc.constantFrom('metal inside, middle: sound', 'metal inside, middle: scaling', 'metal inside, inner cell: pitted', 'metal, outer face: sound', 'metal, outer face: thin', 'metal: new', 'metal, bottom: holed', 'metal inside: scaling. told by the seller', 'repair, outer face: filled');
  fc.assert(
    fc.property(fc.array(lines, { maxLength: 4 }), lines, fc.constantFrom(gauge, 'steel: 0.7 mm', 'steel, inner face: 0.7 mm'), (some, more, reading) => {
      const before = verdictsOf(sill(...some, reading))[0];
      const after = verdictsOf(sill(...some, reading, more))[0];
      if (before?.usable === false) expect(after?.usable).toBe(false);
      expect(after?.lowestMm === null).toBe(after?.usable === false);
    }),
    { numRuns: 150 },
  );
});
