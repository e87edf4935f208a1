import type { Notice } from '../../model/notice.ts';
import type { ClockCorrection, Photo, TakenAt } from '../../model/photo.ts';
import { durationText } from '../../units.ts';
import { timeInName } from './file-name-time.ts';
import { timeNotices } from './time-notices.ts';
import type { TimeFacts } from './time-notices.ts';
import { instantText, parseWall, wallText } from './wall.ts';
import type { Wall } from './wall.ts';
import { offsetMinutes, offsetText, wallTime, zoneOffsetMinutes } from './zone.ts';

/**
 * When each photo was taken: EXIF, else GPS, else the file name, else unknown; never the file's modification time.
 * Pure, and independent of the machine's clock and zone. Photos keep their order.
 */
export function timePhotos(photos: Photo[], facts: TimeFacts): { photos: Photo[]; notices: Notice[] } {
  const timeZone = facts.seen?.timeZone ?? null;
  const used = new Set<ClockCorrection>();
  const timed = photos.map((photo): Photo => {
    const clock = clockOf(photo, facts.clocks);
    const takenAt = byCamera(photo, timeZone, clock) ?? byGps(photo, timeZone) ?? byName(photo, timeZone, clock);
    if (clock && takenAt?.corrected) used.add(clock);
    return { ...photo, takenAt };
  });
  const notices = timed.flatMap((photo) => timeNotices(photo, facts));
  for (const clock of facts.clocks) {
    if (used.has(clock) || clock.aheadSeconds === 0) continue;
    notices.push({
      level: 'warning',
      rule: 'clock-unused',
      spot: clock.spot,
      found: `Clock of "${clock.camera}" corrects no photo`,
      expected: 'a word from the make, model or file name of a photo with a time of its own',
      advice: camerasLine(photos),
    });
  }
  return { photos: timed, notices };
}

/** The correction whose word names the photo's camera or file; of several the longest word says most. */
function clockOf(photo: Photo, clocks: ClockCorrection[]): ClockCorrection | null {
  const names = [photo.make, photo.model, photo.name].map((name) => (name ?? '').toLowerCase());
  const fitting = clocks.filter(({ camera }) => camera !== '' && names.some((name) => name.includes(camera.toLowerCase())));
  return fitting.toSorted((left, right) => right.camera.length - left.camera.length)[0] ?? null;
}

function camerasLine(photos: Photo[]): string {
  const cameras = new Set(photos.flatMap(({ make, model }) => (model ?? make ? [[make, model].filter(Boolean).join(' ')] : [])));
  return cameras.size === 0 ? 'No photo of this job names its camera.' : `Cameras of this job: ${[...cameras].toSorted().join('; ')}.`;
}

interface Source {
  from: TakenAt['from'];
  asWritten: string;
  clock: ClockCorrection | null;
  timeZone: string | null;
}

/** A camera's own wall-clock time, with the offset it wrote, else the visit's, else none. */
function localTime(wall: Wall, offset: string, source: Source): TakenAt {
  const ahead = source.clock?.aheadSeconds ?? 0;
  const right = { ...wall, secondsMs: wall.secondsMs - ahead * 1000 };
  const written = offsetMinutes(offset.trim());
  const minutes = written ?? (source.timeZone === null ? null : zoneOffsetMinutes(source.timeZone, right.secondsMs));
  return {
    local: wallText(right),
    offset: minutes === null ? null : offsetText(minutes),
    instant: minutes === null ? null : instantText(right, minutes),
    from: source.from,
    offsetFrom: minutes === null ? null : written === null ? 'visit' : 'camera',
    asWritten: source.asWritten,
    corrected: ahead === 0 ? null : `${ahead > 0 ? '-' : '+'}${durationText(ahead)}`,
  };
}

/** A time known in UTC, shown on the visit's clock where its zone is known. */
function universalTime(wall: Wall, offsetFrom: 'camera' | 'gps', source: Source): TakenAt {
  const utc = localTime(wall, '+00:00', source);
  const there = source.timeZone === null || utc.instant === null ? null : wallTime(source.timeZone, Date.parse(utc.instant.slice(0, 19) + 'Z'));
  if (!there) return { ...utc, offsetFrom };
  const local = wallText({ secondsMs: there.wallMs, fraction: wall.fraction });
  return { ...utc, local, offset: offsetText(there.minutes), offsetFrom: 'visit' };
}

function byCamera(photo: Photo, timeZone: string | null, clock: ClockCorrection | null): TakenAt | null {
  const { dateTimeOriginal, subSecTimeOriginal, offsetTimeOriginal } = photo.exif;
  if (dateTimeOriginal === null) return null;
  const wall = parseWall(dateTimeOriginal, subSecTimeOriginal ?? '');
  return wall && localTime(wall, offsetTimeOriginal ?? '', { from: 'exif', asWritten: dateTimeOriginal, clock, timeZone });
}

function byGps(photo: Photo, timeZone: string | null): TakenAt | null {
  const { gpsDate, gpsTime } = photo.exif;
  if (gpsDate === null || gpsTime === null) return null;
  const asWritten = `${gpsDate} ${gpsTime}`;
  const wall = parseWall(asWritten, gpsTime.split('.')[1] ?? '');
  return wall && universalTime(wall, 'gps', { from: 'gps', asWritten, clock: null, timeZone });
}

function byName(photo: Photo, timeZone: string | null, clock: ClockCorrection | null): TakenAt | null {
  const named = timeInName(photo.name);
  if (!named) return null;
  const source: Source = { from: 'file name', asWritten: named.asWritten, clock, timeZone };
  return named.utc ? universalTime(named.wall, 'camera', source) : localTime(named.wall, '', source);
}
