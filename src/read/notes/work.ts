import type { Entry, Money, Note, PartWanted, Spread, Work, WorkDone } from '../../model/notes.ts';
import { doneOf, particulars } from './done.ts';
import { plain } from './lexicon.ts';
import { takePhotos } from './mentions.ts';
import { checkMoney, findMoney, pieceOfMoney, typedMoney } from './money.ts';
import { isDate } from './numbers.ts';
import { addParticular, particularOf } from './particulars.ts';
import type { Item, Reader } from './reader.ts';
import { report, short } from './reader.ts';
import { splitValue } from './finding.ts';
import { kindsIn, kindsInCommon } from '../../model/works.ts';
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

/**
 * Puts `part:` and `done:` where they belong: to the work before them. A `done:` line without one, or one that is not
 * under it and names other kinds of work, is a work of its own that is done. Null where the line is neither, and
 * where it is to be kept as a remark.
 */
export function attachToWork(reader: Reader, key: string, value: Snippet, item: Item, before: readonly Entry[], nested: boolean): Work[] | null {
  const word = plain(key);
  if (word !== 'part' && word !== 'done') return null;
  const work = lastWork(before);
  if (word === 'done') {
    const { done, photos } = doneOf(reader, value, item);
    if (work && (nested || isOf(reader, work, done))) {
      work.done.push(done.kinds.length > 0 ? done : { ...done, kinds: work.kinds });
      work.photos.push(...item.pictures, ...photos);
      return [];
    }
    const steps = [done.did, done.treatments, done.kept.map((kept) => `kept: ${kept}`)].find((one) => one.length > 0)?.join(', ');
    if (steps !== undefined) {
      return [{ type: 'work', text: item.text, spot: item.spot, origin: { kind: 'fact' }, photos: [...item.pictures, ...photos], words: '', steps, kinds: done.kinds, hours: null, waits: null, split: [], cost: null, parts: [], done: [done], unplanned: true }];
    }
  }
  if (word === 'part' && work) {
    work.parts.push(partOfWork(reader, value, item));
    work.photos.push(...item.pictures);
    return [];
  }
  report(reader, item.spot, 'warning', 'work-missing', {
    found: word === 'part' ? '"part:" with no work above it' : '"done:" with no work above it, and no words of what was done',
    expected: word === 'part' ? 'a "do:" line first' : 'what was done, such as "done: 2026-05-02, waxed", or a "do:" line first',
    advice: word === 'part' ? 'Add a "do:" line above; the line is kept as a remark.' : 'Write what was done; the line is kept as a remark.',
  });
  return null;
}

function lastWork(before: readonly Entry[]): Work | undefined {
  const last = before.findLast((entry) => entry.type === 'work' || (entry.type === 'finding' && entry.work.length > 0));
  return last?.type === 'work' ? last : last?.type === 'finding' ? last.work.at(-1) : undefined;
}

/** Whether a `done:` line that is not under a work closes it all the same: phones lose indents. Other kinds of work do not close it. */
function isOf(reader: Reader, work: Work, done: WorkDone): boolean {
  if (work.unplanned) return false;
  return done.kinds.length === 0 || work.kinds.length === 0 || kindsInCommon(reader.catalogue, done.kinds, work.kinds) > 0;
}

/** Keys that mean nothing but a work, so that they are taken right below one without an indent too. */
const plainlyOfWork = new Set(['hands', 'material', 'kind', 'reversible']);

/** `hours: 3 h` under a line of work done that has none of its own. True where it was taken. */
export function attachHours(reader: Reader, key: string, value: Snippet, item: Item, before: readonly Entry[], nested: boolean): boolean {
  const done = nested && /^(?:hours?|time)$/.test(plain(key)) ? lastWork(before)?.done.at(-1) : undefined;
  const { hours } = done && done.hours === null ? timesOf(reader, value, true) : { hours: null };
  if (!done || hours === null) return false;
  done.hours = hours;
  done.lines.push({ text: item.text, spot: item.spot });
  return true;
}

/** Puts `hands:`, `material:`, `invoice:`, `kept:`, `kind:` and the like where they belong: to what was done last, or to the work that is still to do. True where that was done. */
export function attachParticular(key: string, value: string, item: Item, before: readonly Entry[], nested: boolean): boolean {
  const known = particularOf(plain(key));
  const last = before.at(-1);
  const above = last?.type === 'work' || (last?.type === 'finding' && last.work.length > 0);
  const work = lastWork(before);
  if (known === null || !work || !(nested || (above && plainlyOfWork.has(plain(key))))) return false;
  addParticular(work.done.at(-1) ?? (work.particulars ??= particulars()), known, value, { text: item.text, spot: item.spot });
  work.photos.push(...item.pictures);
  return true;
}
