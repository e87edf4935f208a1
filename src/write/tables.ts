import { anchorOf, anchorsOnce } from '../model/anchor-names.ts';
import type { Block, BlockOf, Inline } from '../model/dossier.ts';
import type { Observation, RegisterRow, ZoneInspection } from '../model/inspection.ts';
import { median } from '../model/median.ts';
import type { Finding, Looked, Reading, Spread } from '../model/notes.ts';
import { conditionsText, inSentence, partText, termIn, zoneIsStructure } from '../model/wording.ts';
import { countText, distanceText, readingText } from '../units.ts';
import { hasPage, nameOfZone } from './context.ts';
import type { Context } from './context.ts';
import { cell, link, table } from './inline.ts';
import { readingPlots } from './plots.ts';
import { readingName } from './readings.ts';
import type { ReadingInZone } from './readings.ts';
import { lookedText, originText, photoCell, photoLinks, rowName, seenInPart, shortState, stateWords } from './say.ts';

type Row = BlockOf<'table'>['rows'][number];

/**
 * What was found in one zone: its register of openings, then metal, coating, water and repairs. Rows carry the permanent
 * anchors; kinds nobody named or counted fold, one line for each reason.
 */
export function foundTable(context: Context, zone: ZoneInspection): Block[] {
  const rows = zone.rows.filter((row) => !isFolded(row)).map((row): Row => ({
    id: row.id,
    cells: [cell(rowName(context, row)), stateCell(context, row), cell(...saidOf(lookText(context, row), row.findings[0]?.looked ?? row.looked, wordsOf(context, row))), cell(...photoCell(context, row.photos, row.findings.flatMap((finding) => finding.photos)))],
  }));
  const folded = foldsOf(context, zone).map(({ id, names, why }): Row => ({
    id,
    cells: [cell(`Not counted: ${names.join('; ')}`), { state: 'not seen', inline: [why] }, cell(), cell()],
  }));
  const caption = zone.observations.length > 0 ? 'Openings, then metal, coating, water and earlier repairs' : 'Openings';
  return table(caption, [['What', 6], ['State', 5], ['How looked at', 6], ['Photos', 3]], [...rows, ...zone.observations.map((one) => observedRow(context, one)), ...folded]);
}

/** Kinds nobody named or counted, and about which nothing was written but a reason at most. */
export function isFolded(row: RegisterRow): boolean {
  return row.known === 'kind' && row.outcome === 'not seen' && row.findings.length === 0 && row.photos.length === 0;
}

/** The folded kinds of a zone by the reason they share. */
function foldsOf(context: Context, zone: ZoneInspection): { id: string; names: string[]; why: string }[] {
  const folds = new Map<string, string[]>();
  for (const row of zone.rows.filter(isFolded)) {
    const why = stateWords(context, row) || 'nothing written';
    folds.set(why, [...(folds.get(why) ?? []), rowName(context, row).replace(/, number not known$/, '')]);
  }
  return [...folds].map(([why, names], index) => ({ id: `${zone.zone.id}--not-counted${index === 0 ? '' : `-${index + 1}`}`, names, why }));
}

/** Register of all zones, short: the words stand with the zone. One line for each zone nothing was written about. */
export function fullRegister(context: Context): Block[] {
  const rows = context.inspection.zones.flatMap((zone): Row[] => {
    const { id } = zone.zone;
    const name = cell(link(nameOfZone(context, id), id));
    const shown = zone.rows.filter((row) => !isFolded(row));
    const folded = zone.rows.length - shown.length;
    const line = folded === 0 ? [] : [{
      ...(hasPage(zone) ? {} : { id: `${id}--not-counted` }),
      cells: [name, cell(hasPage(zone) ? link(`${countText(folded, 'kind', 'kinds')} not counted`, `${id}--not-counted`) : `${countText(folded, 'kind', 'kinds')} not counted`), { state: 'not seen' as const, inline: [] }, cell(), cell()],
    }];
    return [...shown.map((row): Row => ({
      ...(hasPage(zone) ? {} : { id: row.id }),
      cells: [name, cell(link(rowName(context, row), row.id)), { state: row.outcome, inline: [shortState(context, row)].filter((text) => text !== '') }, cell(lookText(context, row)), cell(...photoLinks(context, row.photos))],
    })), ...line];
  });
  return table('Openings of all zones, front to rear', [['Zone', 5], ['Opening', 6], ['State', 5], ['How looked at', 5], ['Photos', 3]], rows);
}

