import type { Block, BlockOf, Inline, Section } from '../../model/dossier.ts';
import type { PlacedPhoto } from '../../model/inspection.ts';
import type { TakenAt } from '../../model/photo.ts';
import { capital } from '../../model/wording.ts';
import { clockText, countText, dateText, listText } from '../../units.ts';
import type { Context } from '../context.ts';
import { altOf, figureOf } from '../figures.ts';
import { aside, heading, paragraph } from '../inline.ts';
import { arranged, gapMinutes, minuteOf, stretchText, stretchesText } from '../photo-order.ts';
import type { Day } from '../photo-order.ts';
import { photoLinks } from '../say.ts';

/** More than these are counted where they would be named one by one. */
const mostNamed = 8;

const sources: Record<TakenAt['from'], { title: string; why: string }> = {
  exif: { title: 'Time not comparable with the others', why: 'The camera wrote a time, but not one that can be put on the clock of the visit.' },
  gps: { title: 'Time by GPS', why: 'The camera wrote no time of its own; the time is that of GPS, which is UTC.' },
  'file name': { title: 'Time from the file name', why: 'These files carry no time of their own; the time is the one that stands in their names.' },
};

/** Every photo of the job once, in order of time: a strip for each day, then the photos by stretch of time and zone. */
export function photos(context: Context): Section {
  const all = context.album;
  const section = { id: 'photos', title: 'Photo index', page: 'photos', nav: 'Photos', breakBefore: true };
  if (all.length === 0) return { ...section, blocks: [paragraph('There are no photos in this job.')] };
  const { days, elsewhere, without } = arranged(context, all);
  return {
    ...section,
    blocks: [
      opening(context, all),
      ...days.flatMap((day) => dayBlocks(context, day, days.length > 1)),
      ...elsewhere.flatMap(({ from, photos: group }) => groupBlocks(context, sources[from].title, sources[from].why, group)),
      ...groupBlocks(context, 'No time in the file', 'Nothing in these files says when they were taken. The date of the file is not used, as copying changes it.', without),
    ],
  };
}

function opening(context: Context, all: readonly PlacedPhoto[]): Block {
  const loose = all.filter((placed) => placed.zones.length === 0 && placed.views.length === 0).map(({ photo }) => photo.id);
  const shown = all.filter((one) => (context.pictures.get(one.photo.id)?.renditions.length ?? 0) > 0).length;
  const named: Inline = loose.length === 0 || loose.length > mostNamed ? [] : [' (', ...photoLinks(context, loose), ')'];
  return aside(
    `${capital(countText(all.length, 'photo', 'photos'))}, ${shown} shown, ${loose.length} not placed`, ...named,
    '. The pictures shown are copies without position and camera data; the originals are named in the list of files. A time is the camera’s own unless it says otherwise; the date of the file is never used.',
  );
}

function dayBlocks(context: Context, day: Day, several: boolean): Block[] {
  const date = dateText(day.date);
  return [
    ...(several ? [heading(date)] : []),
    strip(context, day, several ? 'When the photos were taken' : `When the photos were taken, ${date}`),
    ...day.stretches.flatMap((stretch): Block[] => [
      { type: 'heading', level: several ? 4 : 3, text: [stretchText(stretch), stretch.name, countText(stretch.photos.length, 'photo', 'photos')].join(' · ') },
      ...sheet(context, stretch.photos),
    ]),
  ];
}

/** The day from the first hour of the visit or the first photo to the last, one row for each zone in the order they were reached. */
function strip(context: Context, day: Day, caption: string): BlockOf<'timeline'> {
  const minutes = day.photos.map(minuteOf);
  const hours = visitHours(context, day.date);
  const ends = [...minutes, ...(hours ?? [])];
  const names = [...new Set(day.stretches.map(({ name }) => name))];
  const rows = names.map((name) => {
    const own = day.stretches.filter((stretch) => stretch.name === name);
    const marks = own.flatMap((stretch) => stretch.photos).map((placed) => ({
      at: minuteOf(placed),
      figure: `photo-${placed.photo.id}`,
      words: `${clockText(minuteOf(placed))}, ${altOf(context, placed.photo.id)}`,
    }));
    return { name: capital(name), text: stretchesText(own), marks };
  });
  const span = hours ? `from ${clockText(hours[0])} to ${clockText(hours[1])}, the hours of the visit as written` : `${stretchText({ from: Math.min(...minutes), to: Math.max(...minutes) })}`;
  const gaps = Math.max(...minutes) - Math.min(...minutes) < gapMinutes ? '' : day.gaps.length === 0 ? ' At no time did ten minutes pass between one and the next.' : ` Ten minutes or more passed without a photo: ${listText(day.gaps.map(stretchText))}.`;
  const label = `${capital(countText(day.photos.length, 'photo', 'photos'))} with a time by the camera, ${span}; each stands below in the same order, with its time.${gaps}`;
  return { type: 'timeline', caption, label, from: Math.min(...ends), to: Math.max(...ends), rows, gaps: day.gaps };
}

/** Hours of the visit in minutes since midnight; null where they are not written, run over midnight, or are another day's. */
function visitHours(context: Context, date: string): [number, number] | null {
  const seen = [...context.earlier.map(({ inspection }) => inspection), context.inspection].map(({ job }) => job.notes.seen).find((one) => one?.date === date);
  const [from, to] = [seen?.from, seen?.to].map((clock) => {
    const [, hour, minute] = /^(\d{1,2}):(\d{2})$/.exec(clock ?? '') ?? [];
    return hour === undefined || minute === undefined ? null : Number(hour) * 60 + Number(minute);
  });
  return seen && from != null && to != null && from <= to && to <= 1440 ? [from, to] : null;
}

function groupBlocks(context: Context, title: string, why: string, group: readonly PlacedPhoto[]): Block[] {
  return group.length === 0 ? [] : [heading(`${title} · ${countText(group.length, 'photo', 'photos')}`), paragraph(why), ...sheet(context, group)];
}

function sheet(context: Context, all: readonly PlacedPhoto[]): Block[] {
  const figures = all.flatMap(({ photo }): BlockOf<'photos'>['figures'] => {
    const figure = figureOf(context, photo.id, 'index');
    return figure ? [{ ...figure, id: `photo-${photo.id}` }] : [];
  });
  return [{ type: 'photos', look: 'index', figures }];
}
