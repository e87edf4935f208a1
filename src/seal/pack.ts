import { readdir, stat } from 'node:fs/promises';
import path from 'node:path';
import type { Notice } from '../model/notice.ts';
import { byCodeUnit } from '../model/order.ts';
import { algorithms, bagInfo, bagList, declaration, tokenName } from './bag-lists.ts';
import { FileChanged } from './copy.ts';
import type { Hashes } from './copy.ts';
import type { Gathered } from './gather.ts';
import { readmeText } from './readme.ts';
import type { ReadmeFacts } from './readme.ts';
import type { Sink } from './sink.ts';
import { checkToken } from './timestamp.ts';
import type { TokenVerdict } from './timestamp.ts';

/** What goes into a bag. */
export interface BagInput {
  /** Files of the job, as `gather` found them; issues among them. */
  files: readonly Gathered[];
  /** Hashes the dossiers give of originals, by path. */
  expected: ReadonlyMap<string, string>;
  /** Finished dossiers by edition. */
  dossiers: readonly { edition: string; folder: string }[];
  /** Names of the visits' folders, each of which may hold issues. */
  visits: readonly string[];
  readme: Omit<ReadmeFacts, 'names' | 'publicCopy' | 'issues'>;
  publicCopy: boolean;
  /** Lines of bag-info.txt before the payload's own. */
  info: readonly (readonly [string, string])[];
  token: Uint8Array | null;
  onProgress?: (done: number, total: number) => void;
  signal?: AbortSignal;
}

/** What came of packing; `manifestSha256` is null where errors stopped it. */
export interface Packed {
  manifestSha256: string | null;
  files: number;
  bytes: number;
  token: TokenVerdict | null;
  notices: Notice[];
}

interface Item {
  name: string;
  file: string;
  bytes: number;
  /** Path in the job, for what comes out of it. */
  origin: string | null;
}

/** Writes a whole bag (RFC 8493) into a sink: each file read once. Where a notice is an error, what was written is worth nothing. */
export async function packBag(input: BagInput, sink: Sink): Promise<Packed> {
  const items = [...fromJob(input), ...(await fromDossiers(input))].toSorted((a, b) => byCodeUnit(a.name, b.name));
  const readme = Buffer.from(readmeText({ ...input.readme, publicCopy: input.publicCopy, issues: items.some(({ name }) => name.startsWith('data/issues/')), names: items.map(({ name }) => name) }));
  const bytes = items.reduce((sum, item) => sum + item.bytes, readme.length);
  const result: Packed = { manifestSha256: null, files: items.length + 1, bytes, token: null, notices: [] };
  const tags = new Map<string, Hashes>([['bagit.txt', await sink.put('bagit.txt', Buffer.from(declaration))]]);
  const payload = new Map<string, Hashes>([['data/README.txt', await sink.put('data/README.txt', readme)]]);
  for (const [index, item] of items.entries()) {
    input.signal?.throwIfAborted();
    input.onProgress?.(index, items.length);
    const hashes = await copied(item, sink, input, result.notices);
    if (hashes === null) {
      await sink.close();
      return result;
    }
    payload.set(item.name, hashes);
  }
  const info = bagInfo([...input.info, ['Payload-Oxum', `${bytes}.${items.length + 1}`]]);
  tags.set('bag-info.txt', await sink.put('bag-info.txt', Buffer.from(info)));
  const manifest = Buffer.from(bagList(payload, 'sha256'));
  if (input.token) {
    result.token = await checkToken(input.token, manifest);
    result.notices.push(...tokenNotices(result.token));
    if (result.token.faults.length === 0) tags.set(tokenName, await sink.put(tokenName, input.token));
  }
  tags.set('manifest-sha256.txt', await sink.put('manifest-sha256.txt', manifest));
  tags.set('manifest-sha512.txt', await sink.put('manifest-sha512.txt', Buffer.from(bagList(payload, 'sha512'))));
  for (const algorithm of algorithms) await sink.put(`tagmanifest-${algorithm}.txt`, Buffer.from(bagList(tags, algorithm)));
  await sink.close();
  if (!result.notices.some((notice) => notice.level === 'error')) result.manifestSha256 = tags.get('manifest-sha256.txt')?.sha256 ?? null;
  return result;
}

/** Originals and issues, each in its folder of the bag. */
function fromJob({ files, publicCopy, visits }: BagInput): Item[] {
  return files.flatMap(({ path: origin, file, bytes }) => {
    const visit = visits.find((name) => origin.startsWith(path.posix.join(name, 'issues/')));
    const name = visit === undefined ? `originals/${origin}` : path.posix.join('issues', visit, origin.slice(path.posix.join(visit, 'issues/').length));
    // What was issued may show what was hidden since, or hold the findings in its PDF: it was handed to somebody, not to all.
    return publicCopy ? [] : [{ name: `data/${name}`, file, bytes, origin }];
  });
}

async function fromDossiers({ dossiers }: BagInput): Promise<Item[]> {
  const items: Item[] = [];
  for (const { edition, folder } of dossiers) {
    for (const entry of await readdir(folder, { recursive: true, withFileTypes: true })) {
      if (!entry.isFile()) continue;
      const file = path.join(entry.parentPath, entry.name);
      const name = path.relative(folder, file).split(path.sep).join('/');
      items.push({ name: `data/dossiers/${edition}/${name}`, file, bytes: (await stat(file)).size, origin: null });
    }
  }
  return items;
}

/** Null and a notice where the file cannot be read, or is not what it was when the dossiers were made. */
async function copied(item: Item, sink: Sink, { expected }: BagInput, notices: Notice[]): Promise<Hashes | null> {
  const spot = { file: item.origin ?? item.name };
  try {
    const hashes = await sink.copy(item.name, item.file, item.bytes);
    const known = item.origin === null ? undefined : expected.get(item.origin);
    if (known === undefined || known === '' || known === hashes.sha256) return hashes;
    throw new FileChanged();
  } catch (fault) {
    if (fault instanceof FileChanged) {
      notices.push({ level: 'error', rule: 'file-changed', spot, found: `${spot.file} changed while it was packed`, expected: 'files nobody writes to meanwhile', advice: 'Nothing was packed; close what writes to it and pack again.' });
      return null;
    }
    const { code = '', syscall, path: at } = fault as NodeJS.ErrnoException;
    if (!['EACCES', 'EPERM', 'ENOENT', 'EIO'].includes(code) || (at !== undefined && at !== item.file) || syscall === 'write') throw fault;
    notices.push({ level: 'error', rule: 'file-unreadable', spot, found: `File cannot be read (${code})`, advice: 'Nothing was packed; allow reading and pack again.' });
    return null;
  }
}

function tokenNotices({ faults }: TokenVerdict): Notice[] {
  return faults.map((found) => ({ level: 'error', rule: 'timestamp-wrong', found, expected: 'a token over manifest-sha256.txt of this very bag', advice: 'Pack without it, have manifest-sha256.txt stamped as it lies there, and pack again with the token; nothing may change in the job meanwhile.' }));
}
