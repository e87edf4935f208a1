import type { Block, BlockOf, Inline } from '../model/dossier.ts';
import type { Comparison } from '../model/record.ts';
import type { Note } from '../model/notes.ts';
import type { Total } from '../model/cost.ts';
import { amountAmongText, amountRangeText, amountText, countText, dateText, hoursText, moneyText } from '../units.ts';
import type { Context } from './context.ts';
import { cell, paragraph, table } from './inline.ts';
import { zoneLink } from './over-time.ts';
import { doneEntries, visitText, whatText } from './record.ts';

type Row = BlockOf<'table'>['rows'][number];

/** Hours and labour in sum, of works that can be compared, and all that was spent. */
export function sumBlocks(context: Context): Block[] {
  const { hours, cost, spent, unpriced, undertakings } = context.plan.record;
  if (undertakings.every((one) => one.entries.length === 0)) return [];
  const { tax } = context.inspection.job.rates;
  const without = unpriced === 0 ? '' : `; ${countText(unpriced, 'line carries', 'lines carry')} no price and ${unpriced === 1 ? 'is' : 'are'} not in it`;
  const said = spent.length === 0 ? [`none of it is priced${unpriced === 0 ? '' : `, which does not mean that it was free`}`] : spent.map((total) => `${totalText(total)}, without tax${taxed(total, tax?.percent)}`);
  return [
    ...hoursLine(hours),
    ...(cost.works === 0 ? [] : [strong('Labour in all: ', `${worksText(cost.works)} cost ${cost.took.map(totalText).join(' and ')}, estimated ${cost.estimated.map(totalText).join(' and ')}, without tax.`)]),
    strong('Labour of everything written as done: ', `${said.join('; ')}${spent.length === 0 ? '' : without}.`),
  ];
}

function hoursLine({ works, took, estimated }: Comparison): Block[] {
  if (works === 0 || took === null || estimated === null) return [];
  return [strong('Hours in all: ', `${worksText(works)} took ${hoursText(took)}, estimated ${hoursText(estimated)}.`)];
}

function worksText(works: number): string {
  return works === 1 ? 'the one work that is done whole and can be compared' : `the ${works} works that are done whole and can be compared`;
}

function strong(head: string, rest: string): Block {
  return paragraph({ text: head, strong: true }, rest);
}

/** "EUR 182", "EUR 130 on average (EUR 110 to 150 …)": the mean, and what 10 and 90 in 100 stay below where all run high or low together. */
function totalText({ mean, tied, currency }: Pick<Total, 'mean' | 'tied' | 'currency'>): string {
  return tied.low === tied.high ? amountText(mean, currency) : `${amountAmongText(mean, tied.low, tied.high, currency)} on average (${amountRangeText(tied.low, tied.high, currency)} if all run high or low together)`;
}

function taxed({ withTax, currency }: Total, percent: string | undefined): string {
  return withTax === null || percent === undefined ? '' : `; ${totalText({ ...withTax, currency })} with tax at ${percent} %`;
}

/** What was kept, of every visit, with the day it was written. */
export function keptTable(context: Context): Block[] {
  const rows = new Map<string, Row>();
  const add = (zone: string, what: string, when: string): void => {
    const key = `${zone}\n${what}`;
    if (!rows.has(key)) rows.set(key, { cells: [cell(...zoneLink(context, zone)), cell(what), cell(when)] });
  };
  for (const { zone, done, visit } of doneEntries(context)) for (const kept of done.kept) add(zone, kept, done.date === null ? visitText(visit) : dateText(done.date));
  for (const { zone, planned } of context.plan.record.undertakings) for (const kept of planned?.work.particulars?.kept ?? []) add(zone, kept, planned ? visitText(planned.visit) : '');
  for (const { zone, note, day } of notesOfAll(context, 'kept')) add(zone, note.words, day);
  return table('Old parts kept', [['Zone', 3], ['What, and where', 6], ['Written for', 3]], [...rows.values()]);
}

/** Each invoice with the work it covers. */
export function invoiceTable(context: Context): Block[] {
  const groups = new Map<string, Inline[]>();
  const add = (number: string, covers: Inline): void => void groups.set(number, [...(groups.get(number) ?? []), covers]);
  for (const entry of doneEntries(context)) {
    const { zone, done } = entry;
    const facts = [done.date === null ? 'date not written' : dateText(done.date), ...(done.cost ? [moneyText(done.cost)] : [])].join(', ');
    for (const { number, words } of done.invoices) add(number, [...zoneLink(context, zone), `: ${[whatText(entry), words].filter((text) => text !== '').join('; ')} (${facts})`]);
  }
  for (const { zone, planned } of context.plan.record.undertakings) {
    for (const { number, words } of planned?.work.particulars?.invoices ?? []) add(number, [...zoneLink(context, zone), `: ${[planned?.work.steps ?? '', words].filter((text) => text !== '').join('; ')} (not written as done)`]);
  }
  for (const { zone, note, day } of notesOfAll(context, 'invoice')) {
    const [number = '', ...words] = note.words.split(/[,;]\s+/);
    add(number, [...zoneLink(context, zone), `: ${['for no one line of work', ...words].join('; ')} (${day})`]);
  }
  const rows = [...groups].map(([number, covers]): Row => ({ cells: [cell(number || 'no number written'), cell(...covers.flatMap((one, at) => (at === 0 ? one : ['; ', ...one])))] }));
  return table('Invoices, and what they cover', [['Invoice', 3], ['Covers', 9]], rows);
}

/** Notes of one kind that stand in a zone by themselves, of every visit, oldest first. */
function notesOfAll(context: Context, key: Note['key']): { zone: string; note: Note; day: string }[] {
  const visits = [...context.earlier.map((visit) => visit.inspection), context.inspection];
  const { visits: days } = context.plan.record;
  return visits.flatMap((visit, at) => {
    const day = days.at(at - visits.length);
    return visit.zones.flatMap((zone) => zone.notes.filter((note) => note.key === key).map((note) => ({ zone: zone.zone.id, note, day: day ? visitText(day) : '' })));
  });
}
