import { expect, test } from 'vitest';
import { dossierPhotoSchema, dossierSchema } from '../../src/model/dossier.ts';
import type { Dossier } from '../../src/model/dossier.ts';
import { editionIds } from '../../src/read/editions.ts';
import { inlineText } from '../../src/write/inline.ts';
import { dossierOf, judged } from './builders.ts';

const names = ['IMG_1.jpg'];
const findings = (marks: readonly string[]): string => `# Sill, left\n\n![plug, inner face 2: missing. seen](IMG_1.jpg)\n\n${marks.map((mark) => `- ${mark}`).join('\n')}\n`;

/** A dossier whose only photo is upright or wide, with these marks under it. */
function marked(marks: readonly string[], size: readonly [number, number] = [1600, 1200], units: 'mm' | 'in' = 'mm', edition = 'purchase'): Dossier {
  const from = judged(findings(marks), names, { units });
  const pictures = new Map([['img-1', { renditions: [{ file: 'photos/img-1.jpg', width: size[0], height: size[1] }], flaw: '' }]]);
  return dossierOf(from, edition, null, { pictures });
}

function captions(dossier: Dossier, section: string): string[] {
  const blocks = dossier.sections.find(({ id }) => id === section)?.blocks ?? [];
  return blocks.flatMap((block) => (block.type === 'photos' ? block.figures.map((figure) => inlineText(figure.caption)) : []));
}

function caption(...given: Parameters<typeof marked>): string {
  return captions(marked(...given), 'sill-left')[0] ?? '';
}

const all = ['ring 0.4 0.4 0.1: open hole', 'arrow 0.1 0.1 to 0.3 0.3: rust run', 'hide 0.8 0.8 0.9 0.9: number plate', 'box 0.2 0.2 0.5 0.4: 2 patches', 'rusted points 0.1 0.1 0.9 0.8: 34 of 100', 'rusted outline 0.1 0.2, 0.3 0.2, 0.3 0.5', 'ring 0.9 0.1 0.02'];

test('one mark is said with its shape, without a number', () => {
  expect(caption(['ring 0.4 0.4 0.1: open hole'])).toContain('Marked with a ring: open hole.');
  expect(caption(['arrow 0.4 0.4 to 0.1 0.2'])).toContain('Marked with an arrow.');
  expect(caption(['scale 0.4 0.4 to 0.1 0.2: 50 mm'])).toContain('Marked: scale, 50 mm.');
  expect(caption([])).not.toContain('Marked');
});

test('several are numbered in the order written, as they are drawn; what is hidden is not among them', () => {
  const dossier = marked(all);
  expect(captions(dossier, 'sill-left')[0]).toContain('Marked: 1) open hole; 2) rust run; 3) 2 patches; 4) rusted points, 34 of 100: 34 % (25 to 44); 5) rusted outline: 3 %; 6) ring. Hidden on the picture: number plate.');
  expect(dossier.photos[0]?.marks).toEqual([
    { shape: 'ring', numbers: [0.4, 0.4, 0.1], number: 1, label: 'open hole' },
    { shape: 'arrow', numbers: [0.1, 0.1, 0.3, 0.3], number: 2, label: 'rust run' },
    { shape: 'box', numbers: [0.2, 0.2, 0.5, 0.4], number: 3, label: '2 patches' },
    { shape: 'grid frame', numbers: [0.1, 0.1, 0.9, 0.8], number: 4, label: '34 of 100' },
    { shape: 'outline', numbers: [0.1, 0.2, 0.3, 0.2, 0.3, 0.5], number: 5, label: '' },
    { shape: 'ring', numbers: [0.9, 0.1, 0.02], number: 6, label: '' },
  ]);
});

