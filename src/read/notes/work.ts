import type { Entry, Money, Note, PartWanted, Spread, Work, WorkDone } from '../../model/notes.ts';
import { plain } from './lexicon.ts';
import { takePhotos } from './mentions.ts';
import { checkMoney, findMoney, pieceOfMoney, typedMoney } from './money.ts';
import { inOrder, isDate, typedHours } from './numbers.ts';
import type { Item, Reader } from './reader.ts';
import { report, short } from './reader.ts';
import { splitValue } from './finding.ts';
import { kindsIn } from '../../model/works.ts';
import { timesOf } from './work-hours.ts';
import type { Snippet } from './source.ts';
import { split } from './source.ts';

/** `do: wash out, dry, wax. 2-3 h, EUR 80`. */
export function workOf(reader: Reader, value: Snippet, item: Item): Work {
  const { first, rest } = splitValue(value);
  const tail = takePhotos(reader, rest);
  const times = timesOf(reader, value);
  const base = { text: item.text, spot: item.spot, origin: { kind: 'fact' as const }, photos: [...item.pictures, ...tail.photos], words: tail.rest.text };
  const cost = costOf(reader, rest, times.hours ?? times.waits);
  checkMoney(reader, rest, cost);
  return { ...base, type: 'work', steps: first.text, kinds: kindsIn(reader.catalogue, `${first.text}. ${tail.rest.text}`).map((kind) => kind.id), ...times, cost, parts: [], done: [] };
}

/** An amount with a currency anywhere after the steps, or a bare one that is a piece by itself: `2 h, 35`; a bare range only beside hours, since it could be those. */
function costOf(reader: Reader, rest: Snippet, hours: Spread | null): Money | null {
  const currency = reader.settings.currency ?? null;
  const marked = typedMoney(rest.text, currency, false);
  if (marked) return marked;
  const alone = split(rest, /[,;]\s+|\.(?=\s|$)/g).filter((piece) => hours !== null || !/\d\s?(?:[-–/]|to)\s?\d/.test(piece.text));
  return alone.map((piece) => pieceOfMoney(piece.text, currency)).find((money) => money !== null) ?? null;
}

/** `per litre`: such a price says nothing of what one costs. */
const perMeasure = /^\s*(?:\/|per|an?)\s*(litre|liter|l|ml|metre|meter|m|cm|kg|g|pack|packet|box|pair|set|roll|sheet|dozen|hundred|100)\b/i;

/** `part: plug 25 mm x 4, 1.90 each`. */
function partOfWork(reader: Reader, value: Snippet, item: Item): PartWanted {
  const count = /(?:^|\s)[x×]\s?(\d{1,4})\b/i.exec(value.text) ?? /^(\d{1,4})\s?[x×](?=\s)/i.exec(value.text);
  const bare = count ? value.text.replace(count[0], ' ') : value.text;
  const pieces = bare.split(/[,;]\s+|\s+(?:at|@)\s+(?=[€£¥$\d]|[A-Z]{3}\s?\d)/).map((piece) => piece.trim()).filter((piece) => piece !== '');
  const priced = pieces.findLastIndex((piece, index) => index > 0 && typedMoney(piece, reader.settings.currency ?? null, true) !== null);
  const found = priced < 0 ? null : findMoney(pieces[priced] ?? '', reader.settings.currency ?? null, true);
  const measure = perMeasure.exec(found?.after ?? '')?.[1];
  const price = found && measure !== undefined ? { ...found.money, flaw: `it is for a ${measure}, not for each` } : (found?.money ?? null);
  const name = pieces.filter((_, index) => index !== priced).join(', ').replace(/\s+/g, ' ').replace(/\.$/, '');
  const size = /\b\d+(?:[.,]\d+)?\s?(?:mm|cm|in|l|ml|kg|m|m²)\b/.exec(name)?.[0] ?? null;
  checkMoney(reader, value, price);
  if (measure !== undefined) {
    report(reader, value, 'warning', 'price-unit-unclear', { found: `A price for a ${measure} in "${short(value.text)}"`, expected: 'the price of each', advice: 'Write what one of them costs; it counts as unpriced until then.' });
  }
  const together = /^\s*(?:together|in all|in total|altogether|for (?:all|both))\b/i.test(found?.after ?? '');
  return { text: item.text, spot: item.spot, name, size, count: Number(count?.[1] ?? 1), price, together };
}

