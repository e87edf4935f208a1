import type { PlacingRule } from '../model/inspection.ts';
import type { Notes } from '../model/notes.ts';
import type { Photo } from '../model/photo.ts';
import { spotText } from './spots.ts';
import { instantMs, localMs, wallClockOf } from './times.ts';

const tenMinutesMs = 600_000;
const dayS = 86_400;

/** Answer of one placing rule. */
export interface Answer {
  zones: string[];
  rule: PlacingRule;
  reason: string;
}

interface Claim {
  zones: string[];
  fromS: number;
  /** Exclusive. */
  toS: number;
  text: string;
  at: string;
}

/**
 * Rule 5: a heading with a time claims the photos taken from then to the next heading's time, by the clock on the wall
 * of the visit, on its day. The last one claims to the end of the visit, or of the day where no end is written.
 * Headings of one time claim together.
 */
export function headingClaimOf(notes: Notes, zoneIds: ReadonlySet<string>): (photo: Photo) => Answer | null {
  const claims = claimsOf(notes, zoneIds);
  const wallClock = wallClockOf(notes.seen);
  const date = notes.seen?.date ?? null;
  return (photo) => {
    if (claims.length === 0) return null;
    const time = wallClock(photo);
    if (!time || (date !== null && time.date !== date)) return null;
    const claim = claims.find((one) => one.fromS <= time.second && time.second < one.toS);
    if (!claim || claim.zones.length === 0) return null;
    return { zones: claim.zones, rule: 'time of a heading', reason: `taken ${time.text}, after the heading of ${claim.text} at ${claim.at}` };
  };
}

function claimsOf(notes: Notes, zoneIds: ReadonlySet<string>): Claim[] {
  const claims = new Map<number, Claim>();
  for (const { from, zone, heading } of notes.zones) {
    const fromS = secondsOf(from);
    if (from === null || fromS === null) continue;
    const claim = claims.get(fromS) ?? { zones: [], fromS, toS: dayS, text: from, at: spotText(heading.spot) };
    if (zone !== null && zoneIds.has(zone) && !claim.zones.includes(zone)) claim.zones.push(zone);
    claims.set(fromS, claim);
  }
  const sorted = [...claims.values()].sort((a, b) => a.fromS - b.fromS);
  const end = secondsOf(notes.seen?.to ?? null);
  for (const [index, claim] of sorted.entries()) {
    claim.zones.sort();
    const next = sorted[index + 1];
    // The end of a visit is written to the minute: that minute belongs to it.
    if (next) claim.toS = next.fromS;
    else if (end !== null && end >= claim.fromS) claim.toS = end + 60;
  }
  return sorted;
}

function secondsOf(clock: string | null): number | null {
  const [, hour, minute] = /^(\d{1,2}):(\d{2})$/.exec(clock ?? '') ?? [];
  return hour === undefined || minute === undefined ? null : Number(hour) * 3600 + Number(minute) * 60;
}

/**
 * Rule 6: a photo taken between two photos of the same zone less than ten minutes apart stands there too. Its nearest
 * neighbours in time count; instants are compared with instants, else local times with local times.
 */
export function placeBetween(photos: readonly Photo[], answers: ReadonlyMap<string, Answer>): Map<string, Answer> {
  const result = new Map<string, Answer>();
  for (const timeOf of [instantMs, localMs]) {
    const anchors = photos
      .flatMap((photo) => {
        const answer = answers.get(photo.id);
        const time = timeOf(photo);
        return answer && answer.zones.length > 0 && time !== null ? [{ photo, time, zones: answer.zones }] : [];
      })
      .sort((a, b) => a.time - b.time);
    for (const photo of photos) {
      const time = timeOf(photo);
      if (time === null || answers.has(photo.id) || result.has(photo.id)) continue;
      const answer = between(anchors, time);
      if (answer) result.set(photo.id, answer);
    }
  }
  return result;
}

interface Anchor {
  photo: Photo;
  time: number;
  zones: string[];
}

function between(anchors: readonly Anchor[], time: number): Answer | null {
  const next = anchors.findIndex((anchor) => anchor.time >= time);
  const after = anchors[next];
  // A photo of the very same moment is a neighbour on both sides.
  const before = after?.time === time ? after : anchors[next - 1];
  if (!before || !after || after.time - before.time >= tenMinutesMs) return null;
  const zones = before.zones.filter((zone) => after.zones.includes(zone));
  if (zones.length === 0) return null;
  const reason = before === after ? `taken at the same time as ${before.photo.name}` : `taken between ${before.photo.name} and ${after.photo.name}`;
  return { zones, rule: 'taken between', reason };
}
