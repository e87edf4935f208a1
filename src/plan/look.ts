import type { Inspection, RegisterRow, Step, ZoneInspection } from '../model/inspection.ts';
import type { Spot } from '../model/notice.ts';
import { inSentence, partText, rowIsStructure, zoneIsStructure, zoneName } from '../model/wording.ts';
import { countText, listText } from '../units.ts';
import type { Ranked } from './ranked.ts';
import { sentence, sumHours } from './works.ts';

/**
 * Rank 4: looks at what nobody saw. A zone somebody wrote about has a step of its own; zones without a word, and zones
 * where only kinds were left uncounted, fold together, those that carry structure apart from the others.
 */
export function lookSteps(inspection: Inspection): Ranked[] {
  const entered = inspection.zones.flatMap((zone, order) => (zone.entered && isOpen(zone) ? [lookStep(inspection, zone, order)] : []));
  const untouched = inspection.zones.filter((zone) => !zone.entered);
  const uncounted = inspection.zones.filter((zone) => zone.entered && !isOpen(zone) && zone.coverage.kindsNotCounted > 0);
  return [
    ...entered,
    ...foldStep(inspection, 'step-look-structure', untouched.filter(zoneIsStructure), true),
    ...foldStep(inspection, 'step-look-others', untouched.filter((zone) => !zoneIsStructure(zone)), false),
    ...countStep(inspection, uncounted),
  ];
}

function unseenRows(zone: ZoneInspection): RegisterRow[] {
  return zone.rows.filter((row) => row.outcome === 'not seen' && row.known !== 'kind');
}

/** Something known was not seen, a look gave no answer, or nothing at all was seen. */
function isOpen(zone: ZoneInspection): boolean {
  const nothing = zone.observations.length === 0 && zone.rows.every((row) => row.outcome === 'not seen');
  return unseenRows(zone).length + zone.notSeen.length + unclear(zone).length > 0 || nothing;
}

function unclear(zone: ZoneInspection): string[] {
  return [...zone.rows, ...zone.observations].filter((one) => one.outcome === 'cannot tell').map((one) => one.id);
}

function lookStep(inspection: Inspection, zone: ZoneInspection, order: number): Ranked {
  const { language } = inspection.job.settings;
  const rows = unseenRows(zone);
  const own = zone.notSeen.map(({ entry }) => entry).filter((entry) => !rows.some((row) => isSpot(row.spot, entry.spot)));
  const doubtful = unclear(zone);
  const why = [
    ...own.map((entry) => `${entry.what === '' ? 'The whole zone' : entry.what} not seen: ${entry.reasonWords || 'no reason written'}`),
    rows.length > 0 ? `${countText(rows.length, 'known opening', 'known openings')} not seen: ${listText(rows.map((row) => reasoned(row, partText(row.part, row.place, language))))}` : '',
    zone.coverage.kindsNotCounted > 0 ? `${countText(zone.coverage.kindsNotCounted, 'kind of opening', 'kinds of opening')} not counted` : '',
    doubtful.length > 0 ? `${countText(doubtful.length, 'look', 'looks')} gave no clear answer` : '',
  ];
  const toSee = [...new Set([...own.map((entry) => entry.toSee), ...rows.map((row) => row.toSee)].filter((text) => text !== ''))];
  const structure = zoneIsStructure(zone) || rows.some((row) => rowIsStructure(zone, row));
  const step: Step = {
    id: `step-${zone.zone.id}-look`,
    zone: zone.zone.id,
    title: `${zoneName(zone.zone, language)}: look at what was not ${rows.length + own.length === 0 && doubtful.length > 0 ? 'clear' : 'seen'}`,
    rank: 4,
    structure,
    outcome: rows.length + own.length === 0 && doubtful.length > 0 ? 'cannot tell' : 'not seen',
    why: why.filter((text) => text !== '').map(sentence).join(' '),
    what: toSee.length > 0 ? sentence(`To see it: ${toSee.join('; ')}`) : 'What it would take was not written.',
    suggested: false,
    hours: sumHours([...own.map((entry) => entry.hours), ...rows.map((row) => row.lookHours)]),
    cautions: lookCautions(inspection, [zone], structure),
    answers: [...rows.map((row) => row.id), ...doubtful],
  };
  return { step, badness: 0, order };
}

/** A line that names a known opening is told with that opening. */
function isSpot(a: Spot | null, b: Spot): boolean {
  return a !== null && a.file === b.file && a.line === b.line && a.column === b.column;
}

function reasoned(row: RegisterRow, name: string): string {
  return row.reason === '' ? name : `${name} (${inSentence(row.reason)})`;
}

function foldStep(inspection: Inspection, id: string, zones: readonly ZoneInspection[], structure: boolean): Ranked[] {
  const { language } = inspection.job.settings;
  if (zones.length === 0) return [];
  const names = listText(zones.map((zone) => `“${zoneName(zone.zone, language)}”`));
  const one = zones.length === 1;
  const kind = structure ? 'load-carrying ' : 'other ';
  const step: Step = {
    id,
    zone: '',
    title: `Look at ${one ? `the ${kind}zone` : `the ${zones.length} ${kind}zones`} nothing was written about`,
    rank: 4,
    structure,
    outcome: 'not seen',
    why: `Nothing can be said about ${names}: no line of the findings and no photo names ${one ? 'it' : 'them'}.`,
    what: `Look at ${one ? 'it' : 'each'}, and write what is seen and what is not.`,
    suggested: false,
    hours: null,
    cautions: lookCautions(inspection, zones, structure),
    answers: zones.flatMap((zone) => zone.rows.map((row) => row.id)),
  };
  return [{ step, badness: 0, order: inspection.zones.length }];
}

function countStep(inspection: Inspection, zones: readonly ZoneInspection[]): Ranked[] {
  if (zones.length === 0) return [];
  const kinds = zones.flatMap((zone) => zone.rows.filter((row) => row.known === 'kind' && row.outcome === 'not seen'));
  const step: Step = {
    id: 'step-count',
    zone: '',
    title: `Count the ${kinds.length === 1 ? 'kind of opening' : `${kinds.length} kinds of opening`} nobody counted`,
    rank: 4,
    structure: zones.some((zone) => kinds.some((row) => row.zone === zone.zone.id && rowIsStructure(zone, row))),
    outcome: 'not seen',
    why: `How many there are is not known in ${listText(zones.map((zone) => `“${zoneName(zone.zone, inspection.job.settings.language)}”`))}.`,
    what: 'Count them, and write the state of each.',
    suggested: false,
    hours: null,
    cautions: [],
    answers: kinds.map((row) => row.id),
  };
  return [{ step, badness: 0, order: inspection.zones.length + 1 }];
}

function lookCautions(inspection: Inspection, zones: readonly ZoneInspection[], structure: boolean): string[] {
  const wanted = new Set(zones.flatMap((zone) => zone.zone.record.cautions));
  return inspection.job.catalogue.cautions
    .filter((caution) => wanted.has(caution.id) || (structure && /lift|jack/.test(caution.id)))
    .map((caution) => caution.id);
}
