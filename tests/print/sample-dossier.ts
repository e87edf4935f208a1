import { createHash } from 'node:crypto';
import { mkdirSync } from 'node:fs';
import path from 'node:path';
import sharp from 'sharp';
import type { Outcome } from '../../src/model/catalogue.ts';
import type { Block, Dossier, DossierPhoto, Figure, Section } from '../../src/model/dossier.ts';
import { sampleOutlook } from './sample-outlook.ts';

/**
 * A made-up dossier that uses every type of block and everything that is hard to print: long hashes, long words, other
 * scripts, signs no font has, upright and lone photos, a photo that cannot be shown. Nothing in it is a real car.
 */
export function sampleDossier(): Dossier {
  const photos = samplePhotos();
  return {
    $schema: 'dossier.schema.json',
    format: 'sillbook-dossier-1',
    generator: { name: 'sillbook', version: '0.1.0' },
    language: 'en-GB',
    edition: { id: 'purchase', title: 'Before buying', reader: 'A buyer who has to decide' },
    status: { kind: 'issue', number: '2026-014', date: '2026-03-15' },
    title: 'Larkfield 1500, two-door saloon, 1971',
    subtitle: 'Looked at on 14 March 2026, 10:00 to 11:45, dry workshop, on stands',
    limits: 'Condition on 14 March 2026 only. Not a roadworthiness test, not an opinion of value. What was not seen is named as such.',
    author: 'M. Arden, Tidewater Coachworks',
    seenOn: '2026-03-14',
    coverage: { known: 52, seen: 41, cannotTell: 2, notFitted: 1, kindsNotCounted: 6, words: '41 of 52 known openings seen; 6 kinds not counted' },
    sections: sampleSections(photos),
    photos,
    register: [],
    rustedAreas: [],
    outlook: null,
    work: null,
    findings: [],
    originals: { listSha256: hashOf('list'), count: photos.length },
    notices: [],
  };
}

/** Findings as they stand in captions and text, for tests that look for them in the output. */
export const sampleFindings = [
  'Plug, inner face 2: missing, with a run of rust below it.',
  'Metal inside the left sill, towards the rear: scaling as far as the camera reached.',
  'Grommet in the bulkhead, behind the heater: perished, and water stands on the shelf below it.',
  'Drain slot, rear: slow. It took forty seconds to empty half a litre.',
  'Seam at the foot of the door post: open for 30 mm.',
  'Boot floor well: rust over the bottom, the plug is gone.',
];

/** 64 letters and digits, as a hash of `word` has them. */
export function hashOf(word: string): string {
  return createHash('sha256').update(word).digest('hex');
}

const samplePictures = [
  { id: 'a1', shape: 'wide', colour: '#6b4b35' },
  { id: 'a2', shape: 'wide', colour: '#35566b' },
  { id: 'a3', shape: 'upright', colour: '#4e6b35' },
  { id: 'a4', shape: 'wide', colour: '#6b3550' },
  { id: 'a5', shape: 'upright', colour: '#7a6a2c' },
  { id: 'a6', shape: 'wide', colour: '#3b3b3b' },
] as const;

function sizeOf(shape: 'wide' | 'upright', width: number): { width: number; height: number } {
  return shape === 'wide' ? { width, height: (width * 3) / 4 } : { width: (width * 3) / 4, height: width };
}

function samplePhotos(): DossierPhoto[] {
  const shown = samplePictures.map(({ id, shape }, index): DossierPhoto => ({
    id,
    file: `photos/sill left/IMG_40${21 + index}.jpg`,
    bytes: 2_400_000 + index,
    sha256: hashOf(id),
    zones: ['sill-left'],
    placed: 'named in the findings',
    taken: `10:1${index}:41`,
    takenFrom: 'by the phone, UTC+0',
    camera: 'phone',
    caption: sampleFindings[index] ?? '',
    renditions: [480, 960, 1600].map((width) => ({ file: `photos/${id}-${width}.jpg`, ...sizeOf(shape, width) })),
    flaw: '',
    hints: [],
  }));
  const broken: DossierPhoto = { ...(shown[0] as DossierPhoto), id: 'a7', file: 'photos/IMG_4099.jpg', sha256: hashOf('a7'), caption: '', renditions: [], flaw: 'The file ends early after 12 of 40 blocks and is not shown.' };
  return [...shown, broken];
}

