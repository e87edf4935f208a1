import { lstat, readdir, readFile, realpath } from 'node:fs/promises';
import path from 'node:path';
import type { Notice } from '../model/notice.ts';
import { byCodeUnit } from '../model/order.ts';

export const settingsName = 'sillbook.json';

/** A visit's folder beside others of the car. */
export interface VisitFolder {
  /** Name of the folder within that of the car; empty where the car has one visit, in its own folder. */
  name: string;
  /** Findings file name as on disk, null where there is none. */
  findings: string | null;
}

/** Where the parts of a job lie. */
export interface JobFolder extends VisitFolder {
  /** Folder of the visit that is read: holds the findings and its photos. */
  visit: string;
  /** Folder of the car: the same, or the one above where a car has several visits. */
  car: string;
  /** Whether the folder named is that of the visit, not that of the car around it. */
  given: boolean;
  /** Visits before it, oldest first. */
  earlier: VisitFolder[];
}

/**
 * Finds the findings file: in the folder itself, or in the newest of its visit folders. A folder that is itself a visit of
 * a car is read as of its day, with the visits before it. Null where the folder does not exist.
 */
export async function openJob(folder: string): Promise<JobFolder | null> {
  const names = await readdir(folder).catch(() => null);
  if (!names) return null;
  const own = findingsName(names);
  if (own === null) {
    const visits = await visitsIn(folder);
    const last = visits.at(-1);
    if (!last) return { name: '', given: true, visit: folder, car: folder, findings: null, earlier: [] };
    return { ...last, given: false, visit: path.join(folder, last.name), car: folder, earlier: visits.slice(0, -1) };
  }
  const car = path.dirname(path.resolve(folder));
  const name = path.basename(path.resolve(folder));
  if (names.includes(settingsName) || !(await holdsVisits(car))) return { name: '', given: true, visit: folder, car: folder, findings: own, earlier: [] };
  const visits = await visitsIn(car);
  return { name, given: true, findings: own, visit: folder, car, earlier: visits.slice(0, visits.findIndex((visit) => visit.name === name)) };
}

/** Whether a folder, which need not exist, would be a further visit of a car that has one. */
export async function isLaterVisit(folder: string): Promise<boolean> {
  const car = path.dirname(path.resolve(folder));
  return (await holdsVisits(car)) && (await visitsIn(car)).some(({ name }) => name !== path.basename(path.resolve(folder)));
}

/** A car's folder has settings and no findings: those are its visits'. */
async function holdsVisits(folder: string): Promise<boolean> {
  const names: string[] = await readdir(folder).catch(() => []);
  return names.includes(settingsName) && findingsName(names) === null;
}

/** Visit folders of a car in the order of their days: as seen, else as the folder is named. */
async function visitsIn(car: string): Promise<VisitFolder[]> {
  const visits: (VisitFolder & { day: string })[] = [];
  for (const name of await readdir(car).catch(() => [])) {
    if (name.startsWith('.') || ['out', 'issues', 'node_modules'].includes(name)) continue;
    const inner = path.join(car, name);
    if (!(await lstat(inner).catch(() => null))?.isDirectory()) continue;
    const findings = findingsName(await readdir(inner).catch(() => []));
    if (findings !== null) visits.push({ name, findings, day: (await daySeen(path.join(inner, findings), car)) ?? name });
  }
  return visits.toSorted((a, b) => byCodeUnit(a.day, b.day) || byCodeUnit(a.name, b.name)).map(({ name, findings }) => ({ name, findings }));
}

/** The day written behind `seen:`, null where none can be read. */
async function daySeen(file: string, car: string): Promise<string | null> {
  const text = (await leadsOut(file, car).catch(() => true)) ? '' : await readFile(file, 'utf8').catch(() => '');
  return /^\W*seen\s*:\s*(\d{4}-\d{2}-\d{2})/im.exec(text)?.[1] ?? null;
}

function findingsName(names: readonly string[]): string | null {
  return names.find((name) => name === 'findings.md') ?? names.find((name) => name.toLowerCase() === 'findings.md') ?? null;
}

/** Bytes of the findings file of a visit, or the notice that says why there are none; `file` is what messages call it. */
export async function readFindings({ car }: JobFolder, visit: VisitFolder, file: string): Promise<{ bytes: Uint8Array | null; notices: Notice[] }> {
  if (visit.findings === null) {
    return {
      bytes: null,
      notices: [{ level: 'error', rule: 'findings-missing', spot: { file: 'findings.md' }, found: 'No findings.md in this folder', expected: 'a findings file beside the photos', advice: 'Make one from the photos with "sillbook new <photos> --into <job>", or name the job folder itself.' }],
    };
  }
  try {
    const at = path.join(car, visit.name, visit.findings);
    if (await leadsOut(at, car)) return { bytes: null, notices: [linkOutside(file)] };
    return { bytes: await readFile(at), notices: [] };
  } catch (fault) {
    const code = (fault as NodeJS.ErrnoException).code ?? 'unknown cause';
    return {
      bytes: null,
      notices: [{ level: 'error', rule: 'findings-unreadable', spot: { file }, found: `${file} cannot be opened (${code})`, expected: 'a text file', advice: 'Check the permission of the file and try again.' }],
    };
  }
}

/** Whether a file of the job is a link that leads out of its folder: such a file is never read. Rejects where there is no such file. */
export async function leadsOut(file: string, folder: string): Promise<boolean> {
  const inside = path.relative(await realpath(folder), await realpath(file));
  return inside.startsWith('..') || path.isAbsolute(inside);
}

/** The notice on a link that is not followed. */
export function linkOutside(file: string): Notice {
  return { level: 'error', rule: 'link-outside', spot: { file }, found: `${file} is a link that leads out of the job folder`, expected: 'a file in the job', advice: 'It was not followed; put the file itself into the job.' };
}