test.each(editionIds())('marks go with the photo wherever it is shown, and satisfy the schema: %s', (edition) => {
  const dossier = marked(all, [1600, 1200], 'mm', edition);
  expect(dossierSchema.safeParse(JSON.parse(JSON.stringify(dossier))).error?.issues ?? []).toEqual([]);
  expect(dossier.photos[0]?.marks).toHaveLength(6);
  const shown = dossier.sections.flatMap(({ id }) => captions(dossier, id));
  expect(shown.length).toBeGreaterThan(0);
  for (const text of shown) expect(text).toContain('1) open hole; 2) rust run');
});

test('a photo of an older issue, without marks, still parses; one with a mark outside of the picture does not', () => {
  const photo = marked([]).photos[0];
  expect(photo).not.toHaveProperty('marks');
  expect(dossierPhotoSchema.safeParse(photo).success).toBe(true);
  const mark = { shape: 'ring', numbers: [0.5, 0.5, 0.1], number: 1, label: '' };
  expect(dossierPhotoSchema.safeParse({ ...photo, marks: [mark] }).success).toBe(true);
  for (const wrong of [{ ...mark, numbers: [0.5, 1.5, 0.1] }, { ...mark, numbers: [Number.NaN, 0.5, 0.1] }, { ...mark, shape: 'hide' }, { ...mark, colour: 'red' }, { ...mark, number: 0 }]) {
    expect(dossierPhotoSchema.safeParse({ ...photo, marks: [wrong] }).success).toBe(false);
  }
});

const scale = 'scale 0.2 0.9 to 0.7 0.9: 100 mm';

test('a scale lets sizes be told, with their ends and what limits them', () => {
  // By hand: the scale is 800 pixels of 1600 for 100 mm, so 8 pixels a millimetre. Half a hundredth of the width at each
  // end is 16 pixels in all: 784 to 816 for the scale; the ring is 320 across, 304 to 336.
  const text = caption(['ring 0.4 0.4 0.1: hole', scale]);
  expect(text).toContain('Marked: 1) hole, about 40 mm (37 to 43); 2) scale, 100 mm. Sizes are');
  expect(text).toContain('only for what lies in the plane of the scale');
  expect([(100 * 304) / 816, (100 * 336) / 784].map(Math.round)).toEqual([37, 43]);
});

test('fractions of height are fractions of the upright picture’s height', () => {
  // 0.5 of the height of 1200 is 600 pixels, 75 mm at 8 pixels a millimetre; of an upright picture of 1200 by 1600 the scale
  // is 600 pixels, 6 a millimetre, and 0.5 of its height 800 pixels, 133 mm.
  expect(caption(['box 0.2 0.2 0.6 0.7: patch', scale])).toMatch(/1\) patch, about 80 mm \(\d+ to \d+\) wide and about 75 mm \(\d+ to \d+\) high/);
  expect(caption(['box 0.2 0.2 0.6 0.7: patch', scale], [1200, 1600])).toMatch(/1\) patch, about 80 mm \(\d+ to \d+\) wide and about 130 mm \(\d+ to \d+\) high/);
});

test('an arrow points and is not measured', () => {
  expect(caption(['arrow 0.1 0.1 to 0.4 0.4: run', scale])).toContain('Marked: 1) run; 2) scale, 100 mm. IMG_1.jpg');
  expect(caption(['arrow 0.1 0.1 to 0.4 0.4: run, 70 mm long', 'ring 0.4 0.4 0.1: hole', scale])).toContain('1) run, 70 mm long; 2) hole, about 40 mm (37 to 43); 3) scale, 100 mm. Sizes');
});

test('of a thin box only the side that is too small is not measured', () => {
  expect(caption(['box 0.2 0.2 0.6 0.21: crack', scale])).toMatch(/1\) crack, about 80 mm \(\d+ to \d+\) wide and height too small beside the scale to be measured;/);
  expect(caption(['box 0.2 0.2 0.205 0.7: crack', scale])).toMatch(/1\) crack, width too small beside the scale to be measured and about 75 mm \(\d+ to \d+\) high;/);
});

