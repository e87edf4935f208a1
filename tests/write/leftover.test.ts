import { expect, test } from 'vitest';
import { editionIds } from '../../src/read/editions.ts';
import { dossierOf, judged, textOf, wordsOf } from './builders.ts';

function sectionText(findings: string, id: string, photos: readonly string[] = [], edition = 'purchase', us = false): string {
  const from = judged(findings, photos, us ? { language: 'en-US', units: 'in' } : {});
  return textOf(dossierOf(from, edition).sections.find((section) => section.id === id)?.blocks ?? []);
}

const sill = (lines: string): string => `# Sill, left\n\n${lines}\n`;

test.each(editionIds())('words that are easily lost stand in the edition: %s', (edition) => {
  const findings = '# Car\n- car: Larkfield\n# Visit\n- seen: 2026-03-14, Zebra/Town\n- view front: IMG_9001\n# Rates\n- labour: 60 EUR/h\n# Sill, left (10:12)\n'
    + '- plug, inner face 1: perished, loose. inferred from neighbours\n- plug, inner face 2: missing. IMG_4030\n- mounting: 22 cm from bolt. lion\n'
    + '- metal inside, middle: scaling\n  - was: metal inside, belly\n- grommet 19 mm, cable 8 mm, rear, wheel spray: loose\n';
  const text = wordsOf(dossierOf(judged(findings), edition));
  for (const words of ['perished, loose', 'inferred from neighbours', 'photo IMG_4030 not in the job', 'lion', 'Zebra/Town', '60 EUR/h', 'IMG_9001', 'belly', '10:12', 'cable 8 mm', 'wheel spray']) {
    expect(text, words).toContain(words);
  }
});

test('a time zone nobody knows is said to be none', () => {
  expect(sectionText('# Visit\n- seen: 2026-03-14 10:00-11:45, Zebra/Town', 'scope')).toContain('14 March 2026, 10:00 to 11:45; “Zebra/Town” is no known time zone');
  expect(sectionText('# Visit\n- seen: 2026-03-14 10:00, Europe/Dublin', 'scope')).not.toContain('no known time zone');
});

test('a photo name says why it leads to no photo', () => {
  expect(sectionText(sill('- plug: missing. IMG_4030'), 'sill-left')).toContain('photo IMG_4030 not in the job');
  expect(sectionText(sill('- plug: missing. IMG_4030'), 'sill-left', ['a/IMG_4030.jpg', 'b/IMG_4030.jpg'])).toContain('photo IMG_4030 could be several photos');
  expect(sectionText(sill('- plug: missing. IMG_4030-4032'), 'sill-left', ['IMG_4030.jpg', 'IMG_4032.jpg'])).toContain('photo IMG_4030-4032 not all in the job: IMG_4031 missing');
});

test('beside what was seen, what somebody said or concluded stands with its own words', () => {
  const text = sectionText(sill('- plug, inner face 1: sound\n- plug, inner face 1: perished. inferred from neighbours'), 'sill-left');
  expect(text).toContain('sound / perished. inferred from neighbours');
  expect(sectionText(sill('- metal inside: holed. told by the owner'), 'sill-left')).toContain('told: holed');
});

test('what is sound in one line is no condition of a defect of another', () => {
  const { inspection } = judged(sill('- plug, inner face 1: cracked\n- plug, inner face 1: sound. cleaned'));
  const row = inspection.zones.flatMap((zone) => zone.rows).find(({ place }) => place === 'inner face 1');
  expect(row).toMatchObject({ outcome: 'defect', conditions: ['cracked'] });
});

test('readings stand as they were typed, in their own unit', () => {
  expect(sectionText(sill('- steel, outer face: 0.035 in, 0.031 in. caliper'), 'sill-left')).toContain('0.035 in, 0.031 in. caliper');
});

test('what a mark shows and why a part of the picture is hidden stand with the photo that carries it', () => {
  const text = sectionText(sill('![plug: missing. seen](IMG_1.jpg)\n\n- ring 0.1 0.1 0.1: hole\n- hide 0.1 0.1 0.2 0.2: number plate'), 'sill-left', ['x/IMG_1.jpg']);
  expect(text).toContain('Marked with a ring: hole. Hidden on the picture: number plate.');
});

