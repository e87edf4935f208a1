import type { Block, BlockOf, Inline, Section } from '../../model/dossier.ts';
import type { ZoneInspection } from '../../model/inspection.ts';
import type { Spread } from '../../model/notes.ts';
import { inSentence, termIn, zoneIsStructure } from '../../model/wording.ts';
import { countText, coverageText, hoursText } from '../../units.ts';
import { hasPage, nameOfZone } from '../context.ts';
import type { Context } from '../context.ts';
import { nextLook, unseenCounts, unseenZonesText } from '../facts.ts';
import { aside, cell, heading, joined, lead, link, paragraph, table } from '../inline.ts';
import { looksByWorth } from '../outlook.ts';
import { advises, photoLinks, rowName } from '../say.ts';
import { notSeenText } from '../tables.ts';

type Row = BlockOf<'table'>['rows'][number];

/** All that was not seen: as written, opening by opening, kinds nobody counted, zones without a word. */
export function notSeen(context: Context): Section {
  const counts = unseenCounts(context);
  const { zones } = context.inspection;
  const said = [coverageText(context.inspection.coverage), counts.zones.all === 0 ? '' : `nothing was seen of ${counts.zones.all} of ${countText(zones.length, 'zone', 'zones')} (${unseenZonesText(counts)})`].filter((text) => text !== '').join('; ');
  return {
    id: 'not-seen',
    title: 'Not seen',
    page: 'not-seen',
    nav: 'Not seen',
    breakBefore: true,
    blocks: [
      lead(`${said.charAt(0).toUpperCase()}${said.slice(1)}.`),
      paragraph('Not seen is neither sound nor defective: it is open, and it stays open until somebody looks. Missing is something else (it should be there, and was seen to be absent), and so is not fitted (this body never had it).'),
      ...lookToTake(context),
      ...written(context),
      ...openings(context),
      ...kinds(context),
      ...silent(context),
    ],
  };
}

/** The next look, and the look with the shortest written time, which may be another; nothing of one nobody knows. */
function lookToTake(context: Context): Block[] {
  const next = advises(context) ? nextLook(context) : [];
  const shortest = shortestLook(context);
  if (next.length === 0) return shortest.length === 0 ? [] : [paragraph('Of the looks with a written time the shortest is ', ...shortest, '.')];
  const other: Inline = shortest.length === 0 ? [] : ['; of those with a written time the shortest is ', ...shortest, ', which is not the same, as a short look may narrow little'];
  const same = looksByWorth(context)[0]?.[0].zone === leastLook(context)?.zone;
  return [paragraph('The look to take next is ', ...next, ', as an hour of it narrows the range most', ...(same ? [', and the shortest with a written time'] : other), '.')];
}

function shortestLook(context: Context): Inline {
  const least = leastLook(context);
  return least ? [link(nameOfZone(context, least.zone), least.zone), `: ${hoursText(least.hours)}`] : [];
}

/** The look with the shortest written time; null where no time was written. */
function leastLook(context: Context): { zone: string; hours: Spread } | null {
  const timed = context.inspection.zones.flatMap((zone) =>
    [...zone.notSeen.map(({ entry }) => entry.hours), ...zone.rows.filter((row) => row.outcome === 'not seen').map((row) => row.lookHours)]
      .flatMap((hours) => (hours ? [{ zone: zone.zone.id, hours }] : [])));
  return timed.sort((a, b) => a.hours.likely - b.hours.likely)[0] ?? null;
}

function written(context: Context): Block[] {
  const rows = context.inspection.zones.flatMap((zone) =>
    notSeenText(context, zone).map(({ what, why, toSee, hours, photos }): Row => ({
      cells: [
        cell(link(nameOfZone(context, zone.zone.id), zone.zone.id)),
        { state: 'not seen', inline: [what] },
        cell(why),
        cell([toSee === '' ? 'not written' : toSee, ...(hours && !toSee.includes(' h') ? [hoursText(hours)] : [])].join(', ')),
        cell(...photoLinks(context, photos)),
      ],
    })));
  return rows.length === 0 ? [] : [...table('Written as not seen', [['Zone', 3], ['What', 3], ['Why', 3], ['To see it', 3], ['Photos', 2]], rows)];
}

function openings(context: Context): Block[] {
  const unseen = context.inspection.zones.filter(hasPage).flatMap((zone) => zone.rows).filter((row) => row.outcome === 'not seen' && row.known !== 'kind');
  const rows = unseen.map((row): Row => ({
    cells: [
      cell(link(nameOfZone(context, row.zone), row.zone)),
      { state: 'not seen', inline: [link(rowName(context, row), row.id)] },
      cell(row.reason === '' ? 'no reason written' : inSentence(row.reason)),
      cell(row.toSee === '' ? 'not written' : row.toSee),
    ],
  }));
  return rows.length === 0 ? [] : [...table('Known openings not seen', [['Zone', 3], ['Opening', 4], ['Why', 3], ['To see it', 3]], rows)];
}

/** Kinds nobody counted in zones somebody wrote about; the zone's page names them. */
function kinds(context: Context): Block[] {
  const found = context.inspection.zones.filter(hasPage).flatMap((zone) => {
    const count = zone.rows.filter((row) => row.known === 'kind' && row.outcome === 'not seen').length;
    return count === 0 ? [] : [{ zone: zone.zone.id, count }];
  });
  if (found.length === 0) return [];
  const all = found.reduce((sum, { count }) => sum + count, 0);
  const { all: whole } = unseenCounts(context).kinds;
  const rest = whole - all;
  const names = found.map(({ zone, count }): Inline => [link(nameOfZone(context, zone), `${zone}--not-counted`), ` (${count})`]);
  return [
    heading('Kinds of opening nobody counted'),
    paragraph(`In the zones somebody wrote about, ${countText(all, 'kind of opening usual there was', 'kinds of opening usual there were')} not counted${rest > 0 ? `; the other ${rest} of the ${whole} are usual in the zones nothing was written about, below` : ''}. How many this car has is not known, so they stand outside the count of known openings. By zone, each with its list: `, ...joined(names, '; '), '.'),
  ];
}

/** Zones without a page of their own: the anchor of such a zone is its line here. */
function silent(context: Context): Block[] {
  const zones = context.inspection.zones.filter((zone) => !hasPage(zone));
  const rows = zones.map((zone): Row => ({
    id: zone.zone.id,
    cells: [cell(nameOfZone(context, zone.zone.id)), cell(carries(zone)), { state: 'not seen', inline: [usual(context, zone)] }],
  }));
  if (rows.length === 0) return [];
  return [
    heading('Zones nothing was written about'),
    aside(`No line of the findings and no photo names ${zones.length === 1 ? 'this zone' : `these ${zones.length} zones`}. Nothing is known about ${zones.length === 1 ? 'it' : 'them'}.`),
    ...table('Zones nothing was written about', [['Zone', 4], ['Carries', 3], ['Openings usual there', 9]], rows),
  ];
}

function carries(zone: ZoneInspection): string {
  if (zoneIsStructure(zone)) return 'structure';
  return zone.zone.record.carries === 'part' ? 'structure in part' : 'no main structure';
}

function usual(context: Context, zone: ZoneInspection): string {
  const kindsHere = new Set(zone.rows.map((row) => inSentence(termIn(row.part.plural, context.language))));
  return kindsHere.size === 0 ? countText(0, 'opening', 'openings') : [...kindsHere].join(', ');
}
