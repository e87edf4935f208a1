import { distance } from 'fastest-levenshtein';
import type { PhotoName } from '../model/notes.ts';
import type { Notice } from '../model/notice.ts';
import type { Photo } from '../model/photo.ts';
import { byCodeUnit } from '../model/order.ts';

/** More members than this in one range is a slip of the thumb. */
const mostInRange = 200;

/** The photos of a job by every way their names may be written: with or without folders and ending. */
export interface PhotoIndex {
  photos: readonly Photo[];
  paths: Map<string, Photo>;
  exact: Map<string, Photo[]>;
  anyCase: Map<string, Photo[]>;
}

/** What a written name stands for. */
export interface NamedPhotos {
  photos: Photo[];
  /** Photos the name could mean where it is not unique; else empty. */
  candidates: Photo[];
  /** Why the name, or a part of it, stands for no photo; empty where it does. */
  unfound: string;
  notices: Notice[];
}

/** Builds the look-up tables once for a job. */
export function photoIndexOf(photos: readonly Photo[]): PhotoIndex {
  const index: PhotoIndex = { photos, paths: new Map(), exact: new Map(), anyCase: new Map() };
  for (const photo of photos) {
    const path = photo.path.normalize('NFC');
    index.paths.set(path, photo);
    const pieces = path.split('/');
    for (let from = 0; from < pieces.length; from += 1) {
      const tail = pieces.slice(from).join('/');
      for (const key of new Set([tail, withoutEnding(tail)])) {
        addTo(index.exact, key, photo);
        addTo(index.anyCase, key.toLowerCase(), photo);
      }
    }
  }
  return index;
}

function addTo(map: Map<string, Photo[]>, key: string, photo: Photo): void {
  const known = map.get(key);
  if (known) known.push(photo);
  else map.set(key, [photo]);
}

function withoutEnding(name: string): string {
  return name.replace(/\.[A-Za-z0-9]{1,5}$/, '');
}

/** Finds the photos a name in the findings means: one, or the members of a range such as `IMG_4027-4030`. */
export function findPhotos(index: PhotoIndex, name: PhotoName): NamedPhotos {
  const written = name.text.trim().normalize('NFC').replaceAll('\\', '/').replace(/^(\.\/)+/, '');
  if (written.startsWith('/') || /^[a-z][a-z0-9+.-]*:/i.test(written) || written.split('/').includes('..')) return outside(name);
  const single = lookUp(index, written) ?? lookUp(index, decoded(written));
  if (single) return answer(name, single);
  return rangeOf(index, name, written) ?? missing(index, name, written);
}

interface Found {
  photos: Photo[];
  /** Found only by taking capitals and small letters for the same. */
  byCase: boolean;
}

function lookUp(index: PhotoIndex, written: string): Found | null {
  if (written === '') return null;
  const path = index.paths.get(written);
  if (path) return { photos: [path], byCase: false };
  const exact = index.exact.get(written);
  if (exact) return { photos: exact, byCase: false };
  const anyCase = index.anyCase.get(written.toLowerCase());
  return anyCase ? { photos: anyCase, byCase: true } : null;
}

/** Markdown targets may carry `%20` for a space. */
function decoded(written: string): string {
  try {
    return decodeURIComponent(written).normalize('NFC');
  } catch {
    return written;
  }
}

function answer(name: PhotoName, found: Found): NamedPhotos {
  const [photo] = found.photos;
  if (found.photos.length > 1) {
    const notice: Notice = {
      level: 'warning',
      rule: 'photo-ambiguous',
      spot: name.spot,
      found: `"${name.text}" could be ${found.photos.map((one) => one.path).sort(byCodeUnit).join(' or ')}`,
      expected: 'the name of one photo',
      advice: 'Write the name with its folder and ending.',
    };
    return { photos: [], candidates: found.photos, unfound: 'could be several photos', notices: [notice] };
  }
  const notices: Notice[] = [];
  if (found.byCase && photo) {
    const advice = 'It is taken for the same photo. Write capitals and small letters as in the file name to be sure.';
    notices.push({ level: 'note', rule: 'photo-name-case', spot: name.spot, found: `"${name.text}" is ${photo.path}`, advice });
  }
  return { photos: found.photos, candidates: [], unfound: '', notices };
}

