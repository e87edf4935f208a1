import { expect, test } from 'vitest';
import { dossierSchema } from '../../src/model/dossier.ts';
import type { Dossier } from '../../src/model/dossier.ts';
import { editionIds } from '../../src/read/editions.ts';
import { percentText, roughPercentText } from '../../src/units.ts';
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

test('a rusted area changes no coverage and no chance: it is the inspector who names the condition', () => {
  const bare = judged(findings.split('\n').filter((line) => !line.startsWith('- rusted')).join('\n'), ['IMG_1.jpg', 'IMG_2.jpg']);
  expect(job.inspection.coverage).toEqual(bare.inspection.coverage);
  expect(job.outlook.cavities.map(({ weighed }) => weighed.left.chances)).toEqual(bare.outlook.cavities.map(({ weighed }) => weighed.left.chances));
});

/** State of the boot floor, the lead of its page, its gist in the list of zones, and what the overview says. */
function boot(lines: string): { state: string; lead: string; gist: string; overview: string } {
  const from = judged(`# Car\n- body: saloon\n# Boot floor\n${lines}\n`, ['IMG_1.jpg']);
  const dossier = dossierOf(from);
  const section = dossier.sections.find(({ id }) => id === 'boot-floor');
  const lead = section?.blocks.flatMap((block) => (block.type === 'paragraph' && block.tone === 'lead' ? [textOf([block])] : []))[0] ?? '';
  const gist = dossier.sections.flatMap(({ blocks }) => blocks).flatMap((block) => (block.type === 'zones' ? block.items : [])).find(({ zone }) => zone === 'boot-floor')?.gist ?? '';
  return { state: from.inspection.zones.find(({ zone }) => zone.id === 'boot-floor')?.state ?? '', lead, gist, overview: linesOf(dossier, 'summary').join('\n') };
}

test('rust counted on a photo is seen: the zone, the list and the overview say so with the interval', () => {
  const only = boot('![](IMG_1.jpg)\n- rusted points 0.2 0.2 0.8 0.8: 31 of 96');
  expect(only.state).toBe('defect');
  expect(only.lead).toMatch(/^Rusted: 31 of 96 points, 32 % \(24 to 42\)\. No opening named or counted/);
  expect(only.gist).toBe('rusted: 31 of 96 points, 32 % (24 to 42)');
  expect(only.overview).toContain('Rusted, of a region counted or traced on a photo: Boot floor (31 of 96 points, 32 % (24 to 42)).');
  expect(only.overview).not.toContain('Nothing was seen of this body');
  const beside = boot('![plug, well: perished](IMG_1.jpg)\n- rusted points 0.2 0.2 0.8 0.8: 31 of 96\n- rusted outline 0.1 0.2, 0.3 0.2, 0.3 0.5');
  expect(beside.lead).toMatch(/perished; rusted: 31 of 96 points, 32 % \(24 to 42\), and one more region\./);
  expect(beside.gist).toMatch(/perished, rusted: 31 of 96 points/);
});

test('a count that found no rust calls nothing sound; hearsay and opinion are not seen', () => {
  const none = boot('![](IMG_1.jpg)\n- rusted points 0.2 0.2 0.8 0.8: 0 of 100');
  expect(none.state).toBe('cannot tell');
  expect(none.lead).toMatch(/^No rust on the regions counted: 0 of 100 points, 0 % \(0 to 3\.7\)\. That says nothing of the rest\./);
  expect(none.lead + none.gist).not.toMatch(/sound/);
  const told = boot('![metal: sound. told by the seller](IMG_1.jpg)\n- rusted points 0.2 0.2 0.8 0.8: 31 of 96');
  expect(told.state).toBe('not seen');
  expect(told.overview).not.toContain('31 of 96');
});

test('a photo without a finding is not judged, and that is said', () => {
  expect(boot('![](IMG_1.jpg)').lead).toMatch(/^Photographed; nothing was written about it, so nothing is judged\. /);
  expect(boot('![](IMG_1.jpg)')).toMatchObject({ state: 'not seen', gist: 'photographed, not judged' });
  expect(boot('![](IMG_1.jpg)\n- ring 0.1 0.1 0.1: hole').lead).toMatch(/^Photographed; no finding was written, so nothing is judged\. /);
  expect(boot('- not seen: all. carpet glued').lead).toMatch(/^Nothing here was seen\. /);
});

test('a count left open is printed as typed, as no fact', () => {
  for (const edition of editionIds()) {
    const section = dossierOf(judged('# Boot floor\n![](IMG_1.jpg)\n- rusted points 0.2 0.2 0.8 0.8: ?? of 100\n- rusted points 0.2 0.2 0.8 0.8: 31 of 96', ['IMG_1.jpg']), edition).sections.find(({ id }) => id === 'boot-floor');
    expect(section?.blocks.filter(({ type }) => type === 'remark')).toEqual([]);
    expect(textOf(section?.blocks ?? [])).toMatch(/Marks that could not be drawn or counted, as typed:\nrusted points 0\.2 0\.2 0\.8 0\.8: \?\? of 100 \(findings\.md:3:1\)/);
  }
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

test.each([[32.29, 23.8, 42.2, '32 % (24 to 42)'], [0, 0, 3.699, '0 % (0 to 3.7)'], [0.0004, 0.0004, 0.0004, 'under 0.001 %'], [8.3333, 4.42, 15.1, '8.3 % (4.4 to 15)'], [100, 96.3, 100, '100 % (96 to 100)']])('roughly, %d with %d to %d reads %s', (percent, low, high, text) => {
  expect(roughPercentText(percent, low, high)).toBe(text);
});
