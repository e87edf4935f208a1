import type { Inspection } from '../model/inspection.ts';
import type { VisitDay } from '../model/record.ts';

/** The visit an inspection is of. */
export function visitDay({ job }: Inspection, current: boolean): VisitDay {
  return { folder: job.visit ?? null, date: job.notes.seen?.date ?? null, current };
}
