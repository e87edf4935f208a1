import type { Block, Figure, Inline, Section } from '../../model/dossier.ts';
import type { Step, ZoneInspection } from '../../model/inspection.ts';
import type { ZoneNotes } from '../../model/notes.ts';
import { clausesText, faultsOf } from '../../model/faults.ts';
import { isUnspoken } from '../../model/unspoken.ts';
import { capital, toldBy, zoneIsStructure, zoneName } from '../../model/wording.ts';
import { coverageText, listText } from '../../units.ts';
import { hasPage, nameOfZone, prints } from '../context.ts';
import type { Context } from '../context.ts';
import { earlierBlocks } from '../earlier.ts';
import { aside, heading, joined, lead, link, paragraph } from '../inline.ts';
import { figureOf } from '../figures.ts';
import { proseBlocks } from '../prose.ts';
import { rustedBlocks, rustedClause } from '../rusted.ts';
import { advises, carriedDay, cautionLinks, photoLinks, seenInPart, soundSoFar } from '../say.ts';
import { foundTable, isFolded, notSeenText, readingTable } from '../tables.ts';
import { cavityName, outlookBlock } from '../outlook.ts';
import { leftover, unreadMarks } from '../leftover.ts';
import { sidesTable } from '../sides.ts';
import { notesOf, workBlocks } from '../work.ts';
import { linesOf } from '../../model/lines.ts';

/** One section, and one page, for every zone somebody wrote about or photographed. */
export function zonePages(context: Context): Section[] {
  return context.inspection.zones.filter(hasPage).map((zone, index) => ({
    id: zone.zone.id,
    title: zoneName(zone.zone, context.language),
    page: `zones/${zone.zone.id}`,
    breakBefore: index === 0,
    blocks: zoneBlocks(context, zone),
  }));
}

function zoneBlocks(context: Context, zone: ZoneInspection): Block[] {
  const readings = zone.readings.map((one) => ({ ...one, zone: zone.zone.id }));
  const said = [
    ...figures(context, zone),
    ...narrative(zone),
    ...foundTable(context, zone),
    ...readingTable(context, readings, 'of one zone'),
    ...rustedBlocks(context, zone.rusted.map((one) => ({ ...one, zone: zone.zone.id })), 'of one zone'),
  ];
  const also = [
    ...remarks(context, zone),
    ...unseen(context, zone),
    ...mountings(zone),
    ...workBlocks(context, zone),
    ...notesOf(zone),
    ...unreadMarks(headingsOf(context, zone).flatMap(({ entries }) => entries)),
  ];
  return [
    ...(zone.carried ? [paragraph({ text: `Looked at ${carriedDay(zone)}, not since: it stands here as it was then.`, strong: true })] : []),
    aside(placeWords(zone), ...headingTimes(context, zone)),
    lead(`${stateSentence(context, zone)} ${capital(coverageText(zone.coverage))}.${unseenPlaces(zone)}`),
    ...stepLinks(context, zone),
    ...said,
    ...outlooks(context, zone),
    ...also,
    ...asTyped(context, zone, [...said, ...also]),
    ...earlierBlocks(context, zone),
    ...sidesTable(context, zone),
    ...others(context, zone),
  ];
}

/** The closed sections behind the openings: what was seen of each, and how long it may last. */
function outlooks(context: Context, zone: ZoneInspection): Block[] {
  const all = context.outlook.cavities.filter((one) => one.zone === zone.zone.id);
  return outlookBlock(context, all.map((cavity) => ({ cavity, name: `Behind it: ${cavityName(cavity).replace(/^./, (letter) => letter.toLowerCase())}` })), 'with states');
}

/** What hangs on the zone and how water usually gets in, on one quiet line. */
function placeWords(zone: ZoneInspection): string {
  const { record } = zone.zone;
  const carries = zoneIsStructure(zone) ? 'Carries load' : record.carries === 'part' ? 'Carries load in part' : 'Carries no main load';
  const near = record.mountings.length > 0 ? `; mountings near by: ${listText(record.mountings)}` : '';
  return `${carries}${near}.${record.waterIn ? ` Water in, usually: ${record.waterIn}.` : ''}`;
}

