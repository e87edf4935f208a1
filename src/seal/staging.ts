import { link, lstat, mkdir, readdir, rename, rm } from 'node:fs/promises';
import path from 'node:path';
import { settle, settleOne } from './durable.ts';

/** Something in the making beside its final name. */
export interface Staging {
  folder: string;
  /** Gives what was made, a path in `folder`, its final name once all of it is on the disk, and takes the rest away. Rejects where that name is taken. */
  finish(made: string): Promise<void>;
  discard(): Promise<void>;
}

/** Begins beside `target`, and takes away what killed runs left there. */
export async function openStaging(target: string): Promise<Staging> {
  const parent = path.dirname(target);
  const prefix = `.${path.basename(target)}.sillbook-new-`;
  await mkdir(parent, { recursive: true });
  for (const name of await readdir(parent)) {
    const owner = Number(name.slice(prefix.length));
    if (name.startsWith(prefix) && (owner === process.pid || !isRunning(owner))) await rm(path.join(parent, name), { recursive: true, force: true });
  }
  const folder = path.join(parent, `${prefix}${process.pid}`);
  await mkdir(folder);
  const discard = (): Promise<void> => rm(folder, { recursive: true, force: true });
  return {
    folder,
    async finish(made) {
      await settle(made);
      const facts = await lstat(made);
      // A link refuses a name that is taken, which a rename of a file does not.
      if (facts.isFile()) await link(made, target).catch((fault: NodeJS.ErrnoException) => (['EPERM', 'ENOTSUP', 'ENOSYS'].includes(fault.code ?? '') ? moveTo(made, target) : Promise.reject(fault)));
      else await moveTo(made, target);
      await settleOne(parent);
      await discard();
    },
    discard,
  };
}

async function moveTo(made: string, target: string): Promise<void> {
  const taken = await lstat(target).catch(() => null);
  if (taken) throw Object.assign(new Error(`EEXIST: ${target} exists`), { code: 'EEXIST' });
  await rename(made, target);
}

function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (fault) {
    return (fault as NodeJS.ErrnoException).code === 'EPERM';
  }
}
