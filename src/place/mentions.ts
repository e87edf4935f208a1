import type { Entry, Mark, PhotoName } from '../model/notes.ts';
import type { Job } from '../model/job.ts';
import type { Notice } from '../model/notice.ts';
import type { Photo } from '../model/photo.ts';
import { termIn } from '../model/wording.ts';
import { plainWords } from '../model/zone-names.ts';
import { captionOf } from './captions.ts';
import type { PhotoIndex } from './photo-names.ts';
import { findPhotos, photoIndexOf } from './photo-names.ts';
import { spotText } from './spots.ts';

/** What one line says a photo shows. */
export interface Caption {
  /** Null where the line stands in no known zone. */
  zone: string | null;
  text: string;
}

/** Everything the findings say about one photo. */
export interface Mentions {
  zones: Set<string>;
  views: Set<string>;
  /** "findings.md:21", in the order of the file. */
  spots: Set<string>;
  captions: Caption[];
  marks: Mark[];
  /** Named under a heading in which no zone was recognised. */
  unplaced: Set<string>;
}

/** Photos as the findings name them. */
export interface NamedInNotes {
  /** Photo id → what is said about it. */
  byPhoto: Map<string, Mentions>;
  /** Photo ids of names as written. */
  idsOf: (names: readonly PhotoName[]) => string[];
  /** Names that stand for no photo, or not for one alone, and why. */
  unfound: Map<PhotoName, string>;
  notices: Notice[];
}

/** Follows every photo name of the findings once. */
export function namedInNotes(job: Job, zoneIds: ReadonlySet<string>): NamedInNotes {
  const index = photoIndexOf(job.photos);
  const ids = new Map<PhotoName, string[]>();
  const result: NamedInNotes = {
    byPhoto: new Map(job.photos.map((photo) => [photo.id, noMentions()])),
    idsOf: (names) => [...new Set(names.flatMap((name) => ids.get(name) ?? []))],
    unfound: new Map(),
    notices: [],
  };
  for (const written of job.notes.zones) {
    const zone = written.zone !== null && zoneIds.has(written.zone) ? written.zone : null;
    for (const entry of written.entries.flatMap(withNested)) {
      // Marks stand under a picture: the one with words, else the first photo of the line.
      const marked = entry.photos.find((name) => name.alt !== '') ?? entry.photos[0];
      for (const name of entry.photos) {
        const marks = name === marked && 'marks' in entry ? entry.marks : [];
        const caption = captionOf(job.catalogue, job.settings.language, entry, name);
        ids.set(name, note(result, index, name, marks, (mentions) => {
          (zone === null ? mentions.unplaced : mentions.zones).add(zone ?? spotText(written.heading.spot));
          if (caption !== '') mentions.captions.push({ zone, text: caption });
        }));
      }
    }
  }
  for (const { view, photo: name } of job.notes.views) {
    const record = viewNamed(job, view);
    if (!record) result.notices.push(unknownView(job, view, name));
    ids.set(name, note(result, index, name, [], (mentions) => {
      if (record) mentions.views.add(record.id);
      const caption = name.alt || (record ? termIn(record.name, job.settings.language) : view);
      mentions.captions.push({ zone: null, text: caption });
    }));
  }
  return result;
}

function noMentions(): Mentions {
  return { zones: new Set(), views: new Set(), spots: new Set(), captions: [], marks: [], unplaced: new Set() };
}

/** An entry and the work written under it, which may name photos of its own. */
function withNested(entry: Entry): Entry[] {
  return entry.type === 'finding' ? [entry, ...entry.work] : [entry];
}

function note(result: NamedInNotes, index: PhotoIndex, name: PhotoName, marks: readonly Mark[], add: (mentions: Mentions) => void): string[] {
  const { photos, candidates, unfound, notices } = findPhotos(index, name);
  if (unfound !== '') result.unfound.set(name, unfound);
  result.notices.push(...notices);
  const at = (photo: Photo): Mentions | undefined => result.byPhoto.get(photo.id);
  for (const photo of photos) {
    const mentions = at(photo);
    if (!mentions) continue;
    mentions.spots.add(spotText(name.spot));
    addMarks(mentions, marks);
    add(mentions);
  }
  // Where nobody can tell which photo is meant, what is to be hidden is hidden on each, lest it be shown on one.
  const hidden = marks.filter((mark) => mark.shape === 'hide');
  for (const photo of candidates) {
    const mentions = at(photo);
    if (mentions) addMarks(mentions, hidden);
  }
  return photos.map((photo) => photo.id);
}

/** One line that names three openings carries its marks three times; the photo carries them once. */
function addMarks(mentions: Mentions, marks: readonly Mark[]): void {
  const keyOf = (mark: Mark): string => `${spotText(mark.spot)}:${mark.spot.column ?? 0} ${mark.shape} ${mark.numbers.join(' ')}`;
  const known = new Set(mentions.marks.map(keyOf));
  mentions.marks.push(...marks.filter((mark) => !known.has(keyOf(mark))));
}

function viewNamed(job: Job, view: string): Job['catalogue']['views'][number] | undefined {
  const words = plainWords(view);
  return job.catalogue.views.find(
    (record) => record.id === view || [record.id, record.name.gb, record.name.us, ...record.also].some((name) => plainWords(name) === words),
  );
}

function unknownView(job: Job, view: string, name: PhotoName): Notice {
  const known = job.catalogue.views.map((record) => record.name.gb.toLowerCase()).join(', ');
  return {
    level: 'warning',
    rule: 'view-unknown',
    spot: name.spot,
    found: `Unexpected view "${view}"`,
    expected: `one of ${known}`,
    advice: 'The photo is kept without a view.',
  };
}
