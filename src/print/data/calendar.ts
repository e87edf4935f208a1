import { createHash } from 'node:crypto';
import type { DossierLookAgain } from '../../model/dossier-record.ts';
import type { Dossier } from '../../model/dossier.ts';
import { words } from '../../model/printed-words.ts';
import { dateText } from '../../units.ts';

/**
 * Dates to look again as an iCalendar object (RFC 5545), an all-day event each; null where none is to come or due. A month
 * stands on its first day. Nothing in it depends on the clock: the time stamp is the day of the issue or of the visit.
 */
export function calendarText(dossier: Dossier): string | null {
  const open = (dossier.again ?? []).filter((one) => one.state !== 'looked' && one.due !== '');
  if (open.length === 0) return null;
  const stamp = `${basic(dossier.status.kind === 'issue' ? dossier.status.date : (dossier.seenOn ?? ''))}T000000Z`;
  const uids = new Map<string, number>();
  const lines = open.flatMap((one) => {
    const key = [...identityOf(dossier), one.zone, one.due].join('\n');
    const count = uids.get(key) ?? 0;
    uids.set(key, count + 1);
    return eventLines(dossier, one, stamp, uidOf(count === 0 ? key : `${key}\n${count}`));
  });
  return ['BEGIN:VCALENDAR', 'VERSION:2.0', 'PRODID:-//Sillbook//Look again//EN', 'CALSCALE:GREGORIAN', ...lines, 'END:VCALENDAR'].map(foldLine).join('');
}

function eventLines(dossier: Dossier, one: DossierLookAgain, stamp: string, uid: string): string[] {
  const say = words.calendar;
  const written = one.visit === null ? say.writtenUndated : say.written(dateText(one.visit));
  const rest = one.words.slice(one.due.length).replace(/^[\s.,;:]+/, '');
  const isDay = one.due.length === 10;
  const due = one.state === 'due' ? (isDay ? say.wasDueOn : say.wasDueWithin) : isDay ? say.on : say.within;
  return [
    'BEGIN:VEVENT',
    `UID:${uid}`,
    `DTSTAMP:${stamp}`,
    `DTSTART;VALUE=DATE:${basic(one.due)}`,
    `SUMMARY:${escaped(say.title(one.name, dossier.title))}`,
    `DESCRIPTION:${escaped([due(dateText(one.due)), rest, written].filter((text) => text !== '').join('\n'))}`,
    'TRANSP:TRANSPARENT',
    'END:VEVENT',
  ];
}

/** `20261001` of `2026-10`; the first day of all where no date was written. */
function basic(date: string): string {
  const [year = '1970', month = '01', day = '01'] = date === '' ? [] : date.split('-');
  return `${year}${month}${day}`;
}

/** What tells cars apart, whatever else of the findings changes. */
function identityOf(dossier: Dossier): string[] {
  const lines = dossier.findings.filter(({ under, text }) => under === 'Car' && /^(?:car|built|identity):/.test(text)).map(({ text }) => text);
  return lines.length > 0 ? lines : [dossier.title];
}

/**
 * The same for the same car, zone and date, so that a calendar takes a later file for the same event. A UUID of version 8
 * made from a hash (RFC 9562, section 5.8), without a host or domain behind it, as RFC 7986, section 5.3, advises.
 */
function uidOf(key: string): string {
  const hex = createHash('sha256').update(`sillbook look-again\n${key}`).digest('hex');
  const variant = ((Number.parseInt(hex.charAt(16), 16) & 0x3) | 0x8).toString(16);
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-8${hex.slice(13, 16)}-${variant}${hex.slice(17, 20)}-${hex.slice(20, 32)}`;
}

/** A text value (RFC 5545, section 3.3.11): backslash, semicolon and comma escaped, line ends as `\n`, no control characters. */
export function escaped(text: string): string {
  return text
    .replace(/[\uD800-\uDBFF](?![\uDC00-\uDFFF])|(?<![\uD800-\uDBFF])[\uDC00-\uDFFF]/g, '\uFFFD')
    .replace(/[\\;,]/g, (sign) => `\\${sign}`)
    .replace(/\r\n|\r|\n/g, '\\n')
    .replace(/[\0-\x08\x0B-\x1F\x7F]/g, ' ');
}

const encoder = new TextEncoder();

/** A content line of at most 75 octets, its rest on lines that begin with a space, each ended by CR LF (RFC 5545, section 3.1). No character is cut. */
export function foldLine(line: string): string {
  const pieces: string[] = [];
  let piece = '';
  let octets = 0;
  for (const character of line) {
    const size = encoder.encode(character).length;
    if (octets + size > 75) {
      pieces.push(piece);
      piece = ' ';
      octets = 1;
    }
    piece += character;
    octets += size;
  }
  return `${[...pieces, piece].join('\r\n')}\r\n`;
}
