import type { Inspection, ZoneInspection } from '../model/inspection.ts';
import { byCodeUnit } from '../model/order.ts';
import type { LookAgain } from '../model/record.ts';
import { visitDay } from './visits.ts';

/** A date at the beginning of the words of an `again:` line; empty where there is none. */
export function dueOf(words: string): string {
  return /^\d{4}(?:-\d{2}(?:-\d{2})?)?(?![\d-])/.exec(words)?.[0] ?? '';
}

/** Dates to look again of all visits, the soonest first; one written again at a later visit stands once. A date of which the zone was looked at on it or later is done with. */
export function lookAgainOf(inspection: Inspection, earlier: readonly Inspection[]): LookAgain[] {
  const visits = [...earlier, inspection];
  const all = visits.flatMap((visit, at) => visit.zones.flatMap((zone) => zone.notes.filter((note) => note.key === 'again').map((note): LookAgain => {
    const due = dueOf(note.words);
    const lookedOn = due === '' ? null : lookedAfter(visits.slice(at + 1), zone.zone.id, due);
    const today = inspection.job.notes.seen?.date ?? null;
    const past = at < visits.length - 1 && due !== '' && today !== null && isReached(today, due);
    return { zone: zone.zone.id, due, note, visit: visitDay(visit, visit === inspection), state: lookedOn !== null ? 'looked' : past ? 'due' : 'open', lookedOn };
  })));
  const once = new Map<string, LookAgain>();
  for (const one of all) {
    const key = `${one.zone}\n${one.note.words}`;
    if (!once.has(key)) once.set(key, one);
  }
  return [...once.values()].toSorted((a, b) => byCodeUnit(a.due || '~', b.due || '~'));
}

/** Date of the first visit on or after a date at which anything of a zone was seen. Dates are compared as far as they are written. */
function lookedAfter(visits: readonly Inspection[], id: string, due: string): string | null {
  const days = visits.flatMap((visit) => {
    const date = visit.job.notes.seen?.date;
    const zone = visit.zones.find((one) => one.zone.id === id);
    return date !== undefined && isReached(date, due) && zone && isSeen(zone) ? [date] : [];
  });
  return days.toSorted(byCodeUnit)[0] ?? null;
}

function isReached(date: string, due: string): boolean {
  return date.slice(0, due.length) >= due;
}

/** A zone with nothing but what was told, inferred or not seen was not looked at. */
function isSeen(zone: ZoneInspection): boolean {
  return zone.coverage.seen > 0 || zone.observations.some((one) => one.outcome !== 'not seen');
}
