import fc from 'fast-check';
import ICAL from 'ical.js';
import { expect, test } from 'vitest';
import { calendarText, escaped, foldLine } from '../../src/print/data/calendar.ts';
import type { Dossier } from '../../src/model/dossier.ts';
import { dossierOfVisits } from '../write/visits-helper.ts';

const car = '# Car\n- car: Test 1300; saloon, "grey"\n- built: 1971\n- owner: Ada Lovelace, 12 Quarry Lane\n- identity: plate, ends 3308\n';

function dossier(...lines: string[]): Dossier {
  const days = ['2026-03-14', '2026-05-09'];
  return dossierOfVisits(lines.map((text, at) => `${at === 0 ? car : ''}# Visit\n- seen: ${days[at]} 10:00-11:00\n- by: R. Hollis\n${text}\n`));
}

function textOf(from: Dossier): string {
  const text = calendarText(from);
  if (text === null) throw new Error('no calendar');
  return text;
}

/** Events as ical.js (Mozilla) reads them. */
function eventsOf(text: string): ICAL.Event[] {
  return new ICAL.Component(ICAL.parse(text)).getAllSubcomponents('vevent').map((one) => new ICAL.Event(one));
}

/** What a reader of RFC 5545, section 3.1, does: a line break before a single white space is taken out. */
function unfolded(text: string): string {
  return text.replace(/\r\n[ \t]/g, '');
}

test('dates to look again, each an event of a whole day', () => {
  const text = textOf(dossier('# Sill, left\n- again: 2026-10. after the rain\n# Boot floor\n- again: 2027-01-15\n# Roof\n- again: after the winter'));
  const events = eventsOf(text);
  expect(events.map((event) => [event.startDate.toString(), event.startDate.isDate, event.summary])).toEqual([
    ['2026-10-01', true, 'Look again: Sill, left (Test 1300; saloon, "grey", 1971)'],
    ['2027-01-15', true, 'Look again: Boot floor (Test 1300; saloon, "grey", 1971)'],
  ]);
  expect(events[0]?.description).toBe('Look again in October 2026; the calendar has its first day.\nafter the rain\nWritten at the visit of 14 March 2026.');
  expect(events[1]?.description).toBe('Look again on 15 January 2027.\nWritten at the visit of 14 March 2026.');
});

// RFC 5545, section 3.6: VERSION and PRODID once; 3.6.1: UID and DTSTAMP required; 3.8.7.2: DTSTAMP in UTC.
test('what the standard requires is there, and nothing of a person', () => {
  const text = textOf(dossier('# Sill, left\n- again: 2026-10'));
  const root = new ICAL.Component(ICAL.parse(text));
  expect([root.getFirstPropertyValue('version'), root.getAllProperties('prodid').length]).toEqual(['2.0', 1]);
  expect(root.getFirstSubcomponent('vevent')?.getFirstPropertyValue('dtstamp')?.toString()).toBe('2026-03-14T00:00:00Z');
  expect(root.getFirstSubcomponent('vevent')?.getAllSubcomponents('valarm')).toEqual([]);
  expect(text).not.toMatch(/Lovelace|Quarry|Hollis|3308|@/);
  expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
});