test('words of marks are words about the photo', () => {
  const bare = (marks: string): { caption: string; alt: string } => {
    const dossier = dossierOf(judged(`# Sill, left\n![](IMG_1.jpg)\n${marks}\n`, names));
    const figure = dossier.sections.find(({ id }) => id === 'sill-left')?.blocks.flatMap((block) => (block.type === 'photos' ? block.figures : []))[0];
    return { caption: inlineText(figure?.caption ?? []), alt: figure?.alt ?? '' };
  };
  expect(bare('- ring 0.1 0.1 0.1: open hole')).toEqual({ caption: 'Marked with a ring: open hole. IMG_1.jpg, 10:00:00 on 14 March 2026.', alt: 'IMG_1.jpg, Sill, left; marked: open hole' });
  expect(bare('- rusted points 0.2 0.2 0.8 0.8: 31 of 96').caption).toMatch(/^Marked: rusted points, 31 of 96: 32 % \(24 to 42\)\. IMG_1/);
  for (const silent of ['', '- ring 0.1 0.1 0.1', '- scale 0.1 0.1 to 0.2 0.1: 50 mm', '- hide 0.1 0.1 0.2 0.2: plate']) expect(bare(silent), silent).toMatchObject({ caption: expect.stringMatching(/^Nothing written about it\./) as string, alt: 'IMG_1.jpg, Sill, left; nothing written about it' });
});

test('a scale carries its length, an outline the rectangle it is a share of', () => {
  const drawn = (mark: string, units: 'mm' | 'in' = 'mm'): unknown => marked([mark], [1600, 1200], units).photos[0]?.marks?.[0];
  expect(drawn('scale 0.2 0.9 to 0.7 0.9: 2 in')).toMatchObject({ length: '2 in' });
  expect(drawn('scale 0.2 0.9 to 0.7 0.9: the steel rule, 5 cm')).toMatchObject({ length: '50 mm' });
  expect(drawn('rusted outline 0.1 0.2, 0.3 0.2, 0.3 0.5 in 0.1 0.1 0.9 0.8')).toMatchObject({ within: [0.1, 0.1, 0.9, 0.8] });
  expect(drawn('rusted outline 0.1 0.2, 0.3 0.2, 0.3 0.5')).not.toHaveProperty('within');
});

test('sizes are in the units of the dossier, and stand once', () => {
  expect(caption(['ring 0.4 0.4 0.1: hole', scale], [1600, 1200], 'in')).toMatch(/1\) hole, about 1\.6 in \(1\.5 to 1\.7\);/);
  expect(captions(marked(['ring 0.4 0.4 0.1: hole', scale]), 'photos')[0]).not.toContain('about 40');
});

test('what is too small beside the scale is not measured, nor anything without a scale or a picture', () => {
  expect(caption(['ring 0.4 0.4 0.004: speck', scale])).toContain('too small beside the scale to be measured');
  expect(caption(['ring 0.4 0.4 0.1: hole', 'scale 0.2 0.9 to 0.205 0.9: 10 mm'])).toContain('too small beside the scale to be measured');
  expect(caption(['ring 0.4 0.4 0.1: hole'])).not.toContain('mm');
  const hidden = dossierOf(judged(findings(['ring 0.4 0.4 0.1: hole', scale]), names), 'purchase', null, { pictures: new Map([['img-1', { renditions: [], flaw: 'cannot be decoded' }]]) });
  expect(captions(hidden, 'sill-left')[0]).toContain('Marked: 1) hole; 2) scale, 100 mm.');
  expect(captions(hidden, 'sill-left')[0]).not.toContain('about');
});

test('two scales that disagree widen the range', () => {
  const text = caption(['ring 0.4 0.4 0.2: hole', scale, 'scale 0.2 0.1 to 0.7 0.1: 130 mm']);
  expect(text).toMatch(/1\) hole, about 92 mm \(76 to 110\); .* Sizes are those of the marks by the scales/);
});
