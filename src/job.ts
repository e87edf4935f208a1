// The whole program on a page: read → place → weigh → plan, for each visit → compare → write → print → seal.
import { mkdtemp, readFile, realpath, rm, writeFile } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import type { Comparison } from './model/comparison.ts';
import type { Clock, Issue, PdfKind } from './model/job.ts';
import type { Dossier } from './model/dossier.ts';
import type { Edition } from './model/edition.ts';
import type { Notice } from './model/notice.ts';
import type { Photo } from './model/photo.ts';
import type { Visit } from './model/visits.ts';
import type { Language } from './model/wording.ts';
import { compare } from './compare/index.ts';
import { carry } from './place/carry.ts';
import { todoRules } from './place/checks/index.ts';
import { place } from './place/index.ts';
import { plan } from './plan/index.ts';
import { dataName, printData } from './print/data/index.ts';
import { oneFileName, printOneFile } from './print/one-file/index.ts';
import type { OneFileOptions } from './print/one-file/index.ts';
import { openOutput } from './print/output.ts';
import type { Attachment, PdfVariant } from './print/pdf/index.ts';
import { renderPictures } from './print/pictures/index.ts';
import { openLast } from './print/pictures/last.ts';
import type { LastPictures } from './print/pictures/last.ts';
import { read } from './read/index.ts';
import type { ReadJob, ReadVisit } from './read/index.ts';
import type { PhotoMemory } from './read/photos/memory.ts';
import { readEdition } from './read/editions.ts';
import { settle } from './seal/durable.ts';
import { hashList, hashText, sealFolder } from './seal/index.ts';
import { weigh } from './weigh/index.ts';
import { changesSince } from './write/changes.ts';
import { write } from './write/index.ts';
import { originalsName, pdfName } from './model/job.ts';

/** A visit read and judged. */
export interface InspectedVisit extends ReadVisit, Visit {}

/** A job read and judged, nothing written yet: the visit it is about, and those before it. */
export interface Inspected extends Omit<InspectedVisit, 'job'>, Pick<ReadJob, 'folder'> {
  /** Oldest first, each judged at its own date. */
  earlier: InspectedVisit[];
  /** All visits beside each other; null where there is one. */
  comparison: Comparison | null;
  /** Of all stages so far. */
  notices: Notice[];
}

/** Counts along while a long stage runs. */
export type Progress = (stage: 'Reading photos' | 'Looking at photos' | 'Making pictures' | 'Reducing pictures', done: number, total: number) => void;

/** Reads and judges a job; what each assumption does to the outlook only where `sensitivity` asks for it. Null where the folder does not exist. Loads neither Astro nor, for most photos, sharp. */
export async function inspect(jobFolder: string, options: { clock: Clock; skip?: string[]; sensitivity?: boolean; onProgress?: Progress; memory?: PhotoMemory; signal?: AbortSignal; language?: Language }): Promise<Inspected | null> {
  const { clock, skip = [], onProgress, memory, signal } = options;
  const found = await read(jobFolder, { clock, skip, ...(onProgress ? { onProgress: (done, total) => onProgress('Reading photos', done, total) } : {}), ...(memory ? { memory } : {}), ...(signal ? { signal } : {}), ...(options.language ? { language: options.language } : {}) });
  if (!found) return null;
  const { folder, earlier } = found;
  const visits: InspectedVisit[] = [];
  for (const visit of earlier) visits.push(judged(visit, false, visits));
  const current = judged(found, options.sensitivity ?? false, visits);
  const { findings, texts, inspection, outlook, plan: planned } = current;
  const comparison = compare([...visits, current]);
  return { folder, findings, texts, inspection, outlook, plan: planned, earlier: visits, comparison, notices: [...noticesOf(current), ...(comparison?.notices ?? []), ...visits.flatMap(earlierNotices)] };
}

function judged(visit: ReadVisit, sensitivity: boolean, earlier: readonly InspectedVisit[]): InspectedVisit {
  const inspection = place(visit.job);
  const outlook = weigh(inspection, { sensitivity });
  return { ...visit, inspection, outlook, plan: plan(inspection, outlook, earlier.map((one) => one.inspection)) };
}

