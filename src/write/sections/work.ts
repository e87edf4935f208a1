import type { Block, Section } from '../../model/dossier.ts';
import type { Context } from '../context.ts';
import { labourTable, materialBlocks, partsTables, rateFacts, tablesNamed, totalBlocks, unpricedBlocks } from '../cost.ts';
import { facts, heading, paragraph, table } from '../inline.ts';
import { noteRows, workTable } from '../work.ts';

/** Work, parts and what they cost from the user's own rates and prices. Nothing is priced that nobody priced. */
export function work(context: Context): Section {
  const { plan } = context;
  const section = { id: 'work', title: 'Work, parts and cost', page: 'work', nav: 'Work', breakBefore: false };
  const asked = table('Decisions asked of the owner', [['Zone', 3], ['Question', 7]], noteRows(context, ['ask']));
  return {
    ...section,
    blocks: [
      ...(plan.work.length === 0 ? [paragraph('No work was written in the findings, so none is priced.')] : []),
      ...totalBlocks(context),
      ...asked,
      ...workTable(context),
      ...partsTables(context),
      ...materialBlocks(context),
      ...labourTable(context),
      ...unpricedBlocks(context),
      ...(plan.work.length === 0 ? [] : [heading('Rates and tax'), ...rateFacts(context)]),
      ...ratesBlocks(context),
      ...tablesNamed(plan.estimate),
    ],
  };
}

/** Rates with their heading; nothing where none was written. */
export function ratesBlocks(context: Context): Block[] {
  const rates = facts(context.inspection.job.notes.rates.map((line) => ({ term: line.key === '' ? 'also written' : line.key, value: [line.text] })));
  return rates.length > 0 ? [heading('Rates as written'), ...rates] : [];
}
