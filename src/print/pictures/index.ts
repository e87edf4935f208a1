import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { setImmediate } from 'node:timers/promises';
import type { Rendition } from '../../model/dossier.ts';
import type { Level, Notice } from '../../model/notice.ts';
import type { Photo } from '../../model/photo.ts';
import { heicDecoder } from './heic.ts';
import type { HeicDecoder } from './heic.ts';
import { pictureHints } from './hints.ts';
import { pixelLimit, secondsPerPhoto } from './limits.ts';
import type { LastPictures } from './last.ts';
import type { PixelMeasures } from './measure.ts';
import { deliver, isWhole, keep, recall, renditionsOf } from './store.ts';
import type { Entry } from './store.ts';
import type { Area } from './shrink.ts';

export interface PictureOptions {
  /** Originals are read from here and never written to. */
  jobFolder: string;
  /** Made where missing; may be deleted at any time. */
  cacheFolder: string;
  /** The site's folder; pictures go to `photos/` in it. Null where only the cache is to be filled. */
  outFolder: string | null;
  /** The dossier to be replaced, whose pictures are shared where they are the same. */
  last?: LastPictures;
  /** Counts photos, not files: two photos of the same bytes are done together. */
  onProgress?: (done: number, total: number) => void;
  signal?: AbortSignal;
  /** Photo id → areas to destroy in every picture made of it: x1 y1 x2 y2 in fractions of the upright photo. */
  hidden?: ReadonlyMap<string, readonly Area[]>;
}

/** What is delivered of one photo. */
export interface Delivered {
  /** Ascending by width; empty where the photo is not shown. */
  renditions: Rendition[];
  /** Why it is not shown, or how it is damaged; empty where all is well. */
  flaw: string;
  /** What was measured on its pixels; null where it is not shown. */
  measures: PixelMeasures | null;
}

interface Fault {
  level: Level;
  rule: string;
  found: string;
  expected?: string;
  advice: string;
}

interface Result extends Delivered {
  faults: Fault[];
}

/**
 * Makes the pictures a dossier shows. Each photo is decoded once, or not at all where the cache has it.
 * @returns by photo id, every photo of `photos`; notices in the order of `photos`, hints after faults
 * @throws the signal's reason when aborted, and disk errors of the cache and output folders
 */
export async function renderPictures(photos: Photo[], options: PictureOptions): Promise<{ pictures: Map<string, Delivered>; notices: Notice[] }> {
  const groups = groupsOf(photos, options.hidden ?? new Map());
  const results = new Map<string, Result>();
  let [next, done] = [0, 0];
  let failure: { error: unknown } | null = null;
  const heic = heicDecoder({ seconds: secondsPerPhoto, pixelLimit });
  const lane = async (): Promise<void> => {
    for (let at = next++; at < groups.length && !failure; at = next++) {
      const group = groups[at];
      if (!group) return;
      try {
        // Lets a Ctrl-C in, as all may come from the disk without a wait.
        await setImmediate();
        options.signal?.throwIfAborted();
        const result = await renderGroup(group, options, heic);
        for (const photo of group.photos) results.set(photo.id, result);
      } catch (error) {
        failure ??= { error };
        return;
      }
      done += group.photos.length;
      options.onProgress?.(done, photos.length);
    }
  };
  // All lanes come to rest before anything is thrown: nothing is written after the call has ended.
  await Promise.all(Array.from({ length: availableParallelism() }, lane));
  await heic.close();
  rethrow(failure);
  const pictures = new Map<string, Delivered>();
  const notices: Notice[] = [];
  for (const photo of photos) {
    const result = results.get(photo.id);
    if (!result) throw new Error(`No result for photo ${photo.id}`);
    pictures.set(photo.id, { renditions: result.renditions, flaw: result.flaw, measures: result.measures });
    notices.push(...result.faults.map((fault) => ({ ...fault, spot: { file: photo.path } })));
  }
  notices.push(...pictureHints(photos.map((photo) => ({ photo, measures: pictures.get(photo.id)?.measures ?? null }))));
  return { pictures, notices };
}

/** Photos of the same bytes and hidden areas together; one without a hash by itself. */
function groupsOf(photos: Photo[], hidden: ReadonlyMap<string, readonly Area[]>): Group[] {
  const groups = new Map<string, Group>();
  for (const photo of photos) {
    const areas = hidden.get(photo.id) ?? [];
    const key = photo.sha256 ? pictureKey(photo.sha256, areas) : `unread ${photo.path}`;
    const group = groups.get(key);
    if (group) group.photos.push(photo);
    else groups.set(key, { key, areas, photos: [photo] });
  }
  return [...groups.values()];
}

