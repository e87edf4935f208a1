import type { Section } from '../../model/dossier.ts';
import type { Context } from '../context.ts';
import { paragraph, table } from '../inline.ts';
import { noteRows } from '../work.ts';

/** Dates to look again, as written. */
export function again(context: Context): Section {
  const rows = noteRows(context, ['again']);
  return {
    id: 'again',
    title: 'When to look again',
    page: 'work',
    nav: 'Look again',
    breakBefore: false,
    blocks: rows.length === 0
      ? [paragraph('No date to look again was written. Wax, plugs and drains want a look after some weeks and after the first wet season (common practice, no source).')]
      : table('Dates to look again, as written', [['Zone', 3], ['When', 7]], rows),
  };
}
