import { constants } from 'node:fs';
import { access, mkdir, mkdtemp, rm, stat } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { build, inspect } from '../job.ts';
import type { Inspected, Progress } from '../job.ts';
import type { Dossier } from '../model/dossier.ts';
import { visible } from '../model/notice.ts';
import type { Notice } from '../model/notice.ts';
import { todoRules } from '../place/checks/index.ts';
import { outputFault } from '../print/output.ts';
import { languages } from '../model/wording.ts';
import type { Language } from '../model/wording.ts';
import { editionIds } from '../read/editions.ts';
import { openMemory } from '../read/photos/memory.ts';
import type { PhotoMemory } from '../read/photos/memory.ts';
import { version } from './package-root.ts';
import { clock, commandName, interruptible, levelCounts, noticeLines, onlyJob, parse, progress, quoted, say, WrongUse } from './terminal.ts';
import type { ExitCode } from './terminal.ts';

const help = `sillbook build <job> [--edition NAME] [--out DIR] [--lang LANGUAGE]
               [--rehash] [--all] [--json]

Makes the dossier of a job as a draft: a site (open index.html), dossier.pdf, dossier.json with its schema, and lists of
hashes. The photos and the findings are never changed. If something goes wrong, the last dossier stays as it was.

  --edition NAME   who reads it: purchase (default), progress, evidence, history
  --out DIR        where to put it; default <job>/out. Replaced whole, so it must be empty, new or an older dossier
  --lang LANGUAGE  en-GB or en-US: trade terms, spelling, and mm or inches; goes before what sillbook.json says
  --rehash         read and hash every photo again, also those whose size and times are as at the last build; an issue
                   always does
  --all            show every notice, not only the first two of a kind
  --json           print what was made, and all notices, as JSON

Examples
  sillbook build my-job
  sillbook build my-job --edition evidence --out ~/Desktop/for-the-insurer
`;

/** `sillbook build`. */
export async function command(args: string[]): Promise<ExitCode> {
  const parsed = parse(args, { edition: { type: 'string', default: 'purchase' }, out: { type: 'string' }, lang: { type: 'string' }, rehash: { type: 'boolean' }, all: { type: 'boolean' }, json: { type: 'boolean' } }, help);
  if (!parsed) return 0;
  const job = onlyJob(parsed.positionals, 'build');
  const { edition, rehash = false, all = false, json = false } = parsed.values;
  checkEdition(edition);
  const language = languageOf(parsed.values.lang);
  const out = parsed.values.out ?? path.join(job, 'out');
  const fault = await outputFault(out, job);
  if (fault) throw new WrongUse(fault, 'Choose another folder with --out.');
  const made = await make(job, out, { edition, issue: null, before: null, all, json, rehash, ...language });
  if (!made.dossier) return 1;
  if (json) process.stdout.write(`${JSON.stringify({ out: path.resolve(out), edition, notices: made.notices }, null, 2)}\n`);
  else process.stdout.write(`${summary(made.dossier, out)}\n`);
  return 0;
}

/** Wrong use where there is no such edition. */
export function checkEdition(edition: string): void {
  const known = editionIds();
  if (!known.includes(edition)) throw new WrongUse(`There is no edition "${edition}".`, `Choose one of ${known.join(', ')}.`);
}

/** The language asked for, as an option to pass on; wrong use where there is no such language. */
export function languageOf(asked: string | undefined): { language?: Language } {
  if (asked === undefined) return {};
  const language = languages.find((one) => one.toLowerCase() === asked.toLowerCase());
  if (!language) throw new WrongUse(`There is no language "${asked}".`, `Choose one of ${languages.join(', ')}.`);
  return { language };
}

/** Inspects a job for a command that writes; wrong use where the folder is missing. */
export async function inspectFor(job: string, out: string, onProgress: Progress, depth: 'check' | 'build', more: { memory?: PhotoMemory; signal?: AbortSignal; language?: Language } = {}): Promise<Inspected> {
  const inside = path.relative(path.resolve(job), path.resolve(out)).split(path.sep).join('/');
  const skip = inside.startsWith('..') || path.isAbsolute(inside) ? [] : [inside];
  const inspected = await inspect(job, { clock: clock(), skip, sensitivity: depth === 'build', onProgress, ...more });
  return inspected ?? (await noJob(job));
}