function outside(name: PhotoName): NamedPhotos {
  const notice: Notice = {
    level: 'warning',
    rule: 'photo-outside',
    spot: name.spot,
    found: `"${name.text}" leads out of the job folder`,
    expected: 'a photo in this job',
    advice: 'Copy the photo into the job folder and write its name. The name is not followed.',
  };
  return { photos: [], candidates: [], unfound: 'not in the job', notices: [notice] };
}

/** Members of `IMG_4027-4030`, `IMG_4027-30` or `IMG_4027-IMG_4030`; null where the name is no range or has no member here. */
function rangeOf(index: PhotoIndex, name: PhotoName, written: string): NamedPhotos | null {
  const match = /^(.*?)(\d+)\s*[-–]\s*(\D*)(\d+)(\.[A-Za-z0-9]{1,5})?$/.exec(written);
  if (!match) return null;
  const [, prefix = '', first = '', repeated = '', last = '', ending = ''] = match;
  if (repeated !== '' && repeated !== prefix.slice(prefix.lastIndexOf('/') + 1)) return null;
  const end = last.length < first.length ? first.slice(0, first.length - last.length) + last : last;
  const [from, to] = [Number(first), Number(end)];
  if (!Number.isSafeInteger(to) || to <= from) return null;
  const count = Math.min(to - from + 1, mostInRange);
  const members = Array.from({ length: count }, (_, at) => `${prefix}${String(from + at).padStart(first.length, '0')}${ending}`);
  const found = members.map((member) => ({ member, found: lookUp(index, member) }));
  if (found.every((one) => one.found === null)) return null;
  const result: NamedPhotos = { photos: [], candidates: [], unfound: '', notices: [] };
  for (const one of found) {
    if (!one.found) continue;
    const named = answer({ ...name, text: one.member }, one.found);
    result.photos.push(...named.photos);
    result.candidates.push(...named.candidates);
    result.notices.push(...named.notices);
  }
  const gaps = found.filter((one) => one.found === null).map((one) => one.member);
  if (gaps.length > 0) result.notices.push(gapNotice(name, gaps));
  if (gaps.length > 0) result.unfound = `not all in the job: ${gaps.slice(0, 5).join(', ')}${gaps.length > 5 ? ` and ${gaps.length - 5} more` : ''} missing`;
  else if (result.candidates.length > 0) result.unfound = 'could be several photos';
  if (to - from + 1 > mostInRange) result.notices.push(longRange(name, to - from + 1));
  return result;
}

function gapNotice(name: PhotoName, gaps: readonly string[]): Notice {
  const more = gaps.length > 5 ? ` and ${gaps.length - 5} more` : '';
  return {
    level: 'warning',
    rule: 'photo-missing',
    spot: name.spot,
    found: `Missing ${gaps.slice(0, 5).join(', ')}${more} of "${name.text}"`,
    expected: 'a photo in this job for every number of the range',
    advice: 'Add the photos, or write the ranges there are.',
  };
}

function longRange(name: PhotoName, count: number): Notice {
  return {
    level: 'warning',
    rule: 'photo-range-long',
    spot: name.spot,
    found: `"${name.text}" spans ${count} numbers`,
    expected: `a range of ${mostInRange} photos at most`,
    advice: `The first ${mostInRange} are taken. Correct the range, or write it in pieces.`,
  };
}

function missing(index: PhotoIndex, name: PhotoName, written: string): NamedPhotos {
  const near = nearest(index, written);
  const notice: Notice = {
    level: 'warning',
    rule: 'photo-missing',
    spot: name.spot,
    found: `Missing "${name.text}"`,
    expected: 'a photo in this job',
    advice: near === null ? 'Add the photo to the job folder, or correct its name.' : `Nearest: ${near}.`,
  };
  return { photos: [], candidates: [], unfound: 'not in the job', notices: [notice] };
}

/** Name of the photo spelled most like `written`, null where none is within three letters. */
function nearest(index: PhotoIndex, written: string): string | null {
  const wanted = written.slice(written.lastIndexOf('/') + 1).toLowerCase();
  if (wanted.length > 100) return null;
  let best: { name: string; away: number } | null = null;
  for (const { name } of index.photos) {
    const lower = name.toLowerCase();
    const away = Math.min(distance(wanted, lower), distance(withoutEnding(wanted), withoutEnding(lower)));
    if (away <= 3 && (!best || away < best.away || (away === best.away && byCodeUnit(name, best.name) < 0))) best = { name, away };
  }
  return best?.name ?? null;
}
