import { expect, test } from 'vitest';
import type { Step } from '../../src/model/inspection.ts';
import { everything, judged } from '../write/builders.ts';

function stepsOf(findings: string): Step[] {
  return judged(findings).plan.steps;
}

test('weakened steel in structure comes first, then water, then the rest, then looks', () => {
  const steps = stepsOf(everything);
  expect(steps.map((step) => step.rank)).toEqual(steps.map((step) => step.rank).toSorted());
  expect(steps[0]?.id).toBe('step-sill-left-examine');
  expect(steps[0]?.what).toBe('Have it examined by someone licensed to before the car is driven or lifted.');
  expect(steps[0]?.cautions).toContain('lifting');
});

// Distance after the UK MOT inspection manual, Appendix A: structure within 30 cm of a mounting (see tests/outside).
test('weakened metal within 30 cm of a mounting is examined where the zone itself carries nothing', () => {
  const near = stepsOf('# Front wing, left\n- metal: holed\n- mounting: 30 cm from the damper\n');
  const far = stepsOf('# Front wing, left\n- metal: holed\n- mounting: 31 cm from the damper\n');
  expect(near.some((step) => step.rank === 1)).toBe(true);
  expect(far.some((step) => step.rank === 1)).toBe(false);
});

test('told weak steel is examined too, and said to be told', () => {
  const [first] = stepsOf('# Sill, left\n- metal inside: holed. told by seller\n');
  expect(first?.rank).toBe(1);
  expect(first?.outcome).toBe('cannot tell');
  expect(first?.why).toMatch(/told by .*not seen/);
});

test('a zone is one step: rows of one kind counted, two clauses, the rest in the reason', () => {
  const steps = stepsOf(everything).filter((one) => one.zone === 'sill-left' && one.rank === 3);
  expect(steps).toHaveLength(1);
  const [step] = steps;
  expect(step?.title).toBe('Sill, left: 3 of 4 plugs defective (1 loose, 2 missing), drain slot blocked and 1 more');
  expect(step?.why).toContain('Water can get into the inner cell of the sill, which carries load.');
  expect(step?.why).toContain('Also found: coating inside bare.');
  expect(step?.answers).toHaveLength(5);
  expect(step?.what).toBe('Wash out, dry, wax, fit 4 plugs.');
  expect(step?.suggested).toBe(false);
});

test('one opening is named, with its place where there are others of its kind', () => {
  const title = (findings: string): string | undefined => stepsOf(`# Sill, left\n${findings}`).find((one) => one.rank === 3)?.title;
  expect(title('- plug, inner face 1: missing\n')).toBe('Sill, left: blind plug missing');
  expect(title('- plug, inner face 1: missing\n- plug, inner face 2: sound\n')).toBe('Sill, left: 1 of 2 plugs missing (inner face 1)');
  expect(title('- drain tube: tube off\n')).toBe('Sill, left: tube off (drain tube)');
});

test('left and right with the same look are one step, short looks and looks without a way are gathered', () => {
  const sill = (side: string, words: string): string => `# Sill, ${side}\n- not seen: rear third. cover strip fitted. to see it: ${words}\n`;
  expect(stepsOf(sill('left', 'drill it off, 1 h') + sill('right', 'drill it off, 1 h')).filter((one) => one.id.endsWith('-look')).map((one) => [one.title, one.zones])).toEqual([['Sill, left and right: look at the rear third', ['sill-left', 'sill-right']]]);
  expect(stepsOf(sill('left', 'drill it off, 1 h') + sill('right', 'lift the mat, 1 h')).filter((one) => one.id.endsWith('-look'))).toHaveLength(2);
  const short = ['Roof', 'Scuttle', 'Boot floor'].map((zone) => `# ${zone}\n- not seen: the back. in the way. to see it: move it, 0.2 h\n`).join('');
  const gathered = stepsOf(short).find((one) => one.id === 'step-look-short');
  expect(gathered?.zones).toEqual(['scuttle', 'roof', 'boot-floor']);
  expect(gathered?.hours?.likely).toBeCloseTo(0.6);
  expect(stepsOf('# Roof\n- not seen: the back\n# Scuttle\n- not seen: the front\n').find((one) => one.id === 'step-look-open')?.zones).toEqual(['scuttle', 'roof']);
});

test('a step carries the cautions its own words call for, no others', () => {
  const cautions = (work: string): string[] | undefined => stepsOf(`# Sill, left\n- plug, inner face 1: missing\n- do: ${work}\n`).find((one) => one.rank === 3)?.cautions;
  expect(cautions('fit a plug')).toEqual(['lifting']);
  expect(cautions('wax, fit a plug')).toEqual(['lifting', 'aerosols']);
  expect(cautions('weld a patch')).toEqual(['lifting', 'welding']);
});

test('American terms where the job asks for them', () => {
  const { plan } = judged('# Sill, left\n- plug, inner face 1: missing\n', [], { language: 'en-US' });
  expect(plan.steps.find((one) => one.rank === 3)?.title).toMatch(/^Rocker, left: /);
});

