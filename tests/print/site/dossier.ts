import { mkdir } from 'node:fs/promises';
import path from 'node:path';
import sharp from 'sharp';
import type { Block, Cell, Dossier, DossierPhoto, Inline, Section } from '../../../src/model/dossier.ts';
import { sampleOutlook } from '../sample-outlook.ts';

// An invented car and visit. Every block type, every state, links across pages, a photo that cannot be shown.

const hash = '9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08';

function photo(name: string, zone: string, taken: string | null, sizes: [number, number][], flaw = ''): DossierPhoto {
  const id = name.toLowerCase().replace(/\..*$/, '').replaceAll('_', '-');
  return {
    id,
    file: `photos/${name}`,
    bytes: 1234567,
    sha256: flaw === '' ? hash : '',
    zones: zone === '' ? [] : [zone],
    placed: zone === '' ? 'not placed' : 'named in a finding',
    taken,
    takenFrom: taken === null ? 'no time in the file' : "by the phone's clock",
    camera: 'Oriole P3',
    caption: '',
    renditions: sizes.map(([width, height]) => ({ file: `photos/${id}-${width}.jpg`, width, height })),
    flaw, hints: [],
  };
}

type Sizes = [width: number, height: number][];
const wide: Sizes = [[480, 360], [960, 720], [1600, 1200]];
const tall: Sizes = [[480, 640], [960, 1280]];

export const photos: DossierPhoto[] = [
  photo('IMG_4021.jpg', 'sill-left', '2026-03-14 10:12:04', wide),
  photo('IMG_4022.jpg', 'sill-left', '2026-03-14 10:12:41', wide),
  photo('IMG_4024.jpg', 'sill-left', '2026-03-14 10:21:55', tall),
  photo('SC_0008.jpg', 'sill-left', '2026-03-14 10:17:20', wide, 'The file ends early; the lower third is missing.'),
  photo('IMG_4025.jpg', 'sill-right', '2026-03-14 10:27:03', wide),
  photo('IMG_4035.jpg', 'boot-floor', '2026-03-14 11:12:58', wide),
  photo('IMG_4039.heic', '', null, [], 'HEIF pictures cannot be opened here; convert it to JPEG and build again.'),
];

const cell = (...inline: Inline): Cell => ({ inline });
const state = (outcome: NonNullable<Cell['state']>, ...inline: Inline): Cell => ({ state: outcome, inline });

function opening(id: string, part: string, is: Cell, how: string, photoId = ''): Extract<Block, { type: 'table' }>['rows'][number] {
  return { id, cells: [cell(part), is, cell(how), photoId === '' ? cell('–') : cell({ text: photoId.toUpperCase().replace('-', '_'), href: `#photo-${photoId}` })] };
}

const overview: Section[] = [
  {
    id: 'in-short',
    title: 'In short',
    page: 'index',
    nav: 'In short',
    breakBefore: false,
    blocks: [
      {
        type: 'paragraph',
        tone: 'lead',
        inline: [
          'The left sill is rusting from the inside and is the one thing to settle before buying. It is ',
          { text: 'about as likely as not', strong: true }, ' to be through within five years if left ', { text: '(34 to 52 in 100)', quiet: true }, ', and ',
          { text: 'very unlikely', strong: true }, ' if washed out, plugged and waxed now ', { text: '(1 to 4 in 100)', quiet: true }, '.',
        ],
      },
      {
        type: 'facts',
        look: 'key',
        items: [
          { term: 'Seen', value: ['41 ', { text: 'of 63 known openings', quiet: true }], note: '22 not seen, each with its reason; 6 kinds not counted' },
          { term: 'Most likely through', value: ['Sill, left: 34 to 52 ', { text: 'in 100', quiet: true }], note: 'within five years if left; outer cell, carries load' },
          { term: 'Work named here, in all', value: ['EUR 1,410 to 12,655'], note: '8 in 10; parts, labour at EUR 55, tax 23 %' },
          { term: 'First step', value: ['EUR 190 to 310'] },
          { term: 'Of that range', value: ['61 ', { text: 'in 100', quiet: true }], note: 'comes from what was not seen' },
          { term: 'Cheapest next look', value: ['1 h'], note: 'drill out the left cover strip: narrows the range by € 210' },
        ],
      },
      {
        type: 'paragraph',
        inline: [
          'Everything else that was seen is slower and cheaper. What nobody saw matters more than what was found: ',
          { text: 'the rear third of both sills', href: '#sill-left' },
          ' lies behind cover strips.',
        ],
      },
    ],
  },
  {
    id: 'first-steps',
    title: 'First steps, in order',
    page: 'index',
    nav: 'First steps',
    breakBefore: false,
    blocks: [
      {
        type: 'steps',
        items: [
          {
            id: 'step-sill-left',
            title: [{ text: 'Sill, left', href: '#sill-left' }, ', inner face'],
            state: 'defect',
            tags: ['carries load', 'mounting within 30 cm'],
            why: ['Two of four plugs missing, one cracked; flaking rust on the outer wall as far as the camera reached.'],
            what: ['Wash out, dry, fit four plugs of 25 mm, wax through the inner holes, drains shown open again. ', { text: '€ 190 – 310', strong: true }, ', 2.5 hours.'],
            figures: ['If left: ', { text: 'unlikely to about as likely as not', strong: true }, ' (28 to 47 in 100) to be through within five years; with the work: ', { text: 'very unlikely', strong: true }, ' (2 to 5 in 100). Cost EUR 120 to 180.'],
            cautions: ['Before you start: ', { text: 'lifting', href: '#caution-lifting' }, ', ', { text: 'wax in a closed shell', href: '#caution-wax' }, '.'],
          },
          {
            id: 'step-sill-rear',
            title: ['Sills, rear third, both sides'],
            state: 'not seen',
            tags: [],
            why: ['Cover strip fitted. To see it: drill out 14 rivets a side, one hour each.'],
            what: ['Until then the range above has to carry it.'],
            cautions: [],
          },
          {
            id: 'step-boot-floor',
            title: ['Boot floor well'],
            state: 'cannot tell',
            tags: [],
            why: ['Plug perished, rust over the bottom; whether the steel is thin was not measured.'],
            what: ['Clean to bare steel and measure.'],
            cautions: [],
          },
        ],
      },
    ],
  },
  {
    id: 'zones-list',
    title: 'Where: zones, front to rear',
    page: 'index',
    nav: 'Zones',
    breakBefore: false,
    blocks: [
      {
        type: 'zones',
        items: [
          { zone: 'sill-left', name: 'Sill, left', state: 'defect', structure: true, coverage: '4 of 6 known openings seen; 1 kind not counted', gist: 'Two plugs missing, rust inside.' },
          { zone: 'sill-right', name: 'Sill, right', state: 'sound', structure: true, coverage: '5 of 6 known openings seen', gist: 'Plugs sound; one hardened.' },
          { zone: 'boot-floor', name: 'Boot floor', state: 'not seen', structure: false, coverage: '0 of 3 known openings seen', gist: '' },
        ],
      },
    ],
  },
];

