import { readdir, realpath, stat } from 'node:fs/promises';
import path from 'node:path';
import type { Notice } from '../model/notice.ts';
import { byCodeUnit } from '../model/order.ts';

/** A file to pack. */
export interface Gathered {
  /** Relative to the car's folder, with `/`. */
  path: string;
  /** Where its bytes are. */
  file: string;
  bytes: number;
}

/** What systems leave in folders, and what a killed run of ours left. */
const litter = /^(?:\.DS_Store|\._.*|thumbs\.db|ehthumbs\.db|desktop\.ini|icon\r|\..*\.sillbook-(?:new-\d+|old))$/i;
/** Made by this program and made again from the rest. */
const ownFolders = new Set(['.sillbook', '.work', 'node_modules']);

/**
 * Every file of a car's folder, photos or not, except what this program makes: `out` of the car and of its visits, caches.
 * A link to a file of the job is that file; one that leads out is named and left out.
 * @param visits names of the visits' folders
 */
export async function gather(car: string, visits: readonly string[]): Promise<{ files: Gathered[]; notices: Notice[] }> {
  const root = await realpath(car);
  const outs = new Set(['out', ...visits.filter((name) => name !== '').map((name) => `${name}/out`)]);
  const files: Gathered[] = [];
  const notices: Notice[] = [];
  const warn = (rule: string, file: string, found: string, advice: string, level: Notice['level'] = 'warning'): number => notices.push({ level, rule, spot: { file }, found, advice });
  const enter = async (folder: string): Promise<void> => {
    const entries = await readdir(path.join(root, folder), { withFileTypes: true }).catch((fault: NodeJS.ErrnoException) => fault);
    if (entries instanceof Error) {
      warn('folder-unreadable', folder === '' ? '.' : folder, `Folder cannot be read (${entries.code ?? entries.message})`, 'Allow reading and pack again.', 'error');
      return;
    }
    for (const entry of entries.toSorted((a, b) => byCodeUnit(a.name, b.name))) {
      const name = folder === '' ? entry.name : `${folder}/${entry.name}`;
      if (litter.test(entry.name) || (entry.isDirectory() && (ownFolders.has(entry.name) || outs.has(name)))) continue;
      if (entry.isDirectory()) await enter(name);
      else if (entry.isFile() || entry.isSymbolicLink()) await take(name, entry.isSymbolicLink());
      else warn('file-special', name, `${name} is no ordinary file`, 'It is not packed.');
    }
  };
  const take = async (name: string, link: boolean): Promise<void> => {
    const at = path.join(root, ...name.split('/'));
    try {
      const file = link ? await realpath(at) : at;
      if (link && !file.startsWith(root + path.sep)) return void warn('link-outside', name, 'Link leads out of the job folder', 'It was not followed and is not packed; put the file itself into the job.');
      const facts = await stat(file);
      // What lies in a folder of the job is packed where it lies.
      if (facts.isFile()) files.push({ path: name, file, bytes: facts.size });
    } catch (fault) {
      const { code = 'unknown cause' } = fault as NodeJS.ErrnoException;
      if (link && code === 'ENOENT') warn('link-broken', name, 'Link leads nowhere', 'It is not packed; put the file itself into the job.');
      else warn('file-unreadable', name, `File cannot be read (${code})`, 'Allow reading and pack again.', 'error');
    }
  };
  await enter('');
  return { files: files.toSorted((a, b) => byCodeUnit(a.path, b.path)), notices };
}
