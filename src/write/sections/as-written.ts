import type { Block, Inline, Section } from '../../model/dossier.ts';
import type { Context } from '../context.ts';
import { spotText } from '../context.ts';
import { aside, bullets, heading, paragraph } from '../inline.ts';
import { linesOf } from '../../model/lines.ts';

/** Every line of the findings as it was typed, with its place in the file. */
export function asWritten(context: Context): Section {
  const { zones, file } = context.inspection.job.notes;
  const blocks = zones.flatMap((zone): Block[] => {
    const lines = new Map(zone.entries.flatMap(linesOf).map((line) => [`${spotText(line.spot)} ${line.text}`, line]));
    if (lines.size === 0) return [];
    return [heading(zone.heading.text), ...bullets([...lines.values()].map(({ text, spot }): Inline => [text, { text: ` (${spotText(spot)})`, quiet: true }]))];
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