const sillLeft: Section = {
  id: 'sill-left',
  title: 'Sill, left',
  page: 'zones/sill-left',
  breakBefore: true,
  blocks: [
    { type: 'paragraph', tone: 'quiet', inline: ['Seen directly and by inspection camera through inner face hole 2.'] },
    { type: 'remark', origin: 'fact', inline: ['Plug of hole 2 missing, ', { text: 'rust run below', strong: true }, '. hole <5 mm and <seam> open'] },
    { type: 'remark', origin: 'opinion', inline: ['Water has stood in it for years, and still does after rain.'] },
    { type: 'remark', origin: 'told', by: 'the owner', inline: ['"Resprayed in 2009", no bill.'] },
    {
      type: 'photos',
      look: 'large',
      figures: [
        { id: 'photo-img-4021', photo: 'img-4021', alt: 'Plugs, inner face: row of four holes, two without plug', caption: [{ text: 'Plugs, inner face: two of four missing.', strong: true }] },
        { id: 'photo-img-4022', photo: 'img-4022', alt: 'Plug, inner face 2: missing, rust run below', caption: [{ text: 'Plug, inner face 2: missing.', strong: true }, ' Rust run below.'] },
        { id: 'photo-img-4024', photo: 'img-4024', alt: 'Outer face: gauge reads 0.62', caption: [{ text: 'Outer face: 0.62 mm.', strong: true }, ' Gauge on bare steel.'] },
        { photo: 'sc-0008', alt: 'Inside, towards the rear: scaling', caption: [{ text: 'Inside, towards the rear: scaling.', strong: true }, ' Through hole 2.'] },
      ],
    },
    { type: 'heading', level: 3, text: 'How likely it is through', id: 'sill-left-outlook' },
    sampleOutlook('#sill-left-openings'),
    { type: 'heading', level: 3, text: 'Openings', id: 'sill-left-openings' },
    {
      type: 'table',
      caption: 'Openings, 6 expected',
      columns: [
        { title: 'Opening', weight: 3 },
        { title: 'State', weight: 2 },
        { title: 'How looked at', weight: 2 },
        { title: 'Photo', weight: 1, align: 'right' },
      ],
      rows: [
        opening('sill-left-plug-1', 'blind plug, inner face 1', state('defect', 'cracked'), 'seen directly', 'img-4021'),
        opening('sill-left-plug-2', 'blind plug, inner face 2', state('defect', 'missing'), 'seen directly', 'img-4022'),
        opening('sill-left-plug-3', 'blind plug, inner face 3', state('sound'), 'pressed', 'img-4021'),
        opening('sill-left-drain-1', 'drain slot, front', state('cannot tell', 'slow'), 'pour test'),
        opening('sill-left-drain-2', 'drain slot, rear', state('not seen', 'behind cover strip'), '–'),
        opening('sill-left-grommet', 'cable grommet', state('not fitted', 'no cable on this body'), 'seen directly'),
      ],
    },
    { type: 'heading', level: 4, text: 'Notes of the day' },
    {
      type: 'list',
      ordered: true,
      items: [
        [{ type: 'paragraph', inline: ['First line\nsecond line, with ', { text: 'clock: -1:13:20', code: true }, ' and ', { text: 'emphasis', emphasis: true }] }],
        [{ type: 'paragraph', inline: ['Inner list:'] }, { type: 'list', ordered: false, items: [[{ type: 'paragraph', inline: ['dry'] }], [{ type: 'paragraph', inline: ['on stands'] }]] }],
      ],
    },
    { type: 'quote', blocks: [{ type: 'paragraph', inline: ['Left out of the wet since 2011.'] }] },
    { type: 'code', text: '## Sill, left\n- plug, inner face 2: missing {IMG_4022}' },
    { type: 'rule' },
    { type: 'paragraph', inline: ['The ', { text: 'other side', href: '#sill-right' }, ' is sound.'] },
  ],
};

