import type { Zone } from '../model/catalogue.ts';
import { sides } from '../model/catalogue.ts';
import type { Job } from '../model/job.ts';
import type { Count, Entry, Finding, Remark, ZoneNotes } from '../model/notes.ts';
import type { Notice } from '../model/notice.ts';
import type { PlacedPhoto, RegisterRow, ZoneInspection } from '../model/inspection.ts';
import { coverageOf, stateOf } from './coverage.ts';
import type { RegisterTools } from './drafts.ts';
import type { Mountings } from './mountings.ts';
import { mountingsOf, nearestOf } from './mountings.ts';
import { isFarther, observationsOf } from './observations.ts';
import type { Placing } from './photos.ts';
import { judgeReadings } from './readings.ts';
import { nameRows, openingOf, registerOf } from './register.ts';
import { rustedOf } from './rusted.ts';
import { bySpot } from './spots.ts';
import { inTimeOrder } from './times.ts';

/** What a zone is made of besides its own notes. */
export interface ZoneSurroundings {
  job: Job;
  /** Zone ids of the inspection. */
  all: ReadonlySet<string>;
  placing: Placing;
  /** Photos of each zone. */
  photosOf: ReadonlyMap<string, PlacedPhoto[]>;
  once: (wanted: string) => string;
  notices: Notice[];
}

/** One zone with everything that was written about it in its place, nothing left out. */
export function inspectZone(around: ZoneSurroundings, zone: Zone, written: readonly ZoneNotes[]): ZoneInspection {
  // Headings of one zone are read in the order of the file, so that the order of the list does not matter.
  const headings = written.toSorted((a, b) => bySpot(a.heading.spot, b.heading.spot));
  const entries = headings.flatMap((heading) => heading.entries);
  const mountings = mergeMountings(headings.map((heading) => mountingsOf(heading.entries)));
  const { catalogue, settings } = around.job;
  const tools: RegisterTools = { catalogue, language: settings.language, zone, photoIdsOf: around.placing.idsOf };
  const register = registerOf(tools, entries);
  nameRows(register.rows, around.once);
  for (const row of register.rows) row.mounting = nearestOf(row.findings.flatMap((finding) => mountings.of.get(finding) ?? []));
  const observed = observationsOf(tools, entries, mountings, around.once);
  const { idsOf } = around.placing;
  const ofType = <T extends Entry['type']>(type: T): Extract<Entry, { type: T }>[] =>
    entries.filter((entry): entry is Extract<Entry, { type: T }> => entry.type === type);
  const readings = ofType('reading');
  const judged = judgeReadings({ ...tools, units: settings.units }, readings, observed.observations);
  around.notices.push(...register.notices, ...observed.notices, ...judged.notices, ...strayNotices(tools, entries));
  const photos = inTimeOrder((around.photosOf.get(zone.id) ?? []).map(({ photo }) => photo)).map((photo) => photo.id);
  const notSeen = ofType('not seen').map((entry) => ({ entry, photos: idsOf(entry.photos) }));
  const { rows } = register;
  const { observations } = observed;
  const rusted = rustedOf(entries, idsOf);
  return {
    zone,
    partner: partnerOf(zone, around.all),
    entered: entries.length > 0 || photos.length > 0 || headings.some((heading) => heading.narrative.length > 0),
    rows,
    observations,
    readings: judged.verdicts.map(({ reading, verdict }) => ({ reading, photos: idsOf(reading.photos), verdict })),
    rusted,
    notSeen,
    notFitted: ofType('not fitted'),
    remarks: remarksOf(tools, entries, mountings).map((entry) => ({ entry, photos: idsOf(entry.photos) })),
    work: ofType('work'),
    notes: ofType('note'),
    mountings: mountings.ofZone,
    narrative: headings.flatMap((heading) => heading.narrative),
    photos,
    coverage: coverageOf(rows),
    state: stateOf({ rows, observations, notSeen, rusted }),
  };
}

/** Joins rows to the same opening on the other side: same kind, same place. */
export function joinSides(zones: readonly ZoneInspection[]): void {
  const keyOf = (zone: string, row: RegisterRow): string => `${zone}|${row.part.id}|${row.place}`;
  const rows = zones.flatMap((zone) => zone.rows.filter((row) => row.known !== 'counted'));
  const byKey = new Map(rows.toReversed().map((row) => [keyOf(row.zone, row), row.id]));
  for (const zone of zones) {
    if (zone.partner === null) continue;
    for (const row of zone.rows) if (row.known !== 'counted') row.partner = byKey.get(keyOf(zone.partner, row)) ?? null;
  }
}

function partnerOf(zone: Zone, all: ReadonlySet<string>): string | null {
  const other = sides.find((side) => zone.side !== null && side !== zone.side);
  const id = `${zone.record.id}-${other ?? ''}`;
  return other !== undefined && all.has(id) ? id : null;
}

function mergeMountings(parts: readonly Mountings[]): Mountings {
  return { of: new Map(parts.flatMap((part) => [...part.of])), ofZone: parts.flatMap((part) => part.ofZone) };
}

/**
 * Remarks as written, and as remarks what has no place of its own: words of a count, a count of something that is no
 * opening, a finding about a part the catalogue lacks, a mounting farther away than another of its finding.
 */
function remarksOf(tools: RegisterTools, entries: readonly Entry[], mountings: Mountings): Remark[] {
  return entries.flatMap((entry): Remark[] => {
    // What is printed as typed stands on the zone's page by itself.
    if (entry.type === 'remark') return entry.unread ? [] : [entry];
    const kept =
      (entry.type === 'count' && (entry.words.trim() !== '' || isStrayCount(tools, entry))) ||
      (entry.type === 'finding' && isStrayFinding(tools, entry)) ||
      (entry.type === 'mounting' && isFarther(mountings, entry));
    if (!kept) return [];
    const { text, spot, origin, photos, words } = entry;
    return [{ type: 'remark', text, spot, origin, photos, words: words.trim() === '' || entry.type !== 'count' ? text : words }];
  });
}

function isStrayCount(tools: RegisterTools, count: Count): boolean {
  return openingOf(tools, count.part) === null;
}

function isStrayFinding(tools: RegisterTools, finding: Finding): boolean {
  return !tools.catalogue.parts.some((part) => part.id === finding.about.part);
}

function strayNotices(tools: RegisterTools, entries: readonly Entry[]): Notice[] {
  return entries.flatMap((entry): Notice[] => {
    if (entry.type === 'count' && isStrayCount(tools, entry)) {
      const advice = 'It is kept as a remark. Only openings are counted.';
      return [{ level: 'note', rule: 'count-no-opening', spot: entry.spot, found: `"${entry.text}" counts what is no opening`, advice }];
    }
    if (entry.type === 'finding' && isStrayFinding(tools, entry)) {
      const found = `Unexpected part "${entry.about.part}"`;
      return [{ level: 'warning', rule: 'part-unknown', spot: entry.spot, found, expected: 'a part of the catalogue', advice: 'The line is kept as a remark.' }];
    }
    return [];
  });
}
