import { expect, test } from 'vitest';
import { dossierSchema } from '../../src/model/dossier.ts';
import type { Dossier } from '../../src/model/dossier.ts';
import { editionIds } from '../../src/read/editions.ts';
import { percentText } from '../../src/units.ts';
import { dossierOf, judged, textOf, wordsOf } from './builders.ts';

const findings = `# Car
- body: saloon
# Sill, left
![metal, outer face: surface rust](IMG_1.jpg)
- rusted points 0.1 0.1 0.9 0.8: 34 of 100. below the zebra
- rusted outline 0.2 0.2, 0.3 0.2, 0.3 0.5, 0.2 0.5 in 0.1 0.1 0.9 0.8: quagga
- rusted outline 0.25 0.2, 0.35 0.2, 0.35 0.5, 0.25 0.5 in 0.1 0.1 0.9 0.8
![](IMG_2.jpg)
- rusted outline 0.1 0.2, 0.3 0.2, 0.3 0.5
# Sill, right
![metal, outer face: surface rust. told by the seller](IMG_9.jpg)
- rusted points 0 0 1 1: 0 of 100
`;
const job = judged(findings, ['IMG_1.jpg', 'IMG_2.jpg']);
const limits = /the visible painted region of the picture only: it says nothing of depth, and perspective distorts it\.$/;

function linesOf(dossier: Dossier, id: string): string[] {
  return textOf(dossier.sections.find((section) => section.id === id)?.blocks ?? []).split('\n');
}

test.each(editionIds())('the zone page says share, interval and grades, and what they do not say: %s', (edition) => {
  const lines = linesOf(dossierOf(job, edition), 'sill-left');
  expect(lines).toEqual(expect.arrayContaining([
    'Rusted area on IMG_1.jpg: 34 of 100 points, 34 % of the region from 10 to 90 % of the width and 10 to 80 % of the height; 95 % interval 25.5 to 43.7 %; rust grade 2 to 1. below the zebra.',
    'Rusted area on IMG_1.jpg: 2 traced outlines together, 8 % of the region from 10 to 90 % of the width and 10 to 80 % of the height; rust grade 4. quagga.',
    'Rusted area on IMG_2.jpg: one traced outline, 3 % of the whole picture; rust grade 5.',
  ]));
  const note = lines.find((line) => limits.test(line)) ?? '';
  expect(note).toContain('ASTM E562');
  expect(note).toContain('Wilson');
  expect(note).toContain('How closely an outline follows the rust is in none of its figures');
  expect(note).toContain('Of a whole picture, what is no painted surface counts as not rusted');
  expect(note).toContain('ASTM D610');
});

test('the readings gather those of all zones, told ones and photos that are not in the job named as such', () => {
  const lines = linesOf(dossierOf(job, 'evidence'), 'readings');
  expect(lines[0]).toBe('Nothing was read with a gauge.');
  expect(lines.filter((line) => line.includes('; rusted area on '))).toHaveLength(4);
  expect(lines.find((line) => line.startsWith('Sill, right'))).toBe('Sill, right; rusted area on photo IMG_9.jpg not in the job: 0 of 100 points, 0 % of the whole picture; 95 % interval 0 to 3.7 %; rust grade 10 to 4; told by seller.');
  expect(lines.at(-1)).toMatch(limits);
});

test('where nothing was counted nothing is said of it', () => {
  const dossier = dossierOf(judged('# Car\n- body: saloon\n# Sill, left\n- steel: 0.8 mm\n'), 'evidence');
  expect(wordsOf(dossier)).not.toMatch(/rusted area|ASTM E562/i);
  expect(dossier.rustedAreas).toEqual([]);
});

test('the same as data, which the published schema takes; issues made before have none', () => {
  const dossier = dossierOf(job);
  expect(dossier.rustedAreas).toHaveLength(4);
  expect(dossier.rustedAreas[0]).toMatchObject({ zone: 'sill-left', photos: ['img-1'], how: 'points', region: [0.1, 0.1, 0.9, 0.8], hits: 34, points: 100, outlines: null, percent: 34, lowPercent: 25.4615, highPercent: 43.7223, bestGrade: 2, worstGrade: 1, origin: 'fact', written: ['findings.md:5:1'] });
  expect(dossier.rustedAreas[1]).toMatchObject({ how: 'outline', outlines: 2, hits: null, lowPercent: null, highPercent: null, percent: 8.0357, written: ['findings.md:6:1', 'findings.md:7:1'] });
  expect(dossier.rustedAreas[3]).toMatchObject({ zone: 'sill-right', photos: [], origin: 'told' });
  for (const one of dossier.rustedAreas) expect(one.limits).toMatch(limits);
  expect(dossierSchema.parse(JSON.parse(JSON.stringify(dossier)))).toEqual(dossier);
  const { rustedAreas: _none, ...before } = dossier;
  expect(dossierSchema.parse(before).rustedAreas).toEqual([]);
});

test('a rusted area changes no state, coverage or chance: it is the inspector who names the condition', () => {
  const bare = judged(findings.split('\n').filter((line) => !line.startsWith('- rusted')).join('\n'), ['IMG_1.jpg', 'IMG_2.jpg']);
  expect(job.inspection.coverage).toEqual(bare.inspection.coverage);
  expect(job.outlook.cavities.map(({ weighed }) => weighed.left.chances)).toEqual(bare.outlook.cavities.map(({ weighed }) => weighed.left.chances));
});

test('the lines are printed once, without their coordinates, and no word of them is lost', () => {
  for (const edition of editionIds()) {
    const words = linesOf(dossierOf(job, edition), 'sill-left').join('\n');
    expect(words, edition).toMatch(/zebra/);
    expect(words, edition).toMatch(/quagga/);
    expect(words, edition).not.toMatch(/As typed/);
  }
});

test('more outlines than anybody draws stand one by one', () => {
  const outline = Array.from({ length: 400 }, (_, index) => `${(0.5 + 0.4 * Math.cos(index / 64)).toFixed(4)} ${(0.5 + 0.4 * Math.sin(index / 64)).toFixed(4)}`).join(', ');
  const many = judged(`# Car\n- body: saloon\n# Sill, left\n![metal: surface rust](IMG_1.jpg)\n${`- rusted outline ${outline}\n`.repeat(3)}`, ['IMG_1.jpg']);
  expect(many.inspection.zones.flatMap((zone) => zone.rusted).map(({ area }) => area.how === 'outline' && area.outlines)).toEqual([1, 1, 1]);
});

test.each([[0, 0, '0 %'], [0.0004, 0.0004, 'under 0.001 %'], [0.034, 0.034, '0.034 %'], [0.25, 0.25, '0.25 %'], [2.96, 12.04, '3 to 12 %'], [99.96, 100, '100 %']])('%d to %d reads %s', (low, high, text) => {
  expect(percentText(low, high)).toBe(text);
});
