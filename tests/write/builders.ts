import type { Block, Dossier, Inline } from '../../src/model/dossier.ts';
import type { Inspection, Outlook, Plan } from '../../src/model/inspection.ts';
import type { Issue } from '../../src/model/job.ts';
import type { Photo } from '../../src/model/photo.ts';
import type { Settings } from '../../src/model/settings.ts';
import { place } from '../../src/place/index.ts';
import { plan } from '../../src/plan/index.ts';
import { readCatalogue } from '../../src/read/catalogue/index.ts';
import { readEdition } from '../../src/read/editions.ts';
import { readNotes } from '../../src/read/notes/index.ts';
import { ratesOf } from '../../src/read/rates.ts';
import { weigh } from '../../src/weigh/index.ts';
import { write } from '../../src/write/index.ts';
import type { WriteInput } from '../../src/write/index.ts';

const catalogue = readCatalogue();

export interface Judged {
  inspection: Inspection;
  outlook: Outlook;
  plan: Plan;
}

/** Findings text and photo file names, read, placed, weighed and planned; `taken` may change what a photo carries. */
export function judged(findings: string, names: readonly string[] = [], given: Partial<Settings> = {}, taken: (photo: Photo) => Photo = (photo) => photo): Judged {
  const settings: Settings = { units: 'mm', language: 'en-GB', ...given };
  const { notes, notices } = readNotes({ file: 'findings.md', text: findings, catalogue, settings, photoNames: [...names] });
  const { rates, notices: rateNotices } = ratesOf(notes.rates, settings);
  const inspection = place({ catalogue, settings, notes, rates, photos: names.map((name, index) => taken(photoOf(name, index))), notices: [...notices, ...rateNotices] });
  const outlook = weigh(inspection);
  return { inspection, outlook, plan: plan(inspection, outlook) };
}

/** The same as a dossier. */
export function dossierOf(from: Judged, edition = 'purchase', issue: Issue = null, given: Partial<WriteInput> = {}): Dossier {
  const pictures = new Map(from.inspection.photos.map(({ photo }) => [photo.id, { renditions: [{ file: `photos/${photo.id}-960.jpg`, width: 960, height: 720 }], flaw: '' }]));
  const files = from.inspection.photos.map(({ photo }) => ({ path: photo.path, bytes: photo.bytes, sha256: photo.sha256 }));
  return write({ ...from, pictures, edition: readEdition(edition), issue, changes: null, originals: { listSha256: 'f'.repeat(64), count: files.length, files }, version: '0.0.0', ...given });
}

/** A photo that carries nothing but its name, and a time ten minutes after the one before. */
function photoOf(path: string, index: number): Photo {
  const name = path.split('/').at(-1) ?? path;
  const local = `2026-03-14T1${index % 10}:00:00`;
  return {
    id: name.toLowerCase().replace(/\.[a-z]+$/, '').replace(/[^a-z0-9]+/g, '-'), path, name, bytes: 1000 + index, sha256: String(index).padStart(64, 'a'), format: 'jpeg',
    make: 'Maker', model: 'Phone', orientation: 1, keywords: [], editors: [], hasPosition: false,
    takenAt: { local, offset: null, instant: null, from: 'exif', offsetFrom: null, asWritten: local, corrected: null },
    exif: { dateTimeOriginal: local, subSecTimeOriginal: null, offsetTimeOriginal: null, modifyDate: null, software: null, gpsLatitude: null, gpsLongitude: null, gpsDate: null, gpsTime: null },
  };
}

/** Every run of text of a block, nested ones too. */
export function inlinesOf(block: Block): Inline[] {
  switch (block.type) {
    case 'heading':
    case 'code':
      return [[block.text]];
    case 'paragraph':
      return [block.inline];
    case 'remark':
      return [block.inline, [block.by ?? '']];
    case 'facts':
      return block.items.flatMap((item) => [[item.term], item.value, [item.note ?? '']]);
    case 'table':
      return [[block.caption], block.columns.map((column) => `${column.title} `), ...block.rows.flatMap((row) => row.cells.map((cell) => cell.inline))];
    case 'photos':
      return block.figures.flatMap((figure) => [figure.caption, [figure.alt]]);
    case 'pair':
      return [[block.title], ...[block.before, ...(block.during ?? []), block.after].flatMap((figure) => [figure.caption, [figure.alt]]), block.caption];
    case 'steps':
      return block.items.flatMap((item) => [item.title, item.tags, item.why, item.what, item.figures ?? [], item.cautions]);
    case 'outlook':
      return [[block.caption], ...block.items.flatMap((item) => [[item.name], item.inline, ...item.bars.map((bar) => [`${bar.label}: ${bar.text}`])])];
    case 'plots':
      return [[block.caption], ...block.scales.flatMap((scale) => [[scale.title], ...scale.items.flatMap((item) => [[...item.name, ': ', ...item.inline], [item.plot.text], ...item.plot.marks.map((mark) => [mark.words])])])];
    case 'timeline':
      return [[block.caption], [block.label], ...block.rows.map((row) => [`${row.name}: ${row.text}`])];
    case 'zones':
      return block.items.map((item) => [item.name, ' ', item.coverage, ' ', item.gist]);
    case 'caution':
      return [[block.title], [block.when], ...block.points.map((point) => [point]), block.source];
    case 'list':
      return block.items.flat().flatMap(inlinesOf);
    case 'quote':
      return block.blocks.flatMap(inlinesOf);
    case 'rule':
      return [];
  }
}

/** All words of blocks, one line a run. */
export function textOf(blocks: readonly Block[]): string {
  return blocks.flatMap(inlinesOf).map((inline) => inline.map((part) => (typeof part === 'string' ? part : part.text)).join('')).join('\n');
}

/** All words of a dossier's sections. */
export function wordsOf(dossier: Dossier): string {
  return dossier.sections.map((section) => `${section.title}\n${textOf(section.blocks)}`).join('\n');
}

/** A car with a bit of everything, beside the sample job. */
export const everything = `Typed on a phone before any heading.

# Car

- car: Larkfield 1500, two-door saloon
- built: 1971
- body: saloon

# Visit

- seen: 2026-03-14 10:00-11:45
- place: workshop, dry, on stands
- by: M. Arden, Tidewater Coachworks
- for: buyer, before purchase

# Sill, left

![plug 25 mm, inner face 2: missing. rust run below](IMG_1.jpg)

- ring 0.4 0.4 0.1: open hole
- plug, inner face 1: cracked, loose
- plug, inner face 3: sound. pressed
- plug, inner face 4: missing
- drain slot, bottom seam: blocked, wax
- metal inside, middle: holed. seen through inner face 2. IMG_2.jpg
- coating inside: bare. seen through inner face 2
- steel, outer face: 0.62 mm, 0.64 mm, 0.60 mm
- not seen: rear third. cover strip fitted. to see it: drill out 14 rivets, 1 h
- do: wash out, dry, wax, fit 4 plugs. 2-3 h
  - part: plug 25 mm x 4, 1.90 each
- told, seller: "waxed every year"
- opinion: the strip hides the seam
- again: 2026-10

The hole <5 mm and <seam> open **here**. See [the page](https://example.org/a) and [notes](C:/mine.txt).

# Boot floor

- plug, well: perished
- do: new plug. 0.5 h
  - part: Plug 25 mm x 2
- ask: replace or patch?
- kept: old plug, tin in boot

# Scuttle

- drain tube, left: open. pour test

# Garden shed

- plug: missing
`;
