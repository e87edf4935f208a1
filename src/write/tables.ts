import type { Block, BlockOf } from '../model/dossier.ts';
import type { Observation, RegisterRow, ZoneInspection } from '../model/inspection.ts';
import type { Reading, Spread } from '../model/notes.ts';
import { conditionsText, inSentence, partText, termIn } from '../model/wording.ts';
import { distanceText, readingText } from '../units.ts';
import { hasPage, nameOfZone, prints, spotText } from './context.ts';
import type { Context } from './context.ts';
import { cell, link, table } from './inline.ts';
import { lookedText, originText, photoLinks, rowName, stateWords } from './say.ts';

type Row = BlockOf<'table'>['rows'][number];

/** Register of one zone. Its rows carry the permanent anchors. */
export function zoneRegister(context: Context, zone: ZoneInspection): Block[] {
  return table(
    `Openings: ${zone.rows.length} expected or written`,
    [['Opening', 3], ['State', 4], ['How looked at', 3], ['Words as written', 3], ['Photos', 2]],
    zone.rows.map((row) => ({ id: row.id, cells: [cell(rowName(context, row)), stateCell(context, row), cell(lookText(context, row)), cell(wordsOf(row)), cell(...photoLinks(context, row.photos))] })),
  );
}

/** Register of all zones. A row carries its anchor only where no zone page does. */
export function fullRegister(context: Context): Block[] {
  const rows = context.inspection.zones.flatMap((zone) => {
    const onPage = hasPage(zone) && prints(context, 'zone-pages');
    return zone.rows.map((row): Row => {
      const name = rowName(context, row);
      const cells = [
        cell(link(nameOfZone(context, row.zone), row.zone)),
        cell(onPage ? link(name, row.id) : name),
        stateCell(context, row),
        cell(lookText(context, row)),
        cell(row.spot ? spotText(row.spot) : 'nothing written'),
      ];
      return onPage ? { cells } : { id: row.id, cells };
    });
  });
  return table('Openings of all zones, front to rear', [['Zone', 3], ['Opening', 3], ['State', 4], ['How looked at', 3], ['Written at', 2]], rows);
}

function stateCell(context: Context, row: RegisterRow): Row['cells'][number] {
  return { state: row.outcome, inline: [stateWords(context, row)].filter((text) => text !== '') };
}

/** "pressed; fact": how it was looked at and whose word it is; nothing where nobody wrote of it. */
function lookText(context: Context, row: RegisterRow): string {
  if (row.looked === null && row.findings.length === 0) return '';
  const origin = row.findings[0]?.origin;
  return [lookedText(context, row.looked), origin ? originText(origin) : row.origin].filter((text) => text !== '').join('; ');
}

function wordsOf(row: RegisterRow): string {
  return [...new Set(row.findings.flatMap((finding) => [finding.words, ...(finding.was ? [`was: ${finding.was}`] : [])]).filter((text) => text !== ''))].join(' / ');
}

/** Metal, coating, water and repairs: whatever of a zone is no opening. `zoned` adds a column with the zone. */
export function observationTable(context: Context, caption: string, observations: readonly Observation[], zoned: 'with zone' | 'of one zone'): Block[] {
  const columns: [string, number][] = [['What', 3], ['State', 4], ['How looked at', 3], ['Words as written', 3], ['Photos', 2]];
  const rows = observations.map((one): Row => {
    const name = partText(one.part, one.finding.about.place, context.language);
    const cells = [
      cell(zoned === 'with zone' ? link(name, one.id) : name),
      { state: one.outcome, inline: [observedWords(context, one)].filter((text) => text !== '' && text !== one.outcome) },
      cell([lookedText(context, one.finding.looked), originText(one.finding.origin)].filter((text) => text !== '').join('; ')),
      cell(one.finding.words),
      cell(...photoLinks(context, one.photos)),
    ];
    return zoned === 'with zone' ? { cells: [cell(link(nameOfZone(context, one.zone), one.zone)), ...cells] } : { id: one.id, cells };
  });
  return table(caption, zoned === 'with zone' ? [['Zone', 3], ...columns] : columns, rows);
}

function observedWords(context: Context, one: Observation): string {
  const { catalogue } = context.inspection.job;
  const conditions = conditionsText(catalogue, one.finding.conditions, context.language);
  const near = one.mounting ? `${distanceText(one.mounting.distanceMm, context.units)} from ${one.mounting.of}` : '';
  const load = one.structure && !near ? 'in structure' : '';
  return [conditions, ...one.finding.details, near, load].filter((text) => text !== '').join(', ');
}

/** Measured values: count, least, middle, most, and each as read. */
export function readingTable(context: Context, readings: readonly { zone: string; reading: Reading; photos: string[] }[], zoned: 'with zone' | 'of one zone'): Block[] {
  const columns: [string, number][] = [['What and where', 4], ['Readings>', 2], ['Least>', 2], ['Median>', 2], ['Most>', 2], ['Each, as read', 4], ['Photos', 2]];
  const rows = readings.map(({ zone, reading, photos }): Row => {
    const show = (value: number | undefined): string => (value === undefined ? '' : readingText(value, reading.unit, context.units));
    const sorted = [...reading.values].sort((a, b) => a - b);
    const cells = [
      cell(readingName(reading)),
      cell(String(sorted.length)),
      cell(show(sorted[0])),
      cell(show(median(sorted))),
      cell(show(sorted.at(-1))),
      cell([reading.values.map((value) => readingText(value, reading.unit, 'mm')).join(', '), reading.words].filter((text) => text !== '').join('. ')),
      cell(...photoLinks(context, photos)),
    ];
    return { cells: zoned === 'with zone' ? [cell(link(nameOfZone(context, zone), zone)), ...cells] : cells };
  });
  return table('Readings', zoned === 'with zone' ? [['Zone', 3], ...columns] : columns, rows);
}

function readingName(reading: Reading): string {
  const method = reading.method === '' ? '' : ` (${reading.method})`;
  return `${reading.quantity}${reading.place ? `, ${reading.place}` : ''}${method}; ${originText(reading.origin)}`;
}

/** Middle value of sorted ones; the mean of the two in the middle where their number is even. */
export function median(sorted: readonly number[]): number | undefined {
  const upper = sorted[Math.floor(sorted.length / 2)];
  const lower = sorted[Math.ceil(sorted.length / 2) - 1];
  return upper === undefined || lower === undefined ? undefined : (lower + upper) / 2;
}

/** What was written as not seen in a zone: what, why, and what it would take. */
export function notSeenText(context: Context, zone: ZoneInspection): { what: string; why: string; toSee: string; hours: Spread | null; photos: string[] }[] {
  const { reasons } = context.inspection.job.catalogue;
  return zone.notSeen.map(({ entry, photos }) => {
    const reason = reasons.find((one) => one.id === entry.reason);
    return {
      what: entry.what === '' ? 'the whole zone' : inSentence(entry.what),
      why: entry.reasonWords || (reason ? inSentence(termIn(reason.name, context.language)) : 'no reason written'),
      toSee: entry.toSee,
      hours: entry.hours,
      photos,
    };
  });
}
