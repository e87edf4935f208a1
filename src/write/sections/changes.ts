import type { BlockOf, Section } from '../../model/dossier.ts';
import type { Between, Change } from '../../model/comparison.ts';
import { capital } from '../../model/wording.ts';
import { countText, listText } from '../../units.ts';
import { nameOfZone } from '../context.ts';
import type { Context } from '../context.ts';
import { aside, cell, lead, link, paragraph, table } from '../inline.ts';
import { doneIn, sinceSentence, standingText, thingName, turnText, visitName, zoneLink } from '../over-time.ts';

type Row = BlockOf<'table'>['rows'][number];

/** What came of everything since the visit before. Nothing where there was none. */
export function changes(context: Context): Section | null {
  const { comparison } = context;
  const [before, after] = comparison?.visits.slice(-2) ?? [];
  const between = comparison?.between.at(-1);
  if (!before || !after || !between) return null;
  const columns = [['Where', 3], ['What', 4], [capital(visitName(before)), 4], [capital(visitName(after)), 4], ['Came out as', 3]] as const;
  return {
    id: 'changes',
    title: `What changed since ${visitName(before)}`,
    page: 'changes',
    nav: 'What changed',
    breakBefore: false,
    blocks: [
      lead(sinceSentence(context)),
      ...table('What changed, zone by zone', columns, between.changes.map((change) => row(context, change))),
      ...unchanged(context, between),
      ...leftAlone(context, between, visitName(before)),
      aside('Openings are told apart by zone, kind and place; a “was:” in the findings says where a name was another one. What was only counted has no name, and stands against its like as a whole.'),
    ],
  };
}

function row(context: Context, change: Change): Row {
  const { before, after, wasCalled } = change;
  const name = thingName(context, change);
  const what = after && context.rows.has(after.id) ? link(name, after.id) : name;
  return {
    cells: [
      cell(...zoneLink(context, change.zone)),
      cell(what, wasCalled === '' ? '' : ` (was “${wasCalled}”)`),
      cell(standingText(before)),
      cell(standingText(after)),
      cell({ text: turnText(change.turn), strong: true }, workNote(context, change)),
    ],
  };
}

/** Steel does not mend itself: what got better without work written is worth a question. */
function workNote({ comparison }: Context, { turn, zone }: Change): string {
  const after = comparison?.visits.at(-1);
  if (!after || (turn !== 'better' && turn !== 'replaced')) return '';
  return doneIn(after, zone).length > 0 ? '' : ', no work written';
}

function unchanged(context: Context, { unchanged: same }: Between): Section['blocks'] {
  if (same.length === 0) return [];
  const zones = [...new Set(same.map(({ zone }) => zone))];
  const named = zones.map((zone) => `${nameOfZone(context, zone)} (${listText(same.filter((one) => one.zone === zone).map((one) => `${thingName(context, one)}: ${standingText(one.after)}`))})`);
  return [paragraph({ text: 'As before: ', strong: true }, `${named.join('; ')}.`)];
}

function leftAlone(context: Context, { zonesLeft }: Between, day: string): Section['blocks'] {
  if (zonesLeft.length === 0) return [];
  return [paragraph({ text: 'Not looked at this time: ', strong: true }, `${countText(zonesLeft.length, 'zone', 'zones')} of which something was written on ${day}: ${listText(zonesLeft.map((zone) => nameOfZone(context, zone)))}. What was found there then has not been looked at since, and may have gone on.`)];
}
