import type { Job } from '../model/job.ts';
import { median } from '../model/median.ts';
import type { Notice } from '../model/notice.ts';
import type { Photo } from '../model/photo.ts';
import { countText, durationText } from '../units.ts';
import type { Placing } from './photos.ts';
import { instantMs, localMs } from './times.ts';

const minuteMs = 60_000;
/** Fewest photos with a time of their own before a camera is compared. Our judgement. */
const fewestPhotos = 3;
/** Pairs that have to agree, how closely, and which share of all: one walk round the car with two cameras. Our judgement. */
const fewestPairs = 3;
const agreeMs = 2 * minuteMs;
const agreeShare = 2 / 3;
/** Less than this is the time it takes to change the camera in the hand. Our judgement. */
const leastOffsetMs = 10 * minuteMs;
/** Pairs of one moment cannot tell a wrong clock from a second look later on. Our judgement. */
const leastSpanMs = 10 * minuteMs;
/** A shorter gap between the last photo of one and the first of another is a break. Our judgement. */
const leastGapMs = 30 * minuteMs;

/** The photos of one camera whose time is its own. */
interface Camera {
  name: string;
  photos: Photo[];
}

/** A place that both cameras were held to, by the finding or zone that shows it. */
interface Pair {
  one: Photo;
  other: Photo;
}

/** Where the clocks of two cameras seem to disagree, going by photos of the same finding or zone. Silent in doubt. */
export function clockDifferences(job: Job, placing: Placing): Notice[] {
  const cameras = camerasOf(job.photos);
  const notices: Notice[] = [];
  for (const [index, one] of cameras.entries()) {
    for (const other of cameras.slice(index + 1)) {
      const notice = difference(job, placing, one, other);
      if (notice) notices.push(notice);
    }
  }
  return notices;
}

function camerasOf(photos: readonly Photo[]): Camera[] {
  const cameras = new Map<string, Camera>();
  for (const photo of photos) {
    if (photo.takenAt?.from !== 'exif' || (photo.make ?? photo.model) === null) continue;
    const name = [photo.make, photo.model].filter((text) => text !== null).join(' ');
    const camera = cameras.get(name) ?? { name, photos: [] };
    camera.photos.push(photo);
    cameras.set(name, camera);
  }
  return [...cameras.values()].filter((camera) => camera.photos.length >= fewestPhotos);
}

function difference(job: Job, placing: Placing, one: Camera, other: Camera): Notice | null {
  const all = [...one.photos, ...other.photos];
  const timeOf = all.every((photo) => instantMs(photo) !== null) ? instantMs : localMs;
  if (all.some((photo) => timeOf(photo) === null)) return null;
  const at = (photo: Photo): number => timeOf(photo) ?? 0;
  const pairs = pairsOf(job, placing, one, other);
  return constantOffset(job, pairs, one, other, at) ?? noOverlap(job, pairs, one, other, at);
}

/** Of each finding with photos of both the first of each, by path; then of each zone that no such finding stands in. */
function pairsOf(job: Job, placing: Placing, one: Camera, other: Camera): Pair[] {
  const first = (camera: Camera, ids: readonly string[]): Photo | undefined => camera.photos.find(({ id }) => ids.includes(id));
  const pair = (ids: readonly string[]): Pair[] => {
    const [left, right] = [first(one, ids), first(other, ids)];
    return left && right ? [{ one: left, other: right }] : [];
  };
  const byFinding = job.notes.zones.flatMap(({ zone, entries }) => entries.flatMap((entry) => pair(placing.idsOf(entry.photos)).map((found) => ({ zone, ...found }))));
  const told = new Set<string | null>(byFinding.map(({ zone }) => zone));
  const zones = [...new Set(placing.photos.flatMap((placed) => placed.zones))].filter((zone) => !told.has(zone));
  const byZone = zones.flatMap((zone) => pair(placing.photos.filter((placed) => placed.zones.includes(zone)).map((placed) => placed.photo.id)));
  // A photo is one moment, whatever it shows, and counts once.
  const used = new Set<Photo>();
  return [...byFinding, ...byZone].filter((found) => {
    if (used.has(found.one) || used.has(found.other)) return false;
    used.add(found.one).add(found.other);
    return true;
  });
}

type At = (photo: Photo) => number;

