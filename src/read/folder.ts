import { lstat, readdir, readFile, realpath } from 'node:fs/promises';
import path from 'node:path';
import type { Notice } from '../model/notice.ts';

/** Where the parts of a job lie. */
export interface JobFolder {
  /** Folder of the visit that is read: holds the findings and its photos. */
  visit: string;
  /** Folder of the car: the same, or the one above where a car has several visits. */
  car: string;
  /** Findings file name as on disk, null where there is none. */
  findings: string | null;
  /** Names of earlier visits' folders, oldest first. */
  earlier: string[];
}

/** Finds the findings file: in the folder itself, or in the newest of its visit folders. Null where the folder does not exist. */
export async function openJob(folder: string): Promise<JobFolder | null> {
  const names = await readdir(folder).catch(() => null);
  if (!names) return null;
  const own = findingsName(names);
  if (own) return { visit: folder, car: folder, findings: own, earlier: [] };
  const visits: { name: string; findings: string }[] = [];
  for (const name of names.sort()) {
    if (name.startsWith('.') || ['out', 'issues', 'node_modules'].includes(name)) continue;
    const inner = path.join(folder, name);
    if (!(await lstat(inner).catch(() => null))?.isDirectory()) continue;
    const findings = findingsName(await readdir(inner).catch(() => []));
    if (findings) visits.push({ name, findings });
  }
  const last = visits.at(-1);
  if (!last) return { visit: folder, car: folder, findings: null, earlier: [] };
  return { visit: path.join(folder, last.name), car: folder, findings: last.findings, earlier: visits.slice(0, -1).map(({ name }) => name) };
}

function findingsName(names: readonly string[]): string | null {
  return names.find((name) => name === 'findings.md') ?? names.find((name) => name.toLowerCase() === 'findings.md') ?? null;
}

/** Bytes of the findings file, or the notice that says why there are none. */
export async function readFindings(job: JobFolder): Promise<{ bytes: Uint8Array | null; notices: Notice[] }> {
  if (job.findings === null) {
    return {
      bytes: null,
      notices: [{ level: 'error', rule: 'findings-missing', spot: { file: 'findings.md' }, found: 'No findings.md in this folder', expected: 'a findings file beside the photos', advice: 'Make one from the photos with "sillbook new <photos> --into <job>", or name the job folder itself.' }],
    };
  }
  try {
    const file = path.join(job.visit, job.findings);
    if (await leadsOut(file, job.car)) return { bytes: null, notices: [linkOutside(job.findings)] };
    return { bytes: await readFile(file), notices: [] };
  } catch (fault) {
    const code = (fault as NodeJS.ErrnoException).code ?? 'unknown cause';
    return {
      bytes: null,
      notices: [{ level: 'error', rule: 'findings-unreadable', spot: { file: job.findings }, found: `${job.findings} cannot be opened (${code})`, expected: 'a text file', advice: 'Check the permission of the file and try again.' }],
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
