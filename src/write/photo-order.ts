import type { PlacedPhoto } from '../model/inspection.ts';
import { byCodeUnit } from '../model/order.ts';
import type { TakenAt } from '../model/photo.ts';
import { inSentence, termIn } from '../model/wording.ts';
import { clockText, countText, listText } from '../units.ts';
import { nameOfZone } from './context.ts';
import type { Context } from './context.ts';

/** As long as placing by time bridges: a longer stretch without a photo parts what lies before from what lies after. */
export const gapMinutes = 10;

/** Photos of the same zones in a row, without a gap between them. */
export interface Stretch {
  /** "Sill, left", "not placed". */
  name: string;
  /** Minutes since midnight by the clock on the wall. */
  from: number;
  to: number;
  photos: PlacedPhoto[];
}
/** Photos of one day whose time is the camera's. */
export interface Day {
  date: string;
  photos: PlacedPhoto[];
  stretches: Stretch[];
  gaps: { from: number; to: number }[];
}
/** Every photo once: by day, by where the time comes from otherwise, and without a time. */
export interface Arranged {
  days: Day[];
  elsewhere: { from: TakenAt['from']; photos: PlacedPhoto[] }[];
  without: PlacedPhoto[];
}

/** Arranges photos by when they were taken, in time order throughout; equal times by path. */
export function arranged(context: Context, photos: readonly PlacedPhoto[]): Arranged {
  const sorted = photos.map((placed) => ({ placed, key: keyOf(placed) })).sort((a, b) => byCodeUnit(a.key, b.key)).map(({ placed }) => placed);
  const byCamera = sorted.filter((placed) => placed.photo.takenAt?.from === 'exif' && placed.wall !== null);
  const rest = sorted.filter((placed) => placed.photo.takenAt !== null && !byCamera.includes(placed));
  const dates = [...new Set(byCamera.flatMap(({ wall }) => (wall ? [wall.date] : [])))];
  const sources = ['exif', 'gps', 'file name'] as const;
  return {
    days: dates.map((date) => dayOf(context, date, byCamera.filter(({ wall }) => wall?.date === date))),
    elsewhere: sources.map((from) => ({ from, photos: rest.filter(({ photo }) => photo.takenAt?.from === from) })).filter((group) => group.photos.length > 0),
    without: sorted.filter(({ photo }) => photo.takenAt === null),
  };
}

function dayOf(context: Context, date: string, photos: PlacedPhoto[]): Day {
  const stretches: Stretch[] = [];
  const gaps: Day['gaps'] = [];
  for (const placed of photos) {
    const [at, name, last] = [minuteOf(placed), placeName(context, placed), stretches.at(-1)];
    const isGap = last !== undefined && at - last.to >= gapMinutes;
    if (isGap) gaps.push({ from: last.to, to: at });
    if (last !== undefined && !isGap && last.name === name) {
      last.to = at;
      last.photos.push(placed);
    } else stretches.push({ name, from: at, to: at, photos: [placed] });
  }
  return { date, photos, stretches, gaps };
}

/** Minutes since midnight, with their fraction. */
export function minuteOf({ wall }: PlacedPhoto): number {
  return Math.round(((wall?.second ?? 0) / 60) * 1e4) / 1e4;
}

/** "10:12 to 10:21", "10:49". */
export function stretchText({ from, to }: { from: number; to: number }): string {
  const [start, end] = [clockText(from), clockText(to)];
  return start === end ? start : `${start} to ${end}`;
}

/** "6 photos, 10:12 to 10:21 and 11:30". */
export function stretchesText(stretches: readonly Stretch[]): string {
  const count = stretches.reduce((sum, { photos }) => sum + photos.length, 0);
  return `${countText(count, 'photo', 'photos')}, ${listText(stretches.map(stretchText))}`;
}

/** The zones of a photo, else the views of the insurer's set it serves, else that it is not placed. */
function placeName(context: Context, { zones, views }: PlacedPhoto): string {
  if (zones.length > 0) return zones.map((zone) => nameOfZone(context, zone)).join('; ');
  const names = views.map((id) => {
    const record = context.inspection.job.catalogue.views.find((view) => view.id === id);
    return record ? inSentence(termIn(record.name, context.language)) : id;
  });
  return names.length > 0 ? `photo set: ${names.join(', ')}` : 'not placed';
}

/** Wall time with the fraction the camera wrote; without it the camera's own; photos without a time last. */
function keyOf({ photo, wall }: PlacedPhoto): string {
  const local = photo.takenAt?.local ?? '9999';
  const time = wall ? `${wall.date} ${String(Math.floor(wall.second)).padStart(5, '0')}${local.slice(19)}` : local;
  return `${time} ${photo.path}`;
}
