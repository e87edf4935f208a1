import { expect, test } from 'vitest';
import { editionIds } from '../../src/read/editions.ts';
import type { Judged } from './builders.ts';
import { dossierOf, judged, textOf } from './builders.ts';

/** Jobs by their findings: weighing one takes a while. */
const jobs = new Map<string, Judged>();

function jobOf(findings: string, given: Parameters<typeof judged>[2]): Judged {
  const key = JSON.stringify([findings, given]);
  const job = jobs.get(key) ?? judged(`# Car\n- body: saloon\n\n${findings}`, [], given);
  jobs.set(key, job);
  return job;
}

function linesOf(findings: string, id: string, given: Parameters<typeof judged>[2] = {}, edition = 'evidence'): string[] {
  const dossier = dossierOf(jobOf(findings, given), edition);
  return textOf(dossier.sections.find((section) => section.id === id)?.blocks ?? []).split('\n');
}

const roof = '# Roof\n- film: 110 um, 125 um, 118 um, 121 um, 116 um\n- baseline: roof\n';
const sill = '# Sill, left\n- film, outer face: 480 um, 520 um, 510 um, 1,900 um, 540 um\n- steel, outer face: 0.80 mm, 0.82 mm. caliper\n';
const rusty = '# Sill, right\n- metal inside, middle: scaling. seen through inner face 2\n- steel, outer face: 0.80 mm\n- film: 300 um, 320 um\n';

test('the readings open with the baseline and the rule for single values', () => {
  const lines = linesOf(roof + sill, 'readings');
  expect(lines[0]).toBe('Film is compared with the median of 5 readings of the roof, 118 µm.');
  expect(lines[1]).toMatch(/^From five film readings of one place on, .* three times 1\.4826 times /);
});

test('each reading of film and steel has its sentence beside its values', () => {
  const lines = linesOf(roof + sill + rusty, 'readings');
  expect(lines).toEqual(expect.arrayContaining([
    'Sill, left; film, outer face: 4.4 × the roof’s 118 µm; 1900 µm stands out from the others.',
    'Sill, left; steel, outer face: Counts as thickness left, 0.80 mm at the least, beside a new sheet of 0.90 mm assumed here (±10 %); by caliper, both faces touched.',
    'Sill, right; steel, outer face: Does not count as thickness left (metal inside, middle: scaling). New sheet: 0.90 mm assumed here (±10 %).',
    'Sill, right; film: 2.6 × the roof’s 118 µm; too few values to tell whether one stands out.',
    'Roof; film: Belongs to the baseline, 118 µm; no single value stands out.',
  ]));
});

test.each(editionIds())('the zone page says the same of its own readings: %s', (edition) => {
  expect(linesOf(roof + sill, 'sill-left', {}, edition)).toEqual(expect.arrayContaining([
    'Film, outer face: 4.4 × the roof’s 118 µm; 1900 µm stands out from the others.',
    'Steel, outer face: Counts as thickness left, 0.80 mm at the least, beside a new sheet of 0.90 mm assumed here (±10 %); by caliper, both faces touched.',
  ]));
});

test('without a baseline film is compared with nothing, and that is said', () => {
  expect(linesOf(sill, 'readings')[0]).toBe('The findings name no baseline for film, so film readings can be compared with nothing.');
  expect(linesOf(`${sill}- baseline: bonnet\n`, 'readings')[0]).toBe('What the findings name as baseline leads to no film reading, so film readings can be compared with nothing.');
  expect(linesOf(sill, 'sill-left')).toContain('Film, outer face: No baseline was read on this car, so it can be compared with nothing; 1900 µm stands out from the others.');
  expect(linesOf('# Sill, left\n- steel: 0.80 mm\n', 'readings').join('\n')).not.toContain('Film is');
});

test('a doubtful baseline is said to be', () => {
  const doubtful = `${roof}- metal, front edge: filled. magnet\n`;
  expect(linesOf(doubtful + sill, 'readings')[0]).toBe('Film is compared with the median of 5 readings of the roof, 118 µm; this is doubtful, as it is written of it: “metal, front edge: filled”.');
  expect(linesOf(doubtful + sill, 'sill-left')).toContain('Film, outer face: 4.4 × the roof’s 118 µm, doubtful, as it is written of it: “metal, front edge: filled”; 1900 µm stands out from the others.');
});

test('a baseline of several places names them', () => {
  const two = '# Bonnet\n- film, front edge: 122 um\n- baseline: roof, bonnet, front edge\n';
  const lines = linesOf(roof.replace('- baseline: roof\n', '') + two + sill, 'readings');
  expect(lines[0]).toBe('Film is compared with the median of 6 readings of the roof and the bonnet (front edge), 120 µm.');
  expect(lines).toContain('Sill, left; film, outer face: 4.4 × 120 µm, the median of the roof and the bonnet (front edge); 1900 µm stands out from the others.');
});

test('what was told counts for nothing, in words', () => {
  const lines = linesOf(`${roof}# Sill, left\n- film: 480 um. told by the seller\n- steel: 0.9 mm. told by the seller\n`, 'sill-left');
  expect(lines).toContain('Film: Told by seller, so it is compared with nothing; too few values to tell whether one stands out.');
  expect(lines).toContain('Steel: Does not count as thickness left (told by seller). New sheet: 0.90 mm assumed here (±10 %).');
});

test('inches and American terms', () => {
  const lines = linesOf(roof + sill, 'readings', { units: 'in', language: 'en-US' });
  expect(lines).toContain('Rocker, left; film, outer face: 4.4 × the roof’s 4.6 thou; 74.8 thou stands out from the others.');
  expect(lines).toContain('Rocker, left; steel, outer face: Counts as thickness left, 0.0315 in at the least, beside a new sheet of 0.0354 in assumed here (±10 %); by caliper, both faces touched.');
});

test('no reading is judged by a band of film: the words are the same at any thickness', () => {
  const at = (um: number): string | undefined => linesOf(`${roof}# Sill, left\n- film: ${um} um\n`, 'sill-left').find((line) => line.startsWith('Film:'));
  expect(at(118)).toBe('Film: 1 × the roof’s 118 µm; too few values to tell whether one stands out.');
  expect(at(2360)).toBe('Film: 20 × the roof’s 118 µm; too few values to tell whether one stands out.');
});
