import { join, sep } from 'node:path';
import type { Notice } from '../../model/notice.ts';
import { diskFault } from './disk.ts';
import type { Disk } from './disk.ts';
import { endingOf } from './format.ts';
import { byCodeUnit } from '../../model/order.ts';

/** A file of the job that may be a photo. */
export interface Found {
  /** Relative to the job folder, as on disk, with `/`. */
  path: string;
  /** Where its bytes are: links already followed. Null for what is no ordinary file and is never opened. */
  realPath: string | null;
}

/** What lies in a job folder. */
export interface Walked {
  /** Sorted by path in code-unit order. */
  files: Found[];
  notices: Notice[];
}

/** What an operating system leaves in folders; worth no message. */
const litter = new Set(['thumbs.db', 'ehthumbs.db', 'desktop.ini', 'icon\r']);
/** Our own folders, at the top of a job only: a folder `photos/out` may well hold photos. */
const ownFolders = new Set(['out', 'issues']);

/** What `sillbook grid` puts into a job: drawn over a photo, and none itself. */
const ownGrid = /^grids\/[^/]+-grid(?:-\d+)?\.png$/;

/** A folder that holds one of these is another visit, or a dossier put there with `--out`. */
const notOurs = new Set(['findings.md', 'dossier.json']);

function isText(name: string): boolean {
  return name === 'sillbook.json' || ['md', 'markdown', 'txt'].includes(endingOf(name));
}

/**
 * All files of a job that may be photos, at any depth. Leaves out our own folders and grids, hidden files, `node_modules`,
 * folders in `skip` (relative, with `/`) and folders with a `findings.md` or `dossier.json` of their own: those are other visits
 * and dossiers.
 */
export async function walk(jobFolder: string, disk: Disk, skip: string[]): Promise<Walked> {
  const files: Found[] = [];
  const notices: Notice[] = [];
  const warn = (rule: string, path: string, found: string, advice: string): void => {
    notices.push({ level: 'warning', rule, spot: { file: path }, found, advice });
  };
  const skipped = new Set(skip);

  async function enter(path: string, folder: string): Promise<void> {
    let entries;
    try {
      entries = await disk.entries(folder);
    } catch (error) {
      const advice = 'Photos in it are missing from the dossier; allow reading and build again.';
      return warn('folder-unreadable', path === '' ? '.' : path, `Folder cannot be read (${diskFault(error)})`, advice);
    }
    if (path !== '' && entries.some((entry) => notOurs.has(entry.name))) {
      if (entries.every((entry) => entry.name !== 'dossier.json')) warn('visit-below', path, 'A folder with findings of its own, left out with its photos', 'For several visits of one car, give each a folder of its own beside sillbook.json, the first one too.');
      return;
    }
    for (const { name, kind } of entries.toSorted((left, right) => byCodeUnit(left.name, right.name))) {
      const inner = path === '' ? name : `${path}/${name}`;
      if (name.startsWith('.') || litter.has(name.toLowerCase()) || skipped.has(inner)) continue;
      const at = join(folder, name);
      if (kind === 'file' && ownGrid.test(inner)) continue;
      if (kind === 'folder') {
        if (name !== 'node_modules' && !(path === '' && ownFolders.has(name))) await enter(inner, at);
      } else if (!isText(name)) {
        if (kind === 'link') await follow(inner, at);
        else files.push({ path: inner, realPath: kind === 'file' ? at : null });
      }
    }
  }

  async function follow(path: string, at: string): Promise<void> {
    try {
      const target = await disk.realPath(at);
      if (target !== root && !target.startsWith(root.endsWith(sep) ? root : root + sep)) {
        return warn('link-outside', path, 'Link leads out of the job folder', 'It was not followed; put the photo itself into the job.');
      }
      const { kind } = await disk.facts(target);
      // Photos of a folder inside the job are listed where they lie.
      if (kind === 'folder') return;
      files.push({ path, realPath: kind === 'file' ? target : null });
    } catch (error) {
      warn('link-broken', path, `Link leads nowhere (${diskFault(error)})`, 'Put the photo itself into the job.');
    }
  }

  let root = jobFolder;
  try {
    root = await disk.realPath(jobFolder);
  } catch (error) {
    warn('folder-unreadable', '.', `Job folder cannot be read (${diskFault(error)})`, 'Name a folder that exists and may be read.');
    return { files, notices };
  }
  await enter('', root);
  return { files: files.toSorted((left, right) => byCodeUnit(left.path, right.path)), notices };
}
