import type { Spread, Work } from '../model/notes.ts';
import { dateText, listText } from '../units.ts';

/** "Wash out, dry, wax. Written as done on 2 May 2026: waxed, J. Arden." */
export function workText(works: readonly Work[]): string {
  return works.map((work) => [sentence(work.steps), ...work.done.map(doneText)].join(' ')).join(' ');
}

function doneText(done: Work['done'][number]): string {
  const when = done.date ? `done on ${dateText(done.date)}` : 'done, no date written';
  return sentence([`Written as ${when}`, listText(done.details)].filter((part) => part !== '').join(': '));
}

/** Hours still to be worked, summed; null where none are written or all is done. */
export function hoursLeft(works: readonly Work[]): Spread | null {
  return sumHours(works.filter((work) => work.done.length === 0).map((work) => work.hours));
}

/** Sum of spreads, bound by bound; null where there is none to sum. */
export function sumHours(all: readonly (Spread | null)[]): Spread | null {
  const hours = all.filter((one) => one !== null);
  if (hours.length === 0) return null;
  return hours.reduce((sum, one) => ({
    low: neat(sum.low + one.low),
    likely: neat(sum.likely + one.likely),
    high: neat(sum.high + one.high),
    judged: sum.judged && one.judged,
  }));
}

/** Without the dust of binary fractions. */
function neat(hours: number): number {
  return Math.round(hours * 1e4) / 1e4;
}

/** First letter large, full stop at the end. */
export function sentence(text: string): string {
  const trimmed = text.trim();
  if (trimmed === '') return '';
  return trimmed.charAt(0).toUpperCase() + trimmed.slice(1) + (/[.!?]$/.test(trimmed) ? '' : '.');
}
