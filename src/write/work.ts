import type { Block, BlockOf } from '../model/dossier.ts';
import type { ZoneInspection } from '../model/inspection.ts';
import type { Note, Work } from '../model/notes.ts';
import { dateText, hoursText, listText, priceText } from '../units.ts';
import { nameOfZone, prints } from './context.ts';
import type { Context } from './context.ts';
import { labourText } from './cost.ts';
import { cell, link, paragraph, table } from './inline.ts';

type Row = BlockOf<'table'>['rows'][number];

/** Work of one zone as written; an edition without work to do prints only what is written as done, one without a ledger either nothing. */
export function workBlocks(context: Context, zone: ZoneInspection): Block[] {
  if (!prints(context, 'work') && !prints(context, 'ledger')) return [];
  const works = context.plan.work.filter((one) => one.zone === zone.zone.id).map(({ work }) => work).filter((work) => prints(context, 'work') || work.done.length > 0);
  return works.map((work) => paragraph({ text: 'Work as written: ', strong: true }, workLine(work)));
}

function workLine(work: Work): string {
  return [
    ...(work.unplanned ? [] : [`${[work.steps, work.words].filter((text) => text !== '').join('. ')}.`, ...besides(work.particulars?.lines ?? [])]),
    ...(work.parts.length > 0 ? [`Parts: ${work.parts.map(partText).join('; ')}.`] : []),
    ...work.done.map((done) => `${doneText(done)}.`),
  ].join(' ').replaceAll('..', '.');
}

/** "plug 25 mm × 4, EUR 1.90 each". */
export function partText(part: Work['parts'][number]): string {
  return `${part.name} × ${part.count}${part.price ? `, ${priceText(part.price, part.together)}` : ', no price written'}`;
}

/** "Done on 2 May 2026: waxed, J. Arden, batch 4411; kept: old plug, tin in boot", as typed. */
export function doneText(done: Work['done'][number]): string {
  const when = done.date ? `Done on ${dateText(done.date)}` : 'Done, date not written';
  const said = [done.details.join(', '), ...done.lines.map((line) => line.text)].filter((text) => text !== '');
  return said.length > 0 ? `${when}: ${said.join('; ')}` : when;
}

function besides(lines: readonly { text: string }[]): string[] {
  return lines.length === 0 ? [] : [`${lines.map((line) => line.text).join('; ')}.`];
}

/** All work as a table: what, time, cost, and whether it is written as done. */
export function workTable(context: Context): Block[] {
  const rows = context.plan.work.map(({ zone, work }): Row => ({
    cells: [
      cell(link(nameOfZone(context, zone), zone)),
      cell([work.steps, hoursOnly(work.words) ? '' : work.words].filter((text) => text !== '').join('. ')),
      cell(timeText(work)),
      cell(labourText(context.plan.estimate.lines.filter((line) => line.work === work && (line.kind === 'labour' || line.kind === 'whole work')))),
      cell(work.done.length > 0 ? listText(work.done.map(doneText)) : 'not written as done'),
    ],
  }));
  return table('Work as written', [['Zone', 3], ['Work', 5], ['Time', 3], ['Labour cost', 4], ['Done', 4]], rows);
}

/** Hours of work, and hours that pass while nobody works. */
function timeText({ hours, waits, unplanned }: Work): string {
  if (unplanned) return 'not planned at this visit';
  const parts = [...(hours ? [hoursText(hours)] : []), ...(waits ? [`${hoursText(waits)} of waiting`] : [])];
  return parts.length > 0 ? listText(parts) : 'no hours written';
}

/** Words that are nothing but the hours and the price, which have columns of their own. */
function hoursOnly(words: string): boolean {
  return /^(?:[\d.,/–-]+\s*(?:h|hrs?|hours?|min)[.,]?\s*)?(?:(?:[A-Z]{3}\s?|[€£¥$])?\d[\d.,]*(?:\s?[A-Z]{3})?)?\.?$/.test(words.trim());
}

const noteNames: Record<Note['key'], string> = {
  again: 'Look again', ask: 'Decision asked', kept: 'Kept', invoice: 'Invoice', baseline: 'Film compared with', was: 'Named before', 'same view': 'Same view as',
};

/** Notes of one zone: what to decide, what was kept, when to look again. */
export function notesOf(zone: ZoneInspection): Block[] {
  return zone.notes.map((note) => {
    const [name = '', ...rest] = noteText(note).split(': ');
    return paragraph({ text: `${name}: `, strong: true }, `${rest.join(': ')}${/[.!?]$/.test(rest.at(-1) ?? '') ? '' : '.'}`);
  });
}

/** "Look again: October 2026". */
function noteText(note: Note): string {
  return `${noteNames[note.key]}: ${said(note)}`;
}

function said(note: Note): string {
  return note.key === 'again' ? saidAgain(note) : note.words;
}

/** The words of a date to look again, the date as the dossier writes it. */
export function saidAgain(note: Note): string {
  return note.words.replace(/^\d{4}-\d{2}(-\d{2})?/, dateText);
}

/** Notes of one kind over all zones, as table rows. */
export function noteRows(context: Context, keys: readonly Note['key'][]): Row[] {
  return context.inspection.zones.flatMap((zone) =>
    zone.notes.filter((note) => keys.includes(note.key)).map((note) => ({
      cells: [cell(link(nameOfZone(context, zone.zone.id), zone.zone.id)), cell(keys.length === 1 ? said(note) : noteText(note))],
    })));
}