function stateCell(context: Context, row: RegisterRow): Row['cells'][number] {
  return { state: row.outcome, inline: [stateWords(context, row)].filter((text) => text !== '') };
}

/** "pressed": how it was looked at, and whose word it is where it is no fact; nothing where nobody wrote of it. */
function lookText(context: Context, row: RegisterRow): string {
  if (row.looked === null && row.findings.length === 0) return '';
  const origin = row.findings[0]?.origin;
  const whose = origin ? originText(origin) : row.origin === 'fact' ? '' : row.origin;
  return [lookedText(context, row.looked), whose].filter((text) => text !== '').join('; ');
}

/** How it was looked at, then the words. Where the words say how, as "pressed" does, they stand alone. */
function saidOf(how: string, looked: Looked | null, words: string): Inline {
  if (words === '') return [how];
  if (looked === null || looked.assumed) return [how === '' ? words : `${how}. ${words}`];
  return [looked.through ? `${how.replace(/^seen by /, '').replace(` through ${looked.through}`, '')}; ${words}` : words];
}

/** Words of all lines about an opening. Where one of several lines decided nothing, each stands with its own conditions. */
function wordsOf(context: Context, row: RegisterRow): string {
  const { catalogue } = context.inspection.job;
  const named = (finding: Finding): string => conditionsText(catalogue, finding.conditions, context.language);
  const silent = row.findings.some((finding) => finding.conditions.some((id) => !row.conditions.includes(id)) && !row.reason.includes(named(finding)));
  const whose = (finding: Finding): string => (row.findings.length > 1 && finding.origin.kind !== 'fact' && !/\btold by\b/.test(finding.words) ? `${originText(finding.origin)}: ` : '');
  const said = row.findings.map((finding) => [silent ? named(finding) : '', saidWords(finding)].filter((text) => text !== '').map((text, index) => (index === 0 ? whose(finding) : '') + text).join('. '));
  return [...new Set(said.filter((text) => text !== ''))].join(' / ');
}

/** Exposure where it was said, words as written, and the name at the visit before. */
export function saidWords({ about, words, was }: Finding): string {
  return [about.exposure ?? '', words, was === null ? '' : `was: ${was}`].filter((text) => text !== '').map((text) => text.replace(/\.$/, '')).join('. ');
}

/** What was seen of something that is no opening: metal, coating, water, an earlier repair. */
function observedRow(context: Context, one: Observation): Row {
  return { id: one.id, cells: [
    cell(partText(one.part, one.finding.about.place, context.language)),
    { state: one.outcome, inline: [observedWords(context, one)].filter((text) => text !== '') },
    cell(...saidOf(observedLook(context, one), one.finding.looked, saidWords(one.finding))),
    cell(...photoCell(context, one.photos, one.finding.photos)),
  ] };
}

/** How something was looked at, and whose word it is where it is no fact. */
export function observedLook(context: Context, one: Observation): string {
  return [isYearOnly(one) ? 'by the year written; how it looks today was not said' : lookedText(context, one.finding.looked), originText(one.finding.origin)].filter((text) => text !== '').join('; ');
}

/** "Waxed 2021" tells a year; nobody says the wax was looked at. */
function isYearOnly(one: Observation): boolean {
  return one.part.type === 'coating' && one.finding.looked.assumed && one.finding.details.some((detail) => /\b(19|20)\d\d\b/.test(detail));
}

