import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { compare } from '../../src/compare/index.ts';
import { turnOfReading } from '../../src/compare/readings.ts';
import type { Standing, Turn } from '../../src/model/comparison.ts';
import { judged } from '../write/builders.ts';
import { changesOf, compared } from './visits.ts';
import type { VisitText } from './visits.ts';

const first = `# Sill, left
- plug, inner face 1: cracked
- plug, inner face 2: missing
- plug, inner face 3: sound. pressed
- plug, inner face 4: not seen. too dark
- drain slot, bottom seam: open
- metal inside, front half: surface rust. seen through inner face 2
- coating inside: bare. seen through inner face 2
- steel, outer face: 0.82 mm, 0.80 mm. caliper
- steel, inner face: 0.90 mm. caliper
- film, outer face: 110 um, 120 um, 115 um

# Inner wing, left
- plugs: 4 expected, 1 sound, 2 missing, 1 loose

# Boot floor
- plug, spare-wheel well: perished
- seal, boot lid: hardened
- metal: surface rust

# Door, left
- drain slot, bottom: open
`;

const second = `# Sill, left
- plug, inner face 1: cracked
- plug, inner face 2: new. pressed
- plug, inner face 3: cracked
- plug, inner face 4: sound. pressed
- metal inside, front half: scaling. seen through inner face 2
- coating inside: wax good. seen through inner face 2
- steel, outer face: 0.62 mm, 0.80 mm. caliper
- steel, inner face: 0.85 mm. caliper
- film, outer face: 320 um, 340 um, 330 um
- end cap, rear: in place. reached by the torch only

# Inner wing, left
- plugs: 4 expected, 4 new

# Boot floor
- plug, middle of the well: new. pressed
  - was: plug, spare-wheel well
- seal, boot lid: hardened

# Scuttle
- drain tube, left: open
`;

test('two visits with a known list of changes give exactly that list', () => {
  const comparison = compared(['2026-03-14', first], ['2027-05-09', second]);
  expect(changesOf(comparison)).toEqual([
    'inner-wing-left plug: 2 missing, 1 loose and 1 sound > all 4 new = replaced',
    'scuttle drain-tube left: - > open = newly seen',
    'sill-left plug inner face 3: sound > cracked = worse',
    'sill-left metal-inside front half: surface rust > scaling = worse',
    'sill-left steel outer face: 0.80 mm to 0.82 mm, 2 values > 0.62 mm to 0.80 mm, 2 values = worse',
    'sill-left film outer face: 115 µm in the middle of 3 values > 330 µm in the middle of 3 values = differs',
    'sill-left drain-slot bottom seam: open > - = no longer seen',
    'sill-left plug inner face 4: too dark > sound = newly seen',
    'sill-left end-cap rear: - > in place = newly seen',
    'sill-left coating-inside: bare > wax good = better',
    'sill-left plug inner face 2: missing > new = replaced',
    'boot-floor metal: surface rust > - = no longer seen',
    'boot-floor plug middle of the well (spare-wheel well): perished > new = replaced',
  ]);
  const [between] = comparison.between;
  // 0.05 mm less of steel is within what two readings of one place differ by.
  expect(between?.unchanged.map(({ part, of, place }) => `${part?.id ?? of} ${place}`)).toEqual(['plug inner face 1', 'steel inner face', 'seal boot lid']);
  expect(between?.zonesLeft).toEqual(['door-left']);
  expect(comparison.notices).toEqual([]);
});

