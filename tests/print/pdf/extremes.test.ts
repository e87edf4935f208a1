import { expect, test } from 'vitest';
import type { Block, Dossier, DossierPhoto } from '../../../src/model/dossier.ts';
import { hashOf, sampleDossier } from '../sample-dossier.ts';
import { heard, outOfOrder, outside, placed, wordsOf } from './placed.ts';

const sizes = ['A4', 'Letter'] as const;
const longWord = 'Karosserieblechinnenhohlraumversiegelungswachsdüsenschläuche';

/** A dossier of one section after a summary. */
function dossierOf(blocks: Block[], more: Partial<Dossier> = {}): Dossier {
  const summary: Block[] = [{ type: 'paragraph', tone: 'lead', inline: ['The answer.'] }];
  return {
    ...sampleDossier(), photos: [], ...more,
    sections: [
      { id: 'summary', title: 'In short', page: 'index', breakBefore: true, blocks: summary },
      { id: 'zone', title: 'Zone', page: 'zone', breakBefore: true, blocks },
    ],
  };
}

/** Nothing beyond the frame, nothing lost, nothing read out of order, on both papers. */
function expectWhole(dossier: Dossier): void {
  for (const size of sizes) {
    const { layout, geometry } = placed(dossier, size);
    expect(outside(layout, geometry), size).toEqual([]);
    expect(outOfOrder(heard(layout), dossier.sections.flatMap(({ blocks }) => wordsOf(blocks))), size).toEqual([]);
  }
}

function photosOf(count: number): DossierPhoto[] {
  return Array.from({ length: count }, (_, index): DossierPhoto => {
    const upright = index % 3 === 1;
    const [width, height] = upright ? [3, 4] : [4, 3];
    return {
      id: `p${index}`, file: `photos/IMG_${4000 + index}.jpg`, bytes: 2_000_000, sha256: hashOf(`p${index}`), zones: ['sill-left'], placed: 'named in the findings',
      taken: '10:10:41', takenFrom: 'by the phone, UTC+0', camera: 'phone', caption: `Photo number ${index}.`,
      renditions: [480, 960, 1600].map((wide) => ({ file: `photos/p${index}-${wide}.jpg`, width: wide, height: (wide * height) / width })), flaw: '', hints: [],
    };
  });
}

function figuresOf(photos: readonly DossierPhoto[], prefix: string): Extract<Block, { type: 'photos' }>['figures'] {
  return photos.map(({ id, caption }) => ({ photo: id, id: `${prefix}-${id}`, caption: [`${caption} What it shows, in some words.`], alt: caption }));
}

test('words of sixty letters are cut where their line ends, wherever they stand', () => {
  expect(longWord).toHaveLength(60);
  const columns = ['One', 'Two', 'Three', 'Four', 'Five', 'Six', longWord].map((title) => ({ title, weight: 1 }));
  const words = Array.from({ length: 7 }, () => ({ inline: [longWord] }));
  expectWhole(dossierOf([
    { type: 'paragraph', tone: 'lead', inline: [longWord, ' ', longWord] },
    { type: 'heading', level: 3, text: `${longWord} ${longWord}` },
    { type: 'table', caption: longWord, columns, rows: [{ cells: words }, { cells: words }] },
    { type: 'list', ordered: true, items: [[{ type: 'paragraph', inline: [longWord] }, { type: 'list', ordered: true, items: [[{ type: 'paragraph', inline: [longWord] }]] }]] },
    { type: 'facts', look: 'key', items: Array.from({ length: 4 }, () => ({ term: longWord, value: [longWord], note: longWord })) },
    { type: 'facts', look: 'plain', items: [{ term: longWord, value: [longWord] }] },
    { type: 'steps', items: [{ id: 'step-1', title: [longWord, ' ', longWord], state: 'defect', tags: [longWord], why: [longWord], what: [longWord], cautions: [] }] },
  ], { title: `${longWord} 1500`, subtitle: longWord, author: longWord, limits: `${longWord} ${longWord}` }));
});

