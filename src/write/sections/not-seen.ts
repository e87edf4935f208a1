import type { Block, BlockOf, Section } from '../../model/dossier.ts';
import type { ZoneInspection } from '../../model/inspection.ts';
import { inSentence, termIn, zoneIsStructure } from '../../model/wording.ts';
import { countText, coverageText, hoursText, listText } from '../../units.ts';
import { hasPage, nameOfZone } from '../context.ts';
import type { Context } from '../context.ts';
import { aside, cell, heading, lead, link, paragraph, table } from '../inline.ts';
import { photoLinks, rowName, silentZones } from '../say.ts';
import { notSeenText } from '../tables.ts';

type Row = BlockOf<'table'>['rows'][number];

/** All that was not seen: as written, opening by opening, kinds nobody counted, zones without a word. */
export function notSeen(context: Context): Section {
  const said = [coverageText(context.inspection.coverage), silentZones(context)].filter((text) => text !== '').join('; ');
  return {
    id: 'not-seen',
    title: 'Not seen',
    page: 'not-seen',
    nav: 'Not seen',
    breakBefore: true,
    blocks: [
      lead(`${said.charAt(0).toUpperCase()}${said.slice(1)}.`),
      paragraph('Not seen is neither sound nor defective: it is open, and it stays open until somebody looks. Missing is something else (it should be there, and was seen to be absent), and so is not fitted (this body never had it).'),
      ...shortestLook(context),
      ...written(context),
      ...openings(context),
      ...kinds(context),
      ...silent(context),
    ],
  };
}

/** The look with the shortest written time; nothing where no time was written. */
function shortestLook(context: Context): Block[] {
  const timed = context.plan.steps.flatMap((step) => (step.rank === 4 && step.hours ? [{ step, hours: step.hours }] : []));
  const [least] = timed.sort((a, b) => a.hours.likely - b.hours.likely || (a.step.id < b.step.id ? -1 : 1));
  if (!least) return [];
  return [paragraph('Of the looks with a written time the shortest is ', link(nameOfZone(context, least.step.zone), least.step.zone), `: ${hoursText(least.hours)}.`)];
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
  return rows.length === 0 ? [] : [heading('Written as not seen'), ...table('Written as not seen', [['Zone', 3], ['What', 3], ['Why', 3], ['To see it', 3], ['Photos', 2]], rows)];
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
  return rows.length === 0 ? [] : [heading('Known openings not seen'), ...table('Known openings not seen', [['Zone', 3], ['Opening', 4], ['Why', 3], ['To see it', 3]], rows)];
}

function kinds(context: Context): Block[] {
  const rows = context.inspection.zones.filter(hasPage).flatMap((zone): Row[] => {
    const names = zone.rows.filter((row) => row.known === 'kind' && row.outcome === 'not seen').map((row) => rowName(context, { ...row, known: 'counted' }));
    if (names.length === 0) return [];
    return [{ cells: [cell(link(nameOfZone(context, zone.zone.id), zone.zone.id)), { state: 'not seen', inline: [listText(names.map((name) => `“${name}”`))] }] }];
  });
  if (rows.length === 0) return [];
  return [
    heading('Kinds of opening nobody counted'),
    aside('These zones usually have such openings. How many this car has is not known, so they stand outside the count above.'),
    ...table('Kinds not counted, by zone', [['Zone', 3], ['Kinds', 7]], rows),
  ];
}

/** Zones without a page of their own: the anchor of such a zone is its line here. */
function silent(context: Context): Block[] {
  const zones = context.inspection.zones.filter((zone) => !hasPage(zone));
  const rows = zones.map((zone): Row => ({
    id: zone.zone.id,
    cells: [cell(nameOfZone(context, zone.zone.id)), { state: 'not seen', inline: ['nothing written'] }, cell(carries(zone)), cell(usual(context, zone))],
  }));
  if (rows.length === 0) return [];
  return [
    heading('Zones nothing was written about'),
    aside(`No line of the findings and no photo names ${zones.length === 1 ? 'this zone' : `these ${zones.length} zones`}. Nothing is known about ${zones.length === 1 ? 'it' : 'them'}.`),
    ...table('Zones nothing was written about', [['Zone', 3], ['State', 2], ['Carries', 2], ['Openings usual there', 5]], rows),
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
