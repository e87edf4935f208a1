import type { Block, BlockOf, Section } from '../../model/dossier.ts';
import { lookAgainName } from '../../model/dossier-record.ts';
import type { LookAgain } from '../../model/record.ts';
import { dateText } from '../../units.ts';
import type { Context } from '../context.ts';
import { aside, cell, paragraph, table } from '../inline.ts';
import { zoneLink } from '../over-time.ts';
import { visitText } from '../record.ts';
import { saidAgain } from '../work.ts';

/** Dates to look again of all visits, and what became of each. */
export function again(context: Context): Section {
  const { again: all, record } = context.plan;
  const several = record.visits.length > 1;
  const rows = all.map((one): BlockOf<'table'>['rows'][number] => ({
    cells: [cell(...zoneLink(context, one.zone)), cell(saidAgain(one.note)), cell(...(several ? [stateText(one)] : [])), cell(...(several ? [visitText(one.visit)] : []))],
  }));
  const none = paragraph('No date to look again was written. Wax, plugs and drains want a look after some weeks and after the first wet season (common practice, no source).');
  return {
    id: 'again',
    title: 'When to look again',
    page: 'work',
    nav: 'Look again',
    breakBefore: false,
    blocks: rows.length === 0 ? [none] : [...table('Dates to look again, as written', [['Zone', 3], ['When', 6], ['What became of it', 5], ['Written on', 3]], rows), ...calendarSaid(all)],
  };
}

function stateText({ state, due, lookedOn }: LookAgain): string {
  if (state === 'looked') return `looked at on ${dateText(lookedOn ?? '')}`;
  if (state === 'due') return 'due, and not looked at since';
  return due === '' ? 'open; no date that can be compared' : 'open';
}

function calendarSaid(all: readonly LookAgain[]): Block[] {
  const open = all.filter((one) => one.state !== 'looked' && one.due !== '');
  return open.length === 0 ? [] : [aside('The dates that are still to come, or due, as a file for a calendar: ', { text: lookAgainName, code: true }, ', beside this dossier. A month stands on its first day.')];
}