function constantOffset(job: Job, pairs: readonly Pair[], one: Camera, other: Camera, at: At): Notice | null {
  const offsets = pairs.map((pair) => at(pair.other) - at(pair.one));
  const middle = median(offsets.toSorted((a, b) => a - b));
  if (middle === undefined || Math.abs(middle) < leastOffsetMs) return null;
  const agreeing = pairs.filter((_, index) => Math.abs((offsets[index] ?? 0) - middle) <= agreeMs / 2);
  if (agreeing.length < fewestPairs || agreeing.length < pairs.length * agreeShare) return null;
  const times = agreeing.map((pair) => at(pair.one));
  if (Math.max(...times) - Math.min(...times) < leastSpanMs) return null;
  const otherIsOff = isOff(other, one);
  const [off, right, ahead] = otherIsOff ? [other, one, middle / 1000] : [one, other, -middle / 1000];
  const total = corrected(off);
  if (total === null) return null;
  const word = wordOf(off, job.photos);
  const line = `${word ?? '<a word of its name>'} ${ahead + total < 0 ? '-' : '+'}${durationText(ahead + total)}`;
  return {
    level: 'note',
    rule: 'clock-differs',
    spot: { file: job.notes.file },
    found: `Photos of “${off.name}” are about ${durationText(ahead)} ${ahead > 0 ? 'later' : 'earlier'} than those of “${right.name}” of the same finding or zone, in ${agreeing.length} of ${countText(pairs.length, 'pair', 'pairs')}`,
    advice: `Where both were used side by side one clock is off; if it is that one, write "- clock: ${line}" under "# Visit"${total === 0 ? '' : ' instead of what stands there'}.`,
  };
}

/** A phone writes the offset of its zone and sets its clock by the network; else the camera with fewer photos is the one in doubt. */
function isOff(camera: Camera, other: Camera): boolean {
  const networked = ({ photos }: Camera): boolean => photos.every((photo) => photo.takenAt?.offsetFrom === 'camera');
  if (networked(camera) !== networked(other)) return networked(other);
  return camera.photos.length <= other.photos.length;
}

/** Seconds a `clock:` line already takes off all photos of a camera; null where it does so with some only. */
function corrected(camera: Camera): number | null {
  const all = new Set(camera.photos.map((photo) => photo.takenAt?.corrected ?? ''));
  const [text = ''] = all;
  if (all.size > 1) return null;
  const [, sign, hours, minutes, seconds] = /^([+-])(\d+):(\d\d):(\d\d)$/.exec(text) ?? [];
  if (hours === undefined) return 0;
  return (sign === '-' ? 1 : -1) * (Number(hours) * 3600 + Number(minutes) * 60 + Number(seconds));
}

/** A word that names this camera and no other photo of the job. */
function wordOf(camera: Camera, photos: readonly Photo[]): string | null {
  const holds = (photo: Photo, word: string): boolean => [photo.make, photo.model, photo.name].some((text) => (text ?? '').toLowerCase().includes(word));
  const prefix = /^[A-Za-z_]+/.exec(camera.photos[0]?.name ?? '')?.[0] ?? '';
  const words = [camera.photos[0]?.model ?? '', camera.photos[0]?.make ?? '', prefix].map((word) => word.toLowerCase().trim()).filter((word) => word !== '');
  const own = new Set(camera.photos);
  return words.find((word) => photos.every((photo) => holds(photo, word) === own.has(photo))) ?? null;
}

/**
 * Two cameras that show the same places at times far apart: said where no hours of the visit are written, as a time
 * outside them is told by itself.
 */
function noOverlap(job: Job, pairs: readonly Pair[], one: Camera, other: Camera, at: At): Notice | null {
  const [oneTimes, otherTimes] = [one.photos.map(at), other.photos.map(at)];
  const [first, last] = Math.min(...oneTimes) <= Math.min(...otherTimes) ? [one, other] : [other, one];
  const gapMs = Math.min(...last.photos.map(at)) - Math.max(...first.photos.map(at));
  const hours = job.notes.seen?.from != null && job.notes.seen.to !== null;
  if (hours || pairs.length < 2 || gapMs < leastGapMs) return null;
  return {
    level: 'note',
    rule: 'clock-differs',
    spot: { file: job.notes.file },
    found: `The last photo of “${first.name}” is ${durationText(gapMs / 1000)} earlier than the first of “${last.name}”, though both show the same places`,
    advice: 'Where both were used side by side one clock is off; a line "- clock:" with its name and how far it runs fast, under "# Visit", corrects it.',
  };
}
