import type { Block, Section } from '../../model/dossier.ts';
import { recordName } from '../../model/dossier-record.ts';
import { listText } from '../../units.ts';
import type { Context } from '../context.ts';
import { aside, heading, paragraph, table } from '../inline.ts';
import { invoiceTable, keptTable, sumBlocks } from '../record-papers.ts';
import { againstTable, doneEntries, doneTable, handsTable, materialsTable, openTable, unplannedSaid, visitText } from '../record.ts';
import { visitDay } from '../say.ts';
import { noteRows } from '../work.ts';

/** Work written as done over all visits, with hands, hours, materials, papers, beside what was estimated; what was kept. */
export function ledger(context: Context): Section {
  const done = doneEntries(context).length;
  const beside = [...sumBlocks(context), ...againstTable(context), ...unplannedSaid(context), ...openTable(context)];
  return {
    id: 'ledger',
    title: 'Work done and kept',
    page: 'work',
    nav: 'Work done',
    breakBefore: true,
    blocks: [
      madeFrom(context),
      ...(done === 0 ? [paragraph('No work is written as done.')] : doneTable(context)),
      ...(beside.length === 0 ? [] : [heading('Beside the estimate'), ...beside]),
      ...handsTable(context),
      ...materialsTable(context),
      ...keptTable(context),
      ...invoiceTable(context),
      ...table('Also noted', [['Zone', 3], ['Note', 7]], noteRows(context, ['was', 'baseline'])),
      ...(done === 0 ? [] : [aside('It stands here as it was written down: that work is written as done says nothing of how well it was done. The same as a table for a spreadsheet: ', { text: recordName, code: true }, ', beside this dossier.')]),
    ],
  };
}

function madeFrom(context: Context): Block {
  const { visits } = context.plan.record;
  if (visits.length < 2) return aside(`This dossier is made from one visit, ${visitDay(context)}. It compares nothing with earlier or later visits.`);
  return aside(`Made from ${visits.length} visits: ${listText(visits.map(visitText))}. What an earlier visit says stands as it was written then.`);
}
