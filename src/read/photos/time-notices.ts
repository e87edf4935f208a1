import type { Seen } from '../../model/notes.ts';
import type { Level, Notice } from '../../model/notice.ts';
import type { ClockCorrection, Photo, TakenAt } from '../../model/photo.ts';
import { listText } from '../../units.ts';
import { parseWall } from './wall.ts';
import { zoneOffsetMinutes } from './zone.ts';

/** What the findings say about time. */
export interface TimeFacts {
  seen: Seen | null;
  clocks: ClockCorrection[];
  /** Year the car was built, null where not written. */
  built: number | null;
  /** `2026-03-15`, in UTC. */
  today: string;
}

const minuteMs = 60_000;
const dayMs = 86_400_000;
/** How far outside the written hours a photo still counts as of the visit, our judgement. */
const toleranceMs = 15 * minuteMs;
/** Phones write the file a few seconds after the shutter; a later change than this is worth a word, our judgement. */
const writingMs = 2 * minuteMs;

/** What is odd about the time of one photo, in neutral words. */
export function timeNotices(photo: Photo, facts: TimeFacts): Notice[] {
  const notices: Notice[] = [];
  const add = (level: Level, rule: string, found: string, advice: string, expected?: string): void => {
    notices.push({ level, rule, spot: { file: photo.path }, found, ...(expected === undefined ? {} : { expected }), advice });
  };
  const { dateTimeOriginal } = photo.exif;
  const { takenAt } = photo;
  const instead = takenAt ? `The time ${takenAt.from === 'gps' ? 'of GPS' : 'in the file name'} is used.` : 'It stands in the dossier without a time.';
  if (dateTimeOriginal !== null && takenAt?.from !== 'exif') {
    const blank = !/[1-9]/.test(dateTimeOriginal);
    if (blank) add('note', 'time-zero', `Time taken is written as "${dateTimeOriginal}"`, instead, 'a date and time');
    else add('note', 'time-unclear', `No time can be read from "${dateTimeOriginal}"`, instead, 'a date and time such as 2026:03:14 10:12:41');
  } else if (!takenAt && photo.format !== null) {
    add('note', 'time-missing', 'No time taken in the file', 'It stands in the dossier without a time; the time of the file itself is never used.');
  }
  if (takenAt) strange(takenAt, facts, add);
  changedLater(photo, add);
  return notices;
}

type Add = (level: Level, rule: string, found: string, advice: string, expected?: string) => void;

/** At most one of the three: a clock at fault would break them all. */
function strange(takenAt: TakenAt, facts: TimeFacts, add: Add): void {
  const shown = takenAt.local.slice(0, 19).replace('T', ' ');
  const localMs = Date.parse(`${takenAt.local.slice(0, 19)}Z`);
  const advice = 'Check the clock of the camera; a line "clock:" under "# Visit" corrects it.';
  if (localMs >= Date.parse(`${facts.today}T00:00:00Z`) + 2 * dayMs) {
    add('warning', 'time-future', `Taken ${shown}`, advice, `a time not after ${facts.today}`);
  } else if (facts.built !== null && new Date(localMs).getUTCFullYear() < facts.built) {
    add('warning', 'time-before-car', `Taken ${shown}`, advice, `a time after the car was built, ${facts.built}`);
  } else if (facts.seen && isOutside(takenAt, localMs, facts.seen)) {
    const hours = [facts.seen.from, facts.seen.to].filter((time) => time !== null).join('-');
    add('warning', 'time-outside-visit', `Taken ${shown}`, `${advice} A photo of another day may stay; its date is shown.`, `the visit of ${facts.seen.date}${hours ? ` ${hours}` : ''}`);
  }
}

/** Compares instants where both are known, else wall clocks. */
function isOutside(takenAt: TakenAt, localMs: number, seen: NonNullable<TimeFacts['seen']>): boolean {
  const wall = (time: string): number => Date.parse(`${seen.date}T${time}:00Z`);
  const [first, last] = [wall(seen.from ?? '00:00'), seen.to === null ? wall('00:00') + dayMs - 1000 : wall(seen.to)];
  if (Number.isNaN(first) || Number.isNaN(last)) return false;
  // "22:00-01:00" ends the next day.
  const end = last < first ? last + dayMs : last;
  const inZone = (wallMs: number): number | null => {
    const minutes = seen.timeZone === null ? null : zoneOffsetMinutes(seen.timeZone, wallMs);
    return minutes === null ? null : wallMs - minutes * minuteMs;
  };
  const [fromInstant, toInstant] = [inZone(first), inZone(end)];
  const known = takenAt.instant !== null && fromInstant !== null && toInstant !== null;
  const at = known && takenAt.instant !== null ? Date.parse(takenAt.instant) : localMs;
  const [from, to] = known ? [fromInstant, toInstant] : [first, end];
  // Without hours the date itself is the limit, and a date has no tolerance.
  return at < from - (seen.from === null ? 0 : toleranceMs) || at > to + (seen.to === null ? 999 : toleranceMs);
}

/** At most one notice: a program that says its name, else only the later date. */
function changedLater(photo: Photo, add: Add): void {
  const { dateTimeOriginal, modifyDate, software } = photo.exif;
  const taken = parseWall(dateTimeOriginal ?? '', '');
  const changed = parseWall(modifyDate ?? '', '');
  const later = taken !== null && changed !== null && changed.secondsMs - taken.secondsMs > writingMs;
  if (photo.editors.length > 0) {
    const names = listText(photo.editors.slice(0, 3).map((name) => `"${name}"`));
    const after = later ? ` after it was taken (taken ${dateTimeOriginal}, last changed ${modifyDate})` : '';
    return add('note', 'photo-edited', `Saved by ${names}${after}`, 'Turning, cropping or sending by such a program is enough for that; keep the file straight from the camera too.');
  }
  if (!later) return;
  const by = software ? `, software "${software}"` : '';
  add(
    'note',
    'photo-changed-later',
    `File says taken ${dateTimeOriginal}, last changed ${modifyDate}${by}`,
    'Turning, cropping or copying through a program does that; where the file straight from the camera exists, put that into the job.',
  );
}
