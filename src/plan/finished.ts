import type { Inspection, ZoneInspection } from '../model/inspection.ts';
import type { Notice } from '../model/notice.ts';
import { workKindOf } from '../model/works.ts';
import { worksOf } from '../model/zone-work.ts';
import { dateText } from '../units.ts';
import { dueOf } from './again.ts';
import { orderNotice } from './kinds.ts';

/** Wax runs into drains and sets there: they are opened again afterwards, and shown open in a photo (common practice, no source). */
export function drainNotShown(inspection: Inspection, zone: ZoneInspection, name: string): Notice[] {
  const drains = zone.rows.filter((row) => row.part.group === 'drain' && row.outcome !== 'not fitted');
  const waxed = worksOf(zone).flatMap((work) => work.done.filter((done) => done.kinds.some((id) => workKindOf(inspection.job.catalogue, id)?.effect === 'protects')));
  const last = waxed.toSorted((a, b) => ((a.date ?? '') < (b.date ?? '') ? -1 : 1)).at(-1);
  if (last === undefined || drains.length === 0) return [];
  const shown = drains.filter((row) => row.outcome === 'sound').flatMap((row) => row.photos);
  const isLater = (id: string): boolean => (inspection.photos.find(({ photo }) => photo.id === id)?.photo.takenAt?.local.slice(0, 10) ?? '9') >= (last.date ?? '');
  if (shown.some(isLater)) return [];
  return [orderNotice('warning', 'drain-not-shown', last.spot, {
    found: `Wax${last.date ? ` on ${dateText(last.date)}` : ''} without a later photo of an open drain (${name})`,
    expected: 'a drain written as open, with a photo taken after the wax',
    advice: 'Open the drains again, take the photo, and name it in the line of the drain.',
  })];
}

/** Finished work nobody means to look at again; a later date written at an earlier visit will do. */
export function againMissing(zone: ZoneInspection, before: readonly ZoneInspection[], name: string): Notice[] {
  const last = worksOf(zone).flatMap((work) => work.done).at(-1);
  const isLater = (due: string): boolean => due !== '' && due > (last?.date ?? '9').slice(0, due.length);
  if (last === undefined || zone.notes.some((note) => note.key === 'again')) return [];
  if (before.some((one) => one.notes.some((note) => note.key === 'again' && isLater(dueOf(note.words))))) return [];
  return [orderNotice('warning', 'again-missing', last.spot, {
    found: `Finished work without a date to look again (${name})`,
    expected: 'a line such as "again: 2026-10"',
    advice: 'Write when to look again; after the first wet season is usual.',
  })];
}
