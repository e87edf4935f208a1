import type { Spread } from '../../model/notes.ts';
import { hoursIn } from './hours.ts';

/** A number as people type it, or why it cannot be told. */
export type Typed = { ok: true; value: number } | { ok: false; why: string };

/**
 * Reads a number with a decimal point or comma. A comma is decimal when one or two digits follow; with three it is a
 * thousands mark where `thousands` says that the unit makes it sensible, decimal behind a leading zero, else undecided.
 */
export function typedNumber(text: string, thousands: boolean): Typed {
  const clean = text.replace(/(\d) (?=\d{3}(\D|$))/g, '$1');
  if (/^[-−]?\d{1,3}(,\d{3})+(\.\d+)?$/.test(clean)) {
    if (/^[-−]?0,/.test(clean)) return { ok: true, value: Number(clean.replace(',', '.').replace('−', '-')) };
    if (thousands) return { ok: true, value: Number(clean.replaceAll(',', '').replace('−', '-')) };
    return { ok: false, why: `"${text}" can be a decimal or a thousands mark` };
  }
  if (/^[-−]?\d*[.,]?\d+$/.test(clean)) return { ok: true, value: Number(clean.replace(',', '.').replace('−', '-')) };
  return { ok: false, why: `"${text}" is no number` };
}

/** Smallest step of a figure as typed: 0.01 of "0.62", 1 of "480" and of "1,250" with a mark of thousands. */
export function stepTyped(text: string, thousands: boolean): number {
  const marked = thousands && /^[-−]?\d{1,3}(,\d{3})+$/.test(text) && !/^[-−]?0,/.test(text);
  const decimals = marked ? 0 : (/[.,](\d+)$/.exec(text)?.[1]?.length ?? 0);
  return Number(`1e-${decimals}`);
}

/** The first time in a text, hours before minutes; see `hoursIn` for its forms. Null where there is none. */
export function typedHours(text: string): Spread | null {
  const all = hoursIn(text);
  const first = all.find(({ from, to }) => !/min/i.test(text.slice(from, to))) ?? all[0];
  return first?.hours ?? null;
}

/** True where the three stand in order. */
export function inOrder(spread: Spread): boolean {
  return spread.low <= spread.likely && spread.likely <= spread.high;
}

/** True for `2026-10`, `2026-10-03`, `2026` that name a real date. */
export function isDate(text: string): boolean {
  const match = /^(\d{4})(?:-(\d{2})(?:-(\d{2}))?)?$/.exec(text);
  if (!match) return false;
  const [year, month, day] = [Number(match[1]), Number(match[2] ?? 1), Number(match[3] ?? 1)];
  const date = new Date(Date.UTC(year, month - 1, day));
  return date.getUTCMonth() === month - 1 && date.getUTCDate() === day;
}

const small = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten', 'eleven', 'twelve'];

/** A count in digits or words up to twelve, else null. */
export function typedCount(text: string): number | null {
  if (/^\d{1,3}$/.test(text)) return Number(text);
  const index = small.indexOf(text.toLowerCase());
  return index >= 0 ? index : null;
}
