import type { BigIntStats } from 'node:fs';
import { linkSync, lstatSync, mkdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import type { Notice } from '../../model/notice.ts';
import { byCodeUnit } from '../../model/order.ts';

/** Where the pictures of a dossier lie in it. */
export const pictureFolder = 'photos';

/** Some file systems know whole seconds only, or two: there, what is younger than the memory by less may have changed since. */
const coarsestMs = 2000;

const fileName = 'pictures-delivered.json';

/** Which state of which file. Whoever writes to it or replaces it changes `body`; whoever puts its time back, `changedNs`. */
interface Stamp {
  /** Size, time of content in nanoseconds, inode and device. */
  body: string;
  /** Time of the inode, which nobody can set; a name more or less for the file moves it too. */
  changedNs: string;
}

const knownSchema = z.record(z.string(), z.strictObject({ body: z.string(), changedNs: z.string(), sha256: z.string().regex(/^[0-9a-f]{64}$/) }));
type Known = z.infer<typeof knownSchema>;

/** The pictures of the last dossier, which the new one can share instead of holding copies of its own. */
export interface LastPictures {
  /**
   * Gives a picture of the last dossier a second name, `target`, where it is the very file that was delivered and hashed:
   * false where it is not, or where no second name can be given.
   */
  take(name: string, target: string): boolean;
  /** Told of each picture that was copied instead. */
  copied(name: string, target: string): void;
  /** Before sealing: hashes of the taken pictures by path in the dossier, and what was changed since it was taken. */
  settle(): { hashes: ReadonlyMap<string, string>; notices: Notice[] };
  /** Once the dossier is in its place: remembers its pictures for the next one. What cannot be written is not remembered. */
  remember(folder: string, sealed: readonly { path: string; sha256: string }[]): void;
}

function factsOf(path: string): BigIntStats | null {
  return lstatSync(path, { bigint: true, throwIfNoEntry: false }) ?? null;
}

function stampOf(facts: BigIntStats): Stamp {
  return { body: [facts.size, facts.mtimeNs, facts.ino, facts.dev].join(' '), changedNs: `${facts.ctimeNs}` };
}

/** A file of one name only: a second one elsewhere is somebody's own, who may write through it. */
function isOwn(facts: BigIntStats | null): facts is BigIntStats {
  return facts?.isFile() === true && facts.nlink === 1n;
}

function isSame(a: Stamp, b: Stamp): boolean {
  return a.body === b.body && a.changedNs === b.changedNs;
}

/**
 * Opens what is remembered of the last dossier's pictures. Whatever is wrong with it only means that they are copied.
 * @param lastFolder the last dossier; null where there is none or nothing of it is to be trusted
 */
export function openLast(cacheFolder: string, lastFolder: string | null): LastPictures {
  const from = lastFolder === null ? '' : join(lastFolder, pictureFolder);
  const known = lastFolder !== null && factsOf(from)?.isDirectory() ? recallAll(join(cacheFolder, fileName)) : {};
  const taken = new Map<string, { target: string; stamp: Stamp; sha256: string }>();
  const copies = new Map<string, Stamp>();
  return {
    take(name, target) {
      const was = Object.hasOwn(known, name) ? known[name] : undefined;
      const source = join(from, name);
      const before = was ? factsOf(source) : null;
      if (!was || !isOwn(before) || !isSame(stampOf(before), was)) return false;
      try {
        linkSync(source, target);
      } catch {
        return false;
      }
      const after = stampOf(lstatSync(target, { bigint: true }));
      if (after.body === was.body) taken.set(name, { target, stamp: after, sha256: was.sha256 });
      else rmSync(target);
      return after.body === was.body;
    },
    copied(name, target) {
      taken.delete(name);
      copies.set(name, stampOf(lstatSync(target, { bigint: true })));
    },
    settle() {
      const hashes = new Map<string, string>();
      const notices: Notice[] = [];
      for (const [name, { target, stamp, sha256 }] of taken) {
        const now = factsOf(target);
        if (now && isSame(stampOf(now), stamp)) hashes.set(`${pictureFolder}/${name}`, sha256);
        else notices.push(changedMeanwhile(`${pictureFolder}/${name}`));
      }
      return { hashes, notices };
    },
    remember(folder, sealed) {
      const entries: [string, Known[string]][] = [];
      for (const { path, sha256 } of sealed) {
        const name = path.slice(pictureFolder.length + 1);
        if (path !== `${pictureFolder}/${name}`) continue;
        const facts = factsOf(join(folder, path));
        if (!isOwn(facts)) continue;
        const [now, copy] = [stampOf(facts), copies.get(name)];
        // The old name of a taken picture is gone by now, which moved the time of its inode.
        const same = copy ? isSame(now, copy) : now.body === taken.get(name)?.stamp.body;
        if (same) entries.push([name, { ...now, sha256 }]);
      }
      saveAll(cacheFolder, Object.fromEntries(entries.toSorted(([a], [b]) => byCodeUnit(a, b))));
    },
  };
}

function changedMeanwhile(file: string): Notice {
  const found = 'A picture of the last dossier was changed while the new one was made';
  return { level: 'error', rule: 'photo-changed-meanwhile', found, spot: { file }, advice: 'Build again when nothing else writes into the dossier.' };
}

function recallAll(file: string): Known {
  try {
    const writtenMs = statSync(file).mtimeMs;
    const known = knownSchema.parse(JSON.parse(readFileSync(file, 'utf8')));
    return Object.fromEntries(Object.entries(known).filter(([, { body }]) => tells(body.split(' ')[1] ?? '', writtenMs)));
  } catch {
    return {};
  }
}

/** Whether a later change of the file would show in its times. */
function tells(timeNs: string, writtenMs: number): boolean {
  const isFine = !timeNs.endsWith('000000');
  return isFine || Number(timeNs) / 1e6 <= writtenMs - coarsestMs;
}

function saveAll(cacheFolder: string, known: Known): void {
  const file = join(cacheFolder, fileName);
  const beside = `${file}.${process.pid}.part`;
  try {
    mkdirSync(cacheFolder, { recursive: true });
    writeFileSync(beside, `${JSON.stringify(known)}\n`);
    renameSync(beside, file);
  } catch {
    rmSync(beside, { force: true });
  }
}