/** Writes the renditions of the sample's photos below a folder, the same bytes every time. */
export async function writeSamplePictures(folder: string): Promise<void> {
  mkdirSync(path.join(folder, 'photos'), { recursive: true });
  for (const { id, shape, colour } of samplePictures) {
    for (const long of [480, 960, 1600]) {
      const { width, height } = sizeOf(shape, long);
      const drawing = `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}"><rect width="100%" height="100%" fill="${colour}"/><circle cx="50%" cy="45%" r="${long / 8}" fill="#1a1a1a"/><path d="M0 ${height} L${width} ${height * 0.7} V${height} Z" fill="#c9b79c"/></svg>`;
      await sharp(Buffer.from(drawing)).jpeg({ quality: 70 }).toFile(path.join(folder, 'photos', `${id}-${long}.jpg`));
    }
  }
}

function sampleSections(photos: readonly DossierPhoto[]): Section[] {
  return [
    { id: 'summary', title: 'In short', page: 'index', nav: 'In short', breakBefore: true, blocks: summaryBlocks() },
    { id: 'first-steps', title: 'First steps, in order', page: 'index', breakBefore: false, blocks: [stepsBlock()] },
    { id: 'zone-list', title: 'Zones', page: 'zones', nav: 'Zones', breakBefore: true, blocks: [zonesBlock()] },
    { id: 'sill-left', title: 'Sill, left', page: 'zones/sill-left', breakBefore: true, blocks: zoneBlocks() },
    { id: 'bulkhead', title: 'Bulkhead', page: 'zones/bulkhead', breakBefore: false, blocks: narrativeBlocks() },
    { id: 'cautions', title: 'Order of work and cautions', page: 'cautions', nav: 'Cautions', breakBefore: true, blocks: cautionBlocks() },
    { id: 'photos', title: 'Photos', page: 'photos', nav: 'Photos', breakBefore: true, blocks: [indexBlock(photos)] },
    { id: 'originals', title: 'Originals and their hashes', page: 'originals', nav: 'Originals', breakBefore: true, blocks: [hashTable(), { type: 'code', text: 'sha256sum --check originals-sha256.txt\n  two spaces in front are kept' }] },
  ];
}

function summaryBlocks(): Block[] {
  return [
    {
      type: 'paragraph',
      tone: 'lead',
      inline: [
        'The left sill is rusting from the inside and is the one thing to settle before buying. It is ',
        { text: 'about as likely as not', strong: true },
        ' to be through within five years if left ',
        { text: '(34 to 52 in 100)', quiet: true },
        ', and ',
        { text: 'very unlikely', strong: true },
        ' if washed out, plugged and waxed now ',
        { text: '(1 to 4 in 100)', quiet: true },
        '.',
      ],
    },
    { type: 'paragraph', inline: ['Everything else that was seen is slower and cheaper. What nobody saw matters more than what was found: see ', { text: 'what was not seen', href: '#not-seen' }, ' and the photo ', { text: 'IMG_4022', href: '#photo-a2' }, '.'] },
    {
      type: 'facts',
      look: 'key',
      items: [
        { term: 'Seen', value: ['41 ', { text: 'of 52 known openings', quiet: true }], note: '11 not seen, each with its reason' },
        { term: 'Most likely through', value: ['Sill, left: 34 to 52 ', { text: 'in 100', quiet: true }], note: 'within five years if left; outer cell, carries load' },
        { term: 'Work named here, in all', value: ['EUR 1,410 to 12,655'], note: '8 in 10; parts, labour at EUR 55 an hour' },
        { term: 'First step', value: ['EUR 190 to 310'] },
        { term: 'Of that range', value: ['61 ', { text: 'in 100', quiet: true }], note: 'comes from what was not seen' },
        { term: 'Cheapest next look', value: ['1 h'], note: 'drill out the left cover strip' },
      ],
    },
    { type: 'heading', level: 3, text: 'Not seen', id: 'not-seen' },
    { type: 'paragraph', inline: ['The rear third of both sills lies behind cover strips. ', { text: 'To see it', emphasis: true }, ': drill out fourteen rivets a side. A page of the ', { text: 'health and safety executive', href: 'https://www.hse.gov.uk/mvr/' }, ' says what to wear.'] },
    { type: 'paragraph', tone: 'quiet', inline: ['Ranges hold the true value in 8 of 10 cases by our own judgement; nobody has checked them against cars cut open.'] },
    { type: 'facts', look: 'plain', items: [
      { term: 'Car', value: ['Larkfield 1500, two-door saloon'] },
      { term: 'Identity', value: ['Chassis plate photographed, ends 4471'], note: 'The plate is held by rivets; nothing is said about their age.' },
      { term: 'Interest of the inspector', value: ['None in the repair work'] },
    ] },
  ];
}