test('a narrative of 400 lines goes over pages line by line, with no line of a paragraph alone', () => {
  const lines = Array.from({ length: 400 }, (_, index) => `Line ${index} of what was written that day, long enough to be one line of its own or nearly so.`);
  const dossier = dossierOf([...lines.slice(0, 200).map((text): Block => ({ type: 'paragraph', inline: [text] })), { type: 'paragraph', inline: [lines.slice(200).join(' ')] }, { type: 'quote', blocks: [{ type: 'paragraph', inline: [lines.join('\n')] }] }]);
  expectWhole(dossier);
});

for (const count of [0, 1, 2, 3, 300]) {
  test(`${count} photos, large and as an index: each is there once in both, whole`, () => {
    const photos = photosOf(count);
    const blocks: Block[] = [{ type: 'paragraph', inline: ['What was seen in this zone, before its photos.'] }];
    if (count > 0) blocks.push({ type: 'photos', look: 'large', figures: figuresOf(photos, 'large') }, { type: 'photos', look: 'index', figures: figuresOf(photos, 'index') });
    const dossier = dossierOf(blocks, { photos });
    expectWhole(dossier);
    for (const size of sizes) {
      const { layout } = placed(dossier, size);
      const pictures = layout.pages.flatMap(({ items }) => items.filter((item) => item.kind === 'picture'));
      expect(pictures).toHaveLength(2 * count);
      for (const { width, height, file } of pictures) expect(width / height, file).toBeCloseTo(Number(/\d+/.exec(file)?.[0]) % 3 === 1 ? 3 / 4 : 4 / 3, 3);
      for (const prefix of ['large', 'index']) for (const { id } of photos) expect(layout.anchors.has(`${prefix}-${id}`)).toBe(true);
    }
  });
}

test('Greek, Cyrillic, Polish and Turkish are printed as written', () => {
  const words = ['σκουριά κάτω από το δάπεδο', 'ржавчина под порогом', 'próg lewy: rdza pod łącznikiem, źle', 'Çamurluk içi, sağ: paslı, İĞÜŞÖÇ ığüşöç'];
  const dossier = dossierOf([{ type: 'table', caption: 'Names', columns: [{ title: 'Name', weight: 1 }, { title: 'Again', weight: 1 }], rows: words.map((text) => ({ cells: [{ inline: [text] }, { inline: [{ text, strong: true as const }] }] })) }], { author: words.join(', '), title: words[0] ?? '' });
  expectWhole(dossier);
  expect(placed(dossier).missing).toEqual([]);
});

test('Japanese and signs in names stand as code points where no font has them, with a notice for each', () => {
  const dossier = dossierOf([{ type: 'paragraph', inline: ['Sill 錆 and a spanner 🔧.'] }], { author: '山田 🚗' });
  for (const size of sizes) {
    const { layout, geometry, missing } = placed(dossier, size);
    expect(outside(layout, geometry)).toEqual([]);
    expect(heard(layout)).toContain('Sill[U+9306]andaspanner[U+1F527].');
    expect(heard(layout)).toContain('[U+5C71][U+7530][U+1F697]');
    expect(missing).toHaveLength(5);
    for (const sign of ['U+5C71', 'U+7530', 'U+9306', 'U+1F527', 'U+1F697']) expect(missing.filter((found) => found.startsWith(`${sign} `))).toHaveLength(1);
  }
});

test('the sample, with every block there is, stands within its frame and is read in the order of its blocks', () => {
  // The decision which signs a font lacks is not of interest here.
  const dossier = sampleDossier();
  for (const size of sizes) {
    const { layout, geometry } = placed(dossier, size);
    expect(outside(layout, geometry)).toEqual([]);
    const texts = dossier.sections.flatMap(({ title, blocks }) => [title, ...wordsOf(blocks)]).filter((text) => !/[\u{1f000}-\u{1ffff}]/u.test(text));
    const contents = layout.anchors.get('summary');
    expect(contents?.page).toBe(1);
    expect(outOfOrder(heard(layout), texts)).toEqual([]);
  }
});
