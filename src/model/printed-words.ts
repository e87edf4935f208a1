import type { Outcome } from './catalogue.ts';

/**
 * Every word the printers say themselves, grouped by where it is said: site, its scripts, PDF, drawings, calendar file.
 * A translation of them is this file in another language. What a dossier says is made in `write/`, numbers and dates in
 * `units.ts`; nothing here is read to decide anything. `{}` in a string is a number or a name that a script of the site puts
 * there: pages carry the words for those. It imports nothing when run, as the site's templates take it as it is.
 */
export const words = {
  /** Of an opening, a zone, a step. */
  states: { defect: 'defect', 'cannot tell': 'cannot tell', 'not seen': 'not seen', sound: 'sound', 'not fitted': 'not fitted' } satisfies Record<Outcome, string>,

  /** Said by site and PDF alike. */
  both: {
    /** Above a table of contents; on a narrow screen the parts of the site fold behind it. */
    contents: 'Contents',
    caution: 'Caution',
    /** Of a caution, before where it comes from. */
    source: 'Source',
    signature: 'Signature',
    signedOn: 'Place and date',
  },

  /** Whose words a remark is. */
  remark: { opinion: 'Opinion', told: 'Told', toldBy: (by: string): string => `Told by ${by}` },

  /** How drawings are to be read. */
  legends: {
    /** Once above the bars of an outlook. */
    bars: 'The thick line, solid or hollow, is the range; the short upright is its middle; the dashed line is how far what nobody saw could move it.',
    /** Below the caption of drawn readings, each where its sign is drawn. */
    plots: {
      dot: 'Each dot is one value; values that nearly coincide stand on each other.',
      line: 'The line is their range, the short upright below it their median.',
      mark: 'Dashed: what they stand beside.',
      apart: 'A hollow lozenge stands out from the others.',
      hollow: 'Outlined dots do not count.',
    },
    /** Beside readings, before what they stand beside. */
    beside: 'dashed:',
  },

  /** Two photos of one place. */
  pair: {
    before: 'Before',
    both: 'Both',
    after: 'After',
    during: 'Between the two',
    unlike: 'The two photos differ in shape: the earlier one stands whole in a frame of the shape of the later.',
    choose: 'Photo shown',
    hint: 'Left of the line is the photo before, right of it the photo after. Press a photo to see it large.',
    range: 'Width of the photo before, from the left, in 100',
  },

  /** The drawing of the body's zones. */
  map: {
    /** Title of each view. */
    views: { left: 'Left side', right: 'Right side', above: 'From above', floor: 'Floor and structure, from above', frame: 'Frame, from above' },
    /** At the edges of a view. */
    edges: { front: 'front', rear: 'rear', left: 'left side', right: 'right side' },
    /** Below the drawing. */
    seenForward: 'Left and right are the driver’s, looking forward. No particular car is drawn.',
    /** For those who do not see it; each state with its zones follows. */
    alternative: (body: string): string => `Drawing of the zones of a body (${body}), from both sides and from above.`,
    /** A body type nobody has drawn yet. */
    otherBody: (body: string): string => `There is no drawing of this type of body yet (${body}); the usual saloon is drawn in its place.`,
    /** Zones that sit on one side of a car, not known which; named as within a sentence. */
    eitherSide: (names: readonly string[]): string => `Drawn on both sides, as the side is not written: ${names.join(', ')}.`,
    /** Zones of the job that the drawn body has no place for. */
    notDrawn: (zones: readonly string[]): string => `Not on the drawing, as a body of this type has no usual place for it: ${zones.join('; ')}.`,
    key: 'Key to the drawing',
    links: 'Each area leads to its zone. Zones are named in words below, where they are easier to hit with a finger.',
    /** For those who hear the drawing. */
    byWords: 'The same zones stand in words below the drawing.',
  },

  site: {
    /** Draft, or issue with number and date. */
    draft: 'Draft, not issued',
    issued: (number: string, date: string): string => `Dossier ${number}, issued ${date}`,
    /** Titles of the site's own pages, for the browser's tab. */
    findTitle: (dossier: string): string => `Find – ${dossier}`,
    wholeTitle: (dossier: string): string => `${dossier} – all on one page`,
    skip: 'Skip to the text',
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
    /** Of a caution, before what it applies to. */
    applies: 'Applies',
    structure: 'carries load',
    /** Above a remark that is neither opinion nor told. */
    fact: 'Seen',
    /** Below the caption of a day's photos. */
    timeline: 'A dot leads to its photo; the time line is dashed where none was taken for long.',
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
    },
    madeWith: 'made with Sillbook',
  },

  /** Of the photo viewer. At either end the photos go round: the button says so. */
  viewer: {
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
  },

  /** Below a photo in the viewer: "Taken 10:12:41 on 14 March 2026, UTC+00:00, by the camera". */
  taken: {
    known: (time: string, from: string): string => `Taken ${time}, ${from}`,
    /** Where the caption has the time itself; zone and origin, or one of them. */
    more: (said: string): string => `Time: ${said}`,
    unknown: (from: string): string => `Time of the photo: ${from}`,
  },

  /** Checking the original files, around what comes of it. */
  originals: {
    title: 'Check the files in this page',
    what: 'Give the original files to this page, the photos, the findings and the settings (sillbook.json), and it says of each whether it is the one in the list below. It is worked out here, from the files on your own disk: no file and no result leaves the page.',
    proves: 'It proves that a file has, to the last byte, the content it had when the list was made, and nothing more: neither what stood in front of the camera, nor that this page is the one first handed over. Whoever holds page and files could have changed both. So compare the hash that was lodged with somebody else as well.',
    byHand: 'By hand the same is done by a command in the folder with the files: sha256sum -c originals-sha256.txt on Linux, shasum -a 256 -c originals-sha256.txt on macOS, certutil -hashfile with the name of a file and SHA256 on Windows, file by file.',
    drop: 'Drop the files anywhere on this page, or:',
    files: 'Choose files',
    folder: 'Choose a folder',
    stop: 'Stop',
    again: 'Start again',
    progress: 'Files read',
    paste: 'Paste the hash that was lodged, or the text of originals-sha256.txt',
  },

  /** What comes of checking them. The page that has the check carries these words. */
  check: {
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
    },
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
    },
  },

  /** The index. */
  find: {
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
    /** Of openings of one kind that share a line. */
    uncounted: 'number not known',
    toSee: (how: string): string => `to see it: ${how}`,
    /** Before the numbers of the register by state, each a link. */
    only: 'Show only',
  },

  /** What the script of the index says. */
  findSay: {
    /** What a line of the index is: printed before it. */
    kinds: { section: 'Heading', opening: 'Opening', observation: 'Finding', reading: 'Reading', photo: 'Photo', step: 'Step', words: 'Words', outlook: 'Outlook', row: 'Table', caution: 'Caution' },
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
  },

  pdf: {
    draft: 'DRAFT',
    draftMeaning: 'Not issued. It may still change; ask for the issue with a number and a date.',
    issued: (number: string, date: string): string => `Issue ${number}, dated ${date}`,
    reader: 'Made for',
    author: 'Made by',
    seenOn: 'Looked at on',
    coverage: 'Seen',
    /** "22 (21 photos and the findings)". */
    inside: 'Files inside',
    originals: { title: 'Original files', photo: 'photo', photos: 'photos', findings: 'the findings', findingsAnd: (others: string): string => `the findings and ${others}`, text: 'other text', texts: 'other texts' },
    listHash: 'SHA-256 of the list of originals',
    listHashMeaning: 'Lodge this with somebody else: it shows later that the list, and with it each original file, is unchanged.',
    limits: 'Limits',
    /** After a title, where it is said again on the next page. */
    continued: 'continued',
    zone: 'Zone',
    state: 'State',
    whatMatters: 'What matters',
    /** Above a column, and before a number. */
    page: 'Page',
    onPage: 'page',
    pageOfPages: (page: number, pages: number): string => `page ${page} of ${pages}`,
    structure: 'carries structure',
    moreSteps: 'Further first steps, on the pages after these:',
    barsElsewhere: 'how to read the bars: page',
    fact: 'Fact',
    timeline: 'A dot is one photo; the time line is dashed where none was taken for long.',
    notShown: 'This photo is not shown',
    smallMap: (section: string): string => `The drawing of the section “${section}”, small; what it shows is said there.`,
    insideHow: 'They are in the attachments list of a PDF reader (a paper clip, or “Attachments” in the menu), and are saved to a disk from there.',
  },

  /** The calendar file with dates to look again. */
  calendar: {
    title: (name: string, dossier: string): string => `Look again: ${name} (${dossier})`,
    on: (day: string): string => `Look again on ${day}.`,
    wasDueOn: (day: string): string => `Was due on ${day}.`,
    /** A month stands on its first day. */
    within: (month: string): string => `Look again in ${month}; the calendar has its first day.`,
    wasDueWithin: (month: string): string => `Was due in ${month}; the calendar has its first day.`,
    written: (visit: string): string => `Written at the visit of ${visit}.`,
    writtenUndated: 'Written at a visit whose day was not written.',
  },
};

/** The shape of a translation. */
export type Words = typeof words;