function stepsBlock(): Block {
  return {
    type: 'steps',
    items: [
      { id: 'step-1', title: ['Left sill, inner face: wash out, dry, wax'], state: 'defect', tags: ['carries load', 'mounting within 30 cm'], why: [sampleFindings[0] ?? '', ' Two of four plugs are missing and one is cracked.'], what: ['Wash out, dry, four plugs of 25 mm, wax through the inner holes, drains shown open again. ', { text: '€ 190 – 310', strong: true }, ', 2.5 h.'], figures: ['If left: ', { text: 'unlikely to about as likely as not', strong: true }, ' (28 to 47 in 100) to be through within five years; with the work: ', { text: 'very unlikely', strong: true }, ' (2 to 5 in 100). Cost EUR 120 to 180.'], cautions: ['Before you spray: ', { text: 'Aerosols and cavity wax', href: '#caution-wax' }] },
      { id: 'step-2', title: ['Sills, rear third, both sides: have a look'], state: 'not seen', tags: [], why: ['A cover strip is fitted.'], what: ['Drill out 14 rivets a side, one hour each. Until then the range above has to carry it.'], cautions: [] },
      { id: 'step-3', title: ['Boot floor well'], state: 'cannot tell', tags: ['carries no load'], why: [sampleFindings[5] ?? ''], what: ['Scrape, then measure again.'], cautions: [] },
    ],
  };
}

function zonesBlock(): Block {
  const states: Outcome[] = ['defect', 'cannot tell', 'not seen', 'sound', 'not fitted'];
  return {
    type: 'zones',
    items: states.map((state, index) => ({
      zone: index % 2 === 0 ? 'sill-left' : 'bulkhead',
      name: ['Sill, left', 'Bulkhead', 'Sill, left, once more', 'Bulkhead, once more', 'Sill, a third time'][index] ?? '',
      state,
      structure: index === 0,
      coverage: '3 of 5 known openings seen; 1 kind not counted',
      gist: index === 0 ? 'Two of four plugs missing, scaling inside' : '',
    })),
  };
}

function zoneBlocks(): Block[] {
  const figures: (Figure & { id?: string })[] = ['a1', 'a2', 'a3'].map((photo, index) => ({ photo, caption: [{ text: sampleFindings[index] ?? '', strong: true }, ' Photo 10:12:41 by the phone, UTC+0.'], alt: sampleFindings[index] ?? '' }));
  return [
    { type: 'paragraph', tone: 'quiet', inline: ['Seen directly and by inspection camera through inner face hole 2. Fact unless marked.'] },
    { type: 'photos', look: 'large', figures },
    { type: 'heading', level: 3, text: 'How likely it is through', id: 'sill-left-outlook' },
    sampleOutlook(),
    { type: 'heading', level: 3, text: 'Openings', id: 'sill-left-openings' },
    openingsTable(),
    { type: 'heading', level: 5, text: 'A heading that skips a level' },
    { type: 'remark', origin: 'opinion', inline: ['The strip was fitted to hide the seam.'] },
    { type: 'remark', origin: 'told', by: 'the seller', inline: ['“Waxed every year.”'] },
    { type: 'photos', look: 'large', figures: [{ photo: 'a4', caption: [sampleFindings[3] ?? ''], alt: sampleFindings[3] ?? '', id: 'lone' }] },
    { type: 'photos', look: 'large', figures: [{ photo: 'a7', caption: ['A photo that cannot be shown.'], alt: 'A photo that cannot be shown' }] },
  ];
}