/** Wrong use: a job that is no folder, or none that can be opened. */
export async function noJob(job: string): Promise<never> {
  const found = await stat(job).catch(() => null);
  throw new WrongUse(found ? `${job} is not a folder that can be opened.` : `There is no folder ${job}.`, 'Name the job folder, the one that holds findings.md.');
}

/** Inspects, builds and says what there is to say. `dossier` is null where errors in the job stopped it. */
export async function make(
  job: string,
  out: string,
  options: { edition: string; issue: Parameters<typeof build>[1]['issue']; before: Dossier | null; all: boolean; json: boolean; strict?: boolean; rehash: boolean; language?: Language },
): Promise<{ dossier: Dossier | null; notices: Notice[] }> {
  const line = progress();
  const count: Progress = (stage, done, total) => line.step(stage, done, total);
  const stop = interruptible();
  try {
    const memory = await openMemory(path.join(job, '.sillbook'), { trust: !options.rehash });
    const inspected = await inspectFor(job, out, count, 'build', { memory, signal: stop.signal, ...(options.language ? { language: options.language } : {}) });
    if (options.strict) inspected.notices.push(...unplacedFindings(inspected));
    const failed = inspected.notices.some((notice) => notice.level === 'error');
    const cache = failed ? null : await openCache(path.join(job, '.sillbook'));
    if (cache) await memory.save();
    const made = cache === null
      ? { dossier: null, notices: inspected.notices }
      : await build(inspected, { out, cache: cache.folder, ...options, version: await version(), onProgress: count, signal: stop.signal });
    line.end();
    tell(made.notices, job, { ...options, stopped: made.dossier === null });
    await cache?.close();
    return made;
  } finally {
    line.end();
    stop.release();
  }
}

/** A draft prints findings that stand in no zone and says so; what is handed over must count them. */
function unplacedFindings({ inspection }: Inspected): Notice[] {
  const zones = inspection.job.notes.zones.filter((zone) => zone.zone === null && zone.entries.some((entry) => entry.type !== 'photo'));
  return zones.map(({ heading }) => ({
    level: 'error',
    rule: 'finding-not-placed',
    spot: heading.spot,
    found: `Findings under "${heading.text}" stand in no zone`,
    expected: 'every finding of an issue under a zone',
    advice: 'Correct the heading, so that they count.',
  }));
}

/** The cache beside the job; where the job cannot be written to, one that is gone after the build. */
export async function openCache(folder: string): Promise<{ folder: string; close(): Promise<void> }> {
  try {
    await mkdir(folder, { recursive: true });
    await access(folder, constants.W_OK);
    return { folder, close: async () => undefined };
  } catch {
    const passing = await mkdtemp(path.join(os.tmpdir(), 'sillbook-cache-'));
    return { folder: passing, close: () => rm(passing, { recursive: true, force: true }) };
  }
}

function tell(notices: readonly Notice[], job: string, { all, stopped, json }: { all: boolean; stopped: boolean; json: boolean }): void {
  if (json && stopped) process.stdout.write(`${JSON.stringify({ out: null, notices }, null, 2)}\n`);
  const todo = notices.filter((notice) => todoRules.includes(notice.rule) && !all);
  if (!json) for (const line of noticeLines(notices.filter((notice) => !todo.includes(notice)), process.stderr, all)) say(line);
  if (!json && todo.length > 0) say(`${todo.length} ${todo.length === 1 ? 'thing is' : 'things are'} still to do at the car: ${commandName()} check ${quoted(job)} --all lists them.`);
  if (stopped) say(`Nothing was built: ${levelCounts(notices)}. Mend the errors and build again; the last dossier is as it was.`);
}

function summary(dossier: Dossier, out: string): string {
  const folder = path.resolve(out);
  const shown = dossier.photos.filter((photo) => photo.renditions.length > 0).length;
  return [
    visible(`${dossier.title}: ${dossier.coverage.words}.`),
    `${dossier.photos.length} photos, ${shown} shown; ${levelCounts(dossier.notices)}. ${dossier.edition.title}, a draft.`,
    `Open ${path.join(folder, 'index.html')}`,
    `  or ${path.join(folder, 'dossier.pdf')}`,
  ].join('\n');
}
