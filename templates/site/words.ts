import type { SiteBlockOf, SiteFigure } from '../../src/print/site/data.ts';
import type { Found, Kind } from './frame/compare-files.ts';

/** The site's own words, in one place. Everything else a page says comes from the dossier. */
export const words = {
  skip: 'Skip to the text',
  /** On a narrow screen the parts fold behind this. */
  menu: 'Contents',
  /** From anywhere in a long page. */
  toMenu: 'Contents ↑',
  back: 'Back to the contents',
  parts: 'Parts of this dossier',
  onPage: 'On this page',
  forms: 'Other forms of this dossier',
  trail: 'Where this page stands',
  neighbours: 'Zones before and after',
  previous: 'Previous',
  next: 'Next',
  caution: 'Caution',
  /** Before what the caution applies to. */
  applies: 'Applies',
  source: 'Source',
  structure: 'carries load',
  /** Once above the bars of an outlook. */
  bars: 'The thick line, solid or hollow, is the range; the short upright is its middle; the dashed line is how far what nobody saw could move it.',
  /** Below the caption of drawn readings, each where its sign is drawn. */
  plots: {
    dot: 'Each dot is one value; values that nearly coincide stand on each other.',
    line: 'The line is their range, the short upright below it their median.',
    mark: 'Dashed: what they stand beside.',
    apart: 'A hollow lozenge stands out from the others.',
    hollow: 'Outlined dots do not count.',
    beside: 'dashed:',
  },
  /** Below the caption of a day's photos. */
  timeline: 'A dot leads to its photo; the time line is dashed where none was taken for long.',
  map: {
    key: 'Key to the drawing',
    links: 'Each area leads to its zone. Zones are named in words below, where they are easier to hit with a finger.',
    /** For those who hear the drawing. */
    byWords: 'The same zones stand in words below the drawing.',
  },
  notShown: 'Photo not shown',
  pdf: 'as a PDF',
  whole: 'all on one page',
  byPage: 'page by page',
  print: {
    brief: 'Print a one-page summary',
    all: 'Print everything',
    /** Above the first steps, with how many there are: "The first steps (5 of 25; all stand in the dossier)". */
    steps: 'The first steps',
    of: 'of',
    allSteps: 'all stand in the dossier',
    hash: 'SHA-256 of the list of original files',
    signature: 'Signature',
    signedOn: 'Place and date',
  },
  madeWith: 'made with Sillbook',
  pair: {
    before: 'Before',
    both: 'Both',
    after: 'After',
    during: 'Between the two',
    choose: 'Photo shown',
    hint: 'Left of the line is the photo before, right of it the photo after. Press a photo to see it large.',
    range: 'Width of the photo before, from the left, in 100',
    unlike: 'The two photos differ in shape: the earlier one stands whole in a frame of the shape of the later.',
  },
  originals: {
    title: 'Check the files in this page',
    what: 'Give the original files to this page, the photos, the findings and the settings (sillbook.json), and it says of each whether it is the one in the list below. It is worked out here, from the files on your own disk: no file and no result leaves the page.',
    proves:
      'It proves that a file has, to the last byte, the content it had when the list was made, and nothing more: neither what stood in front of the camera, nor that this page is the one first handed over. Whoever holds page and files could have changed both. So compare the hash that was lodged with somebody else as well.',
    byHand: 'By hand the same is done by a command in the folder with the files: sha256sum -c originals-sha256.txt on Linux, shasum -a 256 -c originals-sha256.txt on macOS, certutil -hashfile with the name of a file and SHA256 on Windows, file by file.',
    drop: 'Drop the files anywhere on this page, or:',
    files: 'Choose files',
    folder: 'Choose a folder',
    stop: 'Stop',
    again: 'Start again',
    progress: 'Files read',
    paste: 'Paste the hash that was lodged, or the text of originals-sha256.txt',
  },
} as const;

/** Words of the photo viewer. At either end the photos go round: the button says so. */
export const viewerWords = {
  title: 'Photo',
  of: 'of',
  close: 'Close',
  previous: 'Previous',
  toLast: 'Last',
  next: 'Next',
  toFirst: 'First',
  file: 'The picture by itself',
  unmarked: 'The picture by itself, without marks',
  permanent: 'Link to this photo',
} as const;
export type ViewerWords = typeof viewerWords;

/**
 * What comes of checking the originals; `{}` is a number or a name. The page that has the check carries these words, not the
 * script that every page carries.
 */
export const checkWords = {
  cannot: 'This browser works out no hashes in a page opened from disk. Use another browser, or a command.',
  reading: 'Reading the files, one after the other.',
  stopped: 'Stopped before the end; nothing of this choice was compared.',
  cleared: 'Nothing is compared yet.',
  none: 'No file was given.',
  hidden: 'Hidden files, of the system and of this program, were left out.',
  dropped: 'A folder was dropped, which a page opened from disk cannot look into: use “Choose a folder”.',
  tableOther: 'The table on this page does not give the hash on the cover: this page is not as it was made.',
  lodged: {
    hash: {
      same: 'This is the hash on the cover of this dossier.',
      other: 'This is not the hash on the cover of this dossier: it was lodged for another list, or this dossier is not the one it was lodged for.',
    },
    list: {
      same: 'This is the list of this dossier: its hash is the one on the cover.',
      other: 'This is not the list of this dossier: its hash is not the one on the cover.',
    },
    neither: 'This is neither a hash, 64 signs from 0 to 9 and a to f, nor a list of hashes and names.',
  },
  listed: { one: '{} file in the list', more: '{} files in the list' },
  besides: 'Given besides',
  counts: {
    unchanged: '{} unchanged',
    changed: '{} changed',
    renamed: '{} renamed',
    missing: '{} missing',
    unread: '{} could not be read here',
    'no hash': '{} without a hash to compare with',
    unknown: '{} unknown',
    copy: '{} a further copy',
    dossier: '{} of dossiers left aside',
    'other list': 'a list that is not the one of this dossier',
    list: 'the list itself, whose hash is the one on the cover',
  } satisfies Record<Kind, string>,
  /** Of one file, after its name. */
  found: {
    unchanged: 'unchanged',
    changed: 'changed; same name, other hash',
    renamed: 'renamed; same hash, now {}',
    missing: 'missing; not among the files given',
    unread: 'could not be read here',
    'no hash': 'cannot be told; the list has no hash of it',
    unknown: 'unknown; its hash is not in the list',
    copy: 'a further copy of {}',
    dossier: 'of a dossier; left aside',
    list: 'the list itself; its hash is the one on the cover',
    'other list': 'not the list of this dossier; its hash is not the one on the cover',
  } satisfies Record<Kind, string>,
} as const;
export type CheckWords = typeof checkWords;

