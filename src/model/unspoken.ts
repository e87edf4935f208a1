import type { ZoneInspection } from './inspection.ts';
import type { Notes } from './notes.ts';

/** Whether a zone has photos and nobody wrote a word about it: no line, no prose, no words on a picture or behind a mark. */
export function isUnspoken({ zones }: Notes, { zone, photos }: ZoneInspection): boolean {
  const own = zones.filter((notes) => notes.zone === zone.id);
  const said = own.some(({ entries, narrative }) => narrative.length > 0 || entries.some((entry) => entry.type !== 'photo' || entry.words !== '' || entry.photos.some(({ alt }) => alt !== '') || entry.marks.some(({ shape, label }) => label !== '' && shape !== 'hide')));
  return photos.length > 0 && !said;
}
