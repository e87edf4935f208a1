import type { Heading, Image, List, ListItem, Paragraph, Root, RootContent } from 'mdast';
import remarkParse from 'remark-parse';
import { unified } from 'unified';
import type { Catalogue } from '../../model/catalogue.ts';
import type { Notes, PhotoName, ZoneNotes } from '../../model/notes.ts';
import type { Notice } from '../../model/notice.ts';
import type { Settings } from '../../model/settings.ts';
import { keyOf, namesCondition, opensFinding, takeItem } from './items.ts';
import { lexiconOf, matchZone, plain } from './lexicon.ts';
import { takeMeta } from './meta.ts';
import type { Item, Reader } from './reader.ts';
import { report, short } from './reader.ts';
import type { Snippet, Source } from './source.ts';
import { snippet, tidy } from './source.ts';

export { decode } from './source.ts';
export { lexiconOf, matchZone, plain } from './lexicon.ts';
export type { Lexicon, ZoneMatch } from './lexicon.ts';

/** What the findings reader needs besides the text. */
export interface NotesInput {
  /** Path of the file relative to the job folder, for messages. */
  file: string;
  /** The file as text, byte order mark and line ends as they are. */
  text: string;
  catalogue: Catalogue;
  settings: Settings;
  /** File names of the photos in the job, so that bare mentions are recognised. */
  photoNames: readonly string[];
}

// Without HTML: one "<!--" would take every zone below it for a comment. What looks like a tag is words.
const parser = unified().data('micromarkExtensions', [{ disable: { null: ['htmlFlow', 'htmlText'] } }]).use(remarkParse).freeze();
const openers = { car: 'car', visit: 'visit', rates: 'rates' } as const;
/** The heading under which `sillbook new` puts photos whose zone is still to be named. */
const toPlace = 'to place';

/**
 * Reads a findings file whole. Never throws on what somebody typed: what is not understood is kept as words, with a
 * notice that points at the file as it lies on disk.
 */
export function readNotes(input: NotesInput): { notes: Notes; notices: Notice[] } {
  const lexicon = lexiconOf(input.catalogue);
  const source = tidy(input.file, input.text, (words) => plain(words) in openers || matchZone(lexicon, withoutTime(words).name).kind !== 'unknown', (line) => opensFinding(lexicon, line));
  const photoNames = new Set(input.photoNames.flatMap((name) => [name.toLowerCase(), name.toLowerCase().replace(/\.[^.]+$/, '')]).filter((name) => name.length > 3 && /\d/.test(name)));
  const reader: Reader = { catalogue: input.catalogue, lexicon, source, settings: input.settings, photoNames, spacedNames: spacedNames(input.photoNames), notices: [] };
  const notes: Notes = { file: input.file, car: [], visit: [], rates: [], seen: null, clocks: [], views: [], zones: [], preamble: [] };
  const tree: Root = parser.parse(source.text);
  const walk: Walk = { reader, notes, into: null, zone: null };
  for (const node of tree.children) takeNode(walk, node);
  return { notes, notices: reader.notices };
}

function spacedNames(names: readonly string[]): string[] {
  const spaced = names.filter((name) => /\s/.test(name)).map((name) => name.toLowerCase());
  return [...new Set(spaced)].toSorted((a, b) => b.length - a.length || (a < b ? -1 : 1));
}

interface Walk {
  reader: Reader;
  notes: Notes;
  /** The metadata heading in force. */
  into: 'car' | 'visit' | 'rates' | null;
  zone: ZoneNotes | null;
}

function takeNode(walk: Walk, node: RootContent): void {
  if (node.type === 'heading' && node.depth === 1) takeHeading(walk, node);
  else if (node.type === 'list') for (const item of node.children) takeListItem(walk, item);
  else if (node.type === 'paragraph') takeParagraph(walk, node);
  else takeNarrative(walk, node);
}

function offsets(node: { position?: { start: { offset?: number | undefined }; end: { offset?: number | undefined } } | undefined }): [number, number] {
  return [node.position?.start.offset ?? 0, node.position?.end.offset ?? 0];
}

function raw(source: Source, node: RootContent | ListItem): Snippet {
  return snippet(source, ...offsets(node));
}

function withoutTime(words: string): { name: string; from: string | null } {
  const time = /\s*\((\d{1,2}):(\d{2})(?:\s*[-–].*?)?\)\s*$/.exec(words);
  if (!time) return { name: words, from: null };
  return { name: words.slice(0, time.index), from: `${(time[1] ?? '').padStart(2, '0')}:${time[2]}` };
}

