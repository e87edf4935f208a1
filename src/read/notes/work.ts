import type { Entry, Money, Note, PartWanted, Work, WorkDone } from '../../model/notes.ts';
import { plain } from './lexicon.ts';
import { takePhotos } from './mentions.ts';
import { inOrder, isDate, typedHours, typedMoney } from './numbers.ts';
import type { Item, Reader } from './reader.ts';
import { report, short } from './reader.ts';
import { splitValue } from './finding.ts';
import type { Snippet } from './source.ts';
import { split } from './source.ts';

/** `do: wash out, dry, wax. 2-3 h, EUR 80`. */
export function workOf(reader: Reader, value: Snippet, item: Item): Work {
  const { first, rest } = splitValue(value);
  const tail = takePhotos(reader, rest);
  const hours = typedHours(value.text);
  if (hours && !inOrder(hours)) {
    report(reader, value, 'warning', 'hours-reversed', {
      found: `Hours that run backwards in "${short(value.text)}"`,
      expected: 'low-high or low/likely/high',
      advice: 'Write the smaller number first; no hours are counted until then.',
    });
  }
  const base = { text: item.text, spot: item.spot, origin: { kind: 'fact' as const }, photos: [...item.pictures, ...tail.photos], words: tail.rest.text };
  const cost = costOf(reader, rest);
  checkMoney(reader, rest, cost);
  return { ...base, type: 'work', steps: first.text, hours: hours && inOrder(hours) ? hours : null, cost, parts: [], done: [] };
}

/** An amount with a currency anywhere after the steps, or a bare one that is a piece by itself: `2 h, 35`. */
function costOf(reader: Reader, rest: Snippet): Money | null {
  const currency = reader.settings.currency ?? null;
  const marked = typedMoney(rest.text, currency, false);
  if (marked) return marked;
  const alone = split(rest, /[,;]\s+|\.(?=\s|$)/g).find((piece) => /^\d+(?:[.,]\d+)?$/.test(piece.text));
  return alone ? typedMoney(alone.text, currency, true) : null;
}

function checkMoney(reader: Reader, at: Snippet, cost: Money | null): void {
  const code = /(?<![\p{L}])([A-Z]{3})\s?\d|\d\s?([A-Z]{3})(?![\p{L}])/u.exec(at.text);
  const written = code?.[1] ?? code?.[2];
  if (cost === null && written && !/^(IMG|DSC|PXL|MM|PCS)$/.test(written)) {
    report(reader, at, 'warning', 'currency-unknown', {
      found: `"${written}" with an amount`,
      expected: 'a currency code of ISO 4217 such as EUR or GBP',
      advice: 'The amount is kept in your words and counts as unpriced.',
    });
  }
  if (cost !== null && cost.currency === null && /\$|dollar/.test(cost.text)) {
    report(reader, at, 'note', 'price-without-currency', {
      found: `"${cost.text}", and a dollar may be of many countries`,
      expected: 'a code such as USD or CAD, in the line or in sillbook.json',
      advice: 'It is shown as unpriced, never as zero.',
    });
  } else if (cost !== null && cost.currency === null) {
    report(reader, at, 'note', 'price-without-currency', {
      found: `An amount of ${cost.text} without a currency`,
      expected: 'a currency in the line or in sillbook.json',
      advice: 'It is shown as unpriced, never as zero.',
    });
  }
}

/** `part: plug 25 mm x 4, 1.90 each`. */
export function partOfWork(reader: Reader, value: Snippet, item: Item): PartWanted {
  const count = /(?:^|\s)[x×]\s?(\d{1,4})\b/i.exec(value.text) ?? /^(\d{1,4})\s?[x×](?=\s)/i.exec(value.text);
  const bare = count ? value.text.replace(count[0], ' ') : value.text;
  const pieces = bare.split(/[,;]\s+|\s+(?:at|@)\s+(?=[€£¥$\d]|[A-Z]{3}\s?\d)/).map((piece) => piece.trim()).filter((piece) => piece !== '');
  const priced = pieces.findLastIndex((piece, index) => index > 0 && typedMoney(piece, reader.settings.currency ?? null, true) !== null);
  const price = priced < 0 ? null : typedMoney(pieces[priced] ?? '', reader.settings.currency ?? null, true);
  const name = pieces.filter((_, index) => index !== priced).join(', ').replace(/\s+/g, ' ').replace(/\.$/, '');
  const size = /\b\d+(?:[.,]\d+)?\s?(?:mm|cm|in|l|ml|kg|m|m²)\b/.exec(name)?.[0] ?? null;
  checkMoney(reader, value, price);
  return { text: item.text, spot: item.spot, name, size, count: Number(count?.[1] ?? 1), price };
}

/** `done: 2026-05-02, waxed, J. Arden, batch 4411, 1.5 h`. */
export function doneOf(reader: Reader, value: Snippet, item: Item): WorkDone {
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
  return { text: item.text, spot: item.spot, date, details: pieces.slice(date === null ? 0 : 1).map((piece) => piece.text) };
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
  else work.done.push(doneOf(reader, value, item));
  work.photos.push(...item.pictures);
  return true;
}
