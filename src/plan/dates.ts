import type { Inspection, ZoneInspection } from '../model/inspection.ts';
import type { Notice } from '../model/notice.ts';
import { worksOf } from '../model/zone-work.ts';
import { dateText } from '../units.ts';
import { orderNotice } from './kinds.ts';

/** Work done before the car was built or after the visit that tells of it, and dates to look again that lie before the visit. */
export function datesWrong(inspection: Inspection, zone: ZoneInspection, name: string): Notice[] {
  return [...beforeCar(inspection, zone, name), ...afterVisit(inspection, zone, name), ...againPast(inspection, zone, name)];
}

function beforeCar(inspection: Inspection, zone: ZoneInspection, name: string): Notice[] {
  const built = /\b(\d{4})\b/.exec(inspection.job.notes.car.find((meta) => meta.key === 'built')?.text ?? '')?.[1];
  if (built === undefined) return [];
  return worksOf(zone).flatMap((work) => work.done).flatMap(({ date, spot }) => (date === null || date.slice(0, 4) >= built ? [] : [orderNotice('warning', 'date-before-car', spot, {
    found: `Work done on ${dateText(date)}, before the car was built (${name})`,
    expected: `a date not before ${built}`,
    advice: 'Mend the date, or the line "built:".',
  })]));
}

/** What a visit writes as done by itself was done by then; a line under work that was planned may be added later. */
function afterVisit(inspection: Inspection, zone: ZoneInspection, name: string): Notice[] {
  const visit = inspection.job.notes.seen?.date;
  if (visit === undefined) return [];
  return worksOf(zone).filter((work) => work.unplanned).flatMap((work) => work.done).flatMap(({ date, spot }) => (date === null || date <= visit ? [] : [orderNotice('warning', 'done-after-visit', spot, {
    found: `Work written as done on ${dateText(date)}, after the visit of ${dateText(visit)} (${name})`,
    expected: 'a date not after the visit',
    advice: 'Mend the date, or the line "seen:"; it is printed as written.',
  })]));
}

/** `again: 2026-03` at a visit in March 2026 is not past: dates are compared as far as they are written. */
function againPast(inspection: Inspection, zone: ZoneInspection, name: string): Notice[] {
  const visit = inspection.job.notes.seen?.date;
  if (visit === undefined) return [];
  return zone.notes.filter((note) => note.key === 'again').flatMap((note) => {
    const date = /^\d{4}(?:-\d{2}(?:-\d{2})?)?(?!\d)/.exec(note.words)?.[0];
    if (date === undefined || date >= visit.slice(0, date.length)) return [];
    return [orderNotice('warning', 'again-past', note.spot, {
      found: `"again: ${date}" at a visit on ${dateText(visit)} (${name})`,
      expected: 'a date to look again after the visit',
      advice: 'Write a later month or day.',
    })];
  });
}