test('identical visits give no change and no notice, whatever was written', () => {
  for (const text of [first, second.replace(/ {2}- was:.*\n/, ''), readFileSync('sample-job/2026-03-14/findings.md', 'utf8').replace(/^# Car[^#]*# Visit[^#]*/, '').replace(/^ {2}- was:.*\n/m, '')]) {
    const comparison = compared(['2026-03-14', text], ['2026-03-15', text]);
    expect(changesOf(comparison)).toEqual([]);
    expect(comparison.between[0]?.zonesLeft).toEqual([]);
    expect(comparison.notices).toEqual([]);
    expect(comparison.laterLooks.filter((look) => look.against)).toEqual([]);
  }
});

test('one visit has nothing to be compared with', () => {
  expect(compare([judged('# Sill, left\n- plug: missing\n')])).toBeNull();
  expect(compare([])).toBeNull();
});

const words = ['sound. pressed', 'cracked', 'missing', 'new. pressed', 'loose', 'in place. reached by the torch only', 'not seen. too dark'];
const side = fc.record({ plugs: fc.array(fc.constantFrom(...words), { minLength: 1, maxLength: 4 }), metal: fc.constantFrom('sound', 'surface rust', 'scaling', 'holed') });
const written = ({ plugs, metal }: { plugs: string[]; metal: string }): string => `# Sill, left\n${plugs.map((word, at) => `- plug, inner face ${at + 1}: ${word}`).join('\n')}\n- metal inside, inner cell: ${metal}. seen through inner face 1\n`;

test('read backwards, worse is better and newly seen is no longer seen', () => {
  const mirror: Partial<Record<Turn, Turn[]>> = { worse: ['better', 'replaced'], better: ['worse'], 'newly seen': ['no longer seen'], 'newly named': ['no longer named', 'no longer seen'], 'made clear': ['no longer clear'], differs: ['differs', 'replaced'] };
  fc.assert(fc.property(side, side, (a, b) => {
    const [there, back] = [compared(['2026-03-14', written(a)], ['2026-05-09', written(b)]), compared(['2026-03-14', written(b)], ['2026-05-09', written(a)])];
    for (const change of there.between[0]?.changes ?? []) {
      const wanted = mirror[change.turn];
      if (!wanted) continue;
      const other = back.between[0]?.changes.find((one) => one.part?.id === change.part?.id && one.place === change.place);
      expect(wanted, `${change.place}: ${change.before?.words} > ${change.after?.words}`).toContain(other?.turn);
    }
  }), { numRuns: 60 });
});

test('nothing that was seen at either visit is left out: it changed, is as it was, or its zone was not entered', () => {
  fc.assert(fc.property(side, side, (a, b) => {
    const { lives, between } = compared(['2026-03-14', written(a)], ['2026-05-09', written(b)]);
    const told = [...(between[0]?.changes ?? []), ...(between[0]?.unchanged ?? [])].map(({ part, place }) => `${part?.id} ${place}`);
    for (const life of lives.filter(({ standings }) => standings.some((one) => one?.seen))) expect(told).toContain(`${life.part?.id} ${life.place}`);
  }), { numRuns: 60 });
});

describe('names', () => {
  test('openings that swapped their names keep their lives', () => {
    const { lives } = compared(
      ['2026-03-14', '# Sill, left\n- plug, inner face 1: missing\n- plug, inner face 2: sound. pressed\n'],
      ['2026-05-09', '# Sill, left\n- plug, inner face 2: missing\n  - was: plug, inner face 1\n- plug, inner face 1: sound. pressed\n  - was: inner face 2\n'],
    );
    expect(lives.map(({ standings }) => standings.map((one) => `${one?.place} ${one?.words}`))).toEqual([
      ['inner face 1 missing', 'inner face 2 missing'],
      ['inner face 2 sound', 'inner face 1 sound'],
    ]);
  });

  test('a name once changed is followed on, also over a visit that did not look', () => {
    const { lives } = compared(
      ['2026-03-14', '# Sill, left\n- grommet, front: missing\n'],
      ['2026-05-09', '# Sill, left\n- plug 25 mm, inner face 1: new. pressed\n  - was: grommet, front\n'],
      ['2027-05-09', '# Boot floor\n- plug, well: sound. pressed\n'],
      ['2028-05-09', '# Sill, left\n- plug, inner face 1: hardened\n'],
    );
    expect(lives[0]?.standings.map((one) => one?.words ?? '-')).toEqual(['missing', 'new', '-', 'hardened']);
  });

  test('a name that was never there is told, and what may be the same opening', () => {
    const { notices } = compared(['2026-03-14', '# Sill, left\n- plug, inner face 1: missing\n'], ['2026-05-09', '# Sill, left\n- plug, front of the row: new. pressed\n  - was: plug, inner face 4\n']);
    expect(notices.map(({ rule, expected }) => [rule, expected])).toEqual([['was-unknown', 'one of "inner face 1"'], ['opening-renamed', undefined]]);
    expect(notices[1]?.advice).toContain('"was: blind plug, inner face 1"');
  });

  test('the name the notice asks for is one it takes', () => {
    const [notice] = compared(['2026-03-14', '# Sill, left\n- plug, inner face 1: missing\n'], ['2026-05-09', '# Sill, left\n- plug, front of the row: new. pressed\n']).notices;
    const was = /"(was: [^"]*)"/.exec(notice?.advice ?? '')?.[1];
    const named = compared(['2026-03-14', '# Sill, left\n- plug, inner face 1: missing\n'], ['2026-05-09', `# Sill, left\n- plug, front of the row: new. pressed\n  - ${was}\n`]);
    expect(named.notices).toEqual([]);
    expect(changesOf(named)).toEqual(['sill-left plug front of the row (inner face 1): missing > new = replaced']);
  });
});

