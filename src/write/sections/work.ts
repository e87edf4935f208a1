import type { Block, Section } from '../../model/dossier.ts';
import { countText, listText } from '../../units.ts';
import type { Context } from '../context.ts';
import { aside, facts, heading, paragraph, table } from '../inline.ts';
import { noteRows, partsTable, workTable } from '../work.ts';

/** Work, parts and prices as written. Nothing is priced that nobody priced. */
export function work(context: Context): Section {
  const { plan } = context;
  const section = { id: 'work', title: 'Work and parts', page: 'work', nav: 'Work', breakBefore: false };
  const asked = table('Decisions asked of the owner', [['Zone', 3], ['Question', 7]], noteRows(context, ['ask']));
  return {
    ...section,
    blocks: [
      ...asked,
      ...(plan.work.length === 0 ? [paragraph('No work was written in the findings.')] : workTable(context)),
      ...partsTable(context),
      ...ratesBlocks(context),
      ...unpriced(context),
    ],
  };
}

/** Rates with their heading; nothing where none was written. */
export function ratesBlocks(context: Context): Block[] {
  const rates = facts(context.inspection.job.notes.rates.map((line) => ({ term: line.key === '' ? 'also written' : line.key, value: [line.text] })));
  return rates.length > 0 ? [heading('Rates as written'), ...rates] : [];
}

/** What carries no price, said once and plainly: it is not nothing. */
function unpriced(context: Context): Block[] {
  const { plan } = context;
  const works = plan.work.filter(({ work: one }) => one.cost === null).length;
  const parts = plan.parts.filter((part) => part.price === null).length;
  if (works + parts === 0) return [];
  const named = listText([
    ...(works > 0 ? [countText(works, 'work', 'works')] : []),
    ...(parts > 0 ? [countText(parts, 'part', 'parts')] : []),
  ]);
  return [aside(`Without a price: ${named}. Unpriced does not mean free, and no total is drawn here.`)];
}
