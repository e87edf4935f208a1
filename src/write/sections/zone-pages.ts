import type { Block, Figure, Inline, Section } from '../../model/dossier.ts';
import type { ZoneInspection } from '../../model/inspection.ts';
import { zoneIsStructure, zoneName } from '../../model/wording.ts';
import { coverageText, listText } from '../../units.ts';
import { hasPage, nameOfZone, prints } from '../context.ts';
import type { Context } from '../context.ts';
import { aside, bullets, heading, joined, lead, link, paragraph } from '../inline.ts';
import { figureOf } from '../figures.ts';
import { proseBlocks } from '../prose.ts';
import { advises, cautionLinks, photoLinks } from '../say.ts';
import { notSeenText, observationTable, readingTable, zoneRegister } from '../tables.ts';
import { cavityLines } from '../cavities.ts';
import { notesOf, workBlocks } from '../work.ts';

/** One section, and one page, for every zone somebody wrote about or photographed. */
export function zonePages(context: Context): Section[] {
  return context.inspection.zones.filter(hasPage).map((zone) => ({
    id: zone.zone.id,
    title: zoneName(zone.zone, context.language),
    page: `zones/${zone.zone.id}`,
    breakBefore: true,
    blocks: zoneBlocks(context, zone),
  }));
}

function zoneBlocks(context: Context, zone: ZoneInspection): Block[] {
  const readings = zone.readings.map((one) => ({ ...one, zone: zone.zone.id }));
  return [
    aside(placeWords(context, zone)),
    lead(`${stateSentence(zone)} ${capital(coverageText(zone.coverage))}.${unseenPlaces(zone)}`),
    ...stepLinks(context, zone),
    ...figures(context, zone),
    ...narrative(zone),
    heading('Closed sections behind it'),
    ...bullets(cavityLines(context, zone)),
    aside('How soon steel is through is not estimated in this version.'),
    ...(zone.rows.length > 0 ? [heading('Openings')] : []),
    ...zoneRegister(context, zone),
    ...(zone.observations.length > 0 ? [heading('Metal, coating, water and earlier repairs')] : []),
    ...observationTable(context, 'What was found beside the openings', zone.observations, 'of one zone'),
    ...(readings.length > 0 ? [heading('Measured')] : []),
    ...readingTable(context, readings, 'of one zone'),
    ...remarks(context, zone),
    ...unseen(context, zone),
    ...mountings(zone),
    ...workBlocks(context, zone),
    ...notesOf(zone),
    ...others(context, zone),
  ];
}

function placeWords(context: Context, zone: ZoneInspection): string {
  const { record, name, nameUs } = zone.zone;
  const other = context.language === 'en-US' ? name : nameUs;
  const carries = zoneIsStructure(zone) ? 'Carries structure.' : record.carries === 'part' ? 'Carries structure in part.' : 'Carries no main structure.';
  return [
    ...(name === nameUs ? [] : [`${context.language === 'en-US' ? 'British' : 'American'} name: ${other}.`]),
    carries,
    ...(record.mountings.length > 0 ? [`Safety mountings usual near by: ${listText(record.mountings)}.`] : []),
    ...(record.waterIn ? [`Water in, usually: ${record.waterIn}.`, ...(record.waterOut ? [`Water out: ${record.waterOut}.`] : [])] : []),
  ].join(' ');
}

function stateSentence(zone: ZoneInspection): string {
  const words = {
    defect: 'At least one defect was found here.',
    'cannot tell': 'What was seen here gave no clear answer.',
    'not seen': 'Something here was not seen, so nothing is called sound as a whole.',
    sound: 'All that is known here was seen and found sound.',
    'not fitted': 'This body does not have it.',
  };
  if (zone.state === 'not seen' && zone.coverage.seen === 0 && zone.observations.length === 0) return 'Nothing here was seen.';
  return words[zone.state];
}

/** Places written as not seen stand beside the coverage, which counts openings only. */
function unseenPlaces(zone: ZoneInspection): string {
  const places = zone.notSeen.filter(({ entry }) => entry.about === null && entry.what !== '').map(({ entry }) => entry.what);
  return places.length === 0 ? '' : ` Not seen: ${listText(places)}.`;
}

function stepLinks(context: Context, zone: ZoneInspection): Block[] {
  const steps = context.plan.steps.filter((step) => step.zone === zone.zone.id);
  if (!advises(context) || steps.length === 0) return [];
  const name = nameOfZone(context, zone.zone.id);
  return [paragraph('First steps here: ', ...joined(steps.map((step) => [link(step.title.replace(`${name}: `, ''), step.id)]), '; '), '.')];
}

function figures(context: Context, zone: ZoneInspection): Block[] {
  const all = zone.photos.map((id) => figureOf(context, id, 'zone')).filter((figure): figure is Figure => figure !== null);
  return all.length === 0 ? [] : [{ type: 'photos', look: 'large', figures: all }];
}

function narrative(zone: ZoneInspection): Block[] {
  const blocks = zone.narrative.flatMap((stretch) => proseBlocks(stretch.text));
  return blocks.length === 0 ? [] : [heading("In the inspector's words"), ...blocks];
}

function remarks(context: Context, zone: ZoneInspection): Block[] {
  if (zone.remarks.length === 0) return [];
  return [heading('Remarks'), ...zone.remarks.map(({ entry, photos }): Block => {
    const seen: Inline = photos.length > 0 ? [' ', ...photoLinks(context, photos)] : [];
    const inline: Inline = [entry.words || entry.text, ...seen];
    const { origin } = entry;
    return origin.kind === 'told' ? { type: 'remark', origin: 'told', by: origin.by, inline } : { type: 'remark', origin: origin.kind, inline };
  })];
}

function unseen(context: Context, zone: ZoneInspection): Block[] {
  const lines = notSeenText(context, zone).map(({ what, why, toSee, photos }): Inline => [
    `${capital(what)}: ${why}.${toSee ? ` To see it: ${toSee}.` : ''}`, ...(photos.length > 0 ? [' ', ...photoLinks(context, photos)] : []),
  ]);
  const none = zone.notFitted.map((entry): Inline => [`Not fitted to this body: ${[entry.what, entry.words].filter((text) => text !== '').join('. ')}.`]);
  return [
    ...(lines.length > 0 ? [heading('Not seen'), ...bullets(lines)] : []),
    ...(none.length > 0 ? [heading('Not fitted'), ...bullets(none)] : []),
  ];
}

function mountings(zone: ZoneInspection): Block[] {
  if (zone.mountings.length === 0) return [];
  return [heading('Safety mountings measured from'), ...bullets(zone.mountings.map((one): Inline => [one.words || one.text, one.distanceMm <= 300 ? ' (within 30 cm)' : '']))];
}

function others(context: Context, zone: ZoneInspection): Block[] {
  const partner = zone.partner ? context.zones.get(zone.partner) : undefined;
  const other: Inline = partner
    ? ['Other side of the car: ', link(nameOfZone(context, partner.zone.id), partner.zone.id), partner.entered ? '.' : ', nothing written about it.']
    : [];
  const cautions = prints(context, 'cautions') ? cautionLinks(context, zone.zone.record.cautions) : [];
  return [...(other.length > 0 ? [paragraph(...other)] : []), ...(cautions.length > 0 ? [paragraph(...cautions)] : [])];
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
