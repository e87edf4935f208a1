import { chmod, readdir, readFile, stat } from 'node:fs/promises';
import path from 'node:path';
import { dossierSchema } from '../model/dossier.ts';
import type { Dossier } from '../model/dossier.ts';
import { visible } from '../model/notice.ts';
import { byCodeUnit } from '../model/order.ts';
import { dataName } from '../print/data/index.ts';
import { oneFileName } from '../print/one-file/index.ts';
import { checkEdition, languageOf, make, oneFileArguments, oneFileFrom, oneFileText, pdfKindOf } from './build.ts';
import { onlyJob, parse, say, WrongUse } from './terminal.ts';
import type { ExitCode } from './terminal.ts';

const help = `sillbook issue <job> --number N --date D [--edition NAME] [--lang LANGUAGE]
               [--pdf record|share|data] [--one-file [--limit MB] [--any-size]] [--all] [--json]

Freezes a dossier for handing over: the same as build, with number and date on it and the list of changes against the
last one for the same reader, in <job>/issues/N. An issue is never written again; a correction is a new issue with a new number.

  --number N       number of the issue, for example 2026-014: letters, digits, dots and hyphens
  --date D         date of issue, for example 2026-03-15
  --edition NAME   who reads it: purchase (default), progress, evidence, history
  --lang LANGUAGE  en-GB or en-US, instead of the one in sillbook.json
  --pdf KIND       what dossier.pdf is for: record (to keep, the default), share (to mail), data (with files inside)
  --one-file       besides, everything in one file, as build makes it, with its --limit and --any-size; where that would be
                   too large, nothing is issued
  --all            show every notice, not only the first two of a kind
  --json           print what was made, and all notices, as JSON

Example
  sillbook issue my-job --number 2026-014 --date 2026-03-15 --edition evidence
`;

/** `sillbook issue`. */
export async function command(args: string[]): Promise<ExitCode> {
  const options = { number: { type: 'string' }, date: { type: 'string' }, edition: { type: 'string', default: 'purchase' }, lang: { type: 'string' }, pdf: { type: 'string', default: 'record' }, ...oneFileArguments, all: { type: 'boolean' }, json: { type: 'boolean' } } as const;
  const parsed = parse(args, options, help);
  if (!parsed) return 0;
  const job = onlyJob(parsed.positionals, 'issue');
  const { number, date, edition, all = false, json = false } = parsed.values;
  if (!number || !/^[A-Za-z0-9][A-Za-z0-9.-]{0,63}$/.test(number)) throw new WrongUse('An issue needs --number, made of letters, digits, dots and hyphens.', 'For example: --number 2026-014');
  if (!date || !isDay(date)) throw new WrongUse('An issue needs --date as year-month-day, a day that exists.', 'For example: --date 2026-03-15');
  checkEdition(edition);
  const language = languageOf(parsed.values.lang);
  const pdf = pdfKindOf(parsed.values.pdf);
  const oneFile = oneFileFrom(parsed.values);
  const folder = path.join(job, 'issues', number);
  if (await stat(folder).catch(() => null)) throw new WrongUse(`Issue ${number} exists already and is never written again.`, 'Give a correction a number of its own.');
  const issued = await issuesOf(path.join(job, 'issues'));
  const before = issued.at(-1);
  if (before?.status.kind === 'issue' && before.status.date > date) throw new WrongUse(`${date} lies before issue ${before.status.number} of ${before.status.date}.`, 'Issues follow each other; give the day of handing over.');
  const made = await make(job, folder, { edition, issue: { number, date }, issued, all, json, strict: true, rehash: true, pdf, oneFile, ...language });
  if (!made.dossier) return 1;
  await freeze(folder);
  if (json) {
    process.stdout.write(`${JSON.stringify({ out: path.resolve(folder), number, date, edition, originals: made.dossier.originals, notices: made.notices }, null, 2)}\n`);
    return 0;
  }
  process.stdout.write(`${visible(made.dossier.title)}: issue ${number} of ${date}, ${made.dossier.edition.title}.\nHash of the list of originals: ${made.dossier.originals.listSha256}\n`);
  process.stdout.write(`Open ${path.resolve(folder, 'index.html')}\n  or ${path.resolve(folder, 'dossier.pdf')}\n${made.oneFile ? `  or ${path.resolve(folder, oneFileName)}, ${oneFileText(made)}\n` : ''}`);
  say('Lodge the hash with somebody else, for example in the mail to the insurer: beside the photos alone it proves nothing.');
  return 0;
}

function isDay(text: string): boolean {
  const date = new Date(`${text}T00:00:00Z`);
  return /^\d{4}-\d{2}-\d{2}$/.test(text) && !Number.isNaN(date.getTime()) && date.toISOString().startsWith(text);
}

/** The issues of a job that can be read, by date, then by number. */
async function issuesOf(folder: string): Promise<Dossier[]> {
  const issues: { dossier: Dossier; order: string }[] = [];
  for (const name of await readdir(folder).catch(() => [])) {
    const text = await readFile(path.join(folder, name, dataName), 'utf8').catch(() => null);
    if (text === null) continue;
    const parsed = dossierSchema.safeParse(parseJson(text));
    if (!parsed.success) say(`Issue ${name} cannot be read and is left out of the list of changes.`);
    else if (parsed.data.status.kind === 'issue') issues.push({ dossier: parsed.data, order: `${parsed.data.status.date} ${parsed.data.status.number}` });
  }
  return issues.toSorted((a, b) => byCodeUnit(a.order, b.order)).map(({ dossier }) => dossier);
}

function parseJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

/** Takes the right to write from every file of an issue, against slips; who means to can give it back. */
async function freeze(folder: string): Promise<void> {
  for (const entry of await readdir(folder, { recursive: true, withFileTypes: true })) {
    if (entry.isFile()) await chmod(path.join(entry.parentPath, entry.name), 0o444);
  }
}