function takeHeading(walk: Walk, node: Heading): void {
  const { reader, notes } = walk;
  const [start, end] = offsets(node);
  const whole = snippet(reader.source, start, end);
  const lead = /^#\s*/.exec(whole.text)?.[0].length ?? 0;
  const text = whole.text.slice(lead).replace(/\s#+\s*$/, '').trim();
  const spot = reader.source.spot(start);
  const opener = openers[plain(text) as keyof typeof openers];
  walk.into = opener ?? null;
  walk.zone = null;
  if (opener) return;
  const { name, from } = withoutTime(text);
  const match = matchZone(reader.lexicon, name);
  const zone: ZoneNotes = { heading: { text, spot }, zone: match.kind === 'zone' ? match.zone.id : null, from, entries: [], narrative: [] };
  notes.zones.push(zone);
  walk.zone = zone;
  if (match.kind === 'zone' && match.extraSide) {
    report(reader, spot, 'note', 'side-extra', { found: `A side in "${short(text)}"`, expected: `"${match.zone.name}", which has no sides`, advice: 'Write the side as a place in the findings.' });
  }
  if (match.kind === 'side missing') {
    report(reader, spot, 'warning', 'side-missing', { found: `No side in "${short(text)}"`, expected: match.zones.map((one) => `"${one.name}"`).join(' or '), advice: 'Add left or right, facing forward. What stands below is kept as notes that are not placed.' });
  }
  if (match.kind === 'unknown' && plain(name) !== toPlace) unknownHeading(walk, text, match.near, spot);
}

function unknownHeading(walk: Walk, text: string, near: readonly string[], spot: ZoneNotes['heading']['spot']): void {
  const side = /\b(near|off|driver'?s?|passenger'?s?)[ -]?side\b|\b[no]\/?s\b/i.test(text);
  const hint = near.length > 0 ? `Did you mean ${near.map((one) => `"${one}"`).join(' or ')}? ` : '';
  report(walk.reader, spot, 'warning', 'zone-unknown', {
    found: `Unexpected heading "${short(text)}"`,
    expected: 'Car, Visit, Rates or a zone of the body',
    advice: `${side ? 'Write left or right, facing forward, as the other words differ from country to country. ' : hint}What stands below is kept as notes that are not placed.`,
  });
}

function takeListItem(walk: Walk, node: ListItem): void {
  const item = itemOf(walk.reader, node);
  if (walk.into) takeMetaItem(walk, item);
  else takeItem(walk.reader, walk.notes, zoneOf(walk, item.spot), item);
}

/** Items before any heading are kept under a heading of no name. */
function zoneOf(walk: Walk, spot: ZoneNotes['heading']['spot']): ZoneNotes {
  if (walk.zone) return walk.zone;
  const zone: ZoneNotes = { heading: { text: '', spot }, zone: null, from: null, entries: [], narrative: [] };
  walk.notes.zones.push(zone);
  walk.zone = zone;
  report(walk.reader, spot, 'warning', 'heading-missing', { found: 'Lines before the first zone', expected: 'a heading such as "# Sill, left" above them', advice: 'They are kept as notes that are not placed.' });
  return zone;
}

function takeMetaItem(walk: Walk, item: Item): void {
  const { reader, notes } = walk;
  const keyed = keyOf(item.head);
  const into = walk.into ?? 'visit';
  if (keyed) takeMeta(reader, notes, into, keyed.key.text, keyed.value, item);
  else {
    notes[into].push({ key: '', text: item.text, spot: item.spot });
    report(reader, item.spot, 'note', 'key-missing', { found: `"${short(item.text)}" without a colon`, expected: 'key: value', advice: 'The line is kept and shown as written.' });
  }
  for (const child of item.children) takeMetaItem(walk, child);
}

/** Cuts a list item: its own words without pictures, the pictures, the items under it. */
function itemOf(reader: Reader, node: ListItem): Item {
  const [from] = offsets(node);
  const spot = reader.source.spot(from);
  const [first] = node.children;
  if (first?.type !== 'paragraph') {
    const nested = node.children.filter((child): child is List => child.type === 'list');
    const rest = node.children.filter((child) => child.type !== 'list').map((child) => raw(reader.source, child));
    return { ...joined(rest, []), spot, children: nested.flatMap((list) => list.children.map((child) => itemOf(reader, child))) };
  }
  const own = node.children.filter((child) => child.type !== 'list');
  // "- 1998. Sills replaced" says a year; up to three digits are the number of a list item.
  const year = /^\d{4,}[.)]\s/.test(reader.source.text.slice(from, from + 12));
  const pieces = own.map((child, index) => (year && index === 0 ? snippet(reader.source, from, offsets(child)[1]) : raw(reader.source, child)));
  const pictures = own.flatMap((child) => (child.type === 'paragraph' ? imagesOf(child) : []));
  const children = node.children.flatMap((child) => (child.type === 'list' ? child.children.map((one) => itemOf(reader, one)) : []));
  const item = { ...joined(pieces, pictures), spot, children };
  const alone = item.head.text === '' && pictures.length === 1 ? pictures[0] : undefined;
  return alone ? { ...pictureItem(reader, alone), children } : { ...item, pictures: pictures.map((image) => pictureOf(reader, image)) };
}

