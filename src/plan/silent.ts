import type { Inspection, RegisterRow, Step, ZoneInspection } from '../model/inspection.ts';
import { rowIsStructure, zoneIsStructure } from '../model/wording.ts';
import { countText } from '../units.ts';
import { lookCautions } from './cautions.ts';
import type { Ranked } from './ranked.ts';

/** The last look: zones nothing was written about, and kinds of opening nobody counted. The list of what was not seen names them. */
export function silentStep(inspection: Inspection): Ranked[] {
  const silent = inspection.zones.filter((zone) => !zone.entered);
  const entered = inspection.zones.filter((zone) => zone.entered);
  const kinds = entered.flatMap(uncounted);
  if (silent.length + kinds.length === 0) return [];
  const load = silent.filter(zoneIsStructure).length;
  const rows = silent.flatMap((zone) => zone.rows);
  const step: Step = {
    id: silent.length > 0 ? 'step-look-silent' : 'step-count',
    zone: '',
    zones: [],
    title: [silentTitle(silent.length, load), kinds.length > 0 && silent.length === 0 ? `Count the ${kindsText(kinds.length)} nobody counted` : ''].filter((text) => text !== '').join(' '),
    rank: 4,
    structure: load > 0 || entered.some((zone) => uncounted(zone).some((row) => rowIsStructure(zone, row))),
    outcome: 'not seen',
    why: [
      silent.length > 0 ? `No line of the findings and no photo names ${silent.length === 1 ? 'it' : 'them'}; the list of what was not seen does.` : '',
      kinds.length > 0 ? `Where something was written, ${kindsText(kinds.length)} ${kinds.length === 1 ? 'was' : 'were'} not counted.` : '',
    ].filter((text) => text !== '').join(' '),
    what: silent.length > 0 ? `Look at ${silent.length === 1 ? 'it' : 'each'}, and write what is seen and what is not.` : 'Count them, and write the state of each.',
    suggested: false,
    hours: null,
    stopsWater: false,
    worth: null,
    cautions: lookCautions(inspection, silent, ''),
    answers: [...rows, ...kinds].map((row) => row.id),
  };
  return [{ step, value: -1, badness: 0, order: inspection.zones.length }];
}

function silentTitle(count: number, load: number): string {
  if (count === 0) return '';
  const carrying = load === 0 ? '' : count === 1 ? ', which carries load' : load === count ? ', all of which carry load' : `, ${load} of which ${load === 1 ? 'carries' : 'carry'} load`;
  return `Look at the ${count === 1 ? 'zone' : `${count} zones`} nothing was written about${carrying}`;
}

function kindsText(count: number): string {
  return countText(count, 'kind of opening', 'kinds of opening').replace(/^one /, '');
}

function uncounted(zone: ZoneInspection): RegisterRow[] {
  return zone.rows.filter((row) => row.known === 'kind' && row.outcome === 'not seen');
}
