import { expect, test } from 'vitest';
import { dossierOf, judged, textOf } from './builders.ts';

/** Words of the section of work and cost. */
function words(findings: string, given: object = {}, edition = 'purchase'): string {
  const dossier = dossierOf(judged(findings, [], { currency: 'EUR', ...given }), edition);
  return textOf(dossier.sections.find((section) => section.id === 'work')?.blocks ?? []);
}

const works = `# Rates
- labour: 50
- tax: 20 % per invoice, half up
# Sill, left
- plug, inner face 1: missing
- do: strip. 2-6 h
  - part: clips x 2
- do: strip again. 2-6 h
# Boot floor
- plug, well: perished
`;

test('a total has both ends in words, what is not in it, and tax as set', () => {
  const said = words(works);
  const total = /To do, without tax: EUR 400 on average; between EUR (\d+) and (\d+) if the items vary independently, EUR (\d+) to (\d+) if they all run high or low together; one item carries no price and is not in it\./.exec(said);
  const [near, near2, far, far2] = (total?.slice(1) ?? []).map(Number);
  // Two alike and symmetric: half as far again by the root of two where they run together.
  expect(((far2 ?? 0) - (far ?? 0)) / ((near2 ?? 0) - (near ?? 0))).toBeCloseTo(Math.SQRT2, 1);
  expect(said).toContain('To do, with tax at 20 %: EUR 480 on average;');
  expect(said).toContain('20 % on top, rounded half up, away from zero, once on each sum; set in the findings');
  expect(said).toContain('No price written: Sill, left: clips.');
  expect(said).toContain('No work is written for one zone with a defect, so nothing of it is in any total: Boot floor.');
  expect(said).toContain('blind plug, size not written');
});

test('one item has one range; single prices have none', () => {
  expect(words('# Rates\n- labour: 50\n# Sill, left\n- do: strip. 2-6 h\n')).toMatch(/EUR 200 on average, between EUR 1\d\d and 2\d\d\./);
  expect(words('# Sill, left\n- do: strip. 1 h, 35.50\n')).toContain('To do, without tax: EUR 35.50.');
});

test('without a rate nothing is priced and nothing is zero', () => {
  const said = words('# Sill, left\n- do: strip. 2-6 h\n');
  expect(said).toContain('To do: no total, as the only item carries no price.');
  expect(said).toContain('unpriced: no rate for labour');
  expect(said).not.toMatch(/EUR 0/);
});

test('what sillbook.json sets otherwise is said to give way', () => {
  const said = words('# Rates\n- labour: 50\n# Sill, left\n- do: strip. 1-1 h\n', { rates: { labour: 60, 'labour weld': 70 } });
  expect(said).toContain('The findings and sillbook.json differ for “labour”: the findings are taken.');
  expect(said).toContain('EUR 70.00 an hour; set in sillbook.json');
  expect(said).toContain('To do, without tax: EUR 50.00.');
});

test('wax by area is advice with its range and whose judgement it is', () => {
  const said = words('# Sill, left\n- do: wax. 1 h\n', { materials: { wax: { solidsPercent: 50, pricePerLitre: 20 } } });
  expect(said).toMatch(/1\.5 m²\n[\d.]+ to [\d.]+ l, likely [\d.]+\nEUR [\d.]+ to [\d.]+, likely [\d.]+/);
  expect(said).toContain('solids by volume 50 % (from sillbook.json)');
  expect(said).toMatch(/dry film \d+ to \d+ µm \(our judgement\)/);
});

test('what is written as done stands apart', () => {
  const said = words('# Rates\n- labour: 50\n# Sill, left\n- do: strip. 2 h\n  - done: 2026-05-02, stripped, 1.5 h\n', {}, 'progress');
  expect(said).toContain('Written as done, without tax: EUR 75.00.');
  expect(said).not.toContain('To do, without tax');
});

test('the outlook names amounts where costs are printed, and hours alone where they are not', () => {
  const job = judged('# Car\n- body: saloon\n# Rates\n- labour: EUR 50\n# Sill, left\n- plug, inner face 1: missing\n');
  const outlook = (edition: string): string => JSON.stringify(dossierOf(job, edition).sections.find((section) => section.id === 'outlook'));
  expect(outlook('purchase')).toContain('EUR');
  expect(outlook('evidence')).not.toContain('EUR');
  expect(outlook('evidence')).toMatch(/hours of cutting out and replacing/);
});

test('the evidence edition has neither section, data nor total', () => {
  const dossier = dossierOf(judged(works, [], { currency: 'EUR' }), 'evidence');
  expect(dossier.work).toBeNull();
  expect(dossier.sections.map((section) => textOf(section.blocks)).join('\n')).not.toMatch(/on average|without tax/);
});