function noticesOf({ inspection, outlook, plan: planned }: InspectedVisit): Notice[] {
  return [...inspection.notices, ...outlook.car.notices, ...planned.notices];
}

/** What would make a dossier untrue counts whatever visit it stands in; the rest was said of that visit and is only counted. */
function earlierNotices(visit: InspectedVisit): Notice[] {
  const notices = noticesOf(visit);
  const others = notices.filter((notice) => notice.level === 'warning' && !todoRules.includes(notice.rule)).length;
  const count = others === 0 ? [] : [{ level: 'note' as const, rule: 'visit-earlier-warnings', spot: { file: visit.inspection.job.notes.file }, found: `${others} ${others === 1 ? 'warning' : 'warnings'} of the earlier visit in ${visit.job.visit ?? ''}`, advice: 'They are not repeated here; check that folder by itself to read them.' }];
  return [...notices.filter((notice) => notice.level === 'error'), ...count];
}

/** Looks at the pixels of an inspected job, so that `check` can hint at photos to take again. What is made for it stays in the cache for a build. */
export async function lookAtPhotos(inspected: Inspected, options: { cache: string; onProgress?: Progress; signal?: AbortSignal }): Promise<Notice[]> {
  const { notices } = await picturesOf(inspected, { ...options, stage: 'Looking at photos', out: null });
  return notices;
}

/** What a build is told from outside. */
export interface BuildOptions {
  /** Folder the dossier is put in; replaced whole. */
  out: string;
  /** Cache of pictures, may be deleted at any time. */
  cache: string;
  edition: string;
  issue: Issue;
  /** Issues before, oldest first, to list what changed since; empty for a draft or a first issue. */
  issued: Dossier[];
  /** Trusts nothing remembered: copies and hashes every picture. */
  rehash: boolean;
  /** A record unless said. */
  pdf?: PdfKind;
  /** Makes the dossier as one file besides; null or left out where none is asked for. */
  oneFile?: Pick<OneFileOptions, 'limitBytes' | 'anySize'> | null | undefined;
  version: string;
  onProgress?: Progress;
  signal?: AbortSignal;
}

/** What came of a build. `dossier` is null where nothing was put in place, `oneFile` where no such file was asked for or it would be too large. */
export interface Built {
  dossier: Dossier | null;
  oneFile?: { bytes: number; widthPx: number } | null;
  notices: Notice[];
}

/**
 * Makes the dossier of an inspected job and puts it in place; the last one stays whole unless this one is complete. A draft is
 * complete without its one-file edition; an issue, to which nothing can be added later, is not.
 */
export async function build(inspected: Inspected, options: BuildOptions): Promise<Built> {
  const { signal } = options;
  const edition = readEdition(options.edition);
  if (edition.notices.some((notice) => notice.level === 'error')) return { dossier: null, notices: [...inspected.notices, ...edition.notices] };
  const output = await openOutput(options.out);
  const last = openLast(options.cache, options.rehash ? null : output.last);
  const work = await realpath(await mkdtemp(path.join(os.tmpdir(), 'sillbook-')));
  try {
    const made = await picturesOf(inspected, { ...options, stage: 'Making pictures', out: output.folder, last, shows: edition });
    // Loaded here, so that a check waits neither for pdf-lib nor for Astro.
    const { printPdf } = await import('./print/pdf/index.ts');
    const dossier = writeDossier(inspected, made, { ...options, edition });
    const notices = [...inspected.notices, ...edition.notices, ...made.notices];
    if (made.notices.some((notice) => notice.level === 'error')) {
      await output.discard();
      return { dossier: null, notices };
    }
    await writeFile(path.join(output.folder, originalsName), originalsOf(inspected).list);
    await printData(dossier, output.folder);
    signal?.throwIfAborted();
    const variant = await pdfVariant(inspected, output.folder, options);
    await printPdf(dossier, { file: path.join(output.folder, pdfName), pictureFolder: output.folder, variant, report: (notice) => notices.push(notice), ...(signal ? { signal } : {}) });
    signal?.throwIfAborted();
    const { printSite } = await import('./print/site/index.ts');
    const page = await printSite(dossier, { work, out: output.folder, pdf: pdfName, ...(options.oneFile ? { oneFile: oneFileName } : {}) });
    const single = await oneFileOf(dossier, page, { ...options, folder: output.folder, work });
    notices.push(...single.notices);
    if (options.issue && page !== null && single.written === null) {
      await output.discard();
      return { dossier: null, notices };
    }
    const taken = last.settle();
    if (taken.notices.length > 0) {
      await output.discard();
      return { dossier: null, notices: [...notices, ...taken.notices] };
    }
    const sealed = await sealFolder(output.folder, taken.hashes);
    await settle(output.folder);
    signal?.throwIfAborted();
    await output.commit();
    if (!options.issue) last.remember(options.out, sealed);
    return { dossier, oneFile: single.written, notices };
  } catch (fault) {
    await output.discard();
    throw fault;
  } finally {
    await rm(work, { recursive: true, force: true });
  }
}