test('places inside a section that are called otherwise stand against each other by the worst of them', () => {
  const comparison = compared(
    ['2026-03-14', '# Sill, left\n- metal inside, front half: surface rust. seen through inner face 2\n- metal inside, towards the rear: scaling. seen through inner face 2\n'],
    ['2026-05-09', '# Sill, left\n- metal inside, front half: surface rust. seen through inner face 2\n- metal inside, rear third: holed. seen through inner face 2\n'],
  );
  expect(changesOf(comparison)).toEqual(['sill-left metal-inside: scaling (towards the rear) > holed (rear third) = worse']);
});

test('counted openings: worse and better at once is neither, and another number seen is told', () => {
  const turn = (before: string, after: string): string[] => changesOf(compared(['2026-03-14', `# Sill, left\n- plugs: ${before}\n`], ['2026-05-09', `# Sill, left\n- plugs: ${after}\n`]));
  expect(turn('4 expected, 2 missing, 2 sound', '4 expected, 3 missing, 1 sound')[0]).toMatch(/= worse$/);
  expect(turn('4 expected, 2 loose, 2 sound', '4 expected, 1 missing, 3 sound')[0]).toMatch(/= differs$/);
  expect(turn('4 expected, 2 missing, 2 sound', '4 expected, 2 missing')[0]).toMatch(/= differs$/);
  expect(turn('4 expected, 2 missing, 2 sound', '4 expected, 2 sound, 2 missing')).toEqual([]);
});

test('readings: within what two readings of one place differ by, nothing changed; exactly that much is still nothing', () => {
  const standing = (unit: 'mm' | 'um' | 'Shore A', least: number, median = least, most = least): Standing => ({ id: '', place: '', outcome: 'cannot tell', conditions: [], words: '', seen: true, photos: [], spot: null, values: { unit, least, median, most, count: 1 } });
  expect(turnOfReading('steel', standing('mm', 0.8), standing('mm', 0.7))).toBe('unchanged');
  expect(turnOfReading('steel', standing('mm', 0.8), standing('mm', 0.69))).toBe('worse');
  expect(turnOfReading('steel', standing('mm', 0.6), standing('mm', 0.9))).toBe('better');
  expect(turnOfReading('film', standing('um', 500), standing('um', 549))).toBe('unchanged');
  expect(turnOfReading('film', standing('um', 100), standing('um', 300))).toBe('differs');
  expect(turnOfReading('hardness', standing('Shore A', 60), standing('Shore A', 70))).toBe('worse');
  expect(turnOfReading('water depth', standing('mm', 40), standing('mm', 10))).toBe('better');
  expect(turnOfReading('steel', standing('mm', 0.8), null)).toBe('no longer seen');
});