function openingsTable(): Block {
  const rows: [string, Outcome, string][] = [
    ['Plug, inner face 1', 'defect', 'cracked, loose'],
    ['Plug, inner face 2', 'defect', 'missing'],
    ['Plug, inner face 3', 'sound', ''],
    ['Drain slot, front', 'cannot tell', 'too dirty'],
    ['Drain slot, rear', 'not seen', 'behind the cover strip'],
    ['Cable grommet', 'not fitted', ''],
  ];
  return {
    type: 'table',
    caption: 'Openings of the left sill, 6 expected',
    columns: [{ title: 'Opening', weight: 3 }, { title: 'State', weight: 4 }, { title: 'How looked at', weight: 3 }, { title: 'Size, mm', weight: 1, align: 'right' }, { title: 'Photo', weight: 1 }],
    rows: rows.map(([name, state, text], index) => ({
      id: `row-${index + 1}`,
      cells: [{ inline: [name] }, { inline: text ? [text] : [], state }, { inline: index === 4 ? [] : ['seen directly'] }, { inline: ['25'] }, { inline: index === 1 ? [{ text: '4022', href: '#photo-a2' }] : [] }],
    })),
  };
}

function narrativeBlocks(): Block[] {
  return [
    { type: 'paragraph', inline: ['The notes as they were written, with a word of sixty letters and more: ', 'Karosserieblechinnenhohlraumversiegelungswachsdüsenverlängerungsschlauch', '. In Greek: σκουριά κάτω από το δάπεδο. In Cyrillic: ржавчина под порогом. A spanner 🔧, an arrow → and a thumb 👍🏽.'] },
    { type: 'heading', level: 3, text: 'What was typed' },
    { type: 'list', ordered: false, items: [[{ type: 'paragraph', inline: [sampleFindings[2] ?? ''] }, { type: 'list', ordered: true, items: [[{ type: 'paragraph', inline: ['first the heater'] }], [{ type: 'paragraph', inline: ['then the shelf, with a longer line of words that goes on until it has to break and is set below itself'] }]] }], [{ type: 'paragraph', inline: ['a hole <5 mm & a <seam> open; ', { text: 'findings.md', code: true }] }], []] },
    { type: 'quote', blocks: [{ type: 'paragraph', inline: ['Rust never sleeps, said the last owner,\nand went on his way.'] }, { type: 'paragraph', inline: [sampleFindings[4] ?? ''] }] },
    { type: 'rule' },
    { type: 'paragraph', inline: ['Long text follows so that lines part over pages. ', ...Array.from({ length: 70 }, (_, index) => `Sentence ${index + 1} of a narrative about sills and seams and water. `)] },
  ];
}

function cautionBlocks(): Block[] {
  const points = ['Vapour of wax and solvent burns. Open all doors and keep flames, heaters and sparks away.', 'Disconnect the battery before you work near the tank.', 'Follow your local codes and have it done by people licensed to do it where they require it.'];
  return [
    { type: 'caution', id: 'caution-wax', title: 'Aerosols and cavity wax', when: 'before wax or rust killer is sprayed into a closed section', points, source: [{ text: 'HSE, Motor vehicle repair', href: 'https://www.hse.gov.uk/mvr/' }] },
    { type: 'caution', id: 'caution-lift', title: 'Lifting on rusted structure', when: 'before a jack or lift touches the car', points, source: ['Common practice, no source.'] },
  ];
}

function indexBlock(photos: readonly DossierPhoto[]): Block {
  return {
    type: 'photos',
    look: 'index',
    figures: photos.map(({ id, caption, file, taken, takenFrom, sha256 }) => ({ photo: id, id: `photo-${id}`, caption: [{ text: caption, strong: true }, ` ${file}. ${taken} ${takenFrom}. SHA-256 ${sha256.slice(0, 16)}…`], alt: caption || 'Not shown' })),
  };
}

/** Long enough for several pages, so that its head has to be repeated. */
function hashTable(): Block {
  return {
    type: 'table',
    caption: 'Original photos',
    columns: [{ title: 'File', weight: 3 }, { title: 'Bytes', weight: 1, align: 'right' }, { title: 'SHA-256', weight: 4 }],
    rows: Array.from({ length: 90 }, (_, index) => ({ cells: [{ inline: [`photos/2026-03-14/IMG_${4000 + index}.jpg`] }, { inline: [String(2_000_000 + index * 977)] }, { inline: [{ text: hashOf(`original ${index}`), code: true }] }] })),
  };
}
