import type { Block, BlockOf, Section } from '../../model/dossier.ts';
import type { PlacedPhoto } from '../../model/inspection.ts';
import { countText } from '../../units.ts';
import type { Context } from '../context.ts';
import { figureOf } from '../figures.ts';
import { aside, heading, paragraph } from '../inline.ts';
import { capital } from '../../model/wording.ts';

/** Every photo of the job once: those placed nowhere first, then the others in order of time. */
export function photos(context: Context): Section {
  const all = [...context.inspection.photos].sort(byTime);
  const loose = all.filter((placed) => placed.zones.length === 0 && placed.views.length === 0);
  const placed = all.filter((one) => !loose.includes(one));
  const shown = all.filter((one) => (context.pictures.get(one.photo.id)?.renditions.length ?? 0) > 0).length;
  const section = { id: 'photos', title: 'Photo index', page: 'photos', nav: 'Photos', breakBefore: true };
  if (all.length === 0) return { ...section, blocks: [paragraph('There are no photos in this job.')] };
  return {
    ...section,
    blocks: [
      aside(`${capital(countText(all.length, 'photo', 'photos'))}, ${shown} shown, ${loose.length} not placed. The pictures shown are copies without position and camera data; the originals are named in the list of files. A time is the camera’s own unless it says otherwise; the date of the file is never used.`),
      ...(loose.length > 0 ? [heading('Not placed'), paragraph('No line, folder, file name, keyword or time says where on the car these were taken.'), sheet(context, loose)] : []),
      ...(placed.length > 0 ? [...(loose.length > 0 ? [heading('Placed, in order of time')] : []), sheet(context, placed)] : []),
    ],
  };
}

function sheet(context: Context, all: readonly PlacedPhoto[]): Block {
  const figures = all.flatMap(({ photo }): BlockOf<'photos'>['figures'] => {
    const figure = figureOf(context, photo.id, 'index');
    return figure ? [{ ...figure, id: `photo-${photo.id}` }] : [];
  });
  return { type: 'photos', look: 'index', figures };
}

function byTime(a: PlacedPhoto, b: PlacedPhoto): number {
  const [left, right] = [keyOf(a), keyOf(b)];
  return left < right ? -1 : left > right ? 1 : 0;
}

/** Photos without a time come last, by path. */
function keyOf(placed: PlacedPhoto): string {
  return `${placed.photo.takenAt?.local ?? '9999'} ${placed.photo.path}`;
}