/** Conditions and details of what was seen, a mounting near by, and whether it carries load where the zone as a whole does not. */
export function observedWords(context: Context, one: Observation): string {
  const { catalogue } = context.inspection.job;
  const hearsay = one.outcome === 'not seen' && one.finding.conditions.length > 0 ? (one.finding.origin.kind === 'told' ? 'told: ' : 'inferred: ') : '';
  const conditions = hearsay + conditionsText(catalogue, one.finding.conditions, context.language);
  const near = one.mounting ? `${distanceText(one.mounting.distanceMm, context.units)} from ${one.mounting.of}` : '';
  const zone = context.zones.get(one.zone);
  const load = one.structure && one.part.type !== 'water' && !near && one.outcome !== 'sound' && !(zone && zoneIsStructure(zone)) ? 'in metal that carries load' : '';
  return [conditions === one.outcome ? '' : conditions, ...one.finding.details, near, load].filter((text) => text !== '').join(', ');
}

/** Measured values: along a scale with a sentence for each, then count, least, middle, most, and each as read. */
export function readingTable(context: Context, readings: readonly ReadingInZone[], zoned: 'with zone' | 'of one zone'): Block[] {
  const columns: [string, number][] = [['What and where', 4], ['Readings>', 2], ['Least>', 2], ['Median>', 2], ['Most>', 2], ['Each, as read', 4], ['Photos', 2]];
  const once = anchorsOnce();
  const rows = readings.map(({ zone, reading, photos }): Row => {
    const show = (value: number | undefined): string => (value === undefined ? '' : readingText(value, reading.unit, context.units));
    const sorted = [...reading.values].sort((a, b) => a - b);
    const cells = [
      zoned === 'with zone' ? cell(link(nameOfZone(context, zone), zone), `; ${methodText(reading)}`) : cell(methodText(reading)),
      cell(String(sorted.length)),
      cell(show(sorted[0])),
      cell(show(median(sorted))),
      cell(show(sorted.at(-1))),
      cell([asRead(reading), reading.words].filter((text) => text !== '').join('. ')),
      cell(...photoCell(context, photos, reading.photos)),
    ];
    const place = anchorOf(reading.place);
    return zoned === 'with zone' ? { cells } : { id: once(`${zone}--reading--${reading.quantity}${place === '' ? '' : `--${place}`}`), cells };
  });
  return [...readingPlots(context, readings, zoned), ...table('Readings in numbers', columns, rows)];
}

/** The values as they were typed, in their own unit, whose sign stands for its letters. */
function asRead(reading: Reading): string {
  const value = reading.text.slice(reading.text.indexOf(':') + 1).replace(/\]\([^)]*\)\s*$/, '');
  return (value.split(/\.(?=\s|$)/)[0] ?? '').replace(/\s+/g, ' ').replace(/\bum\b/g, 'µm').trim();
}

function methodText(reading: Reading): string {
  const method = reading.method === '' ? '' : ` (${reading.method})`;
  return `${readingName(reading)}${method}${originText(reading.origin) === '' ? '' : `; ${originText(reading.origin)}`}`;
}

/** What was written as not seen in a zone: what, why, and what it would take. */
export function notSeenText(context: Context, zone: ZoneInspection): { what: string; why: string; toSee: string; hours: Spread | null; photos: string[] }[] {
  const { reasons } = context.inspection.job.catalogue;
  return zone.notSeen.map(({ entry, photos }) => {
    const reason = reasons.find((one) => one.id === entry.reason);
    return {
      what: entry.what === '' ? (seenInPart(zone) ? 'the rest of the zone' : 'the whole zone') : inSentence(entry.what),
      why: entry.reasonWords || (reason ? inSentence(termIn(reason.name, context.language)) : 'no reason written'),
      toSee: entry.toSee,
      hours: entry.hours,
      photos,
    };
  });
}