/** Joins the pieces of an item and leaves its pictures out of the head. */
function joined(pieces: readonly Snippet[], pictures: readonly Image[]): { head: Snippet; text: string; pictures: PhotoName[] } {
  const text = pieces.map((piece) => piece.text).join(' ');
  const hidden = pictures.map(offsets);
  const head: Snippet = { text: '', offsets: [] };
  for (const [index, piece] of pieces.entries()) {
    for (const [at, offset] of piece.offsets.entries()) {
      if (hidden.some(([start, end]) => offset >= start && offset < end)) continue;
      head.text += piece.text[at] ?? '';
      head.offsets.push(offset);
    }
    if (index < pieces.length - 1) {
      head.text += ' ';
      head.offsets.push(piece.offsets.at(-1) ?? 0);
    }
  }
  const lead = head.text.length - head.text.trimStart().length;
  const kept = head.text.trim();
  return { head: { text: kept, offsets: head.offsets.slice(lead, lead + kept.length) }, text, pictures: [] };
}

function imagesOf(node: Paragraph): Image[] {
  const found: Image[] = [];
  const walk = (children: Paragraph['children']): void => {
    for (const child of children) {
      if (child.type === 'image') found.push(child);
      else if ('children' in child) walk(child.children);
    }
  };
  walk(node.children);
  return found;
}

function pictureOf(reader: Reader, image: Image): PhotoName {
  return { text: image.url, alt: pictureWords(reader, image).text, spot: reader.source.spot(offsets(image)[0]) };
}

/** The words of `![words](file "title")` as typed, title included. */
function pictureWords(reader: Reader, image: Image): Snippet {
  const whole = snippet(reader.source, ...offsets(image));
  const inner = /^!\[([\s\S]*)\]\(/.exec(whole.text)?.[1] ?? image.alt ?? '';
  const words: Snippet = { text: inner, offsets: whole.offsets.slice(2, 2 + inner.length) };
  if (!image.title) return words;
  const at = whole.text.lastIndexOf(image.title);
  const joint = words.text === '' ? '' : '. ';
  return {
    text: words.text + joint + image.title,
    offsets: [...words.offsets, ...Array.from(joint, () => whole.offsets[at] ?? 0), ...Array.from({ length: image.title.length }, (_, index) => whole.offsets[at + index] ?? 0)],
  };
}

/** `![words](file)` read as an item whose words are the picture's. */
function pictureItem(reader: Reader, image: Image): Item {
  const words = pictureWords(reader, image);
  const photo = pictureOf(reader, image);
  return { head: words, text: snippet(reader.source, ...offsets(image)).text, spot: photo.spot, pictures: [photo], children: [] };
}

/** A paragraph outside a list: its pictures are findings, what words are left is narrative. */
function takeParagraph(walk: Walk, node: Paragraph): void {
  const { reader } = walk;
  const images = imagesOf(node);
  const whole = joined([snippet(reader.source, ...offsets(node))], images);
  for (const image of images) {
    const item = pictureItem(reader, image);
    takeItem(reader, walk.notes, zoneOf(walk, item.spot), item);
  }
  if (images.length > 0 && whole.head.text === '') return;
  if (images.length > 0) addNarrative(walk, whole.head.text, reader.source.spot(whole.head.offsets[0] ?? 0));
  else takeNarrative(walk, node);
}

function takeNarrative(walk: Walk, node: RootContent): void {
  const [start, end] = offsets(node);
  const { source } = walk.reader;
  hintAtFindings(walk, start, end);
  addNarrative(walk, source.text.slice(start, end), source.spot(start));
}

function addNarrative(walk: Walk, text: string, spot: ZoneNotes['heading']['spot']): void {
  if (walk.zone) walk.zone.narrative.push({ text, spot });
  else if (walk.into) walk.notes[walk.into].push({ key: '', text, spot });
  else walk.notes.preamble.push({ text, spot });
}

/** A line without a bullet that reads like a finding gets a hint. */
function hintAtFindings(walk: Walk, start: number, end: number): void {
  const { source, lexicon } = walk.reader;
  let from = start;
  for (const line of source.text.slice(start, end).split('\n')) {
    const head = snippet(source, from, from + line.length);
    from += line.length + 1;
    if (!opensFinding(lexicon, head.text) && !namesCondition(lexicon, head.text)) continue;
    report(walk.reader, head, 'warning', 'bullet-missing', { found: `"${short(head.text)}" without a bullet`, expected: 'a line that begins with "- "', advice: 'Add "- " to make it a finding; until then it is narrative.' });
  }
}
