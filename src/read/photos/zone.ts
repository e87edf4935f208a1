/** Minutes that a zone is ahead of UTC at an instant, null where the zone is unknown. Milliseconds since 1970 in UTC. */
function aheadMinutes(timeZone: string, instantMs: number): number | null {
  try {
    const parts = new Intl.DateTimeFormat('en-GB', { timeZone, hourCycle: 'h23', year: 'numeric', month: 'numeric', day: 'numeric', hour: 'numeric', minute: 'numeric' })
      .formatToParts(instantMs);
    const part = (type: string): number => Number(parts.find((found) => found.type === type)?.value);
    const wall = Date.UTC(part('year'), part('month') - 1, part('day'), part('hour'), part('minute'));
    return Math.round((wall - Math.floor(instantMs / 60_000) * 60_000) / 60_000);
  } catch {
    return null;
  }
}

/** `+01:00` */
export function offsetText(minutes: number): string {
  const size = Math.abs(minutes);
  const two = (number: number): string => String(number).padStart(2, '0');
  return `${minutes < 0 ? '-' : '+'}${two(Math.floor(size / 60))}:${two(size % 60)}`;
}

/** Minutes of `+01:00`, `-0600` or `Z`; null where it is no offset. */
export function offsetMinutes(text: string): number | null {
  if (text === 'Z') return 0;
  const [, sign, hours, minutes] = /^([+-])(\d\d):?(\d\d)$/.exec(text) ?? [];
  if (hours === undefined || minutes === undefined || Number(hours) > 14 || Number(minutes) > 59) return null;
  return (sign === '-' ? -1 : 1) * (Number(hours) * 60 + Number(minutes));
}

/**
 * Minutes that an IANA zone is ahead of UTC at a wall-clock time there; null where the zone is unknown.
 * Independent of the machine's zone. An hour that the clock shows twice is taken the first time, a skipped one as before the change.
 * @param wallMs the wall-clock time read as if it were UTC, milliseconds since 1970
 */
export function zoneOffsetMinutes(timeZone: string, wallMs: number): number | null {
  const day = 86_400_000;
  const before = aheadMinutes(timeZone, wallMs - day);
  const after = aheadMinutes(timeZone, wallMs + day);
  if (before === null || after === null) return null;
  const holds = (minutes: number): boolean => aheadMinutes(timeZone, wallMs - minutes * 60_000) === minutes;
  return [before, after].find(holds) ?? before;
}

/** The wall-clock time of an instant in a zone, as milliseconds read as if UTC, with the offset; null where the zone is unknown. */
export function wallTime(timeZone: string, instantMs: number): { wallMs: number; minutes: number } | null {
  const minutes = aheadMinutes(timeZone, instantMs);
  return minutes === null ? null : { wallMs: instantMs + minutes * 60_000, minutes };
}
