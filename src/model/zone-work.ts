import type { ZoneInspection } from './inspection.ts';
import type { Work } from './notes.ts';

/** All work written in a zone, once each, in the order it was written: under a finding, or by itself. */
export function worksOf(zone: ZoneInspection): Work[] {
  const nested = [...zone.rows.flatMap((row) => row.findings), ...zone.observations.map((one) => one.finding)].flatMap((finding) => finding.work);
  const once = new Map([...zone.work, ...nested].map((work) => [workKey(work), work]));
  return [...once.values()].sort((a, b) => (a.spot.line ?? 0) - (b.spot.line ?? 0) || (a.spot.column ?? 0) - (b.spot.column ?? 0));
}

/** What tells two works apart: where they stand, and their words. One finding may stand for several openings. */
export function workKey(work: Work): string {
  return `${work.spot.file}:${work.spot.line ?? 0}:${work.spot.column ?? 0}:${work.steps}`;
}
