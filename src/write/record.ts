import type { Block, BlockOf, Inline } from '../model/dossier.ts';
import type { CostLine } from '../model/cost.ts';
import type { Spread } from '../model/notes.ts';
import type { DoneEntry, Undertaking, VisitDay } from '../model/record.ts';
import { byCodeUnit } from '../model/order.ts';
import { inSentence, termIn } from '../model/wording.ts';
import { workKindOf } from '../model/works.ts';
import { amountSpreadText, countText, dateText, hoursText, listText, moneyText } from '../units.ts';
import type { Context } from './context.ts';
import { aside, cell, table } from './inline.ts';
import { zoneLink } from './over-time.ts';
import { partText } from './work.ts';

type Row = BlockOf<'table'>['rows'][number];

/** "14 March 2026", or the folder where no date was written. */
export function visitText({ date, folder }: VisitDay): string {
  if (date !== null) return dateText(date);
  return folder ? `the day of “${folder}”, which was not written` : 'a day not written';
}

/** Everything written as done, by date. */
export function doneEntries(context: Context): DoneEntry[] {
  const { undertakings } = context.plan.record;
  return undertakings.flatMap((one) => one.entries).toSorted((a, b) => byCodeUnit(a.done.date ?? '~', b.done.date ?? '~'));
}

/** What was done, by whom, with what, at what cost; a row for each line. */
export function doneTable(context: Context): Block[] {
  const told = new Set<DoneEntry['work']>();
  const rows = doneEntries(context).map((entry): Row => {
    // Parts stand under the work, not under one of several lines of it.
    const parts = told.has(entry.work) ? [] : entry.work.parts.map(partText);
    told.add(entry.work);
    return {
      cells: [
        cell(entry.done.date === null ? 'not written' : dateText(entry.done.date)),
        cell(...zoneLink(context, entry.zone)),
        cell(whatText(entry)),
        cell(handsText(entry)),
        cell([...entry.done.materials.map(materialText), ...parts].join('; ')),
        cell(costText(entry)),
      ],
    };
  });
  return table('Work written as done, by date', [['Date', 3], ['Zone', 3], ['What was done', 5], ['Hands and hours', 3], ['Materials, batch, parts', 4], ['Cost and invoice', 4]], rows);
}

/** What was done in words, then how it treats the old: "waxed; conserved; reversible". */
export function whatText({ work, done }: DoneEntry): string {
  return [done.did.join(', ') || `as planned: ${work.steps}`, done.treatments.join(', '), done.reversible].filter((text) => text !== '').join('; ');
}

function handsText({ done, labour }: DoneEntry): string {
  const hands = done.hands.length > 0 ? listText(done.hands) : 'hands not written';
  const hours = done.hours !== null ? hoursText(done.hours) : labour.length === 0 ? 'waiting only' : 'hours not written';
  return `${hands}; ${hours}`;
}

/** "cavity wax, batch 4411, 0.5 l". */
export function materialText({ name, batch, words }: DoneEntry['done']['materials'][number]): string {
  return [name, batch === '' ? '' : `batch ${batch}`, words].filter((text) => text !== '').join(', ');
}

function costText({ done, labour }: DoneEntry): string {
  const cost = done.cost ? [moneyText(done.cost)] : labour.length === 0 ? [] : [`${linesText(labour)}${labour.every((line) => line.amount) ? ' by the rate' : ''}`];
  return [...cost, ...done.invoices.map(({ number, words }) => [`invoice ${number}`, words].filter((text) => text !== '').join(', '))].join('; ');
}

/** Amounts of lines added up by currency, bound by bound, and what has none: "EUR 104 to 156", "unpriced: no hours written". */
function linesText(lines: readonly CostLine[]): string {
  const currencies = [...new Set(lines.flatMap((line) => (line.amount ? (line.currency ?? []) : [])))].sort(byCodeUnit);
  const without = lines.filter((line) => line.amount === null);
  const sums = currencies.map((currency) => {
    const own = lines.flatMap((line) => (line.currency === currency && line.amount ? [line.amount] : []));
    const sum = (bound: 'low' | 'likely' | 'high'): number => own.reduce((total, amount) => total + amount[bound], 0);
    return amountSpreadText({ low: sum('low'), likely: sum('likely'), high: sum('high') }, currency);
  });
  const reasons = listText([...new Set(without.map((line) => line.reason))]);
  return listText([...sums, ...(without.length === 0 ? [] : [`unpriced${without.length > 1 ? ` ${without.length} times` : ''}: ${reasons}`])]);
}

/** What was done beside what was planned for it, work by work. */
export function againstTable(context: Context): Block[] {
  const rows = context.plan.record.undertakings.flatMap((one): Row[] => {
    const { planned, entries } = one;
    if (planned === null || entries.length === 0) return [];
    return [{
      cells: [
        cell(...zoneLink(context, one.zone)),
        cell(`${planned.work.steps} (${visitText(planned.visit)})`),
        cell(hoursAgainst(one, planned.work.hours)),
        cell(`${linesText(entries.flatMap((entry) => entry.labour)) || 'no labour'}, estimated ${linesText(planned.labour) || 'no labour'}`),
        cell(partsAgainst(one)),
        cell(one.left.length === 0 ? 'nothing' : listText(kindNames(context, one.left))),
      ],
    }];
  });
  return table('Done beside what was planned', [['Zone', 3], ['Planned, and when', 5], ['Hours', 4], ['Labour cost, without tax', 4], ['Parts', 3], ['Not named as done', 3]], rows);
}