/** Photos with the same bytes and the same areas hidden: they share their pictures. */
interface Group {
  key: string;
  areas: readonly Area[];
  photos: Photo[];
}

/** Names the pictures: the photo's hash, or another one where areas are hidden, so that the cache never mixes the two. */
function pictureKey(sha256: string, areas: readonly Area[]): string {
  if (areas.length === 0) return sha256;
  return createHash('sha256').update(`${sha256} ${JSON.stringify(areas)}`).digest('hex');
}

function rethrow(failure: { error: unknown } | null): void {
  if (failure) throw failure.error;
}

function refused(flaw: string, faults: Fault[]): Result {
  return { renditions: [], flaw, measures: null, faults };
}

/** Pictures for one group of photos of the same bytes. */
async function renderGroup({ key, areas, photos }: Group, options: PictureOptions, heic: HeicDecoder): Promise<Result> {
  const photo = photos[0];
  // What cannot be read or is no picture has its notice from the reader.
  if (!photo || photo.sha256 === '') return refused('cannot be read: listed, not shown', []);
  if (photo.bytes === 0) return refused('an empty file: listed and hashed, not shown', []);
  if (photo.format === null) return refused('not a picture Sillbook takes: listed and hashed, not shown', []);
  const known = recall(options.cacheFolder, key);
  if (known && puts(key, known, options)) return resultOf(key, known);
  const bytes = await sameBytes(photos, options.jobFolder);
  if (!bytes) {
    const advice = 'Build again when nothing else writes into the job.';
    const found = 'File is not what it was when this build began';
    return refused('changed while the dossier was made: not shown', [{ level: 'error', rule: 'photo-changed-meanwhile', found, advice }]);
  }
  // Loaded here, so that a build with a warm cache does not wait for it.
  const { shrink } = await import('./shrink.ts');
  const made = await shrink(bytes, { areas, heic, signal: options.signal });
  if (made.pictures.length > 0) {
    const entry = keep(options.cacheFolder, key, made);
    if (!puts(key, entry, options)) throw new Error('Pictures went from the cache while they were made');
    return resultOf(key, entry);
  }
  const advice = `Look for the original, or export it as JPEG${inBrackets(made.fault)}.`;
  const fault: Fault = { level: 'warning', rule: 'photo-undecodable', found: 'Picture cannot be shown', advice };
  return refused(made.flaw, [fault]);
}

/** The file's bytes where they still have the hash they had when read, from the first path that keeps its word. */
async function sameBytes(group: readonly Photo[], jobFolder: string): Promise<Buffer | null> {
  for (const { path, sha256 } of group) {
    const bytes = await readFile(join(jobFolder, path)).catch(() => null);
    if (bytes && createHash('sha256').update(bytes).digest('hex') === sha256) return bytes;
  }
  return null;
}

/** A decoder's own words stand last. */
function inBrackets(fault: string): string {
  return fault === '' ? '' : ` (${fault})`;
}

/** Longest side in pixels below which little is to be seen of a car: a thumbnail, most likely. Our judgement. */
const tinyBelow = 400;

function sizeFaults(renditions: readonly Rendition[]): Fault[] {
  const longest = Math.max(0, ...renditions.map(({ width, height }) => Math.max(width, height)));
  if (longest === 0 || longest >= tinyBelow) return [];
  return [{ level: 'note', rule: 'photo-tiny', found: `Picture is only ${longest} pixels long`, advice: 'It may be a thumbnail; look for the original.' }];
}

function frameFaults(frames: number): Fault[] {
  if (frames < 2) return [];
  return [{ level: 'note', rule: 'photo-animated', found: `File holds ${frames} pictures`, advice: 'The main one is shown, or the first where the file names none; the original is not changed.' }];
}

/** Puts pictures where they are wanted; false where the cache lacks one. */
function puts(key: string, entry: Entry, { cacheFolder, outFolder, last }: PictureOptions): boolean {
  return outFolder === null ? isWhole(cacheFolder, key, entry) : deliver(cacheFolder, outFolder, key, entry, last);
}

function resultOf(key: string, entry: Entry): Result {
  const renditions = renditionsOf(key, entry);
  const faults = [...frameFaults(entry.frames), ...sizeFaults(renditions)];
  if (entry.flaw !== '') {
    const advice = `It is shown as far as it can be read; look for an undamaged copy${inBrackets(entry.fault)}.`;
    faults.unshift({ level: 'warning', rule: 'photo-damaged', found: 'Picture is damaged', advice });
  }
  return { renditions, flaw: entry.flaw, measures: entry.measures, faults };
}
