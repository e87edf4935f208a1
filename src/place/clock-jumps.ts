import type { Notice } from '../model/notice.ts';
import { byCodeUnit } from '../model/order.ts';
import type { Photo } from '../model/photo.ts';
import { durationText } from '../units.ts';
import { instantMs, localMs } from './times.ts';

/** Names as cameras give them: three or four characters, then four digits that count up (JEITA CP-3461, DCF; from memory). */
const cameraName = /^([A-Z0-9_]{3,4})(\d{4})\.[^.]+$/;
/** A number that counts from anew, another day, another card: further apart than this nothing is compared. Our judgement. */
const nearNumbers = 100;
/** Pictures of a burst are not always numbered in order. Our judgement. */
const leastMs = 2 * 60_000;
/** More jumps than these say that the numbers do not follow the time, not that a clock was set. Our judgement. */
const mostJumps = 2;

interface Numbered {
  photo: Photo;
  number: number;
}

/** Where the time of one camera goes back while its file numbers rise: its clock was set or lost its battery, or files were renamed. */
export function clockJumps(photos: readonly Photo[]): Notice[] {
  const series = new Map<string, Numbered[]>();
  for (const photo of photos) {
    const [, prefix, digits] = cameraName.exec(photo.name) ?? [];
    if (digits === undefined || photo.takenAt?.from !== 'exif' || (photo.make ?? photo.model) === null) continue;
    const key = JSON.stringify([photo.make, photo.model, prefix]);
    series.set(key, [...(series.get(key) ?? []), { photo, number: Number(digits) }]);
  }
  return [...series.values()].flatMap((one) => {
    const jumps = jumpsOf(one.toSorted((a, b) => a.number - b.number || byCodeUnit(a.photo.path, b.photo.path)));
    return jumps.length > mostJumps ? [] : jumps;
  });
}

function jumpsOf(sorted: readonly Numbered[]): Notice[] {
  const times = sorted.map(({ photo }) => instantMs(photo));
  const known = times.every((time) => time !== null) ? times : sorted.map(({ photo }) => localMs(photo));
  return sorted.flatMap(({ photo, number }, index): Notice[] => {
    const [before, time, timeBefore] = [sorted[index - 1], known[index] ?? null, known[index - 1] ?? null];
    if (!before || time === null || timeBefore === null) return [];
    const apart = number - before.number;
    if (apart === 0 || apart > nearNumbers || timeBefore - time < leastMs) return [];
    return [
      {
        level: 'note',
        rule: 'clock-jump',
        spot: { file: photo.path },
        found: `Time goes back by ${durationText((timeBefore - time) / 1000)} after ${before.photo.name}, though the number of the file is higher`,
        expected: 'times that rise with the numbers of one camera',
        advice: 'Look at the clock of the camera: it was set or lost its battery between the two, or files were renamed.',
      },
    ];
  });
}
