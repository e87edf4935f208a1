import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { readFile, readdir, realpath, stat } from 'node:fs/promises';
import { pipeline } from 'node:stream/promises';

/** What an entry of a folder is, without following links. */
export type Kind = 'file' | 'folder' | 'link' | 'other';

/** Which state of which file: whoever writes to it, renames or replaces it, or sets its times back, changes one of these. */
export interface Stamp {
  /** Size, times of content and of inode in nanoseconds, inode and device. */
  key: string;
  /** The later of both times. */
  changedMs: number;
}

/** What the reader asks of a disk. Tests pass their own to see a disk fail. Every function may reject. */
export interface Disk {
  entries(folder: string): Promise<{ name: string; kind: Kind }[]>;
  /** Follows links. */
  facts(path: string): Promise<{ kind: Kind; bytes: number; stamp?: Stamp }>;
  realPath(path: string): Promise<string>;
  read(path: string): Promise<Buffer>;
  /** Lower-case hex, the file never whole in memory. */
  sha256(path: string): Promise<string>;
}

interface Typed {
  isFile(): boolean;
  isDirectory(): boolean;
  isSymbolicLink(): boolean;
}

function kindOf(entry: Typed): Kind {
  if (entry.isSymbolicLink()) return 'link';
  if (entry.isDirectory()) return 'folder';
  return entry.isFile() ? 'file' : 'other';
}

/** The disk of this machine, read only. */
export const disk: Disk = {
  async entries(folder) {
    const entries = await readdir(folder, { withFileTypes: true });
    return entries.map((entry) => ({ name: entry.name, kind: kindOf(entry) }));
  },
  async facts(path) {
    const facts = await stat(path, { bigint: true });
    const key = [facts.size, facts.mtimeNs, facts.ctimeNs, facts.ino, facts.dev].join(' ');
    const changedMs = Number(facts.mtimeMs > facts.ctimeMs ? facts.mtimeMs : facts.ctimeMs);
    return { kind: kindOf(facts), bytes: Number(facts.size), stamp: { key, changedMs } };
  },
  realPath: (path) => realpath(path),
  read: (path) => readFile(path),
  async sha256(path) {
    const hash = createHash('sha256');
    await pipeline(createReadStream(path), hash);
    return hash.digest('hex');
  },
};

/** `EACCES` and the like, or the message where there is no code. */
export function diskFault(error: unknown): string {
  if (error instanceof Error) return 'code' in error && typeof error.code === 'string' ? error.code : error.message;
  return String(error);
}
