import type { Meta, Notes, Seen, ViewPhoto } from '../../model/notes.ts';
import type { ClockCorrection } from '../../model/photo.ts';
import { didYouMean, nearest, plain } from './lexicon.ts';
import { takePhotos } from './mentions.ts';
import { isDate } from './numbers.ts';
import type { Item, Reader } from './reader.ts';
import { report, short } from './reader.ts';
import type { Snippet } from './source.ts';

/** Keys the dossier knows by name; any other key is kept and shown as written. */
const knownKeys = {
  car: ['car', 'built', 'body', 'doors', 'identity', 'kept', 'winter salt', 'mileage', 'registration', 'colour', 'owner', 'history', 'engine'],
  visit: ['seen', 'place', 'by', 'interest', 'for', 'paid by', 'tools', 'clock', 'asked', 'rely', 'light', 'temperature', 'weather', 'hours', 'wheels'],
  rates: ['labour', 'labor', 'tax', 'vat', 'rounding'],
} as const;

/** One `key: value` line of Car, Visit or Rates; the value runs to the end of the item, full stops included. */
export function takeMeta(reader: Reader, notes: Notes, into: 'car' | 'visit' | 'rates', key: string, value: Snippet, item: Item): void {
  const word = plain(key);
  const pictures = item.pictures.flatMap((photo) => [photo.alt, photo.text]).filter((words) => words !== '');
  const meta: Meta = { key: word, text: [value.text, ...pictures].filter((words) => words !== '').join(' '), spot: item.spot };
  if (into === 'visit' && word.startsWith('view ')) {
    const view = viewOf(reader, word.slice(5), value, item);
    if (view) notes.views.push(view);
    else notes.visit.push(meta);
    return;
  }
  notes[into].push(meta);
  if (meta.text === '') {
    report(reader, item.spot, 'note', 'value-missing', { found: `Nothing after "${word}:"`, expected: 'a value', advice: 'Fill it in or take the line out.' });
    return;
  }
  if (into === 'visit' && word === 'seen') notes.seen = seenOf(reader, value, item) ?? notes.seen;
  else if (into === 'visit' && word === 'clock') {
    const clock = clockOf(reader, value, item);
    if (clock) notes.clocks.push(clock);
  } else if (into === 'car' && word === 'built') checkBuilt(reader, value);
  else checkKey(reader, into, word, item);
}

function checkKey(reader: Reader, into: keyof typeof knownKeys, word: string, item: Item): void {
  const keys: readonly string[] = knownKeys[into];
  if (keys.includes(word) || nearest(word, keys).length === 0) return;
  report(reader, item.spot, 'note', 'key-unknown', {
    found: `"${short(word)}:"`,
    expected: `one of ${keys.join(', ')}`,
    advice: `${didYouMean(word, keys)} The line is kept and shown as written.`,
  });
}

function checkBuilt(reader: Reader, value: Snippet): void {
  const year = Number(/\b(\d{4})\b/.exec(value.text)?.[1] ?? Number.NaN);
  if (year >= 1880 && year <= 2200) return;
  report(reader, value, 'warning', 'built-unclear', {
    found: `"${short(value.text)}"`,
    expected: 'a year such as 1971',
    advice: 'Without it, photo dates are not checked against the age of the car.',
  });
}

/** `2026-03-14 10:00-11:45, Europe/Dublin`. */
function seenOf(reader: Reader, value: Snippet, item: Item): Seen | null {
  const match = /^(\d{4}-\d{2}-\d{2})(?:[\s,T]+(\d{1,2}:\d{2})(?:\s*(?:-|–|to)\s*(\d{1,2}:\d{2}))?)?(?:[\s,]+(.+?))?$/.exec(value.text);
  if (!match || !isDate(match[1] ?? '')) {
    report(reader, value, 'warning', 'seen-unclear', {
      found: `"${short(value.text)}"`,
      expected: 'a date, hours and time zone such as 2026-03-14 10:00-11:45, Europe/Dublin',
      advice: 'Write year-month-day first; until then the visit has no date.',
    });
    return null;
  }
  const zone = match[4]?.trim() ?? null;
  const known = zone !== null && isTimeZone(zone);
  if (zone !== null && !known) {
    report(reader, value, 'warning', 'time-zone-unknown', {
      found: `"${short(zone)}"`,
      expected: 'a time zone by its name in the IANA list, such as Europe/Dublin or America/New_York',
      advice: 'Times of cameras that write no offset stay without one until then.',
    });
  }
  const clock = (text: string | undefined): string | null => (text === undefined ? null : text.padStart(5, '0'));
  return { date: match[1] ?? '', from: clock(match[2]), to: clock(match[3]), timeZone: known ? zone : null, spot: item.spot };
}

function isTimeZone(name: string): boolean {
  try {
    new Intl.DateTimeFormat('en', { timeZone: name });
    return /^[A-Za-z]+(\/[A-Za-z0-9_+-]+)+$|^UTC$/.test(name);
  } catch {
    return false;
  }
}

/** `scope +1:13:20`: the camera's clock runs fast by that much; `-` where it runs slow. */
function clockOf(reader: Reader, value: Snippet, item: Item): ClockCorrection | null {
  const match = /^(.+?)\s+([+\-−–])\s?(\d{1,4}):(\d{2})(?::(\d{2}))?$/.exec(value.text);
  if (!match || Number(match[4]) > 59 || Number(match[5] ?? 0) > 59) {
    report(reader, value, 'warning', 'clock-unclear', {
      found: `"${short(value.text)}"`,
      expected: 'a camera word and how far its clock runs fast, such as scope +1:13:20',
      advice: 'No photo time is corrected until then.',
    });
    return null;
  }
  const seconds = Number(match[3]) * 3600 + Number(match[4]) * 60 + Number(match[5] ?? 0);
  return { camera: (match[1] ?? '').toLowerCase(), aheadSeconds: match[2] === '+' ? seconds : -seconds, spot: item.spot };
}

/** `view front: IMG_4001`. */
export function viewOf(reader: Reader, words: string, value: Snippet, item: Item): ViewPhoto | null {
  const view = reader.lexicon.views.get(plain(words));
  const { photos } = takePhotos(reader, value);
  const photo = item.pictures[0] ?? photos[0] ?? (value.text === '' ? undefined : { text: value.text, alt: '', spot: item.spot });
  if (view && photo) return { view: view.id, photo, text: item.text, spot: item.spot };
  const names = [...new Set([...reader.lexicon.views.values()].map((one) => one.name.gb))];
  report(reader, item.spot, 'warning', 'view-unknown', {
    found: view ? `No photo in "${short(item.text)}"` : `"view ${short(words)}"`,
    expected: view ? 'a photo such as IMG_4001' : `one of ${names.join(', ')}`,
    advice: didYouMean(words, reader.lexicon.views.keys()) || 'The line is kept as written.',
  });
  return null;
}