/** Times written in the zone's headings, which claim photos. */
function headingTimes(context: Context, zone: ZoneInspection): string[] {
  const times = headingsOf(context, zone).flatMap(({ from }) => (from === null ? [] : [from]));
  return times.length === 0 ? [] : [` Time in the heading: ${listText(times)}.`];
}

function headingsOf(context: Context, zone: ZoneInspection): ZoneNotes[] {
  const visit = zone.carried ? context.earlier.find(({ inspection }) => inspection.job.visit === zone.carried?.visit) : undefined;
  return (visit ?? context).inspection.job.notes.zones.filter((notes) => notes.zone === zone.zone.id);
}

function stateSentence(context: Context, zone: ZoneInspection): string {
  const faults = faultsOf(context.inspection.job.catalogue, zone, context.language);
  const rusted = rustedClause(zone.rusted);
  if (zone.state !== 'defect' && rusted !== '') {
    const alone = zone.coverage.seen === 0 && zone.observations.every((one) => one.outcome === 'not seen');
    return `${capital(rusted)}. ${alone ? 'That says nothing of the rest.' : words(zone, '')[zone.state]}`;
  }
  if (zone.state === 'not seen' && !seenInPart(zone)) return unseenSentence(context, zone);
  return words(zone, [...(faults.length > 0 ? [clausesText(faults, 5, '; ')] : []), ...(rusted === '' ? [] : [rusted])].join('; '))[zone.state];
}

/** A photo shows something, but only what is written was judged. */
function unseenSentence(context: Context, zone: ZoneInspection): string {
  if (zone.photos.length === 0) return 'Nothing here was seen.';
  return isUnspoken(context.inspection.job.notes, zone) ? 'Photographed; nothing was written about it, so nothing is judged.' : 'Photographed; no finding was written, so nothing is judged.';
}

function words(zone: ZoneInspection, faults: string): Record<ZoneInspection['state'], string> {
  return {
    defect: capital(`${faults}.`),
    'cannot tell': soundSoFar(zone) ? 'What was seen here was found sound; the rest is open.' : 'What was seen here gave no clear answer.',
    'not seen': 'Something here was not seen, so nothing is called sound as a whole.',
    sound: 'All that is known here was seen and found sound.',
    'not fitted': 'This body does not have it.',
  };
}

/** Places written as not seen stand beside the coverage, which counts openings only. */
function unseenPlaces(zone: ZoneInspection): string {
  const places = zone.notSeen.filter(({ entry }) => entry.about === null && entry.what !== '').map(({ entry }) => entry.what);
  return places.length === 0 ? '' : ` Not seen: ${listText(places)}.`;
}

/** Where the zone stands among the first steps; the usual remedy is said here too, because a late step is one line there. */
function stepLinks(context: Context, zone: ZoneInspection): Block[] {
  const steps = context.plan.steps.filter((step) => step.zones.includes(zone.zone.id));
  if (!advises(context) || steps.length === 0) return [];
  const number = (step: Step): string => `step ${context.plan.steps.indexOf(step) + 1}`;
  const suggested = steps.filter((step) => step.suggested && step.rank === 3).flatMap((step): Inline => [{ text: ' Suggestion, the usual remedy: ', quiet: true }, step.what]);
  return [paragraph('Of the first steps: ', ...joined(steps.map((step): Inline => [link(number(step), step.id), ` (${shortTitle(step)})`]), ', '), '.', ...suggested)];
}

/** A step in a word or two on its own zone's page, whose lead has just named the defects. */
function shortTitle(step: Step): string {
  if (step.rank === 1) return 'have the steel examined';
  return step.rank === 4 ? 'look' : step.rank === 2 ? 'what the work needs besides' : 'mend';
}

function figures(context: Context, zone: ZoneInspection): Block[] {
  const all = zone.photos.map((id) => figureOf(context, id, 'zone')).filter((figure): figure is Figure => figure !== null);
  return all.length === 0 ? [] : [{ type: 'photos', look: 'large', figures: all }];
}

