import { constants } from 'node:fs';
import { access, mkdir, mkdtemp, rm, stat } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { build, inspect } from '../job.ts';
import type { BuildOptions, Built, Inspected, Progress } from '../job.ts';
import type { Dossier } from '../model/dossier.ts';
import { visible } from '../model/notice.ts';
import type { Notice } from '../model/notice.ts';
import { todoRules } from '../place/checks/index.ts';
import { highestBytes, oneFileName, usualLimitBytes } from '../print/one-file/index.ts';
import { outputFault } from '../print/output.ts';
import { numberText } from '../units.ts';
import { pdfKinds } from '../model/job.ts';
import type { PdfKind } from '../model/job.ts';
import { languages } from '../model/wording.ts';
import type { Language } from '../model/wording.ts';
import { editionIds } from '../read/editions.ts';
import { openMemory } from '../read/photos/memory.ts';
import type { PhotoMemory } from '../read/photos/memory.ts';
import { version } from './package-root.ts';
import { clock, commandName, interruptible, levelCounts, noticeLines, onlyJob, parse, progress, quoted, say, WrongUse } from './terminal.ts';
import type { ExitCode } from './terminal.ts';

const help = `sillbook build <job> [--edition NAME] [--out DIR] [--lang LANGUAGE]
               [--one-file [--limit MB] [--any-size]]
               [--pdf record|share|data] [--rehash] [--all] [--json]

Makes the dossier of a job as a draft: a site (open index.html), dossier.pdf, dossier.json with its schema, and lists of
hashes. The photos and the findings are never changed. If something goes wrong, the last dossier stays as it was.

  --edition NAME   who reads it: purchase (default), progress, evidence, history
  --out DIR        where to put it; default <job>/out. Replaced whole, so it must be empty, new or an older dossier
  --lang LANGUAGE  en-GB or en-US: trade terms, spelling, and mm or inches; goes before what sillbook.json says
  --pdf KIND       what dossier.pdf is for: record (to keep: PDF/A-2a, the default), share (to mail: smaller photos),
                   data (to go on with: PDF/A-3a, with the findings as typed, dossier.json and the list of originals inside)
  --one-file       besides, ${oneFileName}: everything in one file that opens on any phone, photos reduced, marks in
                   their pixels
  --limit MB       what that file may weigh, ${usualLimitBytes / 1e6} where nothing is said; above ${highestBytes / 1e6} it is not made
  --any-size       makes it however large it is
  --rehash         read and hash every photo again, also those whose size and times are as at the last build; an issue
                   always does
  --all            show every notice, not only the first two of a kind
  --json           print what was made, and all notices, as JSON

Examples
  sillbook build my-job
  sillbook build my-job --edition evidence --out ~/Desktop/for-the-insurer
  sillbook build my-job --one-file --limit 10
`;

/** `sillbook build`. */
export async function command(args: string[]): Promise<ExitCode> {
  const parsed = parse(args, { edition: { type: 'string', default: 'purchase' }, out: { type: 'string' }, lang: { type: 'string' }, pdf: { type: 'string', default: 'record' }, ...oneFileArguments, rehash: { type: 'boolean' }, all: { type: 'boolean' }, json: { type: 'boolean' } }, help);
  if (!parsed) return 0;
  const job = onlyJob(parsed.positionals, 'build');
  const { edition, rehash = false, all = false, json = false } = parsed.values;
  checkEdition(edition);
  const language = languageOf(parsed.values.lang);
  const pdf = pdfKindOf(parsed.values.pdf);
  const oneFile = oneFileFrom(parsed.values);
  const out = parsed.values.out ?? path.join(job, 'out');
  const fault = await outputFault(out, job);
  if (fault) throw new WrongUse(fault, 'Choose another folder with --out.');
  const made = await make(job, out, { edition, issue: null, issued: [], all, json, rehash, pdf, oneFile, ...language });
  if (!made.dossier) return 1;
  const file = made.oneFile ? path.resolve(out, oneFileName) : null;
  if (json) process.stdout.write(`${JSON.stringify({ out: path.resolve(out), edition, ...(oneFile ? { oneFile: file } : {}), notices: made.notices }, null, 2)}\n`);
  else process.stdout.write(`${summary(made.dossier, out)}${file ? `\n  or ${file}, ${oneFileText(made)}` : ''}\n`);
  return oneFile && !file ? 1 : 0;
}

/** Arguments for the one-file edition, of every command that makes one. */
export const oneFileArguments = { 'one-file': { type: 'boolean' }, limit: { type: 'string' }, 'any-size': { type: 'boolean' } } as const;

/** What they ask for, null where they ask for no such file; wrong use where they cannot be meant. */
export function oneFileFrom({ 'one-file': asked = false, limit, 'any-size': anySize = false }: { 'one-file'?: boolean; limit?: string; 'any-size'?: boolean }): BuildOptions['oneFile'] {
  if (!asked && (limit !== undefined || anySize)) throw new WrongUse(`${limit === undefined ? '--any-size' : '--limit'} is for the one-file edition.`, 'Ask for that with --one-file.');
  if (limit !== undefined && !(/^\d+(\.\d+)?$/.test(limit) && Number(limit) > 0)) throw new WrongUse(`"${limit}" is no size in MB.`, 'For example: --limit 10');
  return asked ? { limitBytes: limit === undefined ? usualLimitBytes : Number(limit) * 1e6, anySize } : null;
}

/** "3.2 MB, photos 1200 pixels wide at most". */
export function oneFileText({ oneFile }: Pick<Built, 'oneFile'>): string {
  return oneFile ? `${numberText(oneFile.bytes / 1e6, 1)} MB, photos ${oneFile.widthPx} pixels wide at most` : '';
}

/** Wrong use where there is no such edition. */
export function checkEdition(edition: string): void {
  const known = editionIds();
  if (!known.includes(edition)) throw new WrongUse(`There is no edition "${edition}".`, `Choose one of ${known.join(', ')}.`);
}

/** What the PDF is to be for; wrong use where there is no such kind. */
export function pdfKindOf(asked: string): PdfKind {
  const kind = pdfKinds.find((one) => one === asked);
  if (!kind) throw new WrongUse(`There is no PDF "${asked}".`, `Choose one of ${pdfKinds.join(', ')}.`);
  return kind;
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
  const inspected = await inspect(job, { clock: clock(), skip: [path.resolve(out)], sensitivity: depth === 'build', onProgress, ...more });
  return inspected ?? (await noJob(job));
}

/** Wrong use: a job that is no folder, or none that can be opened. */
export async function noJob(job: string, opened = false): Promise<never> {
  const found = await stat(job).catch(() => null);
  throw new WrongUse(opened ? `There are no findings in ${job}.` : found ? `${job} is not a folder that can be opened.` : `There is no folder ${job}.`, 'Name the job folder, the one that holds findings.md.');
}

/** Inspects, builds and says what there is to say. `dossier` is null where errors in the job stopped it. */
export async function make(
  job: string,
  out: string,
  options: { edition: string; issue: Parameters<typeof build>[1]['issue']; issued: Dossier[]; all: boolean; json: boolean; strict?: boolean; rehash: boolean; pdf: PdfKind; oneFile?: BuildOptions['oneFile']; language?: Language },
): Promise<Built> {
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
