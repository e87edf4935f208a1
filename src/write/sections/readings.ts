import type { Section } from '../../model/dossier.ts';
import type { Context } from '../context.ts';
import { aside, paragraph } from '../inline.ts';
import { readingTable } from '../tables.ts';

/** Everything measured, with the traps of measuring beside it. */
export function readings(context: Context): Section {
  const all = context.inspection.zones.flatMap((zone) => zone.readings.map((one) => ({ ...one, zone: zone.zone.id })));
  const section = { id: 'readings', title: 'Readings', page: 'register', nav: 'Readings', breakBefore: false };
  if (all.length === 0) return { ...section, blocks: [paragraph('Nothing was measured.')] };
  return {
    ...section,
    blocks: [
      aside('A film reading means something only beside the same car’s own: old cars were filled and leaded from new, and edges and curves read wrong. Paint adds to an ultrasonic reading of steel unless the gauge reads echo to echo, and rough rust reads wrong. A reading holds for its spot and no further.'),
      ...readingTable(context, all, 'with zone'),
    ],
  };
}
