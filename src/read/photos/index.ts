import { createHash } from 'node:crypto';
import type { Notice } from '../../model/notice.ts';
import type { Photo } from '../../model/photo.ts';
import { disk as thisDisk, diskFault } from './disk.ts';
import type { Disk, Stamp } from './disk.ts';
import { readMetadata } from './exif.ts';
import type { Metadata } from './exif.ts';
import { formatByContent, formatByName, isRawName } from './format.ts';
import { giveIds } from './ids.ts';
import type { PhotoMemory } from './memory.ts';
import { walk } from './walk.ts';
import type { Found } from './walk.ts';

/** Above this a file is hashed as a stream and not shown: larger than any camera makes, our judgement. */
const largestBytes = 200_000_000;
/** Files in memory at once. */
const inFlight = 3;

export interface PhotoOptions {
  /** Name of the visit's folder within that of the car; empty where it is the same. */
  visit?: string;
  /** Whether it is the visit a dossier is made of: ids of photos of others begin with the visit's name. */
  current?: boolean;
  onProgress?: (done: number, total: number) => void;
  /** Folders to leave out, relative to the job with `/`: an output folder inside the job. */
  skip?: string[];
  /** What an earlier reading found; without it every file is read. */
  memory?: PhotoMemory;
  signal?: AbortSignal;
  /** Another disk, for tests. */
  disk?: Disk;
}

/** The photos of a job and what lies beside them. */
export interface ReadPhotos {
  /** Sorted by path in code-unit order. `takenAt` is null until `timePhotos` has run. */
  photos: Photo[];
  notices: Notice[];
  /** Paths of files that are no photos and are kept out of the dossier. */
  others: string[];
}

type Outcome = { photo: Photo; notices: Notice[] } | { other: string; notices: Notice[] };

/**
 * Reads every photo of one visit once: hash, format by content, EXIF, keywords. Writes nothing.
 * Whatever is wrong with a file becomes a notice; never rejects for the sake of a file, only when aborted.
 */
export async function readPhotos(visitFolder: string, options: PhotoOptions = {}): Promise<ReadPhotos> {
  const disk = options.disk ?? thisDisk;
  const { visit = '', current = true } = options;
  const { files, notices } = await walk(visitFolder, disk, options.skip ?? []);
  const outcomes: Outcome[] = [];
  let [next, done] = [0, 0];
  const lane = async (): Promise<void> => {
    for (let at = next++; at < files.length; at = next++) {
      const file = files[at];
      options.signal?.throwIfAborted();
      if (file) outcomes[at] = await recallOrRead(file, disk, options.memory && memoryOf(options.memory, visit));
      options.onProgress?.(++done, files.length);
    }
  };
  await Promise.all(Array.from({ length: inFlight }, lane));
  const photos = outcomes.flatMap((outcome) => ('photo' in outcome ? [outcome.photo] : []));
  const inCar = (name: string): string => (visit === '' ? name : `${visit}/${name}`);
  return {
    photos: giveIds(photos, current ? '' : visit).map((photo) => ({ ...photo, path: inCar(photo.path) })),
    notices: [...notices, ...outcomes.flatMap((outcome) => outcome.notices)].map((notice) => (notice.spot ? { ...notice, spot: { ...notice.spot, file: inCar(notice.spot.file) } } : notice)),
    others: outcomes.flatMap((outcome) => ('other' in outcome ? [outcome.other] : [])),
  };
}

/** Two visits may have photos of the same path. */
function memoryOf(memory: PhotoMemory, visit: string): Pick<PhotoMemory, 'recall' | 'keep'> {
  if (visit === '') return memory;
  return { recall: (name, stamp) => memory.recall(`${visit}/${name}`, stamp), keep: (name, stamp, found) => memory.keep(`${visit}/${name}`, stamp, found) };
}

function emptyPhoto(path: string): Photo {
  return {
    id: '',
    path,
    name: path.slice(path.lastIndexOf('/') + 1),
    bytes: 0,
    sha256: '',
    format: null,
    make: null,
    model: null,
    orientation: 1,
    takenAt: null,
    keywords: [],
    editors: [],
    hasPosition: false,
    exif: {
      dateTimeOriginal: null,
      subSecTimeOriginal: null,
      offsetTimeOriginal: null,
      modifyDate: null,
      software: null,
      gpsLatitude: null,
      gpsLongitude: null,
      gpsDate: null,
      gpsTime: null,
    },
  };
}

function other(path: string, what: string): Outcome {
  const found = `Not a photo Sillbook takes: ${what}`;
  const expected = 'a JPEG, HEIC, PNG, WebP, AVIF or TIFF picture';
  const advice = 'It is kept out of the dossier and not changed.';
  return { other: path, notices: [{ level: 'note', rule: 'file-ignored', spot: { file: path }, found, expected, advice }] };
}

function flawed(photo: Photo, rule: string, found: string, advice: string): Outcome {
  return { photo, notices: [{ level: 'warning', rule, spot: { file: photo.path }, found, advice }] };
}

/** From memory where the file is still the one that was read; kept in it only where nobody wrote to it meanwhile. */
async function recallOrRead(file: Found, disk: Disk, memory: Pick<PhotoMemory, 'recall' | 'keep'> | undefined): Promise<Outcome> {
  if (!memory || file.realPath === null) return readOne(file, disk);
  const stampOf = async (at: string): Promise<Stamp | null> => (await disk.facts(at).catch(() => null))?.stamp ?? null;
  const before = await stampOf(file.realPath);
  const known = before && memory.recall(file.path, before);
  if (known) return known;
  const outcome = await readOne(file, disk);
  const after = await stampOf(file.realPath);
  if (before && after?.key === before.key && 'photo' in outcome && outcome.photo.sha256 !== '') memory.keep(file.path, before, outcome);
  return outcome;
}

