import type { Entry, Finding, Notes, PhotoOnly, Remark, ZoneNotes } from '../../model/notes.ts';
import { partWords, subjectOf } from './about.ts';
import type { Subject } from './about.ts';
import { findingsOf, splitValue, whyUnseen } from './finding.ts';
import { didYouMean, plain } from './lexicon.ts';
import type { Lexicon } from './lexicon.ts';
import { markOf } from './marks.ts';
import { countOf, isMeasured, readingOf } from './measured.ts';
import { lookedIn, originIn, takePhotos } from './mentions.ts';
import { viewOf } from './meta.ts';
import { typedNumber } from './numbers.ts';
import type { Item, Reader } from './reader.ts';
import { report, short } from './reader.ts';
import { sameViewOf } from './same-view.ts';
import type { Snippet } from './source.ts';
import { part } from './source.ts';
import { attachHours, attachParticular, attachToWork, noteOf, workOf } from './work.ts';

/** Where the words before the first colon end: the colon is followed by a space, a quote or the end. */
export function keyOf(head: Snippet): { key: Snippet; value: Snippet } | null {
  const colon = /[:：](?=\s|["“„']|$)/.exec(head.text);
  if (!colon || colon.index === 0) return null;
  return { key: part(head, 0, colon.index), value: part(head, colon.index + 1) };
}

/** Reads one item of a zone and adds what it says. Nothing is dropped: what fits no form is a remark. */
export function takeItem(reader: Reader, notes: Notes, zone: ZoneNotes, item: Item, nested = false): void {
  const made = takeMark(reader, zone, item) ? [] : entriesOf(reader, notes, zone, item, nested);
  zone.entries.push(...made);
  const ofWork = made.at(-1)?.type === 'work' || (nested && made.length === 0) || /^done\s*[:：]/i.test(item.head.text);
  for (const child of item.children) takeChild(reader, notes, zone, made, child, ofWork);
}

/** An item under another: work, marks and new names belong to the line above; anything else stands for itself. */
function takeChild(reader: Reader, notes: Notes, zone: ZoneNotes, parents: readonly Entry[], child: Item, ofWork: boolean): void {
  const parent = parents.at(-1);
  const keyed = keyOf(child.head);
  if (parent?.type === 'finding' && keyed) {
    const word = plain(keyed.key.text);
    if (word === 'was' && parent.was === null) {
      for (const one of parents) if (one.type === 'finding') rename(one, keyed.value, child);
      return;
    }
    if (word === 'do') {
      const work = workOf(reader, keyed.value, child);
      parent.work.push(work);
      for (const grandchild of child.children) takeChild(reader, notes, zone, [work], grandchild, true);
      return;
    }
  }
  takeItem(reader, notes, zone, child, ofWork);
}

/** `was: plug, inner face 2`: the name of the same opening at the last visit. */
function rename(finding: Finding, value: Snippet, item: Item): void {
  finding.was = value.text;
  finding.photos.push(...item.pictures);
}

/** What carries the marks of the picture right above: its finding, or a line of its own beside any other entry. */
function carrierIn(zone: ZoneNotes): Finding | PhotoOnly | null {
  const last = zone.entries.findLast((entry) => entry.photos.length > 0);
  if (!last || last.type === 'finding' || last.type === 'photo') return last ?? null;
  const { text, spot, origin } = last;
  const photo = last.photos.find((name) => name.alt !== '') ?? last.photos[0];
  const carrier: PhotoOnly = { type: 'photo', text, spot, origin, photos: photo ? [{ ...photo, alt: last.type === 'remark' ? photo.alt : '' }] : [], words: '', marks: [] };
  zone.entries.push(carrier);
  return carrier;
}

/** True where the item is a mark: it goes to the picture above it, or stays as a remark where it cannot be read. */
function takeMark(reader: Reader, zone: ZoneNotes, item: Item): boolean {
  const mark = markOf(reader, item);
  if (mark === undefined) return false;
  if (mark === null) return keptAsTyped(reader, zone, item);
  const carrier = carrierIn(zone);
  if (!carrier) {
    report(reader, item.spot, mark.shape === 'hide' ? 'error' : 'warning', 'mark-without-photo', {
      found: `"${short(item.text)}" with no picture above it`,
      expected: 'a line such as ![words](IMG_4022.jpg) first',
      advice: 'Put the mark under its picture.',
    });
    return keptAsTyped(reader, zone, item);
  }
  carrier.marks.push(mark);
  return true;
}

/** A mark that is not drawn has its notice: its figures are no fact, and are printed as typed. */
function keptAsTyped(reader: Reader, zone: ZoneNotes, item: Item): true {
  zone.entries.push({ ...remark(reader, item), unread: true });
  return true;
}

function entriesOf(reader: Reader, notes: Notes, zone: ZoneNotes, item: Item, nested: boolean): Entry[] {
  if (item.head.text === '') return item.pictures.length > 0 ? item.pictures.map((photo) => ofPicture(reader, photo.text, item, photo)) : [];
  const keyed = keyOf(item.head);
  if (!keyed) return [withoutColon(reader, item)];
  const special = specialOf(reader, notes, zone, keyed.key, keyed.value, item, nested);
  if (special) return special;
  const measured = isMeasured(reader, keyed.key.text, keyed.value) ? readingOf(reader, keyed.key.text, keyed.value, item) : null;
  if (measured) return [measured];
  const subject = subjectOf(reader.lexicon, keyed.key.text) ?? steelInWords(reader, keyed.key.text, keyed.value.text);
  if (subject) {
    const count = countOf(reader, subject, keyed.value, item);
    return count ? [count] : findingsOf(reader, subject, keyed.value, item);
  }
  const reading = readingOf(reader, keyed.key.text, keyed.value, item);
  if (reading) return [reading];
  unknownPart(reader, keyed.key);
  return [remark(reader, item)];
}

/** `steel, outer face: pitted` has no number: the metal is meant. */
function steelInWords(reader: Reader, key: string, value: string): Subject | null {
  return /^steel\b/i.test(key) && value !== '' && !/\d/.test(value) ? subjectOf(reader.lexicon, key.replace(/^steel/i, 'metal')) : null;
}

function ofPicture(_reader: Reader, _name: string, item: Item, photo: PhotoOnly['photos'][number]): PhotoOnly {
  return { type: 'photo', text: item.text, spot: photo.spot, origin: { kind: 'fact' }, photos: [photo], words: photo.alt, marks: [] };
}

/** Lines whose key is no part of the car: told, opinion, not seen, work and the like. Null for any other key. */
function specialOf(reader: Reader, notes: Notes, zone: ZoneNotes, key: Snippet, value: Snippet, item: Item, nested: boolean): Entry[] | null {
  const word = plain(key.text);
  const [first = '', ...rest] = word.split(/,\s*/);
  const worked = attachToWork(reader, word, value, item, zone.entries, nested);
  if (worked) return worked;
  if (first === 'part' || first === 'done') return [remark(reader, item)];
  if (attachHours(reader, word, value, item, zone.entries, nested)) return [];
  if (attachParticular(word, value.text, item, zone.entries, nested)) return [];
  if (first === 'told' || first === 'said') {
    return [{ ...remark(reader, item, value), origin: { kind: 'told', by: rest.join(', ') || 'not named' } }];
  }
  if (word === 'opinion') return [{ ...remark(reader, item, value), origin: { kind: 'opinion' } }];
  if (word === 'not seen' || word === 'unseen') return [notSeenOf(reader, value, item)];
  if (word === 'not fitted') return [notFittedOf(reader, value, item)];
  if (word === 'mounting') return [mountingOf(reader, value, item)];
  if (word === 'expected') return [expectedOf(reader, value, item)];
  if (word === 'do') return [workOf(reader, value, item)];
  if (word.startsWith('view ')) {
    const view = viewOf(reader, word.slice(5), value, item);
    if (view) notes.views.push(view);
    return [view ? { ...ofPicture(reader, '', item, view.photo), words: word } : remark(reader, item)];
  }
  if (word === 'was') {
    const last = zone.entries.findLast((entry) => entry.type === 'finding');
    if (last?.was !== null) return [remark(reader, item)];
    rename(last, value, item);
    return [];
  }
  if (word === 'same view') return [sameViewOf(reader, zone.entries, value, item) ?? { ...remark(reader, item), photos: [] }];
  const note = noteOf(reader, word, value, item);
  return note ? [note] : null;
}

function remark(reader: Reader, item: Item, value: Snippet = item.head): Remark {
  const taken = takePhotos(reader, value);
  return { type: 'remark', text: item.text, spot: item.spot, origin: { kind: 'fact' }, photos: [...item.pictures, ...taken.photos], words: taken.rest.text };
}

/** True where a line begins with a part of the catalogue and a colon: `plug, inner face 1: …`. */
export function opensFinding(lexicon: Lexicon, line: string): boolean {
  const keyed = keyOf({ text: line, offsets: [] });
  return keyed !== null && keyed.key.text.split(' ').length <= 8 && subjectOf(lexicon, keyed.key.text) !== null;
}

/** True where a line begins with a part and names a condition of it, without the colon: `plug missing at the front`. */
export function namesCondition(lexicon: Lexicon, line: string): boolean {
  const subject = subjectOf(lexicon, line);
  if (!subject) return false;
  const words = ` ${plain(line)} `;
  return [...(lexicon.conditions.get(subject.part.group)?.keys() ?? [])].some((one) => words.includes(` ${one} `));
}

/** A line without a colon is free words, and said to be; one that begins with a part and names a condition gets a hint. */
function withoutColon(reader: Reader, item: Item): Entry {
  const bare = takePhotos(reader, item.head);
  if (bare.photos.length > 0 && bare.rest.text === '') {
    return { type: 'photo', text: item.text, spot: item.spot, origin: { kind: 'fact' }, photos: [...item.pictures, ...bare.photos], words: '', marks: [] };
  }
  const keyword = /^(not seen|not fitted|do|told|opinion|mounting|expected|part|done|again|ask)\b/i.exec(item.head.text)?.[0];
  if (keyword !== undefined && !/^do (not|n.t)\b/i.test(item.head.text)) {
    report(reader, item.head, 'warning', 'finding-without-colon', {
      found: `"${short(item.head.text)}" without a colon`,
      expected: `"${keyword}: …"`,
      advice: `Put a colon behind "${keyword}"; until then the line is a remark.`,
    });
    return remark(reader, item);
  }
  if (namesCondition(reader.lexicon, item.head.text)) {
    report(reader, item.head, 'warning', 'finding-without-colon', {
      found: `"${short(item.head.text)}" without a colon`,
      expected: 'part, place: condition',
      advice: 'Put a colon before the condition to make it a finding; until then it is a remark.',
    });
  } else {
    report(reader, item.head, 'note', 'remark-kept', {
      found: `"${short(item.head.text)}" is free words`,
      advice: 'It is printed as a remark and counts for nothing; write it as "part, place: condition" if it should.',
    });
  }
  return item.pictures.length > 0 && item.head.text === '' ? ofPicture(reader, '', item, item.pictures[0]!) : remark(reader, item);
}

function unknownPart(reader: Reader, key: Snippet): void {
  const word = plain(key.text.split(/,\s+/)[0] ?? key.text);
  if (word === 'inside') {
    report(reader, key, 'warning', 'inside-ambiguous', {
      found: '"inside" by itself',
      expected: '"metal inside" or "coating inside"',
      advice: 'Say which of the two; the line is kept as a remark until then.',
    });
    return;
  }
  report(reader, key, 'warning', 'part-unknown', {
    found: `Unexpected "${short(key.text)}"`,
    expected: 'a part such as plug, grommet, drain slot, seam, metal inside, coating inside',
    advice: didYouMean(word, partWords(reader.lexicon)) || 'The line is kept as a remark.',
  });
}

function notSeenOf(reader: Reader, value: Snippet, item: Item): Entry {
  const { first, rest } = splitValue(value);
  const subject = subjectOf(reader.lexicon, first.text);
  const tail = takePhotos(reader, rest);
  const why = whyUnseen(reader, tail.rest, []);
  const self = subject || why.reason !== null ? null : whyUnseen(reader, first, []).reason;
  const whole = /^((the )?(whole|entire|complete)( zone)?|everything|all( of it)?|the zone|zone)?$/i.test(first.text);
  const reasonOnly = self !== null && rest.text === '';
  const what = whole || reasonOnly ? '' : first.text;
  const reasonWords = reasonOnly ? first.text : why.reasonWords;
  if (reasonWords === '') {
    report(reader, item.spot, 'note', 'reason-missing', {
      found: `"${short(item.head.text)}" without a reason`,
      expected: 'what, why, and how to see it, as in "not seen: rear third. cover strip fitted. to see it: drill out 14 rivets, 1 h"',
      advice: 'Say why, behind a full stop.',
    });
  }
  const photos = [...item.pictures, ...tail.photos];
  return { type: 'not seen', text: item.text, spot: item.spot, origin: { kind: 'fact' }, photos, words: tail.rest.text, what, about: subject?.abouts[0] ?? null, ...why, reason: why.reason ?? self, reasonWords };
}

function notFittedOf(reader: Reader, value: Snippet, item: Item): Entry {
  const { first, rest } = splitValue(value);
  const subject = subjectOf(reader.lexicon, first.text);
  const tail = takePhotos(reader, rest);
  return { type: 'not fitted', text: item.text, spot: item.spot, origin: originIn(tail.rest.text), photos: [...item.pictures, ...tail.photos], words: tail.rest.text, what: first.text, about: subject?.abouts[0] ?? null };
}

/** No part of a car is farther than this from a safety mounting. Our judgement. */
const farthestMm = 10_000;

/** A distance in mm; null where the figure can be a decimal or a thousands mark. */
function distanceOf(figure: string, unit: string): number | null {
  const factor: Record<string, number> = { mm: 1, cm: 10, m: 1000, in: 25.4, inch: 25.4, '"': 25.4 };
  const number = typedNumber(figure, unit === 'mm');
  return number.ok ? Math.round(number.value * (factor[unit] ?? 1) * 1e6) / 1e6 : null;
}

/** `mounting: 22 cm from seat-belt bolt`. */
function mountingOf(reader: Reader, value: Snippet, item: Item): Entry {
  const match = /^([\d.,]*\d)\s*(mm|cm|m|inch|in|")(?![\p{L}\p{N}])(?:\s+(?:from|to|off)\s+(.+))?/iu.exec(value.text);
  const distanceMm = match ? distanceOf(match[1] ?? '', (match[2] ?? '').toLowerCase()) : null;
  if (!match || distanceMm === null) {
    report(reader, item.spot, 'warning', 'mounting-unclear', {
      found: `"${short(value.text)}"`,
      expected: 'a distance and what from, such as 22 cm from seat-belt bolt',
      advice: 'The line is kept as a remark.',
    });
    return remark(reader, item);
  }
  if (distanceMm > farthestMm) {
    report(reader, value, 'warning', 'mounting-implausible', {
      found: `A mounting "${short(value.text)}" away`,
      expected: 'at most 10 m',
      advice: `${/^m$/i.test(match[2] ?? '') ? `Did you mean ${match[1] ?? ''} cm? ` : ''}The line is kept as a remark and counts for no distance.`,
    });
    return remark(reader, item);
  }
  const { photos, rest } = takePhotos(reader, value);
  return { type: 'mounting', text: item.text, spot: item.spot, origin: { kind: 'fact' }, photos: [...item.pictures, ...photos], words: rest.text, distanceMm, of: (match[3] ?? 'a mounting').split(/\.(?=\s|$)/)[0]?.trim() ?? 'a mounting' };
}

/** `expected: 9 plugs`. */
function expectedOf(reader: Reader, value: Snippet, item: Item): Entry {
  const match = /^(\d{1,3})\s+([^.]+)/.exec(value.text);
  const subject = match ? subjectOf(reader.lexicon, match[2] ?? '') : null;
  if (!match || !subject) {
    report(reader, item.spot, 'warning', 'count-unclear', {
      found: `"${short(value.text)}"`,
      expected: 'a number and a kind of opening, such as 9 plugs',
      advice: 'The line is kept as a remark.',
    });
    return remark(reader, item);
  }
  const place = subject.abouts[0]?.place ?? '';
  return { type: 'count', text: item.text, spot: item.spot, origin: { kind: 'fact' }, photos: item.pictures, words: splitValue(value).rest.text, part: subject.part.id, place, expected: Number(match[1]), counts: [], looked: lookedIn(reader, '') };
}