function narrative(zone: ZoneInspection): Block[] {
  const blocks = zone.narrative.flatMap((stretch) => proseBlocks(stretch.text));
  return blocks.length === 0 ? [] : [heading("In the inspector's words"), ...blocks];
}

/** Remarks as written; words a caption of this page already says stand there. */
function remarks(context: Context, zone: ZoneInspection): Block[] {
  return zone.remarks.filter(({ entry, photos }) => !photos.some((id) => zone.photos.includes(id) && context.photos.get(id)?.caption.includes(entry.words.replace(/\.$/, '') || entry.text))).map(({ entry, photos }): Block => {
    const seen: Inline = photos.length > 0 ? [' ', ...photoLinks(context, photos)] : [];
    const inline: Inline = [entry.words || entry.text, ...seen];
    const { origin } = entry;
    return origin.kind === 'told' ? { type: 'remark', origin: 'told', by: toldBy(origin.by).replace(/^told by /, ''), inline } : { type: 'remark', origin: origin.kind, inline };
  });
}

/** Places written as not seen; a line about one opening stands with that opening. */
function unseen(context: Context, zone: ZoneInspection): Block[] {
  const own = zone.notSeen.filter(({ entry }) => !zone.rows.some((row) => row.spot?.line === entry.spot.line && row.spot?.column === entry.spot.column && row.outcome === 'not seen' && !isFolded(row)));
  const lines = notSeenText(context, { ...zone, notSeen: own }).map(({ what, why, toSee, photos }): Inline => [
    { text: 'Not seen: ', strong: true }, `${what}. ${capital(why)}.${toSee ? ` To see it: ${toSee}.` : ''}`, ...(photos.length > 0 ? [' ', ...photoLinks(context, photos)] : []),
  ]);
  const none = zone.notFitted.map((entry): Inline => [{ text: 'Not fitted to this body: ', strong: true }, `${[entry.what, entry.words].filter((text) => text !== '').join('. ')}.`]);
  return [...lines, ...none].map((inline) => paragraph(...inline));
}

function mountings(zone: ZoneInspection): Block[] {
  return zone.mountings.map((one) => paragraph({ text: 'Safety mounting, measured: ', strong: true }, one.words || one.text, one.distanceMm <= 300 ? ' (within 30 cm).' : '.'));
}

/** Lines and headings of which a word is put differently on this page; an edition with the findings as written has them there. */
function asTyped(context: Context, zone: ZoneInspection, blocks: readonly Block[]): Block[] {
  if (prints(context, 'as-written')) return [];
  const all = headingsOf(context, zone);
  const names = [paragraph([zone.zone.name, zone.zone.nameUs, ...all.map(({ from }) => from ?? '')].join(' '))];
  return [...leftover(all.map((notes) => notes.heading), [...blocks, ...names]), ...leftover(all.flatMap((notes) => notes.entries).flatMap(linesOf), [...blocks, ...counted(context, all)])];
}

/** The kinds a count names by their plural: each of the openings has a row of its own. */
function counted(context: Context, all: readonly ZoneNotes[]): Block[] {
  const counts = all.flatMap((notes) => notes.entries).flatMap((entry) => (entry.type === 'count' ? [entry.part] : []));
  const parts = context.inspection.job.catalogue.parts.filter((part) => counts.includes(part.id));
  return parts.map((part) => paragraph(['expected', part.plural.gb, part.plural.us].join(' ')));
}

/** The other side, and what to heed, on one line. */
function others(context: Context, zone: ZoneInspection): Block[] {
  const partner = zone.partner ? context.zones.get(zone.partner) : undefined;
  const other: Inline = partner
    ? ['Other side of the car: ', link(nameOfZone(context, partner.zone.id), partner.zone.id), partner.entered ? '.' : ', nothing written about it.']
    : [];
  const cautions = prints(context, 'cautions') ? cautionLinks(context, [...new Set(context.plan.steps.filter((step) => step.zones.includes(zone.zone.id)).flatMap((step) => step.cautions))]) : [];
  return other.length + cautions.length === 0 ? [] : [aside(...other, ...(other.length > 0 && cautions.length > 0 ? [' '] : []), ...cautions)];
}