test('nothing is printed twice where the page says all of a line', () => {
  expect(sectionText(sill('- plug, inner face 1: cracked, loose. pressed\n- plugs: 4 expected, 1 sound, 2 missing\n- do: wax. 2 h\n- told, seller: fine\n- again: 2026-10\n- film, outer face: 480 um'), 'sill-left')).not.toContain('As typed');
});

test('in American English the catalogue speaks so throughout, and the words of the findings stay', () => {
  const text = sectionText('# Rocker, left\n- plug: missing. kept in the boot\n# Front fender, left\n- drain slot: blocked', 'sill-left', [], 'purchase', true) + sectionText('# Front fender, left\n- drain slot, bottom: blocked', 'front-wing-left', [], 'purchase', true);
  expect(text).toContain('the A-pillar above');
  expect(text).toContain('fender top');
  expect(text).toContain('kept in the boot');
  expect(text).not.toMatch(/\b(sill|wing|A-post)\b/);
});

test('a body that is only assumed is said to be, and what is usual on it is not said of this car', () => {
  expect(sectionText('', 'zones')).toContain('The body type was not written, or not one the catalogue knows: the zones of a saloon stand here');
  expect(sectionText('# Car\n- body: boat', 'zones')).toContain('The body type was not written');
  expect(sectionText('# Car\n- body: boat', 'car')).not.toContain('share the load');
  expect(sectionText('# Car\n- body: saloon', 'car')).toContain('share the load');
  expect(sectionText('# Car\n- body: saloon', 'zones', [], 'purchase', true)).toContain('Zones expected on a body of this type (sedan)');
});

test('a mark goes to the picture right above it, whatever its words are', () => {
  const hidden = (picture: string): string[][] => {
    const { inspection } = judged(sill(`![plug: missing](IMG_1.jpg)\n\n![${picture}](IMG_2.jpg)\n\n- hide 0.1 0.1 0.3 0.3: number plate`), ['IMG_1.jpg', 'IMG_2.jpg']);
    return inspection.photos.map((placed) => placed.marks.map((mark) => mark.shape));
  };
  for (const picture of ['seen from below', 'plug, front: cracked', 'steel, outer face: 0.62 mm', 'not seen: rear third', 'told, owner: fine', 'plugs: 2 sound', '']) expect(hidden(picture), picture).toEqual([[], ['hide']]);
});

test('a photo named in two zones says on each page which of them its words are about', () => {
  const findings = '# Sill, left\n- plug, inner face 1: missing. IMG_1\n# Boot floor\n- plug, well: perished. IMG_1\n- seam: cracked. IMG_2\n';
  const text = sectionText(findings, 'boot-floor', ['IMG_1.jpg', 'IMG_2.jpg']);
  expect(text).toContain('Sill, left: blind plug, inner face 1: missing. Boot floor: blind plug, well: perished.');
  expect(text).toContain('Seam: sealer cracked.');
});

test('a zone written as not seen of which something was seen is not called unseen as a whole', () => {
  const findings = '# Roof\n- drain tube, front left: blocked\n- not seen: all. snow\n# Scuttle\n- not seen: all. leaves\n';
  expect(sectionText(findings, 'summary')).toContain('The first thing to do is to let water out of the roof (drain tube blocked).\nNot seen: the rest of the roof and the whole of the scuttle');
  expect(sectionText(findings, 'roof')).toContain('Not seen: the rest of the zone. Snow.');
  expect(sectionText(findings, 'scuttle')).toContain('Not seen: the whole zone. Leaves.');
});

test('hearsay names who said it, once, and says where nobody is named', () => {
  expect(sectionText(sill('- seam: split. told by owner'), 'register')).toContain('split. told by owner');
  expect(sectionText(sill('- seam: split. told by owner'), 'register')).not.toContain('told by owner: split. told by owner');
  expect(sectionText(sill('- told: new sills in 1998'), 'sill-left')).toContain('somebody not named');
});
