import { watch } from 'node:fs';
import { mkdtemp, readdir, realpath, rm } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { preview } from '../job.ts';
import type { Notice } from '../model/notice.ts';
import { todoRules } from '../place/checks/index.ts';
import { openMemory } from '../read/photos/memory.ts';
import { checkEdition, inspectFor, languageOf, noJob, openCache } from './build.ts';
import { version } from './package-root.ts';
import { servePreview } from './preview/server.ts';
import { interruptible, levelCounts, onlyJob, parse, progress, say, WrongUse } from './terminal.ts';
import type { ExitCode } from './terminal.ts';

const help = `sillbook watch <job> [--edition NAME] [--lang LANGUAGE] [--port N]

Shows the site of a job in the browser while you write: after every change of the findings, the settings or the photos the
open page loads itself again, with what is to be mended above it. Ends with Ctrl-C. It makes no PDF and touches nothing
in the job; build makes the dossier.

  --edition NAME   who reads it: purchase (default), progress, evidence, history
  --lang LANGUAGE  en-GB or en-US, instead of the one in sillbook.json
  --port N         port of the address; default 4242, or another one where that is taken

Example
  sillbook watch my-job
`;

const usualPort = 4242;
/** Editors write a file in several strokes; one pause gathers them, in milliseconds. */
const pauseMs = 60;

/** `sillbook watch`. */
export async function command(args: string[]): Promise<ExitCode> {
  const parsed = parse(args, { edition: { type: 'string', default: 'purchase' }, lang: { type: 'string' }, port: { type: 'string' } }, help);
  if (!parsed) return 0;
  const job = onlyJob(parsed.positionals, 'watch');
  const { edition, lang, port } = parsed.values;
  checkEdition(edition);
  const language = languageOf(lang);
  if (port !== undefined && !/^\d{1,5}$/.test(port)) throw new WrongUse(`"${port}" is no port.`, 'A port is a number such as 4242.');
  await readdir(job).catch(() => noJob(job));
  const work = await realpath(await mkdtemp(path.join(os.tmpdir(), 'sillbook-')));
  const stop = interruptible();
  const cache = await openCache(path.join(job, '.sillbook'));
  const site = path.join(work, 'out');
  let notices: Notice[] = [];
  let fresh: Notice[] = [];
  let known: Set<string> | null = null;
  let stale = false;
  // Followed from before the first reading, so that nothing typed meanwhile is missed.
  const changes = changesIn(job, stop.signal);
  try {
    const make = async (): Promise<void> => {
      const line = progress();
      const memory = await openMemory(path.join(job, '.sillbook'), { trust: true });
      const inspected = await inspectFor(job, path.join(job, 'out'), line.step, 'build', { memory, signal: stop.signal, ...language });
      await memory.save().catch(() => undefined);
      const made = await preview(inspected, { site, work, cache: cache.folder, edition, version: await version(), onProgress: line.step, signal: stop.signal });
      line.end();
      // At the start nothing is news; after that, what the last pages that could be made did not have.
      fresh = known === null ? [] : made.notices.filter((notice) => !known?.has(lineWithoutPlace(notice)));
      notices = made.notices;
      stale = made.dossier === null;
      if (!stale || known === null) known = new Set(notices.map(lineWithoutPlace));
      const todo = notices.filter((notice) => todoRules.includes(notice.rule)).length;
      say(`${stale ? 'Not made' : 'Made'}: ${levelCounts(notices.filter((notice) => !todoRules.includes(notice.rule)))}${todo > 0 ? `; ${todo} still to do at the car` : ''}`);
    };
    await make();
    const server = await serve(port, { site, pictures: cache.folder, state: () => ({ notices, fresh, stale, todoRules }) });
    process.stdout.write(`Open ${server.address}\nCtrl-C ends it.\n`);
    while (await changes.next()) {
      await make().then(() => server.changed(), (fault: Error) => {
        if (fault.name !== 'AbortError') say(`Not made: ${fault.message}`);
      });
    }
    await server.close();
    return 0;
  } finally {
    changes.close();
    stop.release();
    await cache.close();
    await rm(work, { recursive: true, force: true });
  }
}

/** A notice as it is told from others: a line that only moved down brings no news. */
function lineWithoutPlace({ rule, found, advice = '' }: Notice): string {
  return [rule, found, advice].join('\n');
}

/** The port asked for must be free; the usual one gives way to any. */
async function serve(port: string | undefined, options: Omit<Parameters<typeof servePreview>[0], 'port'>): ReturnType<typeof servePreview> {
  try {
    return await servePreview({ ...options, port: Number(port ?? usualPort) });
  } catch (fault) {
    if (port !== undefined && (fault as NodeJS.ErrnoException).code === 'EADDRINUSE') throw new WrongUse(`Port ${port} is taken.`, 'Name another with --port, or none.');
    if (port !== undefined) throw fault;
    return servePreview({ ...options, port: 0 });
  }
}

/** Changes in the job, but never those in what is made from it. `next` waits for one, and gives false once the signal came. */
function changesIn(job: string, signal: AbortSignal): { next(): Promise<boolean>; close(): void } {
  let wake: () => void = () => undefined;
  let changed = false;
  const watcher = watch(job, { recursive: true }, (_, name) => {
    const [first = ''] = (name ?? '').split(path.sep);
    if (first.startsWith('.') || ['out', 'issues', 'grids'].includes(first)) return;
    changed = true;
    wake();
  });
  watcher.on('error', (fault) => say(`The folder can no longer be followed (${fault.message}).`));
  signal.addEventListener('abort', () => wake());
  return {
    async next() {
      if (!changed && !signal.aborted) await new Promise<void>((resolve) => { wake = resolve; });
      if (!signal.aborted) await new Promise((resolve) => setTimeout(resolve, pauseMs));
      changed = false;
      return !signal.aborted;
    },
    close: () => watcher.close(),
  };
}
