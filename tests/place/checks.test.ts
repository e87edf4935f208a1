import { expect, test } from 'vitest';
import { noticeLine } from '../../src/model/notice.ts';
import { checks, todoRules } from '../../src/place/checks/index.ts';
import { place } from '../../src/place/index.ts';
import { judged } from '../write/builders.ts';
import { about, catalogueOf, count, finding, jobOf, notSeen, opening, photo, photoName, spot, told, zone, zoneNotes } from './builders.ts';

const catalogue = catalogueOf({
  zones: [zone('box', { openings: [opening('plug', 'floor'), opening('vent', '')] }), zone('tray', { sided: true, order: 20 })],
});

function todo(zones: Parameters<typeof jobOf>[0], given: NonNullable<Parameters<typeof jobOf>[1]> = {}): string[] {
  return place(jobOf(zones, { catalogue, ...given })).notices.filter(({ rule }) => todoRules.includes(rule)).map(noticeLine);
}

test('every check speaks under its own rule', () => {
  const inspection = place(jobOf([zoneNotes('box', [finding('plug, floor: missing')])], { catalogue, photos: [photo('x.jpg'), photo('tray-left/1.jpg')] }));
  for (const { rule, check } of checks) {
    const notices = check(inspection);
    expect(notices.length).toBeGreaterThan(0);
    expect(new Set(notices.map((notice) => notice.rule))).toEqual(new Set([rule]));
    expect(notices.map(({ level }) => level)).not.toContain('error');
  }
  expect(new Set(todoRules).size).toBe(checks.length);
});

test('a job with everything in it leaves nothing to do', () => {
  const views = catalogue.views.map(({ id }) => ({ view: id, photo: photoName('v'), text: '', spot: spot() }));
  const photos = ['v.jpg', 'tray-left/1.jpg', 'tray-right/1.jpg'].map((path) => photo(path));
  const entries = [finding('plug, floor: missing', { photos: [photoName('v')] }), notSeen('vent', { about: about('vent'), reasonWords: 'trim' })];
  const trays = ['tray-left', 'tray-right'].map((id) => zoneNotes(id, [count('drain-slot', 2, { sound: 2 })]));
  expect(todo([zoneNotes('box', entries), ...trays], { photos, notes: { views } })).toEqual([]);
});

test('the messages', () => {
  const zones = [zoneNotes('box', [finding('plug, floor 2: missing', {}, 7), finding('metal-inside: scaling', {}, 8)]), zoneNotes('tray-left', [finding('drain-slot: sound')])];
  expect(todo(zones, { photos: [photo('p/x.jpg')] })).toEqual([
    'findings.md note view-missing: No photo for the views front, back and mileage, expected a photo of each view insurers usually ask for. Take them, and write "- view front: IMG_1234" under "# Visit".',
    'findings.md warning zone-not-entered: Nothing about “Tray, right”, expected a finding, a photo, or a reason why it was not seen. Write "# Tray, right" and below it what was seen, or "- not seen:" with the reason.',
    'findings.md:1 note opening-not-explained: Nothing about vent of “Box”, expected a state or a reason for each opening. Look and write what was seen, or "- not seen:" or "- not fitted:" with its name.',
    'findings.md:7 note defect-without-photo: No photo of “blind plug, floor 2” of the box, expected a photo of each defect. Take one, and write its name at the end of the line.',
    'findings.md:8 note defect-without-photo: No photo of “metal inside” of the box, expected a photo of each defect. Take one, and write its name at the end of the line.',
    'p/x.jpg warning photo-not-placed: Photo p/x.jpg stands in no zone: not named, and it carries no time, expected a photo named in the findings, or in a folder with the name of a zone. Write "![](x.jpg)" under its zone.',
  ]);
});

test('rows a count left over are one line, and hearsay is a reason', () => {
  const lines = todo([zoneNotes('box', [count('vent', 9, { sound: 1 }), finding('plug, floor: sound', { origin: told() })])]);
  expect(lines.filter((line) => line.includes('opening-not-explained'))).toEqual([expect.stringContaining('Nothing about 8 vents of “Box”') as string]);
});

test('a zone with photos and no words is told so instead of its openings; a word on a photo or behind a mark is one', () => {
  const rules = (lines: string): string[] => {
    const { inspection } = judged(`# Sill, left\n${lines}\n`, ['IMG_1.jpg']);
    return inspection.notices.filter(({ spot, rule }) => spot?.line === 1 && todoRules.includes(rule)).map(({ rule }) => rule);
  };
  expect(rules('![](IMG_1.jpg)')).toEqual(['zone-without-words']);
  expect(rules('- IMG_1.jpg')).toEqual(['zone-without-words']);
  expect(rules('![](IMG_1.jpg)\n- hide 0.1 0.1 0.2 0.2: plate')).toEqual(['zone-without-words']);
  for (const spoken of ['![rust here](IMG_1.jpg)', '![](IMG_1.jpg)\n- ring 0.1 0.1 0.1: hole', '![](IMG_1.jpg)\n- rusted points 0 0 1 1: 0 of 100', '![](IMG_1.jpg)\n\nAll dusty.', '- told, seller: fine. IMG_1.jpg']) expect(rules(spoken), spoken).toEqual(['opening-not-explained']);
});

test('a hidden area within what was counted is a note, one beside it is not', () => {
  const notes = (hide: string, mark: string): string[] => judged(`# Sill, left\n![](IMG_1.jpg)\n- ${mark}\n- hide ${hide}\n`, ['IMG_1.jpg']).inspection.notices.filter(({ rule }) => rule === 'rusted-area-hidden').map(({ spot }) => `${spot?.line}`);
  expect(notes('0.4 0.4 0.6 0.6', 'rusted points 0.2 0.2 0.8 0.8: 31 of 96')).toEqual(['3']);
  expect(notes('0.9 0.9 0.7 0.7', 'rusted points 0.2 0.2 0.8 0.8: 31 of 96')).toEqual(['3']);
  expect(notes('0.8 0.2 0.9 0.8', 'rusted points 0.2 0.2 0.8 0.8: 31 of 96')).toEqual([]);
  expect(notes('0.4 0.3 0.6 0.4', 'rusted outline 0.1 0.2, 0.3 0.2, 0.3 0.5')).toEqual([]);
  expect(notes('0.2 0.3 0.6 0.4', 'rusted outline 0.1 0.2, 0.3 0.2, 0.3 0.5')).toEqual(['3']);
});
