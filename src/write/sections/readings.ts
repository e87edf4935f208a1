import type { Section } from '../../model/dossier.ts';
import type { Context } from '../context.ts';
import { aside, paragraph } from '../inline.ts';
import { baselineText, robustRule } from '../readings.ts';
import { readingTraps } from '../say.ts';
import { readingTable } from '../tables.ts';

/** Everything measured: what film is compared with, when a value stands out, the traps of measuring, then each reading. */
export function readings(context: Context): Section {
  const all = context.inspection.zones.flatMap((zone) => zone.readings.map((one) => ({ ...one, zone: zone.zone.id })));
  const section = { id: 'readings', title: 'Readings', page: 'register', nav: 'Readings', breakBefore: false };
  if (all.length === 0) return { ...section, blocks: [paragraph('Nothing was measured.')] };
  const compared = baselineText(context);
  return {
    ...section,
    blocks: [
      ...(compared === '' ? [] : [paragraph(compared), aside(robustRule)]),
      aside(readingTraps),
      ...readingTable(context, all, 'with zone'),
    ],
  };
}
