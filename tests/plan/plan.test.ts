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

test('rows of one kind are one step, counted', () => {
  const step = stepsOf(everything).find((one) => one.id === 'step-sill-left-plug');
  expect(step?.title).toBe('Sill, left: 3 of 4 blind plugs: 2 missing, 1 loose');
  expect(step?.answers).toHaveLength(3);
  expect(step?.what).toBe('Wash out, dry, wax, fit 4 plugs.');
  expect(step?.suggested).toBe(false);
});

test('one opening is named with its place', () => {
  expect(stepsOf('# Sill, left\n- plug, inner face 1: missing\n').find((one) => one.rank === 2)?.title).toBe('Sill, left: blind plug, inner face 1: missing');
});

test('American terms where the job asks for them', () => {
  const { plan } = judged('# Sill, left\n- plug, inner face 1: missing\n', [], { language: 'en-US' });
  expect(plan.steps.find((one) => one.rank === 2)?.title).toMatch(/^Rocker, left: /);
});

test('without written work the usual remedy is a suggestion', () => {
  const step = stepsOf('# Sill, left\n- plug, inner face 1: missing\n').find((one) => one.rank === 2);
  expect(step?.suggested).toBe(true);
  expect(step?.what).not.toBe('');
});

test('inside a rank structure stands before the rest, and unseen structure has its own step', () => {
  const steps = stepsOf(everything).filter((step) => step.rank === 4);
  const flags = steps.map((step) => step.structure);
  expect(flags).toEqual(flags.toSorted((a, b) => Number(b) - Number(a)));
  expect(steps.some((step) => step.id === 'step-sill-left-look')).toBe(true);
});

test('zones without a word fold into two steps and every row of theirs is answered', () => {
  const { inspection, plan } = judged('# Car\n- body: saloon\n');
  expect(plan.steps.map((step) => step.id)).toEqual(['step-look-structure', 'step-look-others']);
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
  const done = (wax: string, weld: string): string => `# Sill, left\n- do: patch and wax\n  - done: ${wax}, waxed\n  - done: ${weld}, welded patch\n- again: 2026-10\n`;
  expect(judged(done('2026-05-02', '2026-05-09')).plan.notices.map((notice) => [notice.level, notice.rule])).toEqual([['error', 'wax-before-weld']]);
  expect(judged(done('2026-05-09', '2026-05-02')).plan.notices).toEqual([]);
  expect(judged(done('2026-05-09', '2026-05-09')).plan.notices).toEqual([]);
});

test('finished work without a date to look again is a note', () => {
  const { plan } = judged('# Sill, left\n- do: wax\n  - done: 2026-05-02, waxed\n');
  expect(plan.notices.map((notice) => [notice.level, notice.rule, notice.spot?.line])).toEqual([['note', 'again-missing', 3]]);
});

test('finished work that answers no defect is no step', () => {
  expect(stepsOf('# Sill, left\n- plug, inner face 1: sound\n- do: wax\n  - done: 2026-05-02, waxed\n').some((step) => step.rank === 3)).toBe(false);
});
