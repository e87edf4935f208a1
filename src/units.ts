import type { Three } from './model/cost.ts';
import { decimalsOf } from './model/currency.ts';
import type { Coverage } from './model/inspection.ts';
import type { Money, Spread } from './model/notes.ts';
import type { TakenAt } from './model/photo.ts';
import type { Amount } from './model/rates.ts';

const months = ['January', 'February', 'March', 'April', 'May', 'June', 'July', 'August', 'September', 'October', 'November', 'December'];

/** "no plugs", "one plug", "4 plugs": a count with its noun, for running text. */
export function countText(count: number, one: string, many: string): string {
  if (count === 0) return `no ${many}`;
  return count === 1 ? `one ${one}` : `${count} ${many}`;
}

/** "a", "a and b", "a, b and c". */
export function listText(items: readonly string[], word: 'and' | 'or' = 'and'): string {
  if (items.length < 2) return items[0] ?? '';
  return `${items.slice(0, -1).join(', ')} ${word} ${items[items.length - 1] ?? ''}`;
}

/** A number without trailing zeros, at most `digits` decimals, never in exponent form for what a car measures. */
export function numberText(value: number, digits = 3): string {
  const text = value.toFixed(digits);
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
}

/**
 * "34 %", "25.5 to 43.7 %", "0.004 %": shares of a surface, finer where they are small, as rust grades part there; what is
 * more than nothing never reads as nothing.
 */
export function percentText(low: number, high: number = low): string {
  const [from, to] = [percentWord(low), percentWord(high)];
  return from === to ? `${from} %` : `${from} to ${to} %`;
}

/** "32 % (24 to 42)", "8 %": a share of a surface with the ends of its interval, to whole per cent, which is more than is known of it; finer where it is small. */
export function roughPercentText(percent: number, low: number = percent, high: number = percent): string {
  const [likely, from, to] = [percent, low, high].map((one) => (one < 10 ? percentWord(one < 1 ? one : Number(one.toFixed(1))) : numberText(one, 0)));
  return `${likely} %${from === to ? '' : ` (${from} to ${to})`}`;
}

function percentWord(percent: number): string {
  if (percent > 0 && percent < 0.001) return 'under 0.001';
  return numberText(percent, percent < 0.1 ? 3 : percent < 1 ? 2 : 1);
}

/** Millimetres in the dossier's unit: "22 mm", "0.87 in". */
export function lengthText(lengthMm: number, units: 'mm' | 'in'): string {
  return units === 'mm' ? `${numberText(lengthMm)} mm` : `${numberText(lengthMm / 25.4, lengthMm < 10 ? 4 : 2)} in`;
}

/** "about 120 mm (110 to 130)", "about 4.7 in (4.3 to 5.1)": an estimated length in mm to two figures, which is more than is known of it. */
export function roughLengthText(lengthMm: { low: number; likely: number; high: number }, units: 'mm' | 'in'): string {
  const [low, likely, high] = [lengthMm.low, lengthMm.likely, lengthMm.high].map((mm) => {
    const value = units === 'mm' ? mm : mm / 25.4;
    return value < 10 ? numberText(value, value < 1 ? 2 : 1) : numberText(twoFigures(value), 0);
  });
  return `about ${likely} ${units}${low === high ? '' : ` (${low} to ${high})`}`;
}

/** A distance from a mounting: "22 cm", "8.7 in". */
export function distanceText(distanceMm: number, units: 'mm' | 'in'): string {
  return units === 'mm' ? `${numberText(distanceMm / 10, 1)} cm` : `${numberText(distanceMm / 25.4, 1)} in`;
}

/** Film thickness: "480 µm", "18.9 thou" where lengths are in inches (1 thou = 25.4 µm). */
export function filmText(filmUm: number, units: 'mm' | 'in'): string {
  return units === 'mm' ? `${numberText(filmUm, 0)} µm` : `${numberText(filmUm / 25.4, 1)} thou`;
}

/** A measured value in the unit it was read in, shown in the dossier's. Shore A has no other unit. */
export function readingText(value: number, unit: 'mm' | 'um' | 'Shore A', units: 'mm' | 'in'): string {
  if (unit === 'mm' && units === 'mm' && value < 10) return `${numberText(value, 3).replace(/^(\d+)$/, '$1.00').replace(/\.(\d)$/, '.$10')} mm`;
  if (unit === 'mm') return lengthText(value, units);
  return unit === 'um' ? filmText(value, units) : `${numberText(value, 1)} Shore A`;
}

