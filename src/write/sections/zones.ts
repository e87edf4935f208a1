import type { Section } from '../../model/dossier.ts';
import type { ZoneInspection } from '../../model/inspection.ts';
import { badnessOf, conditionsText, partText, zoneIsStructure, zoneName } from '../../model/wording.ts';
import type { Context } from '../context.ts';
import { aside, paragraph } from '../inline.ts';
import { coverageText } from '../../units.ts';

/** Every zone of the body, seen or not, front to rear. */
export function zones(context: Context): Section {
  const all = context.inspection.zones;
  const { body } = context.inspection;
  const note = body
    ? `Zones expected on a body of this type (${body.name.gb.toLowerCase()}), front to rear, left and right as seen facing forward.`
    : 'The body type was not written, or not one the catalogue knows: the zones usual on most bodies stand here, front to rear.';
  return {
    id: 'zones',
    title: 'Zones',
    page: 'index',
    nav: 'Zones',
    breakBefore: false,
    blocks: all.length === 0
      ? [paragraph('No zone is known for this body.')]
      : [aside(note), { type: 'zones', items: all.map((zone) => ({
        zone: zone.zone.id,
        name: zoneName(zone.zone, context.language),
        state: zone.state,
        structure: zoneIsStructure(zone),
        coverage: coverageText(zone.coverage),
        gist: gistOf(context, zone),
      })) }],
  };
}

/** The worst thing written down in a zone, or what is missing; empty where all that is known is sound. */
export function gistOf(context: Context, zone: ZoneInspection): string {
  const { catalogue } = context.inspection.job;
  if (!zone.entered) return 'nothing written';
  const found = [
    ...zone.rows.filter((row) => row.outcome === 'defect').map((row) => ({ part: row.part, place: row.place, conditions: row.conditions })),
    ...zone.observations.filter((one) => one.outcome === 'defect').map((one) => ({ part: one.part, place: one.finding.about.place, conditions: one.finding.conditions })),
  ].sort((a, b) => badnessOf(catalogue, b.conditions) - badnessOf(catalogue, a.conditions));
  const [worst] = found;
  if (!worst) return zone.notSeen.map(({ entry }) => `not seen: ${entry.what || 'the whole zone'}`)[0] ?? '';
  const more = found.length > 1 ? ` and ${found.length - 1} more` : '';
  return `${partText(worst.part, worst.place, context.language)}: ${conditionsText(catalogue, worst.conditions, context.language)}${more}`;
}
