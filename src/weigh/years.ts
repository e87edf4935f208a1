import type { Inspection, Observation } from '../model/inspection.ts';
import type { Notes } from '../model/notes.ts';
import type { Notice } from '../model/notice.ts';

/** Years between which something of this car can have been new or treated: built, and seen. Null where not written. */
export interface CarYears {
  built: number | null;
  /** Year of the visit with its fraction: 2026.2. */
  seen: number | null;
}

/** The years a job gives. */
export function carYearsOf(notes: Notes): CarYears {
  const built = /\b(\d{4})\b/.exec(notes.car.find((meta) => meta.key === 'built')?.text ?? '')?.[1];
  const [year, month = 1] = (notes.seen?.date ?? '').split('-').map(Number);
  return { built: built === undefined ? null : Number(built), seen: notes.seen === null || !year ? null : year + (month - 1) / 12 };
}

/** The year written with a condition ("new 2019", "waxed 2021"); null where none is. */
export function yearWritten(one: Observation): number | null {
  const year = /\b(?:18|19|20|21)\d\d\b/.exec([...one.finding.details, one.finding.words].join(' '))?.[0];
  return year === undefined ? null : Number(year);
}

/** Years from then to the visit, to half a year; nobody writes the month, so the middle of the year is taken. Null where the year cannot be, or the visit has no date. */
export function yearsSince(year: number | null, { built, seen }: CarYears): number | null {
  if (year === null || seen === null || !canBe(year, { built, seen })) return null;
  return Math.max(0, Math.round((seen - (year + 0.5)) * 2) / 2);
}

function canBe(year: number, { built, seen }: CarYears): boolean {
  return (built === null || year >= built) && (seen === null || year <= Math.floor(seen));
}

/** Conditions a year says something about. */
function isDated(one: Observation): boolean {
  return one.part.type === 'coating' || one.finding.conditions.some((id) => id === 'new' || id === 'replaced');
}

/** Years before the car was built or after the visit: they count for nothing, and that is said. */
export function yearNotices(inspection: Inspection, years: CarYears): Notice[] {
  return inspection.zones.flatMap((zone) => zone.observations).filter(isDated).flatMap((one): Notice[] => {
    const year = yearWritten(one);
    if (year === null || canBe(year, years)) return [];
    return [{
      level: 'warning', rule: 'year-implausible', spot: one.finding.spot,
      found: years.built !== null && year < years.built ? `${year}, before the car was built (${years.built})` : `${year}, after the visit`,
      expected: 'a year between the two',
      advice: 'Mend the year; until then the line counts without one.',
    }];
  });
}