/** The same as a number in the unit shown, for its place on a scale; and that unit: 18.9 and "thou". */
export function readingShown(value: number, unit: 'mm' | 'um' | 'Shore A', units: 'mm' | 'in'): { at: number; unit: string } {
  if (unit === 'Shore A') return { at: value, unit };
  if (units === 'mm') return { at: value, unit: unit === 'um' ? 'µm' : unit };
  return { at: Number((value / 25.4).toFixed(unit === 'um' ? 3 : 6)), unit: unit === 'um' ? 'thou' : 'in' };
}

/** "10:12" of minutes since midnight; what has begun of a minute is left out, as a clock does. */
export function clockText(minutes: number): string {
  const [hour, minute] = [Math.floor(minutes / 60), Math.floor(minutes % 60)].map((part) => String(part).padStart(2, '0'));
  return `${hour}:${minute}`;
}

/** "14 March 2026" of `2026-03-14`, "October 2026" of `2026-10`; other text as it is. */
export function dateText(date: string): string {
  const [, year, month, , day] = /^(\d{4})-(\d{2})(-(\d{2}))?$/.exec(date) ?? [];
  const name = months[Number(month) - 1];
  if (!year || !name) return date;
  return day ? `${Number(day)} ${name} ${year}` : `${name} ${year}`;
}

/** "2 to 3 h", "2 to 4 h, likely 2.5", "1 h"; a single value as written with its judged spread: "1 h (0.8 to 1.4)". */
export function hoursText(hours: Spread): string {
  const { low, likely, high, judged } = hours;
  if (judged) return `${numberText(likely, 2)} h (${shortHours(low)} to ${shortHours(high)})`;
  if (low === high) return `${numberText(likely, 2)} h`;
  const middle = (low + high) / 2;
  const named = Math.abs(likely - middle) > 0.001 ? `, likely ${numberText(likely, 2)}` : '';
  return `${numberText(low, 2)} to ${numberText(high, 2)} h${named}`;
}

/** A judged bound carries no more than one decimal, save where that would make it nothing. */
function shortHours(hours: number): string {
  return numberText(hours, hours < 0.1 ? 2 : 1);
}

