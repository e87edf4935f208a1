import { expect, test } from 'vitest';
import { outcomes } from '../../src/model/catalogue.ts';
import type { Outcome } from '../../src/model/catalogue.ts';
import type { Work } from '../../src/model/notes.ts';
import type { Photo } from '../../src/model/photo.ts';
import { timePhotos } from '../../src/read/photos/times.ts';
import { photo as photoAt } from '../place/builders.ts';
import { notesOf } from '../read/notes-helper.ts';

/** What the reader and the clock make of a photo taken at noon of a day, in the zone the visit names. */
function noonOf(day: string, zone: string): Photo['takenAt'] {
  const { notes } = notesOf(`# Visit\n\n- seen: ${day}, ${zone}\n`);
  const one = photoAt('a.jpg');
  const written = { ...one, exif: { ...one.exif, dateTimeOriginal: `${day.replaceAll('-', ':')} 12:00:00` } };
  return timePhotos([written], { seen: notes.seen, clocks: [], built: null, today: '2030-12-31' }).photos[0]?.takenAt ?? null;
}

// Source: IANA time zone database, Zone Europe/Dublin and Rule EU: from 1996 on, clocks go forward on the last Sunday of
// March and back on the last Sunday of October, at 01:00 UTC.
test.each([
  ['2026-03-14', '+00:00', '2026-03-14T12:00:00.000Z'],
  ['2026-05-09', '+01:00', '2026-05-09T11:00:00.000Z'],
])('noon in Dublin on %s is at UTC%s', (day, offset, instant) => {
  expect(noonOf(day, 'Europe/Dublin')).toMatchObject({ offset, instant, offsetFrom: 'visit' });
});

test('Irish summer time begins and ends on a last Sunday, 2000 to 2030', () => {
  const lastSunday = (year: number, month: number): number => {
    const last = new Date(Date.UTC(year, month, 0));
    return last.getUTCDate() - last.getUTCDay();
  };
  const iso = (year: number, month: number, day: number): string => new Date(Date.UTC(year, month - 1, day)).toISOString().slice(0, 10);
  for (let year = 2000; year <= 2030; year += 1) {
    const [march, october] = [lastSunday(year, 3), lastSunday(year, 10)];
    const days = [iso(year, 3, march - 1), iso(year, 3, march), iso(year, 10, october - 1), iso(year, 10, october)];
    expect(days.map((day) => noonOf(day, 'Europe/Dublin')?.offset), String(year)).toEqual(['+00:00', '+01:00', '+01:00', '+00:00']);
  }
});

// Source: IANA time zone database. Zones without summer time and with offsets of no whole hour.
test.each([
  ['Asia/Kolkata', '+05:30'],
  ['Asia/Kathmandu', '+05:45'],
  ['America/Phoenix', '-07:00'],
  ['UTC', '+00:00'],
])('noon in %s is at %s in March and in July', (zone, offset) => {
  expect([noonOf('2026-03-14', zone)?.offset, noonOf('2026-07-14', zone)?.offset]).toEqual([offset, offset]);
});

// Source: W3C, Evaluation and Report Language (EARL) 1.0 Schema, the five classes of outcome values.
test('the outcomes of an opening are those of EARL, one to one', () => {
  const earl: Record<Outcome, string> = { sound: 'Pass', defect: 'Fail', 'cannot tell': 'Undetermined', 'not fitted': 'Not applicable', 'not seen': 'Not tested' };
  expect(Object.keys(earl).toSorted()).toEqual([...outcomes].toSorted());
  expect(Object.values(earl).toSorted()).toEqual(['Fail', 'Not applicable', 'Not tested', 'Pass', 'Undetermined']);
});

// Source: ISO 4217, list one of 2024-06-25 (SIX): column of minor units.
test.each([
  ['JPY 190', 190], ['ISK 190', 190], ['EUR 1.90', 190], ['GBP 1.90', 190], ['USD 1.90', 190], ['CHF 1.90', 190], ['HUF 1.90', 190], ['MGA 1.90', 190], ['MRU 1.90', 190],
  ['BHD 1.905', 1905], ['KWD 1.905', 1905], ['TND 1.905', 1905], ['IQD 1.905', 1905], ['CLF 1.9055', 19055], ['UYW 1.9055', 19055],
])('%s is %d minor units', (price, minor) => {
  const { notes } = notesOf(`# Sill, left\n\n- do: fit plug. 1 h\n  - part: plug x 1, ${price} each\n`, { currency: null });
  expect((notes.zones[0]?.entries[0] as Work).parts[0]?.price).toMatchObject({ minor, currency: price.slice(0, 3) });
});
