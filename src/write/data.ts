import type { Dossier } from '../model/dossier.ts';
import type { RegisterRow } from '../model/inspection.ts';
import { takenText } from '../units.ts';
import { spotText } from './context.ts';
import type { Context } from './context.ts';

/** All photos as data, in the order of the job, shown or not. */
export function dossierPhotos(context: Context): Dossier['photos'] {
  return context.inspection.photos.map(({ photo, zones, reason, caption }) => {
    const picture = context.pictures.get(photo.id);
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
