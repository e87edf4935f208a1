import { access, lstat, mkdir, readdir, readFile, rename, rm, stat } from 'node:fs/promises';
import path from 'node:path';
import { dataName } from './data/index.ts';
import { manifestName } from '../model/job.ts';

/** A dossier in the making beside the last one, so that a failed or killed build leaves that whole. */
export interface Output {
  /** Folder to write into. */
  folder: string;
  /** The dossier that will be replaced; null where there is none. */
  last: string | null;
  /** Puts it in the place of the last dossier. */
  commit(): Promise<void>;
  /** Takes away what was written; the last dossier stays. */
  discard(): Promise<void>;
}

/** Why a folder cannot be written to, as a sentence, or null where it can. Never a folder that holds anything but a dossier. */
export async function outputFault(out: string, jobFolder: string): Promise<string | null> {
  const target = path.resolve(out);
  const job = path.resolve(jobFolder);
  if (job === target || job.startsWith(target + path.sep)) return `${out} is or holds the job itself; a dossier would replace it.`;
  if ((target + path.sep).startsWith(path.join(job, 'issues') + path.sep)) return `${out} is where issues are kept; a draft does not belong there.`;
  const found = await stat(target).catch(() => null);
  if (!found) return null;
  if (!found.isDirectory()) return `${out} is a file.`;
  const names = await readdir(target).catch(() => null);
  if (names === null) return `${out} cannot be opened.`;
  if (names.length === 0) return null;
  if (!names.includes(dataName) || !names.includes(manifestName)) return `${out} holds other things than a dossier; name an empty or new folder.`;
  if (/"kind":\s*"issue"/.test(await readFile(path.join(target, dataName), 'utf8').catch(() => ''))) return `${out} holds an issued dossier, which is never written again.`;
  const [own] = await othersIn(target);
  return own === undefined ? null : `${out} holds ${own}, which is not of the dossier and would be lost; move it away.`;
}

/** Files of a dossier's folder that its manifest does not list. What systems leave in folders does not count. */
async function othersIn(folder: string): Promise<string[]> {
  const listed = new Set((await readFile(path.join(folder, manifestName), 'utf8')).split('\n').map((line) => line.replace(/^\\?[0-9a-f]{64} {2}/, '')));
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  return entries
    .filter((entry) => !entry.isDirectory() && !entry.name.startsWith('.') && !/^(thumbs\.db|desktop\.ini)$/i.test(entry.name))
    .map((entry) => path.relative(folder, path.join(entry.parentPath, entry.name)).split(path.sep).join('/'))
    .filter((name) => name !== manifestName && !listed.has(name))
    .sort();
}

/** Begins a dossier beside `out`. Mends what a killed build left: its half-made folder goes, a dossier set aside comes back. */
export async function openOutput(out: string): Promise<Output> {
  const target = path.resolve(out);
  const parent = path.dirname(target);
  const fresh = path.join(parent, `.${path.basename(target)}.sillbook-new-${process.pid}`);
  const aside = path.join(parent, `.${path.basename(target)}.sillbook-old`);
  await mkdir(parent, { recursive: true });
  if (!(await exists(target)) && (await exists(aside))) await rename(aside, target);
  await rm(aside, { recursive: true, force: true });
  await dropLeftovers(parent, `.${path.basename(target)}.sillbook-new-`);
  await mkdir(fresh);
  const found = await lstat(target).catch(() => null);
  return {
    folder: fresh,
    // Behind a link the old dossier would stay, and share files with the new one.
    last: found?.isDirectory() ? target : null,
    async commit() {
      if (await exists(target)) await rename(target, aside);
      await rename(fresh, target);
      await rm(aside, { recursive: true, force: true });
    },
    async discard() {
      await rm(fresh, { recursive: true, force: true });
    },
  };
}

async function exists(file: string): Promise<boolean> {
  return access(file).then(
    () => true,
    () => false,
  );
}

/** Half-made folders of processes that are gone. */
async function dropLeftovers(parent: string, prefix: string): Promise<void> {
  for (const name of await readdir(parent)) {
    if (!name.startsWith(prefix)) continue;
    const owner = Number(name.slice(prefix.length));
    if (owner !== process.pid && isRunning(owner)) continue;
    await rm(path.join(parent, name), { recursive: true, force: true });
  }
}

function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (fault) {
    return (fault as NodeJS.ErrnoException).code === 'EPERM';
  }
}