async function readOne(file: Found, disk: Disk): Promise<Outcome> {
  const photo = emptyPhoto(file.path);
  const promised = formatByName(photo.name);
  if (file.realPath === null) return other(file.path, 'no ordinary file');
  let bytes: Buffer;
  try {
    photo.bytes = (await disk.facts(file.realPath)).bytes;
    if (photo.bytes > largestBytes) {
      if (promised === null) return other(file.path, `"${photo.name}"`);
      photo.sha256 = await disk.sha256(file.realPath);
      return flawed(photo, 'photo-too-large', 'File of more than 200 MB', 'It is listed and hashed, not shown; export a smaller picture to show it.');
    }
    bytes = await disk.read(file.realPath);
  } catch (error) {
    if (promised === null) return other(file.path, `a file that cannot be read (${diskFault(error)})`);
    const advice = 'It is listed without a hash and not shown; allow reading and build again.';
    return flawed(photo, 'photo-unreadable', `File cannot be read (${diskFault(error)})`, advice);
  }
  photo.bytes = bytes.length;
  photo.sha256 = createHash('sha256').update(bytes).digest('hex');
  photo.format = isRawName(photo.name) ? null : formatByContent(bytes);
  if (photo.format === null) return withoutPicture(photo, bytes, promised !== null);
  const metadata = await readMetadata(bytes, photo.format);
  return { photo: withMetadata(photo, metadata), notices: metadataNotices(photo, metadata, promised) };
}

function withoutPicture(photo: Photo, bytes: Buffer, promised: boolean): Outcome {
  if (!promised) return other(photo.path, isRawName(photo.name) ? 'a camera raw file' : `"${photo.name}"`);
  const advice = 'It is listed and hashed, not shown; look for the original.';
  if (bytes.length === 0) return flawed(photo, 'photo-empty', 'File of zero bytes', advice);
  return flawed(photo, 'photo-not-a-picture', 'Content is none of the picture formats Sillbook takes', advice);
}

function isOrientation(value: number | null): value is number {
  return value !== null && Number.isInteger(value) && value >= 1 && value <= 8;
}

function withMetadata(photo: Photo, metadata: Metadata): Photo {
  const { make, model, keywords, editors, hasPosition, exif } = metadata;
  const orientation = isOrientation(metadata.orientation) ? metadata.orientation : 1;
  return { ...photo, make, model, orientation, keywords, editors, hasPosition, exif };
}

/** What else is in the file is not shown, and said. */
function extraNotices(path: string, { film, gainMap, depth, angles }: Metadata['extras']): Notice[] {
  const still = 'The still picture is shown; the original is not changed.';
  const notes: [rule: string, found: string, advice: string][] = [];
  if (film === 'motion') notes.push(['photo-motion', 'File holds a short film behind the picture', still]);
  if (film === 'sequence') notes.push(['photo-animated', 'File holds a moving sequence', still]);
  if (angles > 1) notes.push(['photo-animated', `File holds ${angles} pictures of full size`, 'The main one is shown, or the first where the file names none; the original is not changed.']);
  if (gainMap) notes.push(['photo-gain-map', 'File holds a brightness map for HDR screens', 'The picture is shown without it, as on an ordinary screen.']);
  if (depth) notes.push(['photo-depth', 'File holds a map of distances', still]);
  return notes.map(([rule, found, advice]) => ({ level: 'note', rule, spot: { file: path }, found, advice }));
}

function metadataNotices(photo: Photo, metadata: Metadata, promised: Photo['format']): Notice[] {
  const notices: Notice[] = [];
  const note = (rule: string, found: string, expected: string, advice: string): void => {
    notices.push({ level: 'note', rule, spot: { file: photo.path }, found, expected, advice });
  };
  // HEIC and AVIF share their container and both endings are seen on either.
  const alike = [promised, photo.format].every((format) => format === 'heif' || format === 'avif');
  if (promised !== photo.format && !alike) {
    note('photo-misnamed', `Content is ${photo.format}, the name "${photo.name}" says otherwise`, `a name ending for ${photo.format}`, 'It is shown by its content.');
  }
  if (metadata.faults.length > 0) {
    note('photo-exif-damaged', 'What the camera wrote beside the picture can be read only in part', 'whole EXIF', `Check the time and camera shown for it (${metadata.faults.join('; ')}).`);
  }
  if (metadata.orientation !== null && !isOrientation(metadata.orientation)) {
    note('orientation-invalid', `EXIF orientation ${metadata.orientation}`, 'a number from 1 to 8', 'It is shown as it lies in the file.');
  }
  const [written, again] = [metadata.exif.dateTimeOriginal, metadata.xmpTaken].map((time) => (time ?? '').replace(/\D/g, '').slice(0, 14));
  if (written?.length === 14 && again?.length === 14 && !/^0+$/.test(written) && written !== again) {
    note('times-differ', `EXIF says "${metadata.exif.dateTimeOriginal}", XMP says "${metadata.xmpTaken}"`, 'one time taken', 'The EXIF time is used.');
  }
  return [...notices, ...extraNotices(photo.path, metadata.extras)];
}
