import type { Job } from '../model/job.ts';
import type { PhotoName } from '../model/notes.ts';
import type { Notice } from '../model/notice.ts';
import type { PlacedPhoto } from '../model/inspection.ts';
import type { Photo } from '../model/photo.ts';
import { zonesOf } from '../model/catalogue.ts';
import { zoneName } from '../model/wording.ts';
import { listText } from '../units.ts';
import type { Answer } from './photos-by-time.ts';
import { headingClaimOf, placeBetween } from './photos-by-time.ts';
import type { Caption, Mentions } from './mentions.ts';
import { namedInNotes } from './mentions.ts';
import type { ZoneNames } from '../model/zone-names.ts';
import { sidelessAtStart, zoneAtStart, zoneNamed, zoneNamesOf } from '../model/zone-names.ts';
import { byCodeUnit } from '../model/order.ts';
import type { WallTime } from './times.ts';
import { wallClockOf } from './times.ts';

/** Where every photo stands, and how to find the photos of a line. */
export interface Placing {
  /** One for each photo of the job, in its order. */
  photos: PlacedPhoto[];
  idsOf: (names: readonly PhotoName[]) => string[];
  /** Names that stand for no photo, or not for one alone, and why. */
  unfound: Map<PhotoName, string>;
  notices: Notice[];
}

/** Puts every photo to its zones: six rules in order, the first that answers wins. */
export function placePhotos(job: Job): Placing {
  const zoneIds = new Set(job.catalogue.zones.flatMap(zonesOf).map((zone) => zone.id));
  const names = zoneNamesOf(job.catalogue);
  const named = namedInNotes(job, zoneIds);
  const claim = headingClaimOf(job.notes, zoneIds);
  const answers = new Map<string, Answer>();
  for (const photo of job.photos) {
    const mentions = named.byPhoto.get(photo.id);
    const answer =
      (mentions && byName(mentions)) ?? byFolder(names, photo, job.visit ?? '') ?? byFileName(names, photo) ?? byKeyword(names, photo) ?? claim(photo);
    if (answer) answers.set(photo.id, answer);
  }
  for (const [id, answer] of placeBetween(job.photos, answers)) answers.set(id, answer);
  const wallClock = wallClockOf(job.notes.seen);
  const photos = job.photos.map((photo) => ({ ...placed(job, names, photo, answers.get(photo.id), named.byPhoto.get(photo.id)), wall: wallOf(wallClock(photo)) }));
  return { photos, idsOf: named.idsOf, unfound: named.unfound, notices: [...named.notices, ...unknownKeywords(names, job.photos)] };
}

function wallOf(time: WallTime | null): PlacedPhoto['wall'] {
  return time && { date: time.date, second: time.second };
}

/** Captions of all lines, each once; where they stand in several zones, each is led by its own. */
function captionText(job: Job, captions: readonly Caption[]): string {
  const zones = new Set(captions.flatMap(({ zone }) => (zone === null ? [] : [zone])));
  const all = job.catalogue.zones.flatMap(zonesOf);
  const led = captions.map(({ zone, text }) => {
    const known = zones.size > 1 ? all.find(({ id }) => id === zone) : undefined;
    return known ? `${zoneName(known, job.settings.language)}: ${text}` : text;
  });
  return [...new Set(led)].join(' · ');
}

function placed(job: Job, names: ZoneNames, photo: Photo, answer: Answer | undefined, mentions: Mentions | undefined): Omit<PlacedPhoto, 'wall'> {
  const marks = mentions?.marks ?? [];
  return {
    photo,
    zones: answer?.zones ?? [],
    rule: answer?.rule ?? null,
    reason: answer?.reason ?? whyNot(names, photo, mentions),
    views: [...(mentions?.views ?? [])],
    caption: captionText(job, mentions?.captions ?? []),
    marks,
  };
}

function byName(mentions: Mentions): Answer | null {
  if (mentions.zones.size === 0 && mentions.views.size === 0) return null;
  const reason = `named at ${listText([...mentions.spots])}`;
  return { zones: [...mentions.zones].sort(byCodeUnit), rule: 'named in the findings', reason };
}

/** The innermost folder that is a zone's name, by itself or after the name of the folder around it ("sill/left"). */
function byFolder(names: ZoneNames, photo: Photo, visit: string): Answer | null {
  const folders = photo.path.slice(visit.length).split('/').slice(0, -1);
  for (let at = folders.length - 1; at >= 0; at -= 1) {
    const own = folders[at] ?? '';
    const around = folders[at - 1];
    for (const words of [own, ...(around === undefined ? [] : [`${around} ${own}`])]) {
      const zone = zoneNamed(names, words) ?? zoneNamed(names, words.replace(/^[\d\s._-]+/, ''));
      if (zone !== null) return { zones: [zone], rule: 'folder', reason: `folder “${words === own ? own : `${around}/${own}`}”` };
    }
  }
  return null;
}

function byFileName(names: ZoneNames, photo: Photo): Answer | null {
  const found = zoneAtStart(names, stemOf(photo));
  return found && { zones: [found.zone], rule: 'file name', reason: `file name begins with “${found.words}”` };
}

function stemOf(photo: Photo): string {
  return photo.name.replace(/\.[^.]*$/, '');
}

/** Keywords that are a zone's name; of a path such as `Car|Sill|Left` its end may be one. */
function byKeyword(names: ZoneNames, photo: Photo): Answer | null {
  const found = photo.keywords.flatMap((keyword) => {
    const zone = zoneOfKeyword(names, keyword);
    return zone === null ? [] : [{ zone, keyword }];
  });
  if (found.length === 0) return null;
  const words = listText(found.map(({ keyword }) => `“${keyword}”`));
  const zones = [...new Set(found.map(({ zone }) => zone))].sort(byCodeUnit);
  return { zones, rule: 'keyword', reason: `${found.length === 1 ? 'keyword' : 'keywords'} ${words}` };
}

function zoneOfKeyword(names: ZoneNames, keyword: string): string | null {
  const levels = keyword.split(/[|/]/);
  for (let from = 0; from < levels.length; from += 1) {
    const zone = zoneNamed(names, levels.slice(from).join(' '));
    if (zone !== null) return zone;
  }
  return null;
}

function unknownKeywords(names: ZoneNames, photos: readonly Photo[]): Notice[] {
  const unknown = new Set(photos.flatMap((photo) => photo.keywords).filter((keyword) => zoneOfKeyword(names, keyword) === null));
  if (unknown.size === 0) return [];
  const some = [...unknown].sort(byCodeUnit).slice(0, 5);
  const more = unknown.size > some.length ? `, and ${unknown.size - some.length} more` : '';
  const found = `${unknown.size === 1 ? 'One keyword' : `${unknown.size} keywords`} of photos name no zone: ${some.join(', ')}${more}`;
  return [{ level: 'note', rule: 'keyword-unknown', found, advice: 'Nothing is lost: photos are placed by the other rules.' }];
}

function whyNot(names: ZoneNames, photo: Photo, mentions: Mentions | undefined): string {
  if (mentions && mentions.unplaced.size > 0) return `named, but under no zone yet, at ${listText([...mentions.unplaced])}`;
  if (mentions && mentions.spots.size > 0) return `named at ${listText([...mentions.spots])} without a known zone or view`;
  const folder = photo.path.split('/').at(-2) ?? '';
  const half = sidelessAtStart(names, stemOf(photo)) ?? sidelessAtStart(names, folder);
  if (half !== null) return `its name says “${half}” without left or right`;
  return photo.takenAt ? 'not named, and nothing in its folder, name, keywords or time says a zone' : 'not named, and it carries no time';
}
