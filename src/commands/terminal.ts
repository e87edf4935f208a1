import { parseArgs } from 'node:util';
import type { ParseArgsConfig } from 'node:util';
import type { Clock } from '../model/job.ts';
import { noticeLine } from '../model/notice.ts';
import type { Notice } from '../model/notice.ts';
import { todoRules } from '../place/checks/index.ts';
import { listText } from '../units.ts';

/** Exit codes: 0 done, 1 errors in the job, 2 wrong use, 130 interrupted. */
export type ExitCode = 0 | 1 | 2 | 130;

/** A command line that cannot be meant; the command ends with exit code 2. */
export class WrongUse extends Error {
  readonly advice: string;
  constructor(message: string, advice: string) {
    super(message);
    this.advice = advice;
  }
}

/** A line for people, on standard error. */
export function say(line: string): void {
  process.stderr.write(`${line}\n`);
}

type Options = NonNullable<ParseArgsConfig['options']>;

/** Arguments of one command; unknown options and missing values are wrong use. Null where help was asked for and printed. */
export function parse<T extends Options>(args: string[], options: T, help: string) {
  try {
    const parsed = parseArgs({ args, options: { ...options, help: { type: 'boolean', short: 'h' } }, allowPositionals: true, strict: true });
    if ((parsed.values as { help?: boolean }).help) {
      process.stdout.write(help);
      return null;
    }
    return parsed as ReturnType<typeof parseArgs<{ args: string[]; options: T; allowPositionals: true }>>;
  } catch (fault) {
    throw new WrongUse((fault as Error).message.split('. ')[0]?.replace(/\.?$/, '.') ?? '', 'The command tells its options with --help.');
  }
}

/** The one job folder a command takes. */
export function onlyJob(positionals: readonly string[], command: string): string {
  const [job, ...more] = positionals;
  if (job === undefined) throw new WrongUse(`sillbook ${command} needs a job folder.`, `For example: sillbook ${command} my-job`);
  if (more.length > 0) throw new WrongUse(`sillbook ${command} takes one job folder, but got ${positionals.length}.`, 'Put a name with spaces in quotes.');
  return job;
}

/** Today, from SOURCE_DATE_EPOCH (reproducible-builds.org) where set, so that a build can be repeated to the byte. */
export function clock(): Clock {
  const epoch = process.env['SOURCE_DATE_EPOCH'];
  const now = epoch !== undefined && /^\d+$/.test(epoch) ? new Date(Number(epoch) * 1000) : new Date();
  return { today: now.toISOString().slice(0, 10) };
}

/** The command as the user ran it: by name, or through npm in a checkout. */
export function commandName(): string {
  return process.env['npm_lifecycle_event'] ? 'npm run -s sillbook --' : 'sillbook';
}

/** A path as it can be pasted into a shell. */
export function quoted(file: string): string {
  return /^[\w@%+=:,./-]+$/.test(file) ? file : `"${file.replace(/(["\\$`])/g, '\\$1')}"`;
}

/** Colours only on a terminal and where NO_COLOR (no-color.org) is not set. */
function coloured(stream: NodeJS.WriteStream): boolean {
  return stream.isTTY === true && !process.env['NO_COLOR'];
}

const colours = { error: '\u001B[31m', warning: '\u001B[33m', note: '\u001B[2m' } as const;

/** Notices as lines, in the order of file and line; about files, of one rule two are shown, then how many more, unless there are three at most. */
export function noticeLines(notices: readonly Notice[], stream: NodeJS.WriteStream, all: boolean): string[] {
  const sorted = (all ? notices : blanksTogether(notices)).toSorted(byPlace);
  const counts = new Map<string, number>();
  for (const { rule } of sorted) counts.set(rule, (counts.get(rule) ?? 0) + 1);
  const shown = new Map<string, number>();
  const lines: string[] = [];
  for (const notice of sorted) {
    const total = counts.get(notice.rule) ?? 0;
    const before = shown.get(notice.rule) ?? 0;
    shown.set(notice.rule, before + 1);
    if (!all && folds(notice) && total > 3 && before >= 2) {
      if (before === 2) lines.push(`  ${total - 2} more ${notice.rule} (--all shows them)`);
      continue;
    }
    const line = noticeLine(notice);
    lines.push(coloured(stream) ? line.replace(` ${notice.level} `, ` ${colours[notice.level]}${notice.level}\u001B[0m `) : line);
  }
  return lines;
}

/** Lines left without a value, most of them the template's, as one notice at the first of them; up to three stand as they are. */
function blanksTogether(notices: readonly Notice[]): Notice[] {
  const blanks = notices.filter(({ rule }) => rule === 'value-missing').toSorted(byPlace);
  const [first] = blanks;
  if (!first || blanks.length <= 3) return [...notices];
  const keys = blanks.map(({ found }) => /"(.*):"/.exec(found)?.[1] ?? found);
  const found = `${blanks.length} lines have no value yet: ${listText(keys)}`;
  return [...notices.filter((notice) => !blanks.includes(notice)), { ...first, found, advice: 'Fill them in or take them out (--all shows each).' }];
}

/** Errors and what the findings' own lines are told are always shown in full: those are to be mended. */
function folds(notice: Notice): boolean {
  return notice.level !== 'error' && (notice.spot?.line === undefined || todoRules.includes(notice.rule));
}

function byPlace(a: Notice, b: Notice): number {
  const [left, right] = [a.spot?.file ?? '', b.spot?.file ?? ''];
  if (left !== right) return left < right ? -1 : 1;
  return (a.spot?.line ?? 0) - (b.spot?.line ?? 0) || (a.spot?.column ?? 0) - (b.spot?.column ?? 0) || (a.rule < b.rule ? -1 : a.rule > b.rule ? 1 : 0);
}

/** "2 errors, 14 warnings, 3 notes". */
export function levelCounts(notices: readonly Notice[]): string {
  const counts = (['error', 'warning', 'note'] as const).map((level) => ({ level, count: notices.filter((one) => one.level === level).length }));
  const parts = counts.filter(({ count }) => count > 0).map(({ level, count }) => `${count} ${level}${count === 1 ? '' : 's'}`);
  return parts.length === 0 ? 'no notices' : parts.join(', ');
}

/** A line that counts along on a terminal, with the time left of the stage it is in, and stays silent elsewhere. */
export function progress(): { step(stage: string, done: number, total: number): void; end(): void } {
  const { stderr } = process;
  if (!stderr.isTTY) return { step() {}, end() {} };
  let [current, started, last] = ['', 0, 0];
  return {
    step(stage, done, total) {
      const now = performance.now();
      if (stage !== current) [current, started, last] = [stage, now, 0];
      if (now - last < 100 && done < total) return;
      last = now;
      const left = done === 0 ? '' : `, about ${Math.ceil(((now - started) / done) * (total - done) / 1000)} s left`;
      stderr.write(`\r\u001B[K${stage}: ${done} of ${total}${done < total ? left : ''}`);
    },
    end() {
      stderr.write('\r\u001B[K');
    },
  };
}

/** A signal that fires on Ctrl-C or a kill, so that a build can clean up after itself. */
export function interruptible(): { signal: AbortSignal; release(): void } {
  const controller = new AbortController();
  const stop = (): void => controller.abort();
  process.once('SIGINT', stop);
  process.once('SIGTERM', stop);
  return {
    signal: controller.signal,
    release() {
      process.off('SIGINT', stop);
      process.off('SIGTERM', stop);
    },
  };
}