// RFC 7986, section 5.3: a UID is to be a UUID without anything of a host or person; RFC 9562, section 5.8: version 8, variant 10.
test('an identifier stays with its car, zone and date, and is that of no other', () => {
  const uids = (from: Dossier): string[] => eventsOf(textOf(from)).map((event) => event.uid);
  const [first = '', second = ''] = uids(dossier('# Sill, left\n- again: 2026-10\n# Sill, right\n- again: 2026-10'));
  expect(first).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-8[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
  expect(second).not.toBe(first);
  expect(uids(dossier('# Roof\n- seam: sound\n# Sill, left\n- again: 2026-10. other words', '# Boot floor\n- plug: sound'))).toEqual([first]);
  expect(uids(dossier('# Sill, left\n- again: 2026-11'))).not.toEqual([first]);
  const twice = uids(dossier('# Sill, left\n- again: 2026-10\n- again: 2026-10. the other plug'));
  expect(new Set(twice).size).toBe(2);
  expect(twice[0]).toBe(first);
});

test('only what is still to come or due is in it, and without any there is no file', () => {
  const later = dossier('# Sill, left\n- again: 2026-04\n- again: 2026-10\n# Roof\n- again: 2026-04', '# Sill, left\n- plug: sound');
  expect(eventsOf(textOf(later)).map((event) => event.description.split('\n')[0])).toEqual(['Was due in April 2026; the calendar has its first day.', 'Look again in October 2026; the calendar has its first day.']);
  expect(calendarText(dossier('# Sill, left\n- again: 2026-04', '# Sill, left\n- plug: sound'))).toBeNull();
  expect(calendarText(dossier('# Sill, left\n- again: next year'))).toBeNull();
});

// RFC 5545, section 3.1: its example of a long line, folded in two ways, both the same; lines of at most 75 octets, ended by CR LF.
test('a long line is folded as the standard has it', () => {
  const long = 'DESCRIPTION:This is a long description that exists on a long line.';
  expect(unfolded('DESCRIPTION:This is a lo\r\n ng description\r\n  that exists on a long line.')).toBe(long);
  expect(foldLine(long)).toBe(`${long}\r\n`);
  const folded = foldLine(`${long}${' and on'.repeat(20)}`);
  expect(folded.split('\r\n').slice(0, -1).map((line) => Buffer.byteLength(line)).every((octets, at, all) => octets <= 75 && (at === all.length - 1 || octets > 70))).toBe(true);
  expect(unfolded(folded)).toBe(`${long}${' and on'.repeat(20)}\r\n`);
});

// RFC 5545, section 3.3.11: its example of a text value.
test('a text is escaped as the standard has it', () => {
  expect(escaped('Project XYZ Final Review\nConference Room - 3B\nCome Prepared.')).toBe(String.raw`Project XYZ Final Review\nConference Room - 3B\nCome Prepared.`);
  expect(escaped('a\\b;c,d\r\ne:"f"')).toBe(String.raw`a\\b\;c\,d\ne:"f"`);
  expect(escaped('bell\u0007, tab\t')).toBe('bell \\, tab\t');
});

test('words of any kind come back as they were, no character cut at the fold', () => {
  const words = fc.array(fc.oneof(fc.constantFrom('🚗', '👩‍🔧', 'é', 'é', '狐', '\\', ';', ',', '\\n', '\n', ':', '"', 'BEGIN:VEVENT', ' '), fc.string({ unit: 'grapheme', maxLength: 20 })), { maxLength: 40 }).map((all) => all.join(''));
  fc.assert(fc.property(words, (typed) => {
    // ical.js trims nothing, but control characters, which the standard refuses, are not kept.
    const plain = typed.replace(/\r\n|\r/g, '\n').replace(/[\0-\x08\x0B-\x1F\x7F]/g, ' ');
    const text = `${['BEGIN:VCALENDAR', 'VERSION:2.0', 'PRODID:x', 'BEGIN:VEVENT', 'UID:1', `SUMMARY:${escaped(typed)}`, 'END:VEVENT', 'END:VCALENDAR'].map(foldLine).join('')}`;
    expect(text.split('\r\n').every((line) => Buffer.byteLength(line) <= 75 && !line.includes('\uFFFD'))).toBe(true);
    expect(eventsOf(text)[0]?.summary).toBe(plain);
  }), { numRuns: 500 });
});

test('hostile words in the findings make one event and no more', () => {
  const hostile = `- again: 2026-10. ${'🚗'.repeat(40)} a; b, c \\n d\\ END:VEVENT`;
  const [event, ...rest] = eventsOf(textOf(dossier(`# Sill, left\n${hostile}`)));
  expect(rest).toEqual([]);
  expect(event?.description).toContain(`${'🚗'.repeat(40)} a; b, c \\n d\\ END:VEVENT`);
});

test('the same findings make the same bytes, and an issue is stamped with its own day', () => {
  const lines = '# Sill, left\n- again: 2026-10';
  expect(textOf(dossier(lines))).toBe(textOf(dossier(lines)));
  expect(textOf({ ...dossier(lines), status: { kind: 'issue', number: '2026-014', date: '2026-03-20' } })).toContain('DTSTAMP:20260320T000000Z\r\n');
});
