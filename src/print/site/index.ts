import { mkdir, readdir, readFile, realpath, rm, writeFile } from 'node:fs/promises';
import path from 'node:path';
import type { Dossier } from '../../model/dossier.ts';
import { siteConfig, templates } from './config.ts';
import { sitePages } from './pages.ts';
import { portableFaults } from './portable.ts';

export interface SiteOptions {
  /** Throw-away folder for everything Astro writes; made where it is missing, never cleared as a whole. */
  work: string;
  /** Folder of the site. Holds the renditions the dossier names before this is called. */
  out: string;
  /** Name of the same dossier as a PDF in `out`, to link to. */
  pdf?: string;
  /** Name of a page to make besides, for the one-file edition; it is handed back and not written. */
  oneFile?: string;
  /** Files that stand beside the pages where the site is read, though not in `out` yet. */
  beside?: readonly string[];
  /** Takes one line about what was done. */
  log?(line: string): void;
}

// The working directory and Astro's own state belong to the process: builds wait for each other.
let last: Promise<unknown> = Promise.resolve();

/**
 * Prints a dossier as a site that opens from disk: HTML only, beside the photos that already lie in `out`.
 * Nothing is copied to `out` before every page is known to open from there.
 * @returns the page asked for with `oneFile`, its pictures still placeholders; null where none was
 * @throws on a mistake of ours: a link to nowhere, a photo without its file, a page that needs a server.
 */
export function printSite(dossier: Dossier, options: SiteOptions): Promise<string | null> {
  const turn = last.then(() => printNow(dossier, options));
  last = turn.catch(() => undefined);
  return turn;
}

async function printNow(dossier: Dossier, options: SiteOptions): Promise<string | null> {
  await mkdir(options.work, { recursive: true });
  // Vite looks at real paths only, and takes what follows these two signs for the end of a path.
  const work = await realpath(options.work);
  if (/[#?]/.test(work)) throw new Error(`The work folder ${work} has "#" or "?" in its path; take one without.`);
  const out = path.resolve(options.out);
  const outDir = path.join(work, 'site');
  const srcDir = path.join(work, 'templates');
  for (const folder of [outDir, srcDir]) await rm(folder, { recursive: true, force: true });
  // File by file: a copy of the folder would be as read-only as the package may be.
  for (const file of await filesIn(templates)) await writeInto(srcDir, file, await readFile(path.join(templates, file)));
  // Astro and Vite look for these two from the root upwards; found here, they look no further.
  await writeFile(path.join(work, 'package.json'), '{"private":true,"type":"module"}\n');
  await writeFile(path.join(work, 'tsconfig.json'), '{"include":[]}\n');
  const { pdf = null, oneFile } = options;
  const site = sitePages(dossier, { pdf, oneFile: oneFile === undefined ? null : oneFile.replace(/\.html$/, '') });
  await buildWithAstro(siteConfig({ site, work, srcDir, outDir }), work);

  const pages = new Map<string, string>();
  for (const file of await filesIn(outDir)) {
    if (!file.endsWith('.html')) throw new Error(`Astro wrote ${file}: the site holds pages and photos only.`);
    pages.set(file, await readFile(path.join(outDir, file), 'utf8'));
  }
  await mkdir(out, { recursive: true });
  const others = [...(await filesIn(out)).filter((file) => !file.endsWith('.html')), ...(options.beside ?? [])];
  const alone = oneFile === undefined ? null : (pages.get(oneFile) ?? null);
  if (oneFile !== undefined) pages.delete(oneFile);
  const faults = [...portableFaults(pages, others), ...(alone === null ? [] : portableFaults(new Map([[oneFile ?? '', alone]]), []))];
  if (faults.length > 0) {
    const rest = faults.length > 20 ? `\n${faults.length - 20} more` : '';
    throw new Error(`The site would not open from disk:\n${faults.slice(0, 20).join('\n')}${rest}`);
  }
  for (const [file, html] of pages) await writeInto(out, file, html);
  options.log?.(`${pages.size} ${pages.size === 1 ? 'page' : 'pages'}`);
  return alone;
}

async function buildWithAstro(config: ReturnType<typeof siteConfig>, work: string): Promise<void> {
  const before = process.cwd();
  const wanted = { ASTRO_TELEMETRY_DISABLED: '1', ASTRO_DISABLE_UPDATE_CHECK: 'true', NODE_ENV: 'production' };
  const environment = Object.fromEntries(Object.keys(wanted).map((name) => [name, process.env[name]]));
  Object.assign(process.env, wanted);
  process.chdir(work);
  try {
    // Loaded here only: no other command waits for it.
    const { build } = await import('astro');
    await build({ ...config, logLevel: 'error' });
  } finally {
    process.chdir(before);
    for (const [name, value] of Object.entries(environment)) {
      if (value === undefined) delete process.env[name];
      else process.env[name] = value;
    }
  }
}

async function writeInto(folder: string, file: string, content: string | Buffer): Promise<void> {
  await mkdir(path.dirname(path.join(folder, file)), { recursive: true });
  await writeFile(path.join(folder, file), content);
}

async function filesIn(folder: string): Promise<string[]> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  return entries
    .filter((entry) => !entry.isDirectory())
    .map((entry) => path.relative(folder, path.join(entry.parentPath, entry.name)).split(path.sep).join('/'))
    .sort();
}
