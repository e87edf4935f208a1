import { zonesOf } from '../model/catalogue.ts';
import type { Inspection, PlacedPhoto, ZoneInspection } from '../model/inspection.ts';
import type { Job } from '../model/job.ts';
import type { ZoneNotes } from '../model/notes.ts';
import type { Notice } from '../model/notice.ts';
import { catalogueIn } from '../model/wording.ts';
import { compareFilms } from './baseline.ts';
import { checks } from './checks/index.ts';
import { clockDifferences } from './clock-differs.ts';
import { clockJumps } from './clock-jumps.ts';
import { coverageSum } from './coverage.ts';
import { photosTwice } from './photo-twice.ts';
import { placePhotos } from './photos.ts';
import { anchorsOnce } from '../model/anchor-names.ts';
import { hiddenInCounts } from './rusted-hidden.ts';
import { bySpot, sortedNotices } from './spots.ts';
import { inspectZone, joinSides } from './zone-inspection.ts';
import { bodyOf, carZones } from './zones.ts';
import { linesOf } from '../model/lines.ts';

/**
 * Puts everything of a job in its place: every photo, every finding, every zone and opening the body is expected to
 * have, seen or not. Nothing is judged about steel nobody saw. Notices are those of the job and those of placing, sorted
 * by where they point.
 */
export function place(given: Job): Inspection {
  const job = { ...given, catalogue: catalogueIn(given.catalogue, given.settings.language) };
  const { catalogue, notes } = job;
  const known = new Set(catalogue.zones.flatMap(zonesOf).map((zone) => zone.id));
  const placing = placePhotos(job);
  const { body, notices: bodyNotices } = bodyOf(catalogue, notes);
  const notices: Notice[] = [...job.notices, ...bodyNotices, ...placing.notices, ...photosTwice(job.photos), ...clockJumps(job.photos), ...clockDifferences(job, placing), ...hiddenInCounts(placing.photos)];
  const { byZone, unplaced } = byKnownZone(notes.zones, known);
  const photosOf = photosByZone(placing.photos);
  const zones = carZones(catalogue, notes, body, new Set([...byZone.keys(), ...photosOf.keys()]));
  const all = new Set(zones.map((zone) => zone.id));
  const around = { job, all, placing, photosOf, once: anchorsOnce(), notices };
  const inspected: ZoneInspection[] = zones.map((zone) => inspectZone(around, zone, byZone.get(zone.id) ?? []));
  joinSides(inspected);
  const films = compareFilms({ catalogue, language: job.settings.language }, inspected);
  notices.push(...films.notices);
  const inspection: Inspection = {
    job,
    body,
    zones: inspected,
    photos: placing.photos,
    unfound: placing.unfound,
    coverage: coverageSum(inspected.map((zone) => zone.coverage)),
    filmBaseline: films.baseline,
    views: catalogue.views.map(({ id }) => ({ id, photo: placing.photos.find((placed) => placed.views.includes(id))?.photo.id ?? null })),
    unplacedNotes: unplaced.filter((notes) => !onlyPhotosToPlace(notes)).toSorted((a, b) => bySpot(a.heading.spot, b.heading.spot)).map(textsOf),
    notices: [],
  };
  return { ...inspection, notices: sortedNotices([...notices, ...checks.flatMap(({ check }) => check(inspection))]) };
}

function byKnownZone(written: readonly ZoneNotes[], known: ReadonlySet<string>): { byZone: Map<string, ZoneNotes[]>; unplaced: ZoneNotes[] } {
  const byZone = new Map<string, ZoneNotes[]>();
  const unplaced: ZoneNotes[] = [];
  for (const notes of written) {
    if (notes.zone === null || !known.has(notes.zone)) unplaced.push(notes);
    else byZone.set(notes.zone, [...(byZone.get(notes.zone) ?? []), notes]);
  }
  return { byZone, unplaced };
}

function photosByZone(photos: readonly PlacedPhoto[]): Map<string, PlacedPhoto[]> {
  const result = new Map<string, PlacedPhoto[]>();
  for (const photo of photos) for (const zone of photo.zones) result.set(zone, [...(result.get(zone) ?? []), photo]);
  return result;
}

function textsOf({ heading, entries, narrative }: ZoneNotes): Inspection['unplacedNotes'][number] {
  const texts = [...entries.flatMap(linesOf), ...narrative].toSorted((a, b) => bySpot(a.spot, b.spot)).map(({ text }) => text);
  return { heading: heading.text, spot: heading.spot, texts };
}

/** What `sillbook new` leaves to be sorted: bare photos, which the photo index lists as not placed. */
function onlyPhotosToPlace({ heading, entries, narrative }: ZoneNotes): boolean {
  return /^to place$/i.test(heading.text) && narrative.length === 0 && entries.every((entry) => entry.type === 'photo' && entry.words === '' && entry.marks.length === 0);
}