test('without written work the usual remedy is a suggestion', () => {
  const step = stepsOf('# Sill, left\n- plug, inner face 1: missing\n').find((one) => one.rank === 3);
  expect(step?.suggested).toBe(true);
  expect(step?.what).not.toBe('');
});

test('inside a rank structure stands before the rest, and unseen structure has its own step', () => {
  const steps = stepsOf(everything).filter((step) => step.rank === 4);
  const flags = steps.map((step) => step.structure);
  expect(flags).toEqual(flags.toSorted((a, b) => Number(b) - Number(a)));
  expect(steps.some((step) => step.id === 'step-sill-left-look')).toBe(true);
});

test('zones without a word fold into one step and every row of theirs is answered', () => {
  const { inspection, plan } = judged('# Car\n- body: saloon\n');
  expect(plan.steps.map((step) => step.id)).toEqual(['step-look-silent']);
  const silent = inspection.zones.length;
  expect(plan.steps[0]?.title).toMatch(new RegExp(`^Look at the ${silent} zones nothing was written about, \\d+ of which carry load$`));
  expect(plan.steps.flatMap((step) => step.answers).toSorted()).toEqual(inspection.zones.flatMap((zone) => zone.rows.map((row) => row.id)).toSorted());
});

test('every row that is a defect, unclear or not seen is answered by a step', () => {
  const { inspection, plan } = judged(everything);
  const answered = new Set(plan.steps.flatMap((step) => step.answers));
  const looks = new Set(plan.steps.filter((step) => step.rank === 4).map((step) => step.zone));
  for (const zone of inspection.zones) {
    for (const row of zone.rows.filter((one) => !['sound', 'not fitted'].includes(one.outcome))) {
      expect(answered.has(row.id) || (row.known === 'kind' && looks.has(row.zone)), row.id).toBe(true);
    }
    for (const one of zone.observations.filter((each) => each.outcome === 'defect')) expect(answered.has(one.id), one.id).toBe(true);
  }
});

test('parts are summed by name and size, and unpriced stays unpriced', () => {
  const { plan } = judged(everything);
  expect(plan.parts).toHaveLength(1);
  expect(plan.parts[0]).toMatchObject({ count: 6, zones: ['sill-left', 'boot-floor'] });
  expect(plan.parts[0]?.price).toMatch(/unpriced .*2 without a price/);
});

test('lifting is cautioned wherever the car stood on stands or structure is concerned', () => {
  expect(judged('# Visit\n- place: garage, on stands\n').plan.cautions).toContain('lifting');
  expect(judged('').plan.cautions).toContain('lifting');
});

test('wax before weld is an error, the other way round is not', () => {
  const done = (wax: string, weld: string): string => `# Sill, left\n- drain slot: open. IMG_1\n- do: patch and wax\n  - done: ${wax}, waxed\n  - done: ${weld}, welded patch\n- again: 2026-10\n`;
  const rules = (findings: string): string[][] => judged(findings, ['IMG_1.jpg']).plan.notices.map((notice) => [notice.level, notice.rule]).filter(([, rule]) => rule !== 'drain-not-shown');
  expect(rules(done('2026-05-02', '2026-05-09'))).toEqual([['error', 'wax-before-weld']]);
  expect(rules(done('2026-05-09', '2026-05-02'))).toEqual([]);
  expect(rules(done('2026-05-09', '2026-05-09'))).toEqual([]);
});

test('wax wants a later photo of an open drain, where there is a drain', () => {
  // The photo is taken on 2026-03-14.
  const rules = (zone: string, line: string, day: string): string[] => judged(`# ${zone}\n- ${line}\n- do: wax\n  - done: ${day}, waxed\n- again: 2026-10\n`, ['IMG_1.jpg']).plan.notices.map((notice) => `${notice.level} ${notice.rule}`);
  expect(rules('Sill, left', 'drain slot: open. IMG_1', '2026-03-13')).toEqual([]);
  expect(rules('Sill, left', 'drain slot: open. IMG_1', '2026-03-14')).toEqual([]);
  for (const line of ['drain slot: open. IMG_1', 'drain slot: open', 'drain slot: blocked. IMG_1', 'plug: sound']) expect(rules('Sill, left', line, '2026-03-15'), line).toEqual(['warning drain-not-shown']);
  expect(rules('Seat pan', 'plug: sound', '2026-03-15')).toEqual([]);
});

test('finished work without a date to look again is a warning', () => {
  const { plan } = judged('# Sill, left\n- do: weld\n  - done: 2026-05-02, welded\n');
  expect(plan.notices.map((notice) => [notice.level, notice.rule, notice.spot?.line])).toEqual([['warning', 'again-missing', 3]]);
});

test('finished work that answers no defect is no step', () => {
  expect(stepsOf('# Sill, left\n- plug, inner face 1: sound\n- do: wax\n  - done: 2026-05-02, waxed\n').some((step) => step.rank === 3)).toBe(false);
});
