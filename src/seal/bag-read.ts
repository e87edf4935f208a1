import { encodedName } from './bag-lists.ts';

/** A line of a manifest: the name as it is looked for. */
export interface Listed {
  name: string;
  /** As written, where it may be the file's name itself or encoded. */
  written: string;
  hash: string;
}

/** A manifest or tagmanifest as read. */
export interface List {
  file: string;
  algorithm: string;
  entries: Listed[];
  /** What makes the bag wrong, and what is only odd. */
  faults: string[];
  warnings: string[];
}

/** Version of the bag, 0.93 to 1.0, and what its tag files are written in. Null where `bagit.txt` cannot be meant. */
export function readDeclaration(bytes: Uint8Array): { version: number; encoding: string } | null {
  const text = Buffer.from(bytes).toString('utf8');
  const match = /^BagIt-Version: (\d+\.\d+)(?:\r\n|\n|\r)Tag-File-Character-Encoding: ([A-Za-z0-9_:.+-]+)(?:\r\n|\n|\r)?$/.exec(text);
  const version = Number(match?.[1]);
  const encoding = match?.[2]?.toLowerCase();
  return encoding !== undefined && knownEncoding(encoding) && version >= 0.93 && version <= 1 ? { version, encoding } : null;
}

function knownEncoding(encoding: string): boolean {
  try {
    return new TextDecoder(encoding).encoding !== '';
  } catch {
    return false;
  }
}

/** Text of a tag file. @throws where the encoding is not known or the bytes are not of it */
export function decodeTag(bytes: Uint8Array, encoding: string): string {
  const order = encoding === 'utf-16' && bytes[0] === 0xfe && bytes[1] === 0xff ? 'utf-16be' : encoding;
  return new TextDecoder(order, { fatal: true }).decode(bytes);
}

/** Lines of a list of hashes, by the rules of the bag's version (RFC 8493 sections 2.1.3, 2.2.1 and 6.1). */
export function readList(file: string, text: string, version: number): List {
  const algorithm = (/manifest-(.+)\.txt$/.exec(file)?.[1] ?? '').toLowerCase().replace(/[^a-z0-9]/g, '');
  const list: List = { file, algorithm, entries: [], faults: [], warnings: [] };
  const seen = new Map<string, string>();
  const payload = !file.startsWith('tagmanifest-');
  for (const [index, line] of text.split(/\r\n|\n|\r/).entries()) {
    if (line.trim() === '') continue;
    const [, hash = '', star = '', rest = ''] = /^([0-9a-fA-F]+)[ \t]+(\*?)(.+)$/.exec(line) ?? [];
    const at = `line ${index + 1}`;
    if (hash === '') {
      list.faults.push(`${at} is no hash and name`);
      continue;
    }
    if (star !== '') list.warnings.push(`${at} has an asterisk before the name, as md5sum writes it`);
    if (rest.startsWith('./')) list.warnings.push(`${at} names a file by a relative path, ${rest}`);
    const written = rest.replace(/^(?:\.\/)+/, '');
    const name = decodedName(written);
    const problem = scopeFault(name, payload);
    if (problem) {
      list.faults.push(`${at} names ${rest}, ${problem}; it was not opened`);
      continue;
    }
    const before = seen.get(name);
    const lower = hash.toLowerCase();
    if (before !== undefined && (before !== lower || version >= 1)) list.faults.push(`${name} is listed twice${before === lower ? '' : ' with different hashes'}`);
    else if (before !== undefined) list.warnings.push(`${name} is listed twice`);
    else {
      seen.set(name, lower);
      list.entries.push({ name, written, hash: lower });
    }
  }
  list.warnings.push(...alike(list.entries));
  return list;
}

/** Undoes what `encodedName` does, and nothing else. */
function decodedName(written: string): string {
  return written.replace(/%(25|0[dD]|0[aA])/g, (code) => ({ '%25': '%', '%0d': '\r', '%0a': '\n' })[code.toLowerCase()] ?? code);
}

/** Why a name must not be followed, whatever system it was meant for; null where it may. */
function scopeFault(name: string, payload: boolean): string | null {
  if (/^[/\\~]|^[A-Za-z]:|^%[^%/]+%[/\\]/.test(name)) return 'which lies outside the bag';
  if (name.split(/[/\\]/).includes('..')) return 'which leads out of the bag';
  if (payload && !name.startsWith('data/')) return 'which is not in data';
  return !payload && name.startsWith('data/') ? 'which is no tag file' : null;
}

/** Names that are one file on some systems. */
function alike(entries: readonly Listed[]): string[] {
  const first = new Map<string, string>();
  const warnings: string[] = [];
  for (const { name } of entries) {
    const other = first.get(alikeKey(name));
    if (other === undefined) first.set(alikeKey(name), name);
    else warnings.push(`${other} and ${encodedName(name)} are one file on systems that do not tell case or composed letters apart`);
  }
  return warnings;
}

/** The same for names that some systems hold to be one. */
export function alikeKey(name: string): string {
  return name.normalize('NFC').toLowerCase();
}

/** Names in `fetch.txt`, and what is wrong with it. */
export function readFetch(text: string): { names: string[]; faults: string[] } {
  const names: string[] = [];
  const faults: string[] = [];
  for (const [index, line] of text.split(/\r\n|\n|\r/).entries()) {
    if (line.trim() === '') continue;
    const written = /^\S+[ \t]+(?:\d+|-)[ \t]+(.+)$/.exec(line)?.[1];
    const name = decodedName((written ?? '').replace(/^(?:\.\/)+/, ''));
    const problem = written === undefined ? 'no address, length and name' : scopeFault(name, true);
    if (problem) faults.push(written === undefined ? `line ${index + 1} is ${problem}` : `line ${index + 1} names ${written}, ${problem}`);
    else names.push(name);
  }
  return { names, faults };
}

/** Values of a label in `bag-info.txt`; from 1.0 on a colon follows the label at once. */
export function infoValues(text: string, label: string): string[] {
  return text.split(/\r\n|\n|\r/).flatMap((line) => {
    const [, name = '', value = ''] = /^([^\s:][^:]*?)\s*:\s*(.*)$/.exec(line) ?? [];
    return name.toLowerCase() === label.toLowerCase() ? [value.trim()] : [];
  });
}