/** "took 3.5 h, estimated 2 to 3 h". */
function hoursAgainst({ hours, entries }: Undertaking, estimated: Spread | null): string {
  const some = entries.some((entry) => entry.done.hours !== null);
  const took = hours !== null ? `took ${hoursText(hours)}` : some ? 'took more than is written, as not every line has its hours' : 'hours not written';
  return `${took}, ${estimated === null ? 'no hours estimated' : `estimated ${hoursText(estimated)}`}`;
}

/** Parts where they are written with the plan and again with the work done; under one `do:` they stand once. */
function partsAgainst({ planned, entries }: Undertaking): string {
  const used = [...new Set(entries.map((entry) => entry.work).filter((work) => work !== planned?.work))].flatMap((work) => work.parts.map(partText));
  const wanted = planned?.work.parts.map(partText) ?? [];
  if (used.length === 0) return wanted.join('; ');
  return `${used.join('; ')}${wanted.length === 0 ? '' : used.join() === wanted.join() ? ', as planned' : `; planned ${wanted.join('; ')}`}`;
}

function kindNames(context: Context, ids: readonly string[]): string[] {
  return ids.map((id) => {
    const kind = workKindOf(context.inspection.job.catalogue, id);
    return kind ? inSentence(termIn(kind.name, context.language)) : id;
  });
}

/** Planned work of which nothing is written as done, whichever visit planned it. */
export function openTable(context: Context): Block[] {
  const { undertakings, visits } = context.plan.record;
  const open = undertakings.filter((one) => one.planned !== null && one.entries.length === 0);
  if (visits.length === 1 && undertakings.every((one) => one.entries.length === 0)) return [];
  const rows = open.flatMap(({ zone, planned }): Row[] => (planned === null ? [] : [{
    cells: [cell(...zoneLink(context, zone)), cell(planned.work.steps), cell(visitText(planned.visit)), cell(planned.work.hours === null ? 'no hours estimated' : hoursText(planned.work.hours))],
  }]));
  return table('Planned, and not written as done', [['Zone', 3], ['Work', 5], ['Planned on', 3], ['Hours, estimated', 3]], rows);
}

/** Hours by hands, where there is more than one. Time that several share is not divided. */
export function handsTable(context: Context): Block[] {
  const entries = doneEntries(context);
  const names = [...new Set(entries.flatMap((entry) => entry.done.hands))];
  if (names.length < 2) return [];
  const rows = names.map((name): Row => {
    const own = entries.filter((entry) => entry.done.hands.includes(name));
    const alone = sumText(own.filter((entry) => entry.done.hands.length === 1));
    const shared = sumText(own.filter((entry) => entry.done.hands.length > 1));
    const without = own.filter((entry) => entry.done.hours === null).length;
    const said = [alone, shared === '' ? '' : `${shared} together with others`, without === 0 ? '' : `${countText(without, 'line', 'lines')} without hours`];
    return { cells: [cell(name), cell(listText(said.filter((text) => text !== ''))), cell(countText(own.length, 'line', 'lines'))] };
  });
  return table('By hands', [['Hands', 4], ['Hours written', 5], ['Work done', 3]], rows);
}

function sumText(entries: readonly DoneEntry[]): string {
  const hours = entries.flatMap((entry) => entry.done.hours ?? []);
  if (hours.length === 0) return '';
  const sum = (bound: 'low' | 'likely' | 'high'): number => Number(hours.reduce((total, one) => total + one[bound], 0).toFixed(4));
  return hoursText({ low: sum('low'), likely: sum('likely'), high: sum('high'), judged: false });
}

/** Where each material and batch went, where there is more than one. */
export function materialsTable(context: Context): Block[] {
  const groups = new Map<string, { name: string; batch: string; used: Inline[] }>();
  for (const { zone, done } of doneEntries(context)) {
    for (const { name, batch, words } of done.materials) {
      const key = `${name.toLowerCase()}\n${batch}`;
      const group = groups.get(key) ?? { name, batch, used: [] };
      group.used.push([...zoneLink(context, zone), ` (${[done.date === null ? 'date not written' : dateText(done.date), words].filter((text) => text !== '').join(', ')})`]);
      groups.set(key, group);
    }
  }
  if (groups.size < 2) return [];
  const rows = [...groups].toSorted(([a], [b]) => byCodeUnit(a, b)).map(([, { name, batch, used }]): Row => ({
    cells: [cell(name || 'not named'), cell(batch || 'not written'), cell(...used.flatMap((one, at) => (at === 0 ? one : ['; ', ...one])))],
  }));
  return table('Materials, and where they went', [['Material', 4], ['Batch', 3], ['Where and when', 6]], rows);
}

/** Work done that no line planned. */
export function unplannedSaid(context: Context): Block[] {
  const lines = context.plan.record.undertakings.filter((one) => one.planned === null).length;
  return lines === 0 ? [] : [aside(`${lines === 1 ? 'One line of work done has' : `${lines} lines of work done have`} no estimate to be set beside: no visit planned that work in that zone.`)];
}
