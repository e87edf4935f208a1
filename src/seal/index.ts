import { createHash } from 'node:crypto';
import { closeSync, openSync, readSync } from 'node:fs';
import { readdir, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { setImmediate } from 'node:timers/promises';
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

/** Files are read in pieces of this many bytes, so that no file is ever whole in memory. */
const pieceBytes = 1 << 20;

/**
 * Hashes every file of a folder and writes the manifest into it.
 * @param known hashes by path, of files that need not be read again
 * @returns what was listed
 */
export async function sealFolder(folder: string, known: ReadonlyMap<string, string> = new Map()): Promise<Sealed[]> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  const piece = Buffer.allocUnsafeSlow(pieceBytes);
  const sealed: Sealed[] = [];
  for (const entry of entries) {
    const full = path.join(entry.parentPath, entry.name);
    const name = path.relative(folder, full).split(path.sep).join('/');
    if (!entry.isFile() || name === manifestName) continue;
    let sha256 = known.get(name);
    if (sha256 === undefined) {
      sha256 = hashFile(full, piece);
      // Lets a Ctrl-C in.
      await setImmediate();
    }
    sealed.push({ path: name, sha256 });
  }
  await writeFile(path.join(folder, manifestName), hashList(sealed));
  return sealed;
}

/** In this thread: a small file is read sooner than another thread is asked for it. */
function hashFile(file: string, piece: Buffer): string {
  const hash = createHash('sha256');
  const open = openSync(file, 'r');
  try {
    for (let bytes = readSync(open, piece); bytes > 0; bytes = readSync(open, piece)) hash.update(piece.subarray(0, bytes));
  } finally {
    closeSync(open);
  }
  return hash.digest('hex');
}
