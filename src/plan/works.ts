import type { Spread, Work } from '../model/notes.ts';
import type { ZoneInspection } from '../model/inspection.ts';
import { dateText, listText } from '../units.ts';

/** All work written in a zone, once each, in the order it was written: under a finding, or by itself. */
export function worksOf(zone: ZoneInspection): Work[] {
  const nested = [...zone.rows.flatMap((row) => row.findings), ...zone.observations.map((one) => one.finding)].flatMap((finding) => finding.work);
  const once = new Map([...zone.work, ...nested].map((work) => [workKey(work), work]));
  return [...once.values()].sort((a, b) => (a.spot.line ?? 0) - (b.spot.line ?? 0) || (a.spot.column ?? 0) - (b.spot.column ?? 0));
}

/** What tells two works apart: where they stand, and their words. One finding may stand for several openings. */
export function workKey(work: Work): string {
  return `${work.spot.file}:${work.spot.line ?? 0}:${work.spot.column ?? 0}:${work.steps}`;
}

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
    low: sum.low + one.low,
    likely: sum.likely + one.likely,
    high: sum.high + one.high,
    judged: sum.judged && one.judged,
  }));
}

/** First letter large, full stop at the end. */
export function sentence(text: string): string {
  const trimmed = text.trim();
  if (trimmed === '') return '';
  return trimmed.charAt(0).toUpperCase() + trimmed.slice(1) + (/[.!?]$/.test(trimmed) ? '' : '.');
}
