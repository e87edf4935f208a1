import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { readdir, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { pipeline } from 'node:stream/promises';
import { manifestName } from '../model/job.ts';

/** A file and the SHA-256 of its bytes, lower-case hex. */
export interface Sealed {
  path: string;
  sha256: string;
}

/**
 * Lines as `sha256sum -c` of GNU coreutils takes them: hash, two spaces, path; a path with a backslash or a line break
 * has them escaped and a backslash before the hash (coreutils manual, "cksum general options"). Sorted by path.
 */
export function hashList(files: readonly Sealed[]): string {
  return files
    .filter((file) => file.sha256 !== '')
    .toSorted((a, b) => (a.path < b.path ? -1 : a.path > b.path ? 1 : 0))
    .map(({ path: name, sha256 }) => {
      const escaped = name.replaceAll('\\', '\\\\').replaceAll('\n', '\\n').replaceAll('\r', '\\r');
      return `${escaped === name ? '' : '\\'}${sha256}  ${escaped}\n`;
    })
    .join('');
}

/** SHA-256 of a text as UTF-8. */
export function hashText(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}

/** Hashes every file of a folder, streamed, and writes the manifest into it. Returns what was listed. */
export async function sealFolder(folder: string): Promise<Sealed[]> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  const sealed: Sealed[] = [];
  for (const entry of entries) {
    const full = path.join(entry.parentPath, entry.name);
    const name = path.relative(folder, full).split(path.sep).join('/');
    if (!entry.isFile() || name === manifestName) continue;
    const hash = createHash('sha256');
    await pipeline(createReadStream(full), hash);
    sealed.push({ path: name, sha256: hash.digest('hex') });
  }
  await writeFile(path.join(folder, manifestName), hashList(sealed));
  return sealed;
}