/** What the PDF needs besides the dossier; what goes into it stands in `folder` already. */
async function pdfVariant({ findings, folder: job }: Inspected, folder: string, { pdf = 'record', cache }: BuildOptions): Promise<PdfVariant> {
  if (pdf === 'record') return { kind: pdf };
  if (pdf === 'share') return { kind: pdf, cacheFolder: cache };
  const lists: Attachment[] = [
    { name: dataName, type: 'application/json', relationship: 'Data', description: 'Everything this dossier says, for programs', bytes: await readFile(path.join(folder, dataName)) },
    { name: originalsName, type: 'text/plain', relationship: 'Supplement', description: 'Hashes of the originals, for sha256sum -c', bytes: await readFile(path.join(folder, originalsName)) },
  ];
  if (findings) lists.push({ name: job.findings ?? 'findings.md', type: 'text/markdown', relationship: 'Source', description: 'The findings as they were typed', bytes: findings });
  return { kind: pdf, attachments: lists };
}

async function oneFileOf(dossier: Dossier, page: string | null, options: Pick<BuildOptions, 'oneFile' | 'onProgress' | 'signal'> & Pick<OneFileOptions, 'folder' | 'work'>): ReturnType<typeof printOneFile> {
  const { oneFile, onProgress, signal, folder, work } = options;
  if (page === null || !oneFile) return { written: null, notices: [] };
  return printOneFile(dossier, page, { ...oneFile, folder, work, ...(onProgress ? { onProgress: (done, total) => onProgress('Reducing pictures', done, total) } : {}), ...(signal ? { signal } : {}) });
}

/** Makes the pages of an inspected job in `site`, for a look while it is being written: no PDF, no data, and the pictures stay in the cache. `dossier` is null where errors stop it. */
export async function preview(inspected: Inspected, options: Pick<BuildOptions, 'cache' | 'edition' | 'version' | 'onProgress' | 'signal'> & { site: string; work: string }): Promise<{ dossier: Dossier | null; notices: Notice[] }> {
  const edition = readEdition(options.edition);
  const made = await picturesOf(inspected, { ...options, stage: 'Making pictures', out: null, shows: edition });
  const notices = [...inspected.notices, ...edition.notices, ...made.notices];
  if (notices.some((notice) => notice.level === 'error')) return { dossier: null, notices };
  const dossier = writeDossier(inspected, made, { ...options, out: options.site, issue: null, issued: [], rehash: false, edition });
  const { printSite } = await import('./print/site/index.ts');
  const files = dossier.photos.flatMap((photo) => photo.renditions.map(({ file }) => file));
  await printSite(dossier, { work: options.work, out: options.site, beside: [...files, dataName, 'dossier.schema.json', originalsName, 'work.csv', 'parts.csv', 'record.csv', 'look-again.ics'] });
  return { dossier, notices };
}