/** `done: 2026-05-02, waxed, J. Arden, batch 4411, 1.5 h`. */
function doneOf(reader: Reader, value: Snippet, item: Item, work: Work): WorkDone {
  const pieces = split(value, /,\s+/g);
  const first = pieces[0];
  const date = first && isDate(first.text) && first.text.length === 10 ? first.text : null;
  if (date === null) {
    report(reader, first ?? item.spot, 'warning', 'date-unclear', {
      found: first ? `"${short(first.text)}"` : 'No date',
      expected: 'a date such as 2026-05-02 first',
      advice: 'Write year-month-day; until then the work counts as done at an unknown date.',
    });
  }
  const details = pieces.slice(date === null ? 0 : 1).map((piece) => piece.text);
  const hours = details.map(typedHours).find((one) => one !== null) ?? null;
  const cost = typedMoney(details.join(', '), reader.settings.currency ?? null, false);
  // A batch or a type may look like a currency; only what is money is looked at.
  if (cost) checkMoney(reader, value, cost);
  const own = kindsIn(reader.catalogue, details.join(', ')).map((kind) => kind.id);
  return { text: item.text, spot: item.spot, date, details, hours: hours && inOrder(hours) ? asFact(hours) : null, cost, kinds: own.length > 0 ? own : work.kinds };
}

/** Hours that were worked are what was written, without the spread judged for hours still to come. */
function asFact(hours: Spread): Spread {
  return hours.judged ? { low: hours.likely, likely: hours.likely, high: hours.likely, judged: false } : hours;
}

const noteKeys = ['again', 'ask', 'kept', 'invoice', 'baseline', 'was'] as const;

/** `again: 2026-10`, `ask: …`, `kept: …` and the like; null for another key. */
export function noteOf(reader: Reader, key: string, value: Snippet, item: Item): Note | null {
  const known = noteKeys.find((one) => one === plain(key));
  if (!known) return null;
  if (known === 'again' && !isDate(value.text.split(/[\s,.]/)[0] ?? '')) {
    report(reader, value, 'warning', 'date-unclear', {
      found: `"${short(value.text)}"`,
      expected: 'a month or day to look again, such as 2026-10',
      advice: 'The words are kept; no date to look again is set.',
    });
  }
  const { photos } = takePhotos(reader, value);
  return { type: 'note', key: known, text: item.text, spot: item.spot, origin: { kind: 'fact' }, photos: [...item.pictures, ...photos], words: value.text };
}

/** Puts `part:`, `done:` and `was:` where they belong: to the work or finding before them. True where that was done. */
export function attachToWork(reader: Reader, key: string, value: Snippet, item: Item, before: readonly Entry[]): boolean {
  const word = plain(key);
  if (word !== 'part' && word !== 'done') return false;
  const last = before.findLast((entry) => entry.type === 'work' || (entry.type === 'finding' && entry.work.length > 0));
  const work = last?.type === 'work' ? last : last?.type === 'finding' ? last.work.at(-1) : undefined;
  if (!work) {
    report(reader, item.spot, 'warning', 'work-missing', {
      found: `"${word}:" with no work above it`,
      expected: 'a "do:" line first',
      advice: 'Add a "do:" line above; the line is kept as a remark.',
    });
    return false;
  }
  if (word === 'part') work.parts.push(partOfWork(reader, value, item));
  else work.done.push(doneOf(reader, value, item, work));
  work.photos.push(...item.pictures);
  return true;
}
