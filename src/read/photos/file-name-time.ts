import { parseWall } from './wall.ts';
import type { Wall } from './wall.ts';

/** A time that stands in a file name. */
export interface NameTime {
  wall: Wall;
  /** True where the camera writes names in UTC. */
  utc: boolean;
  asWritten: string;
}

/**
 * `IMG_20260314_101204`, `20260314_101204`, `PXL_20260314_101204123`, `Screenshot_20260314-101204`. From memory: phones with
 * names in PXL_ write UTC there, the others local time.
 */
const tight = /(?<!\d)(?:(PXL)_)?(\d{4})(\d\d)(\d\d)[_-](\d\d)(\d\d)(\d\d)(\d{3})?(?!\d)/i;
/** `2026-03-14 10.12.04`, `WhatsApp Image 2026-03-14 at 10.12.04`, `2026-03-14T10-12-04`, `… at 9.12.04 PM`. From memory. */
const spaced = /(?<!\d)(\d{4})-(\d\d)-(\d\d)(?:[ _T-]| at )(\d{1,2})[.:_-](\d\d)[.:_-](\d\d)(?:[\s\u202f]?([AP]M))?(?![\dA-Za-z])/i;

/** The time in a file name, null where there is none. A date alone is none. */
export function timeInName(name: string): NameTime | null {
  const close = tight.exec(name);
  if (close) {
    const [asWritten, utc, year, month, day, hour, minute, second, fraction] = close;
    const wall = parseWall(`${year}:${month}:${day} ${hour}:${minute}:${second}`, fraction ?? '');
    if (wall) return { wall, utc: utc !== undefined, asWritten };
  }
  const wide = spaced.exec(name);
  if (!wide) return null;
  const [asWritten, year, month, day, hour, minute, second, half] = wide;
  let hours = Number(hour);
  if (half !== undefined) {
    if (hours < 1 || hours > 12) return null;
    hours = (hours % 12) + (half.toUpperCase() === 'PM' ? 12 : 0);
  }
  const wall = parseWall(`${year}:${month}:${day} ${String(hours).padStart(2, '0')}:${minute}:${second}`, '');
  return wall ? { wall, utc: false, asWritten } : null;
}
