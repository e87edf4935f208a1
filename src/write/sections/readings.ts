import type { Section } from '../../model/dossier.ts';
import type { Context } from '../context.ts';
import { aside, paragraph } from '../inline.ts';
import { baselineText, robustRule } from '../readings.ts';
import { rustedBlocks } from '../rusted.ts';
import { readingTraps } from '../say.ts';
import { readingTable } from '../tables.ts';

/** Everything measured: what film is compared with, when a value stands out, the traps of measuring, each reading, then rusted areas. */
export function readings(context: Context): Section {
  const all = context.inspection.zones.flatMap((zone) => zone.readings.map((one) => ({ ...one, zone: zone.zone.id })));
  const section = { id: 'readings', title: 'Readings', page: 'register', nav: 'Readings', breakBefore: false };
  const rusted = rustedBlocks(context, context.inspection.zones.flatMap((zone) => zone.rusted.map((one) => ({ ...one, zone: zone.zone.id }))), 'with zone');
  if (all.length === 0) return { ...section, blocks: rusted.length === 0 ? [paragraph('Nothing was measured.')] : [paragraph('Nothing was read with a gauge.'), ...rusted] };
  const compared = baselineText(context);
  return {
    ...section,
    blocks: [
      ...(compared === '' ? [] : [paragraph(compared), aside(robustRule)]),
      aside(readingTraps),
      ...readingTable(context, all, 'with zone'),
      ...rusted,
    ],
  };
}
