import type { Entry, Words } from './notes.ts';

/** A line with those under it: marks, the name before, work, parts, what was done. */
export function linesOf(entry: Entry): Words[] {
  if (entry.type === 'work') return [entry, ...(entry.particulars?.lines ?? []), ...entry.parts, ...entry.done.flatMap((done) => [done, ...done.lines])];
  if (entry.type === 'photo') return [entry, ...entry.marks];
  if (entry.type !== 'finding') return [entry];
  const was = entry.was === null ? [] : [{ text: `was: ${entry.was}`, spot: entry.spot }];
  return [entry, ...was, ...entry.marks, ...entry.work.flatMap(linesOf)];
}
