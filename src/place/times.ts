import type { Seen } from '../model/notes.ts';
import type { Photo } from '../model/photo.ts';
import { byCodeUnit } from '../model/order.ts';

/** A photo's time by the clock on the wall of the visit. */
export interface WallTime {
  /** `2026-03-14` */
  date: string;
  /** Seconds since midnight. */
  second: number;
  /** `10:14` */
  text: string;
}

/** A function from photo to wall time at the visit; null where the photo has no time that can be compared with it. */
export function wallClockOf(seen: Seen | null): (photo: Photo) => WallTime | null {
  const format = formatIn(seen?.timeZone ?? null);
  return (photo) => {
    const taken = photo.takenAt;
    if (!taken) return null;
    if (taken.instant !== null && format) return wallTimeOf(localIn(format, taken.instant));
    // A GPS time is UTC: without the visit's time zone nobody knows what the clock on the wall said.
    return taken.offsetFrom === 'gps' ? null : wallTimeOf(taken.local);
  };
}

/** Zone and locale are fixed here, so that the building machine's own play no part. */
function formatIn(timeZone: string | null): Intl.DateTimeFormat | null {
  if (timeZone === null) return null;
  try {
    return new Intl.DateTimeFormat('en-GB', {
      timeZone,
      hourCycle: 'h23',
      year: 'numeric',
      month: '2-digit',
      day: '2-digit',
      hour: '2-digit',
      minute: '2-digit',
      second: '2-digit',
    });
  } catch {
    return null;
  }
}

function localIn(format: Intl.DateTimeFormat, instant: string): string {
  const time = Date.parse(instant);
  if (Number.isNaN(time)) return '';
  const part = new Map(format.formatToParts(time).map(({ type, value }) => [type, value]));
  const of = (type: Intl.DateTimeFormatPartTypes): string => part.get(type) ?? '';
  return `${of('year')}-${of('month')}-${of('day')}T${of('hour')}:${of('minute')}:${of('second')}`;
}

function wallTimeOf(local: string): WallTime | null {
  const match = /^(\d{4}-\d{2}-\d{2})T(\d{2}):(\d{2})(?::(\d{2}(?:\.\d+)?))?/.exec(local);
  if (!match) return null;
  const [, date = '', hour = '', minute = '', second = '0'] = match;
  return { date, second: Number(hour) * 3600 + Number(minute) * 60 + Number(second), text: `${hour}:${minute}` };
}

/** Milliseconds of the UTC instant, null where it is not known. */
export function instantMs(photo: Photo): number | null {
  const time = Date.parse(photo.takenAt?.instant ?? '');
  return Number.isNaN(time) ? null : time;
}

/** Milliseconds on the local time line, null where the photo has no local time or only that of GPS, which is UTC. */
export function localMs(photo: Photo): number | null {
  const taken = photo.takenAt;
  if (!taken || taken.offsetFrom === 'gps') return null;
  const time = Date.parse(`${taken.local}Z`);
  return Number.isNaN(time) ? null : time;
}

/**
 * Photos in time order: by instant where all that have a time have one, else by local time; those without a time last,
 * by path. One time line for the whole list, because a mixture would have no order.
 */
export function inTimeOrder(photos: readonly Photo[]): Photo[] {
  const timed = photos.filter((photo) => photo.takenAt);
  const timeOf = timed.every((photo) => instantMs(photo) !== null) ? instantMs : localMs;
  return photos
    .map((photo) => ({ photo, time: timeOf(photo) ?? Number.MAX_VALUE }))
    .sort((a, b) => a.time - b.time || byCodeUnit(a.photo.path, b.photo.path))
    .map(({ photo }) => photo);
}
