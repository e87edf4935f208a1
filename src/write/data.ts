import type { Dossier } from '../model/dossier.ts';
import type { RegisterRow } from '../model/inspection.ts';
import { hintsAbout } from '../model/photo-hints.ts';
import { takenText } from '../units.ts';
import { spotText } from './context.ts';
import type { Context } from './context.ts';
import { linesOf } from '../model/lines.ts';
import { dossierMarks } from './marks.ts';

/** All photos as data, in the order of the job, shown or not. */
export function dossierPhotos(context: Context): Dossier['photos'] {
  return context.album.map(({ photo, zones, reason, caption, marks }) => {
    const picture = context.pictures.get(photo.id);
    const drawn = dossierMarks(marks, context.units);
    return {
      id: photo.id,
      file: photo.path,
      bytes: photo.bytes,
      sha256: photo.sha256,
      zones,
      placed: reason === '' ? 'not placed' : reason,
      ...takenText(photo.takenAt),
      camera: [photo.make, photo.model].filter((text) => text !== null && text !== '').join(' '),
      caption,
      renditions: picture?.renditions ?? [],
      flaw: picture?.flaw ?? 'no picture was made of it',
      hints: hintsAbout(context.notices, photo.path),
      ...(drawn.length === 0 ? {} : { marks: drawn }),
    };
  });
}

/** The register as data: ids, not words, where the catalogue has one. */
export function dossierRows(context: Context): Dossier['register'] {
  return context.inspection.zones.flatMap((zone) => zone.rows.map(rowData));
}

function rowData(row: RegisterRow): Dossier['register'][number] {
  return {
    id: row.id,
    zone: row.zone,
    part: row.part.id,
    place: row.place,
    size: row.size,
    known: row.known,
    outcome: row.outcome,
    conditions: row.conditions,
    details: row.details,
    exposure: row.exposure,
    cavity: row.cavity,
    seen: row.seen,
    evidence: row.looked?.evidence ?? null,
    origin: row.origin,
    reason: row.reason,
    toSee: row.toSee,
    mountingMm: row.mounting?.distanceMm ?? null,
    photos: row.photos,
    partner: row.partner,
    written: row.spot ? spotText(row.spot) : null,
  };
}

/** Every line of the findings as typed, in the order of the file: what a later issue is compared with. */
export function dossierFindings(context: Context): Dossier['findings'] {
  const { car, visit, rates, zones, preamble, views } = context.inspection.job.notes;
  const metas = [['Car', car], ['Visit', visit], ['Rates', rates]] as const;
  const lines = [
    ...preamble.map((one) => ({ under: '', ...one })),
    ...metas.flatMap(([under, all]) => all.map((meta) => ({ under, text: meta.key === '' ? meta.text : `${meta.key}: ${meta.text}`, spot: meta.spot }))),
    ...views.map((view) => ({ under: 'Visit', text: view.text, spot: view.spot })),
    ...zones.flatMap((zone) => [...zone.entries.flatMap(linesOf), ...zone.narrative].map((one) => ({ under: zone.heading.text, text: one.text, spot: one.spot }))),
  ];
  // One line may be several findings (`inner face 1-3`): it was typed once.
  const once = new Map(lines.map(({ under, text, spot }) => [`${spotText(spot)} ${text}`, { under, text: text.replace(/\s+/g, ' ').trim(), written: spotText(spot), spot }]));
  return [...once.values()]
    .toSorted((a, b) => (a.spot.line ?? 0) - (b.spot.line ?? 0) || (a.spot.column ?? 0) - (b.spot.column ?? 0))
    .map(({ under, text, written }) => ({ under, text, written }));
}