const others: Section[] = [
  {
    id: 'sill-right',
    title: 'Sill, right',
    page: 'zones/sill-right',
    breakBefore: true,
    blocks: [{ type: 'photos', look: 'large', figures: [{ photo: 'img-4025', alt: 'Plugs, inner face: second hardened', caption: ['Plugs, inner face: second hardened.'] }] }],
  },
  {
    id: 'boot-floor',
    title: 'Boot floor',
    page: 'zones/boot-floor',
    breakBefore: true,
    blocks: [{ type: 'paragraph', inline: ['Nothing of it was seen: luggage was not to be moved.'] }],
  },
  {
    id: 'photo-index',
    title: 'Photos and their times',
    page: 'photos',
    nav: 'Photos',
    breakBefore: true,
    blocks: [
      { type: 'photos', look: 'index', figures: photos.map(({ id, zones }) => ({ id: `index-${id}`, photo: id, alt: `Photo ${id}`, caption: [zones[0] ?? 'not placed'] })) },
      {
        type: 'table',
        caption: 'Files and hashes',
        columns: [{ title: 'File', weight: 1 }, { title: 'Bytes', weight: 1, align: 'right' }, { title: 'SHA-256', weight: 4 }],
        rows: photos.map(({ file, bytes, sha256 }) => ({ cells: [cell(file), cell(String(bytes)), cell({ text: sha256 || 'could not be read', code: true })] })),
      },
    ],
  },
  {
    id: 'cautions',
    title: 'Before you start: cautions',
    page: 'cautions',
    nav: 'Cautions',
    breakBefore: true,
    blocks: [
      {
        type: 'caution',
        id: 'caution-lifting',
        title: 'Lifting and jacking',
        when: 'before a jack or lift touches the car',
        points: ['Rusted sills and floors give way under a jack; lift only where the steel is whole.', 'Follow your local codes and have it done by people licensed to do it where they require it.'],
        source: [{ text: 'HSE, vehicle repair: lifting', href: 'https://www.hse.gov.uk/mvr/' }],
      },
      {
        type: 'caution',
        id: 'caution-wax',
        title: 'Cavity wax',
        when: 'before spraying in a closed shell',
        points: ['Vapour of aerosols burns; air the shell and keep flames away.', 'Follow your local codes.'],
        source: ['common practice, no source'],
      },
      { type: 'facts', look: 'plain', items: [{ term: 'Hash of the list', value: [{ text: hash, code: true }], note: 'lodge it with somebody else' }, { term: 'Originals', value: ['7 files'] }] },
    ],
  },
];

/** A dossier as `write` hands it over, fresh for every caller. */
export function siteDossier(): Dossier {
  return structuredClone<Dossier>({
    $schema: 'dossier.schema.json',
    format: 'sillbook-dossier-1',
    generator: { name: 'sillbook', version: '0.1.0' },
    language: 'en-GB',
    edition: { id: 'purchase', title: 'Purchase edition', reader: 'a buyer deciding today' },
    status: { kind: 'draft' },
    title: 'Larkfield 1500, two-door saloon, 1971',
    subtitle: 'Looked at on 14 March 2026, 10:00 to 11:45, dry workshop, on stands, by M. Arden for the buyer before purchase',
    limits: 'Condition on 14 March 2026 only. Not a roadworthiness test, not a valuation.',
    author: 'M. Arden, Tidewater Coachworks',
    seenOn: '2026-03-14',
    coverage: { known: 63, seen: 41, cannotTell: 1, notFitted: 1, kindsNotCounted: 6, words: '41 of 63 known openings seen; 6 kinds not counted' },
    sections: [...overview, sillLeft, ...others],
    photos,
    register: [], rustedAreas: [], work: null, outlook: null,
    findings: [],
    originals: { listSha256: hash, count: photos.length },
    notices: [],
  });
}

/** Puts plain pictures of the right size where the renditions of a dossier belong, each photo in a grey of its own. */
export async function writeRenditions(dossier: Dossier, out: string): Promise<void> {
  for (const [index, photo] of dossier.photos.entries()) {
    const grey = 90 + 10 * index;
    for (const { file, width, height } of photo.renditions) {
      await mkdir(path.dirname(path.join(out, file)), { recursive: true });
      const create = { width, height, channels: 3, background: { r: grey, g: grey, b: grey } } as const;
      await sharp({ create }).jpeg().toFile(path.join(out, file));
    }
  }
}
