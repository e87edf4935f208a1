import { createHash } from 'node:crypto';
import type { Clock, Job } from '../model/job.ts';
import type { Notice } from '../model/notice.ts';
import { readCatalogue } from './catalogue/index.ts';
import { openJob, readFindings } from './folder.ts';
import type { JobFolder } from './folder.ts';
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
  /** Folders inside the job that hold output, relative to the visit with `/`. */
  skip?: string[];
  onProgress?: (done: number, total: number) => void;
  /** What an earlier reading of the photos found; without it every photo is read and hashed. */
  memory?: PhotoMemory;
  signal?: AbortSignal;
  /** Goes before the language of the settings. */
  language?: Settings['language'];
}

/** A job as read, with what the later stages need of the disk. */
export interface ReadJob {
  job: Job;
  folder: JobFolder;
  /** The findings file as it lies on the disk, null where there is none. */
  findings: Uint8Array | null;
  /** Hashes of the text files read, paths as in the list of originals. */
  texts: { path: string; bytes: number; sha256: string }[];
}

/**
 * Reads a job folder: settings, photos (each file once), findings, times. Writes nothing. Null where the folder does
 * not exist; whatever is wrong inside becomes a notice.
 */
export async function read(jobFolder: string, options: ReadOptions): Promise<ReadJob | null> {
  const folder = await openJob(jobFolder);
  if (!folder) return null;
  const settings = await readSettings(folder.car, options.language);
  const own = readCatalogue();
  const { risk, notices: riskNotices } = jobRisk(own.risk, settings.settings, settings.bytes ? new TextDecoder().decode(settings.bytes) : '');
  const catalogue = { ...own, risk };
  const findings = await readFindings(folder);
  const { skip = [], onProgress, memory, signal } = options;
  const photos = await readPhotos(folder.visit, { skip, ...(onProgress ? { onProgress } : {}), ...(memory ? { memory } : {}), ...(signal ? { signal } : {}) });
  const file = folder.findings ?? 'findings.md';
  const { text, damaged } = findings.bytes ? decode(findings.bytes) : { text: '', damaged: false };
  const photoNames = photos.photos.map((photo) => photo.name);
  const { notes, notices } = readNotes({ file, text, catalogue, settings: settings.settings, photoNames });
  const inherited = await inheritCar(folder, notes.car.length === 0);
  if (inherited) notes.car.push(...readNotes({ ...inherited, catalogue, settings: settings.settings, photoNames: [] }).notes.car);
  const built = Number(/\b(\d{4})\b/.exec(notes.car.find((meta) => meta.key === 'built')?.text ?? '')?.[1] ?? Number.NaN);
  const timed = timePhotos(photos.photos, { seen: notes.seen, clocks: notes.clocks, built: Number.isNaN(built) ? null : built, today: options.clock.today });
  const { rates, notices: rateNotices } = ratesOf(notes.rates, settings.settings);
  const job: Job = {
    catalogue,
    settings: settings.settings,
    notes,
    rates,
    photos: timed.photos,
    notices: [
      ...settings.notices,
      ...riskNotices,
      ...findings.notices,
      ...(findings.bytes ? textNotices(file, text, damaged) : []),
      ...notices,
      ...rateNotices,
      ...photos.notices,
      ...timed.notices,
      ...visitNotices(folder),
    ],
  };
  return { job, folder, findings: findings.bytes, texts: textsOf(file, findings.bytes, settings.bytes) };
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

function visitNotices(folder: JobFolder): Notice[] {
  if (folder.earlier.length === 0) return [];
  return [{ level: 'note', rule: 'visits-earlier', found: `${folder.earlier.length} earlier visit${folder.earlier.length === 1 ? '' : 's'} in this folder (${folder.earlier.join(', ')})`, advice: 'This dossier is of the newest visit; the earlier ones are left as they are and not compared.' }];
}

/** `# Car` stands in the first visit and is inherited. */
async function inheritCar(folder: JobFolder, wanted: boolean): Promise<{ file: string; text: string } | null> {
  const first = folder.earlier[0];
  if (!wanted || first === undefined) return null;
  const earlier = await openJob(`${folder.car}/${first}`);
  const found = earlier ? await readFindings(earlier) : null;
  return found?.bytes ? { file: `../${first}/${earlier?.findings ?? 'findings.md'}`, text: decode(found.bytes).text } : null;
}

function textsOf(file: string, findings: Uint8Array | null, settings: Uint8Array | null): ReadJob['texts'] {
  const hash = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');
  return [
    ...(findings ? [{ path: file, bytes: findings.length, sha256: hash(findings) }] : []),
    ...(settings ? [{ path: 'sillbook.json', bytes: settings.length, sha256: hash(settings) }] : []),
  ];
}
