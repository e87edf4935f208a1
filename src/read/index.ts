import { createHash } from 'node:crypto';
import path from 'node:path';
import type { Catalogue } from '../model/catalogue.ts';
import type { Clock, Job } from '../model/job.ts';
import type { Meta } from '../model/notes.ts';
import type { Notice } from '../model/notice.ts';
import { readCatalogue } from './catalogue/index.ts';
import { openJob, readFindings, settingsName } from './folder.ts';
import type { JobFolder, VisitFolder } from './folder.ts';
import { decode, readNotes } from './notes/index.ts';
import { readPhotos } from './photos/index.ts';
import type { PhotoMemory } from './photos/memory.ts';
import { timePhotos } from './photos/times.ts';
import { ratesOf } from './rates.ts';
import { jobRisk } from './risk.ts';
import { readSettings } from './settings.ts';
import type { Settings } from '../model/settings.ts';

/** Passed to `read` besides the folder. */
export interface ReadOptions {
  clock: Clock;
  /** Folders inside the job that hold output, with their whole path. */
  skip?: string[];
  onProgress?: (done: number, total: number) => void;
  /** What an earlier reading of the photos found; without it every photo is read and hashed. */
  memory?: PhotoMemory;
  signal?: AbortSignal;
  /** Goes before the language of the settings. */
  language?: Settings['language'];
}

/** A visit as read, with what the later stages need of the disk. */
export interface ReadVisit {
  job: Job;
  /** The findings file as it lies on the disk, null where there is none. */
  findings: Uint8Array | null;
  /** Hashes of the text files read, paths as in the list of originals: relative to the folder of the car. */
  texts: { path: string; bytes: number; sha256: string }[];
}

/** A job as read: the visit it is about, and those before it. */
export interface ReadJob extends ReadVisit {
  folder: JobFolder;
  /** Oldest first. */
  earlier: ReadVisit[];
}

/** What all visits of a car have in common. */
interface Shared {
  folder: JobFolder;
  catalogue: Catalogue;
  settings: Settings;
  options: ReadOptions;
}

/**
 * Reads a job folder: settings, and of each visit up to the one it is about photos (each file once), findings, times.
 * Writes nothing. Null where the folder does not exist; whatever is wrong inside becomes a notice.
 */
export async function read(jobFolder: string, options: ReadOptions): Promise<ReadJob | null> {
  const folder = await openJob(jobFolder);
  if (!folder) return null;
  const settings = await readSettings(folder.car, options.language);
  const own = readCatalogue();
  const { risk, notices: riskNotices } = jobRisk(own.risk, settings.settings, settings.bytes ? new TextDecoder().decode(settings.bytes) : '');
  const shared: Shared = { folder, catalogue: { ...own, risk }, settings: settings.settings, options };
  const visits: ReadVisit[] = [];
  for (const visit of [...folder.earlier, folder]) {
    visits.push(await readVisit(shared, visit, visits));
  }
  const [current] = visits.splice(-1);
  if (!current) return null;
  current.job.notices.unshift(...settings.notices, ...riskNotices);
  current.texts.push(...(settings.bytes ? [textOf(settingsName, settings.bytes)] : []));
  return { ...current, folder, earlier: visits };
}

async function readVisit({ folder, catalogue, settings, options }: Shared, visit: VisitFolder, before: readonly ReadVisit[]): Promise<ReadVisit> {
  const { skip = [], onProgress, memory, signal } = options;
  const place = path.join(folder.car, visit.name);
  const name = visit.findings ?? 'findings.md';
  const file = visit.name === folder.name && folder.given ? name : path.posix.join(folder.given ? '..' : '', visit.name, name);
  const findings = await readFindings(folder, visit, file);
  const photos = await readPhotos(place, {
    visit: visit.name,
    current: visit.name === folder.name,
    skip: skip.map((one) => path.relative(path.resolve(place), one).split(path.sep).join('/')),
    ...(onProgress ? { onProgress } : {}),
    ...(memory ? { memory } : {}),
    ...(signal ? { signal } : {}),
  });
  const { text, damaged } = findings.bytes ? decode(findings.bytes) : { text: '', damaged: false };
  const { notes, notices } = readNotes({ file, text, catalogue, settings, photoNames: photos.photos.map((photo) => photo.name) });
  notes.car = carLines(before.at(-1)?.job.notes.car ?? [], notes.car);
  const built = Number(/\b(\d{4})\b/.exec(notes.car.find((meta) => meta.key === 'built')?.text ?? '')?.[1] ?? Number.NaN);
  const timed = timePhotos(photos.photos, { seen: notes.seen, clocks: notes.clocks, built: Number.isNaN(built) ? null : built, today: options.clock.today });
  const { rates, notices: rateNotices } = ratesOf(notes.rates, settings);
  const job: Job = {
    catalogue,
    settings,
    visit: visit.name,
    ...(before.length > 0 ? { lookedBefore: zonesWritten(before) } : {}),
    notes,
    rates,
    photos: timed.photos,
    notices: [...findings.notices, ...(findings.bytes ? textNotices(file, text, damaged) : []), ...notices, ...rateNotices, ...photos.notices, ...timed.notices],
  };
  return { job, findings: findings.bytes, texts: findings.bytes ? [textOf(path.posix.join(visit.name, name), findings.bytes)] : [] };
}

/** What is known of the car stands in the first visit, and holds until a later one says it anew, in the same order; a mileage is read on its day. */
function carLines(known: readonly Meta[], own: readonly Meta[]): Meta[] {
  const said = own.filter(({ text }) => text.trim() !== '');
  const keys = [...new Set(known.filter(({ key, text }) => key !== 'mileage' && text.trim() !== '').map(({ key }) => key))];
  const lines = keys.flatMap((key) => (said.some((line) => line.key === key) ? said : known).filter((line) => line.key === key && line.text.trim() !== ''));
  return [...lines, ...own.filter((line) => !lines.includes(line))];
}

function zonesWritten(visits: readonly ReadVisit[]): string[] {
  return [...new Set(visits.flatMap(({ job }) => job.notes.zones).flatMap(({ zone, entries, narrative }) => (zone !== null && entries.length + narrative.length > 0 ? [zone] : [])))];
}

function textNotices(file: string, text: string, damaged: boolean): Notice[] {
  const notices: Notice[] = [];
  if (text.trim() === '') {
    notices.push({ level: 'warning', rule: 'findings-empty', spot: { file }, found: 'The findings file is empty', expected: 'headings and lines such as "- plug, inner face 1: sound"', advice: 'The dossier can only say that nothing was seen.' });
  }
  if (damaged) {
    notices.push({ level: 'warning', rule: 'findings-encoding', spot: { file }, found: 'Some characters cannot be read', expected: 'a text saved as UTF-8', advice: 'Save the file as UTF-8; the places show as \uFFFD until then.' });
  }
  return notices;
}

function textOf(name: string, bytes: Uint8Array): ReadVisit['texts'][number] {
  return { path: name, bytes: bytes.length, sha256: createHash('sha256').update(bytes).digest('hex') };
}
