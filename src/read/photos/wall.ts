/** A wall-clock time without a zone. */
export interface Wall {
  /** Milliseconds since 1970 as if the clock showed UTC, whole seconds. */
  secondsMs: number;
  /** Digits after the second as written, `888` or `01`; empty where none. */
  fraction: string;
}

/** An EXIF or XMP date and time with its fraction; null where it is no time of the calendar. */
export function parseWall(text: string, fraction: string): Wall | null {
  const match = /^(\d{4})[:/-](\d\d)[:/-](\d\d)[ T](\d\d):(\d\d):(\d\d)/.exec(text.trim());
  if (!match) return null;
  const [year = 0, month = 0, day = 0, hour = 0, minute = 0, second = 0] = match.slice(1).map(Number);
  // Date.UTC takes years below 100 as 19xx; no photo is that old.
  if (year < 1800 || month < 1 || month > 12 || hour > 23 || minute > 59 || second > 59) return null;
  const secondsMs = Date.UTC(year, month - 1, day, hour, minute, second);
  if (new Date(secondsMs).getUTCDate() !== day) return null;
  return { secondsMs, fraction: /^\d+/.exec(fraction.trim())?.[0] ?? '' };
}

/** `2026-03-14T10:12:41.888`, with what fraction was written. */
export function wallText(wall: Wall): string {
  const whole = new Date(wall.secondsMs).toISOString().slice(0, 19);
  return wall.fraction === '' ? whole : `${whole}.${wall.fraction}`;
}

/** The UTC instant of a wall-clock time, `2026-03-14T10:12:41.888Z`, always with three digits. */
export function instantText(wall: Wall, offsetMinutes: number): string {
  const milliseconds = Number(wall.fraction.slice(0, 3).padEnd(3, '0'));
  return new Date(wall.secondsMs - offsetMinutes * 60_000 + milliseconds).toISOString();
}
