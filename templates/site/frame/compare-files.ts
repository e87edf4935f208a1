/** A file of the list; `sha256` is lower-case hex, empty where the list has none. */
export interface Listed {
  path: string;
  sha256: string;
}

/** A file the reader gave. `path` as far as the browser tells it; `sha256` empty where it could not be read. */
export type Given = Listed;

/** What is said of a file. The first six are of the list, the others were given besides. */
export type Kind = 'changed' | 'missing' | 'renamed' | 'unread' | 'no hash' | 'unchanged' | 'unknown' | 'copy' | 'list' | 'other list' | 'dossier';

export interface Found {
  kind: Kind;
  /** Path in the list, or of a file that is not in it. */
  name: string;
  /** Of a renamed file its name now, of a copy the path of what it is a copy of. */
  other: string;
}

const listName = 'originals-sha256.txt';

/** In this order, by name within each. */
const order: readonly Kind[] = ['changed', 'missing', 'renamed', 'unread', 'no hash', 'unknown', 'other list', 'list', 'copy', 'dossier', 'unchanged'];

/**
 * Compares files with the list, each file of the list said once. A name is a file's own, without its folders: originals are
 * often kept in one folder. Same name and hash is unchanged, same name and a hash that no file of the list is looked for by
 * is changed, same hash under another name is renamed.
 * @param listSha256 of the list itself, by which it is known among the files.
 */
export function compareFiles(listed: readonly Listed[], given: readonly Given[], listSha256: string): Found[] {
  const known = new Map<Listed, Found>(listed.filter(({ sha256 }) => sha256 === '').map((one) => [one, { kind: 'no hash', name: one.path, other: '' }]));
  const besides: Found[] = [];
  let left: Given[] = [];
  for (const file of given) {
    const kind: Kind | null = file.sha256 === listSha256 ? 'list' : nameOf(file.path) === listName ? 'other list' : null;
    if (kind) besides.push({ kind, name: file.path, other: '' });
    else left.push(file);
  }
  /** Settles what is left, each file with the likeliest of the list's that are open and fit; keeps those that fit none. */
  const settle = (kind: Kind, fits: (file: Given, one: Listed) => boolean): void => {
    left = left.filter((file) => {
      const open = listed.filter((one) => !known.has(one) && fits(file, one));
      const best = open.toSorted((a, b) => sharedEnd(file.path, b.path) - sharedEnd(file.path, a.path))[0];
      if (best) known.set(best, { kind, name: best.path, other: kind === 'renamed' ? nameOf(file.path) : '' });
      return !best;
    });
  };
  const sameName = (file: Given, one: Listed): boolean => nameOf(file.path) === nameOf(one.path);
  settle('unchanged', (file, one) => sameName(file, one) && file.sha256 === one.sha256);
  settle('unread', (file, one) => sameName(file, one) && file.sha256 === '');
  const wanted = new Set(listed.flatMap((one) => (known.has(one) ? [] : [one.sha256])));
  settle('changed', (file, one) => sameName(file, one) && file.sha256 !== '' && !wanted.has(file.sha256));
  settle('renamed', (file, one) => file.sha256 === one.sha256);
  for (const { path, sha256 } of left) {
    const same = listed.find((one) => sha256 !== '' && one.sha256 === sha256);
    besides.push({ kind: sha256 === '' ? 'unread' : same ? 'copy' : 'unknown', name: path, other: same?.path ?? '' });
  }
  const isOfDossier = dossiersIn(given);
  for (const one of besides) if ((one.kind === 'unknown' || one.kind === 'other list') && isOfDossier(one.name)) one.kind = 'dossier';
  const all = [...listed.map((one) => known.get(one) ?? { kind: 'missing' as const, name: one.path, other: '' }), ...besides];
  return all.toSorted((a, b) => order.indexOf(a.kind) - order.indexOf(b.kind) || byCodeUnit(a.name, b.name) || byCodeUnit(a.other, b.other));
}

/** Files of a dossier by themselves, and folders beside a job's files that hold dossiers. */
const dossierFiles: readonly string[] = ['dossier.json', 'dossier.schema.json', 'dossier.pdf', 'dossier-one-file.html', 'manifest-sha256.txt', 'work.csv', 'parts.csv', 'record.csv', 'look-again.ics'];
const dossierFolders: readonly string[] = ['out', 'expected', 'issues'];

/** Whether a file is one a dossier was made of or into: beside or below its manifest, or where dossiers are kept. */
function dossiersIn(given: readonly Given[]): (path: string) => boolean {
  const roots = given.flatMap(({ path }) => (path.endsWith('/manifest-sha256.txt') ? [path.slice(0, path.lastIndexOf('/') + 1)] : []));
  return (path) => roots.some((root) => path.startsWith(root)) || dossierFiles.includes(nameOf(path)) || path.split('/').slice(0, -1).some((part) => dossierFolders.includes(part));
}

/** How many of each kind. */
export function countKinds(found: readonly Found[]): Record<Kind, number> {
  const counts = Object.fromEntries(order.map((kind) => [kind, 0])) as Record<Kind, number>;
  for (const { kind } of found) counts[kind] += 1;
  return counts;
}

/** Names a system or a program hides in a folder, which nobody gives on purpose. */
export function isHidden(path: string): boolean {
  return path.split('/').some((part) => part.startsWith('.') || part === 'Thumbs.db' || part === 'desktop.ini');
}

/** The list as it lies beside a dossier, in the form `sha256sum -c` takes: made again from the table, it must have the hash on the cover. */
export function listText(listed: readonly Listed[]): string {
  return listed
    .filter(({ sha256 }) => sha256 !== '')
    .toSorted((a, b) => byCodeUnit(a.path, b.path))
    .map(({ path, sha256 }) => {
      const escaped = path.replaceAll('\\', '\\\\').replaceAll('\n', '\\n').replaceAll('\r', '\\r');
      return `${escaped === path ? '' : '\\'}${sha256}  ${escaped}\n`;
    })
    .join('');
}

/** What a reader pasted: a hash, in which a line break of a letter or a PDF does no harm; the text of a list, its line ends mended; or neither. */
export function readPasted(text: string): { kind: 'hash' | 'list' | 'neither'; text: string } {
  const hash = text.replaceAll(/\s/g, '').toLowerCase();
  if (/^[0-9a-f]{64}$/.test(hash)) return { kind: 'hash', text: hash };
  const lines = text.replace(/^\uFEFF/, '').replaceAll(/\r\n?/g, '\n').replace(/\s*$/, '\n').replace(/^\n+/, '');
  return /^\\?[0-9a-f]{64} [ *]/.test(lines) ? { kind: 'list', text: lines } : { kind: 'neither', text: '' };
}

/** Composed letters, as some systems take the accents of file names apart. */
function nameOf(path: string): string {
  return (path.split('/').at(-1) ?? path).normalize('NFC');
}

/** How many folders and names two paths have in common, from the end. */
function sharedEnd(one: string, other: string): number {
  const [left, right] = [one, other].map((path) => path.normalize('NFC').split('/').toReversed()) as [string[], string[]];
  const apart = left.findIndex((part, at) => part !== right[at]);
  return apart === -1 ? left.length : apart;
}

function byCodeUnit(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
