import type { Money, Spread } from '../../model/notes.ts';

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

const figure = String.raw`\d+(?:[.,]\d+)?`;
const hoursPattern = new RegExp(String.raw`(${figure})(?:\s*([-–/])\s*(${figure}))?(?:\s*\/\s*(${figure}))?\s*(?:h|hr|hrs|hours?)\b`, 'i');

/** Hours in a text: `2-3 h` low and high, `2/2.5/4 h` low, likely, high, `2 h` with the judged spread −20 % +40 % (our judgement). */
export function typedHours(text: string): Spread | null {
  const match = hoursPattern.exec(text);
  if (!match) return minutesIn(text);
  const [first, second, third] = [match[1], match[3], match[4]].map((one) => (one === undefined ? null : Number(one.replace(',', '.'))));
  if (first === null || first === undefined) return null;
  if (second === null || second === undefined) return { low: neat(first * 0.8), likely: first, high: neat(first * 1.4), judged: true };
  if (third === null || third === undefined) return { low: first, likely: neat((first + second) / 2), high: second, judged: false };
  return { low: first, likely: second, high: third, judged: false };
}

/** `90 min` as hours. */
function minutesIn(text: string): Spread | null {
  const minutes = /(?<![\d.,])(\d{1,3})(?:\s*[-–]\s*(\d{1,3}))?\s*min(?:utes?|s)?\b/i.exec(text);
  if (!minutes) return null;
  const [low, high] = [Number(minutes[1]) / 60, minutes[2] === undefined ? null : Number(minutes[2]) / 60];
  return high === null ? { low: neat(low * 0.8), likely: neat(low), high: neat(low * 1.4), judged: true } : { low: neat(low), likely: neat((low + high) / 2), high: neat(high), judged: false };
}

/** Without the dust of binary fractions. */
function neat(value: number): number {
  return Math.round(value * 1e4) / 1e4;
}

/** True where the three stand in order. */
export function inOrder(spread: Spread): boolean {
  return spread.low <= spread.likely && spread.likely <= spread.high;
}

const signs: Record<string, string> = { '€': 'EUR', '£': 'GBP', '¥': 'JPY', euro: 'EUR', pound: 'GBP' };
/** A dollar sign names a currency only where the job's own is a dollar. */
const dollars = ['USD', 'CAD', 'AUD', 'NZD', 'SGD', 'HKD', 'TWD', 'NAD', 'FJD', 'JMD', 'BBD', 'BSD', 'BZD', 'TTD', 'XCD'];
const moneyPattern = /(?:\b([A-Z]{3})\s?|([€£¥$])\s?)(\d[\d.,]*\d|\d)|(\d[\d.,]*\d|\d)\s?(?:([A-Z]{3})\b|([€£¥$])|(euro|pound|dollar)s?\b)/;

/**
 * Money in a text: `EUR 1.90`, `1.90 EUR`, `€1.90`, or a bare `1.90` where `bare` allows it, then in the job's currency.
 * Minor units by ISO 4217 decimals. With no currency at all the amount stays as text: unpriced.
 */
export function typedMoney(text: string, currency: string | null, bare: boolean): Money | null {
  const match = moneyPattern.exec(text);
  const plainNumber = bare && !match ? /(?<![\d.,])(\d[\d.,]*\d|\d)(?![\d.,]*\s?(?!each\b|per\b|a piece\b|together\b)[a-z%])/i.exec(text) : null;
  const amount = match ? (match[3] ?? match[4]) : plainNumber?.[1];
  if (amount === undefined) return null;
  const sign = match?.[2] ?? match?.[6] ?? match?.[7] ?? '';
  const dollar = sign === '$' || sign === 'dollar';
  const own = dollar && !(currency !== null && dollars.includes(currency)) ? null : currency;
  const code = match?.[1] ?? match?.[5] ?? signs[sign] ?? own;
  const value = typedNumber(amount, true);
  if (!value.ok) return null;
  if (code === null) return { minor: minorOf(value.value, 2), currency: null, text: match?.[0] ?? amount };
  const digits = decimalsOf(code);
  if (digits === null) return null;
  return { minor: minorOf(value.value, digits), currency: code, text: `${(match ?? plainNumber)?.[0] ?? amount}${rangeAfter(text, match ?? plainNumber)}` };
}

/** `-30` of `£20-30`: the price is shown as written, and counts by its lower end until costs are worked out as ranges. */
function rangeAfter(text: string, match: RegExpExecArray | null): string {
  const after = match ? text.slice(match.index + match[0].length) : '';
  return /^\s?(?:[-–]|to)\s?[€£¥$]?\d[\d.,]*\d?/.exec(after)?.[0] ?? '';
}

/** Whole minor units, halves up, without the dust of binary fractions: 1.005 with two decimals is 101. */
function minorOf(value: number, digits: number): number {
  return Math.round(Number(`${value}e${digits}`));
}

/** Minor units other than 2, ISO 4217 list one of 2024-06-25. The runtime's own are those of CLDR, which leave HUF and others without. */
const decimals: Record<string, readonly string[]> = {
  0: ['BIF', 'CLP', 'DJF', 'GNF', 'ISK', 'JPY', 'KMF', 'KRW', 'PYG', 'RWF', 'UGX', 'UYI', 'VND', 'VUV', 'XAF', 'XOF', 'XPF'],
  3: ['BHD', 'IQD', 'JOD', 'KWD', 'LYD', 'OMR', 'TND'],
  4: ['CLF', 'UYW'],
};

/** Decimals of an ISO 4217 currency; null for a code neither this table nor the runtime lists. */
function decimalsOf(code: string): number | null {
  const digits = Object.keys(decimals).find((key) => decimals[key]?.includes(code));
  if (digits !== undefined) return Number(digits);
  return Intl.supportedValuesOf('currency').includes(code) ? 2 : null;
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
