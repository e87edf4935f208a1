import type { BlockOf, Section } from '../../model/dossier.ts';
import { dateText } from '../../units.ts';
import { nameOfZone } from '../context.ts';
import type { Context } from '../context.ts';
import { aside, cell, link, paragraph, table } from '../inline.ts';
import { visitDay } from '../say.ts';
import { noteRows } from '../work.ts';

type Row = BlockOf<'table'>['rows'][number];

/** Work written as done, with hands and materials, what was kept, and invoices. One visit tells no more. */
export function ledger(context: Context): Section {
  const done = context.plan.work
    .flatMap(({ zone, work }) => work.done.map((one) => ({ zone, work, one })))
    .sort((a, b) => ((a.one.date ?? '9') < (b.one.date ?? '9') ? -1 : (a.one.date ?? '9') > (b.one.date ?? '9') ? 1 : 0));
  const rows = done.map(({ zone, work, one }): Row => ({
    cells: [cell(one.date ? dateText(one.date) : 'not written'), cell(link(nameOfZone(context, zone), zone)), cell(work.steps), cell(one.details.join(', '))],
  }));
  const papers = table('Kept parts and invoices', [['Zone', 3], ['Note', 7]], noteRows(context, ['kept', 'invoice', 'was', 'baseline']));
  return {
    id: 'ledger',
    title: 'Work done and kept',
    page: 'work',
    nav: 'Work done',
    breakBefore: true,
    blocks: [
      aside(`This dossier is made from one visit, ${visitDay(context)}. It compares nothing with earlier or later visits.`),
      ...(rows.length === 0 ? [paragraph('No work is written as done.')] : table('Work written as done, by date', [['Date', 2], ['Zone', 3], ['Work', 4], ['As written', 4]], rows)),
      ...papers,
    ],
  };
}
