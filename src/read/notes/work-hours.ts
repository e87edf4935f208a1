import type { WorkKind } from '../../model/catalogue.ts';
import type { Spread, Work } from '../../model/notes.ts';
import { kindsIn } from '../../model/works.ts';
import { listText } from '../../units.ts';
import { hoursIn, hoursInWords, hoursSum } from './hours.ts';
import type { HoursAt } from './hours.ts';
import { inOrder } from './numbers.ts';
import type { Reader } from './reader.ts';
import { report, short } from './reader.ts';
import type { Snippet } from './source.ts';
import { part } from './source.ts';

/** More than a year of one person's work: a slip of the pen. Our judgement. */
const mostHours = 2000;

type Times = Pick<Work, 'hours' | 'waits' | 'split'>;

/** A time with the kinds of work it stands for. */
interface Share {
  kinds: WorkKind[];
  hours: Spread;
}

/**
 * The hours of a line of work. One time stands for the whole line, several for the words each follows or, where the
 * line begins with a time, precedes. What cannot be counted gets a notice, and then no hours of the line count. Of work
 * that is done a single time is a fact, without the spread judged for work to come.
 */
export function timesOf(reader: Reader, value: Snippet, done = false): Times {
  const all = hoursIn(value.text).map((time) => (done && time.hours.judged ? { ...time, hours: asFact(time.hours) } : time));
  reportWords(reader, value, all);
  const times = all.filter((time) => !time.total);
  const total = all.find((time) => time.total);
  const counted = times.length > 0 ? times : total ? [total] : [];
  if (!counted.every((time) => isUsable(reader, value, time)) || counted.length === 0) return { hours: null, waits: null, split: [] };
  const shares = sharesOf(reader, value.text, counted);
  const paid = shares.filter((share) => !isWait(share.kinds));
  const every = kindsIn(reader.catalogue, value.text).filter((kind) => !kind.waits);
  const whole = paid.length === 1 && every.every((kind) => paid[0]?.kinds.includes(kind));
  const made: Times = {
    hours: hoursSum(paid.map((share) => share.hours)),
    waits: hoursSum(shares.filter((share) => isWait(share.kinds)).map((share) => share.hours)),
    split: whole ? [] : paid.map(({ kinds, hours }) => ({ kinds: kinds.map((kind) => kind.id), hours })),
  };
  if (made.hours && made.hours.high > mostHours) {
    unlikely(reader, value, value.text);
    return { hours: null, waits: null, split: [] };
  }
  if (times.length > 0 && total) checkTotal(reader, value, total, made);
  reportPartial(reader, value, made);
  return made;
}

function asFact({ likely }: Spread): Spread {
  return { low: likely, likely, high: likely, judged: false };
}

/** Only waiting: "dry 24 h". */
function isWait(kinds: readonly WorkKind[]): boolean {
  return kinds.length > 0 && kinds.every((kind) => kind.waits);
}

/**
 * What each time stands for. One by itself, "wash out, wax. 2-3 h", is for the whole line; one beside what waits, "dry
 * 24 h", for that alone; else the words before it back to the last time, or those behind it where a step begins with it.
 */
function sharesOf(reader: Reader, text: string, times: readonly HoursAt[]): Share[] {
  const kindsBetween = (from: number, to: number): WorkKind[] => kindsIn(reader.catalogue, text.slice(from, to));
  const pieces = times.map(({ from, to }) => pieceAround(text, from, to));
  const owns = pieces.map((piece) => kindsBetween(piece.from, piece.to));
  const single = owns.filter((own) => !isWait(own)).length === 1;
  let told = 0;
  return times.map(({ hours, from, to }, at) => {
    const [own, piece] = [owns[at] ?? [], pieces[at] ?? { from, to }];
    if (isWait(own)) return { kinds: own, hours };
    const behind = Math.min(piece.to, times[at + 1]?.from ?? piece.to);
    const leads = /^\W*$/.test(text.slice(Math.max(piece.from, told), from)) && kindsBetween(from, behind).length > 0;
    const kinds = single && (leads || own.length === 0) ? kindsBetween(0, text.length) : leads ? kindsBetween(from, behind) : kindsBetween(told, to);
    told = leads ? behind : to;
    return { kinds: isWait(kinds) ? kinds : kinds.filter((kind) => !kind.waits), hours };
  });
}

