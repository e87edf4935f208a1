import { open, readdir } from 'node:fs/promises';
import path from 'node:path';

/** Files asked for at a time: the disk writes what waits together in one go. */
const together = 32;

/**
 * Waits until every file below a folder, or one file, and the names of them all are on the disk: without it a power cut soon
 * after a rename can leave a folder of empty files under the final name. Does nothing where a system knows no such wait.
 */
export async function settle(made: string): Promise<void> {
  const entries = await readdir(made, { recursive: true, withFileTypes: true }).catch((fault: NodeJS.ErrnoException) => (fault.code === 'ENOTDIR' ? null : Promise.reject(fault)));
  const files = (entries ?? []).filter((entry) => entry.isFile()).map((entry) => path.join(entry.parentPath, entry.name));
  const folders = (entries ?? []).filter((entry) => entry.isDirectory()).map((entry) => path.join(entry.parentPath, entry.name));
  for (const some of [files, [...folders, made]]) {
    const waiting = some.values();
    await Promise.all(Array.from({ length: Math.min(together, some.length) }, async () => {
      for (const file of waiting) await settleOne(file);
    }));
  }
}

/** The same for the names in one folder, or the bytes of one file. */
export async function settleOne(file: string): Promise<void> {
  try {
    const handle = await open(file, 'r');
    try {
      await handle.sync();
    } finally {
      await handle.close();
    }
  } catch (fault) {
    // Windows opens no folder and syncs nothing it may only read; some network disks sync no folder. A disk that fails says so.
    if (!['EPERM', 'EACCES', 'EISDIR', 'EINVAL', 'ENOTSUP', 'EBADF'].includes((fault as NodeJS.ErrnoException).code ?? '')) throw fault;
  }
}