/** Words of the index. */
export const findWords = {
  title: 'Find',
  intro: 'All that this dossier says, a line each, zone by zone, but for the hashes of the photos. Every line is a link to its place.',
  label: 'Words',
  hint: 'All words have to be there; the beginning of each is enough.',
  /** After the hint where there is room. */
  hintMore: '“In quotes” they stand side by side. Other names for a thing are found too. The address of this page keeps the choice.',
  more: 'Filters',
  filters: 'Only',
  kind: 'Kind',
  zone: 'Zone',
  part: 'Part',
  any: { kind: 'All kinds', zone: 'All zones', part: 'All parts' },
  noZone: 'No zone: the car, the dossier',
  load: 'carries load, or near a safety mounting',
  clear: 'Clear all',
  nothing: 'Nothing found.',
  advice: 'Take a filter off, or type fewer words or only their beginnings. Not found is not the same as not there: what nobody wrote about can stand in no line.',
  unseen: 'Show all that was not seen',
  shortcut: 'The key / leads here from every page',
  /** In the choice of kinds, where a word alone says too little. */
  kindsInFull: { observation: 'Finding: metal, coating, water, repair', row: 'Line of a table', section: 'Zone or heading' },
  /** Before the numbers of the register by state, each a link. */
  only: 'Show only',
} as const;

/** What a line of the index is: printed before it. */
export const findKinds = {
  section: 'Heading',
  opening: 'Opening',
  observation: 'Finding',
  reading: 'Reading',
  photo: 'Photo',
  step: 'Step',
  words: 'Words',
  outlook: 'Outlook',
  row: 'Table',
  caution: 'Caution',
} as const;

/** What the script of the index says; `{}` is a number or what was typed. Its page carries them, no script holds words. */
export const findSay = {
  kinds: findKinds,
  all: '{} lines.',
  one: '{} line.',
  hits: '{} of {} lines.',
  /** How many filters are chosen. */
  on: '{} on',
  noneOn: 'none on',
  /** What a word was also looked for as. */
  also: '“{}” also stands for {}.',
  /** A link from elsewhere may name a zone or a part this dossier does not have: it is said, not passed over. */
  unknown: 'Not in this dossier, and left out of the choice: {}.',
} as const;
export type FindSay = typeof findSay;

/** "22 files in the list: 19 unchanged, 1 changed, 1 renamed, 1 missing.", and what was given besides: counts first, none left out. */
export function originalsWords(say: CheckWords, listed: number, counts: Readonly<Record<Kind, number>>): string {
  const said = (kind: Kind): string => say.counts[kind].replace('{}', String(counts[kind]));
  const some = (kinds: readonly Kind[]): string[] => kinds.filter((kind) => counts[kind] > 0).map(said);
  const first: readonly Kind[] = ['unchanged', 'changed', 'renamed', 'missing'];
  const besides = some(['unknown', 'copy', 'other list', 'list', 'dossier']);
  return [
    `${say.listed[listed === 1 ? 'one' : 'more'].replace('{}', String(listed))}: ${[...first.map(said), ...some(['unread', 'no hash'])].join(', ')}.`,
    ...(besides.length > 0 ? [`${say.besides}: ${besides.join(', ')}.`] : []),
  ].join(' ');
}

/** What is said of one file, after its name. */
export function foundWords(say: CheckWords, { kind, other }: Found): string {
  return say.found[kind].replace('{}', () => other);
}

/**
 * "Taken 10:12:41 on 14 March 2026, UTC+00:00, by the camera"; where the caption has the time already, "Time: UTC+00:00, by
 * the camera"; nothing where it says all there is.
 */
export function takenWords({ taken, takenFrom, caption }: Pick<SiteFigure, 'taken' | 'takenFrom' | 'caption'>): string {
  const said = caption.map((run) => (typeof run === 'string' ? run : run.text)).join('');
  if (taken === null) return said.includes(takenFrom) ? '' : `Time of the photo: ${takenFrom}`;
  const [, time = taken, zone] = /^(.*), (UTC\S*)$/.exec(taken) ?? [];
  if (!said.includes(time)) return `Taken ${taken}, ${takenFrom}`;
  return `Time: ${zone === undefined ? '' : `${zone}, `}${takenFrom}`;
}

/** Marks whose words a remark are: fact, opinion or hearsay. */
export function originWords(remark: Pick<SiteBlockOf<'remark'>, 'origin' | 'by'>): string {
  if (remark.origin === 'fact') return 'Seen';
  if (remark.origin === 'opinion') return 'Opinion';
  return remark.by === undefined ? 'Told' : `Told by ${remark.by}`;
}