/** Characters to which a step is looked for on each side of its time: nobody types a longer one. */
const stepLength = 200;

/** The stretch between commas or full stops around another. */
function pieceAround(text: string, from: number, to: number): { from: number; to: number } {
  let start = from;
  while (start > 0 && from - start < stepLength && !(/\s/.test(text[start - 1] ?? '') && /[,;.]/.test(text[start - 2] ?? ''))) start -= 1;
  const after = /[,;]\s|\.(?:\s|$)/.exec(text.slice(to, to + stepLength));
  return { from: start, to: after ? to + after.index : Math.min(text.length, to + stepLength) };
}

function isUsable(reader: Reader, value: Snippet, time: HoursAt): boolean {
  const typed = value.text.slice(time.from, time.to);
  const at = part(value, time.from, time.to);
  const rest = 'no hours of this line are counted until then.';
  if (time.unclear) {
    report(reader, at, 'warning', 'hours-unclear', { found: `"${short(typed)}" can be read in two ways`, expected: 'a decimal such as 0.5 h, low-high, or low/likely/high', advice: `Write it in one of these forms; ${rest}` });
    return false;
  }
  if (time.each) {
    report(reader, at, 'warning', 'hours-unclear', { found: `"${short(typed)}" for each of several`, expected: 'the hours of all together', advice: `Write what they come to; ${rest}` });
    return false;
  }
  if (!inOrder(time.hours)) {
    report(reader, at, 'warning', 'hours-reversed', { found: `Hours that run backwards in "${short(value.text)}"`, expected: 'low-high or low/likely/high', advice: 'Write the smaller number first; no hours are counted until then.' });
    return false;
  }
  if (time.hours.likely <= 0 || time.hours.high > mostHours) {
    unlikely(reader, at, typed);
    return false;
  }
  return true;
}

function unlikely(reader: Reader, at: Snippet, typed: string): void {
  report(reader, at, 'warning', 'hours-unlikely', { found: `Hours in "${short(typed)}"`, expected: 'more than none, and at most 2000 h in one line', advice: 'Write the hours it takes; no hours of this line are counted until then.' });
}

/** "4 h in all" beside times that come to something else: the times count. */
function checkTotal(reader: Reader, value: Snippet, total: HoursAt, made: Times): void {
  const sum = hoursSum([made.hours, made.waits].filter((one) => one !== null));
  if (sum && (Math.abs(sum.likely - total.hours.likely) < 0.01 || Math.abs((made.hours?.likely ?? 0) - total.hours.likely) < 0.01)) return;
  report(reader, part(value, total.from, total.to), 'warning', 'hours-disagree', { found: `"${short(value.text.slice(total.from, total.to))}" in all, beside times that come to something else`, expected: 'a total that is their sum', advice: 'The single times count, not the total.' });
}

/** Kinds of a line for which no time was written although others have one. */
function reportPartial(reader: Reader, value: Snippet, made: Times): void {
  if (made.split.length === 0) return;
  const timed = new Set(made.split.flatMap((share) => share.kinds));
  const left = kindsIn(reader.catalogue, value.text).filter((kind) => !timed.has(kind.id) && !kind.waits);
  if (left.length === 0) return;
  report(reader, value, 'note', 'hours-partial', { found: `No hours for ${listText(left.map((kind) => `"${kind.name.gb}"`))}, beside times for the rest`, expected: 'a time for each, or one for all at the end', advice: 'Only what is written counts.' });
}

/** Words that make a time one of waiting, or a date. */
const waiting = /\b(after|within|every|wait|waits|leave|left|until|again|set|soak|cure|in)\b/i;

function reportWords(reader: Reader, value: Snippet, times: readonly HoursAt[]): void {
  for (const { from, to } of hoursInWords(value.text, times)) {
    const piece = pieceAround(value.text, from, to);
    const words = value.text.slice(piece.from, piece.to);
    if (waiting.test(words) || kindsIn(reader.catalogue, words).some((kind) => kind.waits)) continue;
    const at = part(value, from, to);
    // One a line says it.
    return report(reader, at, 'warning', 'hours-in-words', { found: `"${short(at.text)}"`, expected: 'a number of hours with "h", such as 2-3 h', advice: 'Write it in figures; it is not counted until then.' });
  }
}
