import { open } from 'node:fs/promises';
import type { FileHandle } from 'node:fs/promises';
import { promisify } from 'node:util';
import yauzl from 'yauzl';
import type { Entry, ZipFile } from 'yauzl';
import type { Store, Writing } from './store.ts';
import { compareLayout } from './zip-layout.ts';

const openZip = promisify<string, yauzl.Options, ZipFile>(yauzl.open as (file: string, options: yauzl.Options, done: (fault: Error | null, zip: ZipFile) => void) => void);

/** Deflate makes at most 1032 of one (zlib, "maximum compression factor"); what claims more is not what it says. */
const highestRatio = 1032;

/**
 * The files of a ZIP, without the one folder all may lie in. Nothing is unpacked to the disk: a file is hashed as it is
 * read, no further than its declared size. Entries whose names lead out, that are encrypted, claim an impossible size or share bytes
 * with others are named and never opened.
 * @throws where it is no ZIP
 */
export async function zipStore(file: string): Promise<Store> {
  const zip = await openZip(file, { lazyEntries: true, autoClose: false, decodeStrings: false, validateEntrySizes: true });
  const handle = await open(file, 'r');
  const store: Store = { files: new Map(), faults: [], close: async () => (zip.close(), handle.close()) };
  const fault = (name: string, what: string): number => store.faults.push({ name, what });
  try {
    const entries = await entriesOf(zip);
    const { size } = await handle.stat();
    if (overlap(entries.map(({ entry }) => entry), size)) fault('.', 'entries share bytes, as no ZIP made in good faith does');
    const root = rootOf(entries.map(({ name }) => name));
    for (const { entry, name: whole } of entries) {
      const name = whole.slice(root.length);
      if (name === '' || name.endsWith('/')) continue;
      const what = store.files.has(name) ? 'twice in the ZIP' : await entryFault(entry, whole, handle);
      if (what !== null) fault(name, what);
      else if (store.faults.every((one) => one.name !== '.')) store.files.set(name, { bytes: entry.uncompressedSize, open: () => promisify(zip.openReadStream.bind(zip) as (entry: Entry, done: (fault: Error | null, stream: import('node:stream').Readable) => void) => void)(entry) });
    }
    store.compareWriting = (day) => writingOf(handle, entries, root, day);
    return store;
  } catch (error) {
    await store.close();
    throw error;
  }
}

/** Whether two entries share bytes, or one reaches past the end; by the shortest headers they can have. */
function overlap(entries: readonly Entry[], size: number): boolean {
  const ranges = entries.map((entry) => ({ from: entry.relativeOffsetOfLocalHeader, to: entry.relativeOffsetOfLocalHeader + 30 + entry.fileNameLength + entry.compressedSize })).toSorted((a, b) => a.from - b.from);
  return ranges.some(({ to }, index) => to > (ranges[index + 1]?.from ?? size));
}

/**
 * A ZIP whose headers are mostly not ours was packed anew by another program, which a bag allows: its files are the same.
 * Where only some are not, somebody altered them.
 */
async function writingOf(handle: FileHandle, entries: readonly { entry: Entry; name: string }[], root: string, day: string): Promise<Writing> {
  const laid = entries.map(({ entry }) => ({ name: Buffer.from(entry.fileName as unknown as Uint8Array), bytes: entry.uncompressedSize, crc: entry.crc32 }));
  const layout = await compareLayout(handle, laid, day);
  if (layout.entries.length > entries.length / 2) return { by: 'another' };
  const faults = layout.entries.map((index) => ({ name: (entries[index]?.name ?? '').slice(root.length), what: 'a header of it in the ZIP is not as this program wrote it' }));
  return { by: 'us', faults: layout.end ? [...faults, { name: '.', what: 'the end of the ZIP is not as this program wrote it' }] : faults };
}

async function entriesOf(zip: ZipFile): Promise<{ entry: Entry; name: string }[]> {
  const entries: { entry: Entry; name: string }[] = [];
  await new Promise<void>((resolve, reject) => {
    zip.on('entry', (entry: Entry) => {
      entries.push({ entry, name: nameOf(entry) });
      zip.readEntry();
    });
    zip.on('end', resolve);
    zip.on('error', reject);
    zip.readEntry();
  });
  return entries;
}

/** UTF-8 whether flagged or not, as programs that forget the flag write UTF-8 nowadays. */
function nameOf(entry: Entry): string {
  return Buffer.from(entry.fileName as unknown as Uint8Array).toString('utf8');
}

/** The one folder everything lies in, with its slash; empty where there is none (RFC 8493 section 4). */
function rootOf(names: readonly string[]): string {
  const [first = ''] = names;
  const root = first.slice(0, first.indexOf('/') + 1);
  return root !== '' && !leadsOut(root) && names.every((name) => name.startsWith(root)) ? root : '';
}

function leadsOut(name: string): boolean {
  return /^[/\\]|^[A-Za-z]:|\0/.test(name) || name.split(/[/\\]/).includes('..');
}

async function entryFault(entry: Entry, name: string, handle: FileHandle): Promise<string | null> {
  if (leadsOut(name)) return 'its name leads out of the ZIP; it was not opened';
  if ((entry.generalPurposeBitFlag & 1) !== 0) return 'encrypted; it cannot be checked';
  if (![0, 8].includes(entry.compressionMethod)) return 'packed in a way that is not known; it cannot be checked';
  if (entry.uncompressedSize > entry.compressedSize * highestRatio + 64) return 'claims a size that its bytes cannot have; it was not opened';
  if (((entry.externalFileAttributes >>> 16) & 0o170000) === 0o120000) return 'link, not followed';
  return (await localFault(entry, handle)) ? 'its two headers in the ZIP say different things' : null;
}

/** Whether the header before the bytes says something else than the directory at the end, which programs differ in believing. */
async function localFault(entry: Entry, handle: FileHandle): Promise<boolean> {
  const name = Buffer.from(entry.fileName as unknown as Uint8Array);
  const head = Buffer.alloc(30 + name.length);
  const { bytesRead } = await handle.read(head, 0, head.length, entry.relativeOffsetOfLocalHeader);
  if (bytesRead < head.length || head.readUInt32LE(0) !== 0x04034b50 || head.readUInt16LE(26) !== name.length || !head.subarray(30).equals(name)) return true;
  const later = (entry.generalPurposeBitFlag & 8) !== 0;
  const differs = (value: number, central: number, wide: number): boolean => !later && value !== central && value !== wide;
  return head.readUInt16LE(6) !== entry.generalPurposeBitFlag || head.readUInt16LE(8) !== entry.compressionMethod || head.readUInt16LE(10) !== entry.lastModFileTime || head.readUInt16LE(12) !== entry.lastModFileDate
    || differs(head.readUInt32LE(14), entry.crc32, entry.crc32) || differs(head.readUInt32LE(18), entry.compressedSize, 0xffffffff) || differs(head.readUInt32LE(22), entry.uncompressedSize, 0xffffffff);
}
