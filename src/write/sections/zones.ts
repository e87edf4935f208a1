import type { Block, Inline, Section } from '../../model/dossier.ts';
import type { ZoneInspection } from '../../model/inspection.ts';
import type { ZoneMap } from '../../model/zone-map.ts';
import { inSentence, termIn, zoneIsStructure, zoneName } from '../../model/wording.ts';
import { hasPage, prints } from '../context.ts';
import type { Context } from '../context.ts';
import { aside, bullets, joined, link, paragraph } from '../inline.ts';
import { gistOf, lastLook } from '../earlier.ts';
import { carriedDay } from '../say.ts';
import { coverageText, countText } from '../../units.ts';

/** The body map by itself, for an edition that has it before other sections. */
export function map(context: Context): Section | null {
  const all = context.inspection.zones;
  if (all.length === 0) return null;
  return { id: 'map', title: 'Where', page: 'index', breakBefore: false, blocks: [{ type: 'zones', map: mapOf(context, all, bodyOf(context)), items: [] }] };
}

/** The zones somebody wrote about, front to rear; the names of those nobody did; the body map above, where it stands nowhere else. */
export function zones(context: Context): Section {
  const all = context.inspection.zones;
  const { body, doubt } = bodyOf(context);
  const note = body && doubt
    ? `The body type was not written, or not one the catalogue knows: the zones of a ${inSentence(termIn(body.name, context.language))} stand here, front to rear, left and right as seen facing forward.`
    : body
    ? `Zones expected on a body of this type (${inSentence(termIn(body.name, context.language))}), front to rear, left and right as seen facing forward.`
    : 'The body type was not written, or not one the catalogue knows: the zones usual on most bodies stand here, front to rear.';
  return {
    id: 'zones',
    title: 'Zones',
    page: 'index',
    nav: 'Zones',
    breakBefore: false,
    blocks: all.length === 0 ? [paragraph('No zone is known for this body.')] : [aside(note), ...written(context, all), ...silent(context, all.filter((zone) => !hasPage(zone)))],
  };
}

function written(context: Context, all: readonly ZoneInspection[]): Block[] {
  const entered = all.filter(hasPage);
  const drawn = prints(context, 'map') ? {} : { map: mapOf(context, all, bodyOf(context)) };
  if (entered.length === 0 && !drawn.map) return [];
  return [{ type: 'zones', ...drawn, items: entered.map((zone) => ({
    zone: zone.zone.id,
    name: zoneName(zone.zone, context.language),
    state: zone.state,
    structure: zoneIsStructure(zone),
    coverage: coverageText(zone.coverage),
    gist: dated(zone, gistOf(context, zone)),
  })) }];
}

/** With the day it was last looked at, where that was an earlier visit. */
function dated(zone: ZoneInspection, gist: string): string {
  return zone.carried ? [gist, `last looked at ${carriedDay(zone)}`].filter((text) => text !== '').join('; ') : gist;
}

/** The body that is drawn, and how sure that is. */
interface Drawn {
  body: Context['inspection']['body'];
  doubt: boolean;
}

function bodyOf(context: Context): Drawn {
  const doubt = context.notices.some((notice) => notice.rule === 'body-unknown' || (notice.rule === 'body-missing' && notice.level === 'warning'));
  return { body: context.inspection.body, doubt };
}

/** Drawn where the body is not known: what it is most often. */
const usualBody = 'saloon';

function mapOf(context: Context, all: readonly ZoneInspection[], { body, doubt }: Drawn): ZoneMap {
  const usual = context.inspection.job.catalogue.bodies.find((one) => one.id === usualBody);
  const drawn = body ?? usual;
  const bodyName = drawn ? inSentence(termIn(drawn.name, context.language)) : usualBody;
  return {
    body: drawn?.id ?? usualBody,
    bodyName,
    rearDoors: all.some((zone) => zone.zone.record.rearDoors),
    doubt: doubt || !body ? `The body type is not known: a ${bodyName} is drawn, as the most usual; the car may look otherwise.` : '',
    zones: all.map((zone) => ({
      zone: zone.zone.id,
      name: zoneName(zone.zone, context.language),
      state: zone.state,
      structure: zoneIsStructure(zone),
      gist: hasPage(zone) ? dated(zone, gistOf(context, zone)) : lastLook(context, zone.zone.id) === '' ? 'nothing was written about it' : `not looked at on this visit; ${lastLook(context, zone.zone.id)}`,
    })),
  };
}

function silent(context: Context, zonesLeft: readonly ZoneInspection[]): Block[] {
  if (zonesLeft.length === 0) return [];
  const before = new Map(zonesLeft.flatMap((zone) => (lastLook(context, zone.zone.id) ? [[zone, lastLook(context, zone.zone.id) ?? ''] as const] : [])));
  const never = zonesLeft.filter((zone) => !before.has(zone)).map((zone) => [link(zoneName(zone.zone, context.language), zone.zone.id)]);
  return [
    ...(before.size === 0 ? [] : [paragraph({ text: 'Looked at on an earlier visit, not on this one:', strong: true }), ...bullets([...before].map(([zone, text]): Inline => [link(zoneName(zone.zone, context.language), zone.zone.id), `, ${text}`]))]),
    ...(never.length === 0 ? [] : [aside(`Nothing was${before.size === 0 ? '' : ' ever'} written about ${countText(never.length, 'zone', 'zones')}: `, ...joined(never, '; '), '.')]),
  ];
}