describe('later looks', () => {
  const unseen = '# Boot floor\n- plug, well: sound. pressed\n';
  const whole = (state: string): string => `# Boot floor\n- plug, well: sound. pressed\n- metal inside: ${state}. seen through the well\n`;

  test('a section found through where that was unlikely speaks against the outlook; one found whole does not', () => {
    const [bad] = compared(['2026-03-14', whole('sound')], ['2026-09-14', whole('holed')]).laterLooks;
    expect(bad).toMatchObject({ zone: 'boot-floor', from: 0, to: 1, through: true, against: true });
    expect(bad?.years).toBeCloseTo(0.5, 1);
    const [good] = compared(['2026-03-14', whole('sound')], ['2026-09-14', whole('surface rust')]).laterLooks;
    expect(good).toMatchObject({ through: false, against: false });
    expect(good?.chance.low).toBeLessThanOrEqual(good?.chance.high ?? 0);
  });

  test('the chance is that of the day of the later look: it grows with the years between', () => {
    const chance = (day: string): number => compared(['2026-03-14', unseen], [day, whole('surface rust')]).laterLooks[0]?.chance.middle ?? Number.NaN;
    expect(chance('2026-09-14')).toBeLessThan(chance('2029-03-14'));
    expect(chance('2029-03-14')).toBeLessThan(chance('2035-03-14'));
    // Beyond the last horizon nothing is made up.
    expect(chance('2050-03-14')).toBe(chance('2060-03-14'));
  });

  test('what was through already, was not looked at, or was cut out since bears out nothing', () => {
    expect(compared(['2026-03-14', whole('holed')], ['2026-09-14', whole('holed')]).laterLooks).toEqual([]);
    expect(compared(['2026-03-14', unseen], ['2026-09-14', unseen]).laterLooks).toEqual([]);
    expect(compared(['2026-03-14', unseen], ['2026-09-14', `${whole('sound')}- done: 2026-05-02, rust cut out, patched\n`]).laterLooks).toEqual([]);
  });
});

test('pairs: the photos of one thing at its first and its last visit, two things on the same photos once', () => {
  const comparison = compared(
    ['2026-03-14', '# Sill, left\n![plugs: 4 expected, 2 missing, 2 sound](a-row.jpg)\n- plug, inner face 1: missing. a-close\n', ['a-row.jpg', 'a-close.jpg']],
    ['2026-05-09', '# Sill, left\n![plugs: 4 expected, 4 new](b-row.jpg)\n', ['b-row.jpg']],
    ['2027-05-09', '# Sill, left\n- drain slot, bottom seam: open\n', []],
  );
  expect(comparison.pairs.map(({ zone, before, after, from, to }) => [zone, before, after, from, to])).toEqual([['sill-left', 'a-row', 'b-row', 0, 1]]);
});

test('a photo said to be the same view is the one before; one that no earlier visit has is told', () => {
  const visit = (words: string): VisitText[] => [
    ['2026-03-14', '# Sill, left\n![plug, inner face 1: missing](close.jpg)\n![metal, outer face: surface rust](wide.jpg)\n', ['close.jpg', 'wide.jpg']],
    ['2026-05-09', `# Sill, left\n![plug, inner face 1: new](now.jpg)\n- same view: ${words}\n`, ['now.jpg']],
  ];
  const said = compared(...visit('wide'));
  expect(said.pairs.map(({ before, after, lives }) => [before, after, lives.map((life) => life.place)])).toEqual([['wide', 'now', ['inner face 1']]]);
  expect(said.notices).toEqual([]);
  const unknown = compared(...visit('IMG_9999.jpg'));
  expect(unknown.pairs.map(({ before }) => before)).toEqual(['close']);
  expect(unknown.notices.map(({ rule }) => rule)).toEqual(['same-view-unknown']);
});
