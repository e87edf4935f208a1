import type { Block, Inline, Section } from '../../model/dossier.ts';
import type { Entry, Words } from '../../model/notes.ts';
import type { Context } from '../context.ts';
import { spotText } from '../context.ts';
import { aside, bullets, heading, paragraph } from '../inline.ts';

/** Every line of the findings as it was typed, with its place in the file. */
export function asWritten(context: Context): Section {
  const { zones, file } = context.inspection.job.notes;
  const blocks = zones.flatMap((zone): Block[] => {
    const lines = new Map(zone.entries.flatMap(linesOf).map((line) => [spotText(line.spot), line.text]));
    if (lines.size === 0) return [];
    return [heading(zone.heading.text), ...bullets([...lines].map(([spot, text]): Inline => [text, { text: ` (${spot})`, quiet: true }]))];
  });
  return {
    id: 'as-written',
    title: 'Findings as written',
    page: 'files',
    nav: 'As written',
    breakBefore: false,
    blocks: blocks.length === 0 ? [paragraph('No finding was written.')] : [aside(`Line by line from ${file}; the numbers are line and column.`), ...blocks],
  };
}

/** A line with those under it: marks, work, parts, what was done. */
function linesOf(entry: Entry): Words[] {
  if (entry.type === 'work') return [entry, ...entry.parts, ...entry.done];
  if (entry.type === 'photo') return [entry, ...entry.marks];
  return entry.type === 'finding' ? [entry, ...entry.marks, ...entry.work.flatMap(linesOf)] : [entry];
}