/** A price as written with its currency; without one it is unpriced, which is said, never zero. */
export function moneyText(money: Money): string {
  const { currency, text, flaw } = money;
  if (flaw !== undefined) return `unpriced (“${text}”, ${flaw})`;
  if (currency === null) return `unpriced (“${text}”, no currency)`;
  return text.includes(currency) || /[^\d\s.,'-]/.test(text) ? text : `${currency} ${text}`;
}

/** "EUR 1.90 each", "EUR 5 together"; what cannot count is for nothing. */
export function priceText(price: Money, together: boolean): string {
  if (price.currency === null || price.flaw !== undefined) return moneyText(price);
  return `${moneyText(price)} ${together ? 'together' : 'each'}`;
}

/** An amount in whole minor units as a plain decimal number: "1234.50"; "1235" of a currency without decimals. */
export function decimalText(minor: number, currency: string): string {
  const digits = decimalsOf(currency) ?? 2;
  const text = String(Math.abs(minor)).padStart(digits + 1, '0');
  const whole = text.slice(0, text.length - digits);
  return `${minor < 0 ? '-' : ''}${whole}${digits === 0 ? '' : `.${text.slice(-digits)}`}`;
}

/** "EUR 1,234.50", "JPY 1,235": an amount in whole minor units, with the decimals of its currency. */
export function amountText(minor: number, currency: string): string {
  const [whole = '', fraction] = decimalText(Math.abs(minor), currency).split('.');
  return `${minor < 0 ? '−' : ''}${currency} ${whole.replace(/\B(?=(\d{3})+$)/g, ',')}${fraction === undefined ? '' : `.${fraction}`}`;
}

/** An amount beside a range: without decimals, halves up, where the range is so wide that they say nothing. */
export function amountAmongText(minor: number, low: number, high: number, currency: string): string {
  const unit = 10 ** (decimalsOf(currency) ?? 2);
  return high - low < 20 * unit ? amountText(minor, currency) : amountText(Math.round(minor / unit) * unit, currency).replace(/\.0+$/, '');
}

/** "EUR 410 to 655", "EUR 4.10 to 6.55"; one amount where both are the same. */
export function amountRangeText(low: number, high: number, currency: string, between = ' to '): string {
  if (low === high) return amountText(low, currency);
  return [low, high].map((minor) => amountAmongText(minor, low, high, currency)).map((text, index) => (index === 0 ? text : text.slice(currency.length + 1))).join(between);
}

/** "EUR 110 to 231, likely 165": low, likely and high of one line; the likely one is named where it is not the middle. */
export function amountSpreadText({ low, likely, high }: Amount, currency: string): string {
  const named = Math.abs(likely - (low + high) / 2) > 1 ? `, likely ${amountAmongText(likely, low, high, currency).slice(currency.length + 1)}` : '';
  return `${amountRangeText(low, high, currency)}${named}`;
}

/** "0.13 l", "1.4 to 6.6 l, likely 2.9": litres to two figures, which is more than is known of them. */
export function litresText(litres: Three): string {
  const { low, likely, high } = litres;
  const say = (value: number): string => numberText(value, value < 1 ? 2 : 1);
  if (say(low) === say(high)) return `${say(likely)} l`;
  return `${say(low)} to ${say(high)} l, likely ${say(likely)}`;
}

/** "40 to 100", "50": low and high of a quantity. */
export function spanText({ low, high }: Three): string {
  const say = (value: number): string => numberText(value, value < 10 ? 1 : 0);
  return low === high ? say(low) : `${say(low)} to ${say(high)}`;
}

/** "10:12:41 on 14 March 2026, UTC+00:00" and where that comes from, a clause: "by the camera, zone from the visit". */
export function takenText(takenAt: TakenAt | null): { taken: string | null; takenFrom: string } {
  if (!takenAt) return { taken: null, takenFrom: 'no time in the file' };
  const { local, offset, from, offsetFrom, corrected } = takenAt;
  const clauses = [{ exif: 'by the camera', gps: 'by GPS', 'file name': 'from the file name' }[from]];
  if (corrected) clauses.push(`clock set ${corrected.startsWith('-') ? 'back' : 'forward'} by ${corrected.slice(1)}`);
  if (offset === null) clauses.push('time zone not known');
  if (offsetFrom === 'visit') clauses.push('zone from the visit');
  const zone = offset === null ? '' : `, UTC${offset}`;
  return { taken: `${local.slice(11, 19)} on ${dateText(local.slice(0, 10))}${zone}`, takenFrom: clauses.join(', ') };
}

/** "1:13:20": hours, minutes and seconds of a span, without its sign. */
export function durationText(seconds: number): string {
  const size = Math.round(Math.abs(seconds));
  const two = (number: number): string => String(number).padStart(2, '0');
  return `${Math.floor(size / 3600)}:${two(Math.floor(size / 60) % 60)}:${two(size % 60)}`;
}

/** "41 of 52 known openings seen; 6 kinds not counted": stands with every overall statement. */
export function coverageText(coverage: Coverage): string {
  const { known, seen, cannotTell, notFitted, kindsNotCounted } = coverage;
  const parts = [
    known === 0 ? 'no opening named or counted' : `${seen} of ${known} known ${known === 1 ? 'opening' : 'openings'} seen`,
    ...(cannotTell > 0 ? [`${cannotTell} of them without a clear answer`] : []),
    ...(notFitted > 0 ? [`${notFitted} not fitted to this body`] : []),
    ...(kindsNotCounted > 0 ? [`${kindsNotCounted} ${kindsNotCounted === 1 ? 'kind' : 'kinds'} not counted`] : []),
  ];
  return parts.join('; ');
}

/**
 * Words of probability and the range each holds, in whole percent, narrowest first (IPCC guidance note on uncertainty,
 * Mastrandrea et al. 2010).
 */
const phrases: readonly (readonly [words: string, low: number, high: number])[] = [
  ['exceptionally unlikely', 0, 1],
  ['virtually certain', 99, 100],
  ['very unlikely', 0, 10],
  ['very likely', 90, 100],
  ['about as likely as not', 33, 66],
  ['unlikely', 0, 33],
  ['likely', 66, 100],
];

/**
 * The phrase that holds a whole range of chances between 0 and 1; where it spans two, both; where it spans more, that it cannot
 * be told: without a look, where something was not seen.
 */
export function likelihoodText(range: { low: number; high: number }, unseen: boolean): string {
  const [low, high] = [inHundred(range.low), inHundred(range.high)];
  const holding = phrases.find(([, from, to]) => low >= from && high <= to);
  if (holding) return holding[0];
  if (high <= 66) return 'unlikely to about as likely as not';
  if (low >= 33) return 'about as likely as not to likely';
  return unseen ? 'cannot be told without a look' : 'cannot be told';
}

/** "12 to 31 in 100", "under 1 in 100", "8 in 100", "over 99 in 100": chances between 0 and 1 as whole numbers. */
export function hundredText(low: number, high: number = low): string {
  const [from, to] = [shareWord(low), shareWord(high)];
  return from === to ? `${from} in 100` : `${from} to ${to} in 100`;
}

function shareWord(chance: number): string {
  if (chance >= 1) return '100';
  const percent = inHundred(chance);
  if (percent < 1) return 'under 1';
  return percent > 99 ? 'over 99' : String(percent);
}

/** Whole percent, steadied against the last digits of a logarithm, which may differ from machine to machine. */
function inHundred(chance: number): number {
  return Math.round(Number((chance * 100).toFixed(6)));
}

/** "about 9 years (2 to more than 50)": a span of years with its ends; null is beyond 50. */
export function yearsText({ low, middle, high }: { low: number | null; middle: number | null; high: number | null }): string {
  const [from, to] = [yearWord(low), yearWord(high)];
  const spread = from === to ? '' : ` (${from} to ${to})`;
  const within = yearWord(middle);
  const words = middle === null ? 'more than 50 years' : within === 'under 1' ? 'less than one year' : within === '1' ? 'about one year' : `about ${within} years`;
  return `${words}${spread}`;
}

function yearWord(years: number | null): string {
  if (years === null) return 'more than 50';
  const whole = Math.round(Number(years.toFixed(6)));
  return whole < 1 ? 'under 1' : String(whole);
}

/** "one year", "3 years" of a horizon. */
export function horizonText(years: number): string {
  const words: Readonly<Record<number, string>> = { 1: 'one year', 3: 'three years', 5: 'five years', 10: 'ten years' };
  return words[years] ?? `${years} years`;
}

/** "0.35 to 0.71 mm" of micrometres, in the dossier's unit. */
export function steelText(lowUm: number, highUm: number, units: 'mm' | 'in'): string {
  const show = (um: number): string => (units === 'mm' ? (um / 1000).toFixed(2) : (um / 25400).toFixed(3));
  const unit = units === 'mm' ? 'mm' : 'in';
  return show(lowUm) === show(highUm) ? `${show(lowUm)} ${unit}` : `${show(lowUm)} to ${show(highUm)} ${unit}`;
}

/** "about EUR 1,300 to 14,000": a range of an estimate in minor units, to two figures, which is more than is known of it. */
export function roughAmountText(low: number, high: number, currency: string): string {
  const unit = 10 ** (decimalsOf(currency) ?? 2);
  const [from, to] = [low, high].map((minor) => Math.round(twoFigures(minor / unit) * unit)) as [number, number];
  return `about ${amountRangeText(from, to, currency).replace(/\.00(?= |$)/g, '')}`;
}

/** "23 to 250 hours", "under one hour": hours of an estimate to two figures. */
export function roughHoursText(low: number, high: number): string {
  const [from, to] = [low, high].map((hours) => (hours < 10 ? numberText(hours, 1) : numberText(twoFigures(hours), 0)));
  if (high < 0.05) return 'hardly any hours';
  return from === to ? `about ${from} hours` : `${from} to ${to} hours`;
}

function twoFigures(value: number): number {
  if (value <= 0) return 0;
  const step = 10 ** Math.max(0, Math.floor(Math.log10(Number(value.toFixed(6)))) - 1);
  return Math.round(value / step) * step;
}
