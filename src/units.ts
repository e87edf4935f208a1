import type { Coverage } from './model/inspection.ts';
import type { Money, Spread } from './model/notes.ts';
import type { TakenAt } from './model/photo.ts';

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

/** Millimetres in the dossier's unit: "22 mm", "0.87 in". */
export function lengthText(lengthMm: number, units: 'mm' | 'in'): string {
  return units === 'mm' ? `${numberText(lengthMm)} mm` : `${numberText(lengthMm / 25.4, lengthMm < 10 ? 4 : 2)} in`;
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
  const { currency, text } = money;
  if (currency === null) return `unpriced (“${text}”, no currency)`;
  return text.includes(currency) || /[^\d\s.,'-]/.test(text) ? text : `${currency} ${text}`;
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