/** Pictures of every photo the dossier shows, hidden areas destroyed in them; delivered to `out`, or kept in the cache alone. */
function picturesOf(inspected: Inspected, options: Pick<BuildOptions, 'cache' | 'onProgress' | 'signal'> & { stage: Parameters<Progress>[0]; out: string | null; last?: LastPictures; shows?: Edition }): ReturnType<typeof renderPictures> {
  const { cache, onProgress, signal, stage, out, last } = options;
  const photos = [...(options.shows ? earlierPhotos(inspected, options.shows) : []), ...inspected.inspection.job.photos];
  return renderPictures(photos, {
    jobFolder: inspected.folder.car,
    cacheFolder: cache,
    outFolder: out,
    hidden: hiddenAreas([inspected, ...inspected.earlier]),
    ...(last ? { last } : {}),
    ...(onProgress ? { onProgress: (done: number, total: number) => onProgress(stage, done, total) } : {}),
    ...(signal ? { signal } : {}),
  });
}

function writeDossier(inspected: Inspected, made: Awaited<ReturnType<typeof renderPictures>>, options: Omit<BuildOptions, 'edition'> & { edition: Edition }): Dossier {
  const { inspection, outlook, plan: planned } = shownBy(inspected, options.edition);
  const withPictures = { ...inspection, notices: [...inspection.notices, ...made.notices] };
  const originals = originalsOf(inspected);
  const input = {
    inspection: withPictures,
    outlook,
    plan: planned,
    earlier: inspected.earlier,
    comparison: inspected.comparison,
    pictures: made.pictures,
    edition: options.edition,
    issue: options.issue,
    changes: null,
    originals: { listSha256: hashText(originals.list), count: originals.files.filter((file) => file.sha256 !== '').length, files: originals.files },
    version: options.version,
  };
  const dossier = write(input);
  const changes = changesSince(options.issued, dossier);
  return changes ? write({ ...input, changes }) : dossier;
}

/** Whether an edition tells of the car by all its visits, and not of the newest alone. */
function tellsOfAll({ sections }: Edition): boolean {
  return sections.some(({ id }) => id === 'visits' || id === 'changes');
}

/** Photos of earlier visits, where the edition tells of all. */
function earlierPhotos({ earlier }: Inspected, edition: Edition): Photo[] {
  return tellsOfAll(edition) ? earlier.flatMap(({ inspection }) => inspection.job.photos) : [];
}

/** The newest visit; where the edition tells of all, with zones it did not enter as the last visit that did found them. What was done and is to be looked at again is known of all visits already. */
function shownBy({ inspection, outlook, plan: planned, earlier }: Inspected, edition: Edition): Visit {
  if (earlier.length === 0 || !tellsOfAll(edition)) return { inspection, outlook, plan: planned };
  const whole = carry(inspection, earlier.map((visit) => visit.inspection));
  const weighed = weigh(whole, { sensitivity: outlook.sensitivity.length > 0 });
  return { inspection: whole, outlook: weighed, plan: { ...plan(whole, weighed), record: planned.record, again: planned.again } };
}

/** What the inspector marked to be hidden, by photo. */
function hiddenAreas(visits: readonly Visit[]): Map<string, [number, number, number, number][]> {
  const hidden = new Map<string, [number, number, number, number][]>();
  for (const { photo, marks } of visits.flatMap(({ inspection }) => inspection.photos)) {
    const areas = marks.filter((mark) => mark.shape === 'hide').map(({ numbers: [x1 = 0, y1 = 0, x2 = 0, y2 = 0] }) => [x1, y1, x2, y2] as [number, number, number, number]);
    if (areas.length > 0) hidden.set(photo.id, areas);
  }
  return hidden;
}

/** The originals: every photo and the texts the dossier was made from. */
function originalsOf(inspected: Inspected): { list: string; files: { path: string; bytes: number; sha256: string }[] } {
  const visits = [inspected, ...inspected.earlier];
  const photos = visits.flatMap((visit) => visit.inspection.job.photos).map(({ path: name, bytes, sha256 }) => ({ path: name, bytes, sha256 }));
  const files = [...photos, ...visits.flatMap((visit) => visit.texts)].toSorted((a, b) => (a.path < b.path ? -1 : a.path > b.path ? 1 : 0));
  return { list: hashList(files), files };
}
