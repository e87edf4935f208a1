import { lstat, readFile } from 'node:fs/promises';
import path from 'node:path';
import { build, inspect } from '../job.ts';
import type { Inspected, Progress } from '../job.ts';
import type { Dossier } from '../model/dossier.ts';
import { visible } from '../model/notice.ts';
import type { Notice } from '../model/notice.ts';
import { todoRules } from '../place/checks/index.ts';
import { editionIds } from '../read/editions.ts';
import { gather } from '../seal/gather.ts';
import { packBag } from '../seal/pack.ts';
import type { Packed } from '../seal/pack.ts';
import { folderSink, zipSink } from '../seal/sink.ts';
import { openStaging } from '../seal/staging.ts';
import type { Staging } from '../seal/staging.ts';
import { countText, numberText } from '../units.ts';
import { checkEdition, noJob, openCache } from './build.ts';
import { version } from './package-root.ts';
import { clock, interruptible, levelCounts, noticeLines, onlyJob, parse, progress, say, WrongUse } from './terminal.ts';
import type { ExitCode } from './terminal.ts';
import { tokenLines } from './verify.ts';

const help = `sillbook pack <job> [--to PATH] [--zip] [--editions NAME,…] [--without-originals] [--timestamp FILE.tsr]
              [--all] [--json]

Puts everything of a car into one archive that can be read and checked in ten years without this program: the originals of
all visits and every other file of the job byte for byte, its issues, a dossier for each reader, lists of hashes, and a README.
It is a bag (RFC 8493, SHA-256 and SHA-512). The job is never changed, nothing is ever overwritten, and the same job gives the same
bytes. Each file is read once and hashed as it is written.

  --to PATH            where to put it; default beside the job, <job>-bag or <job>-bag.zip
  --zip                one ZIP file instead of a folder
  --editions NAME,…    which dossiers; default purchase,progress,evidence,history
  --without-originals  a public copy: no originals, whose photos tell place, device and owner; their hashes stay
  --timestamp FILE.tsr puts a time stamp (RFC 3161) over manifest-sha256.txt into the bag, after checking it. Pack once,
                       have manifest-sha256.txt stamped, pack again with the token: both manifests are the same
  --all                show every notice, not only the first two of a kind
  --json               print what was made, and all notices, as JSON

Examples
  sillbook pack larkspur
  sillbook pack larkspur --zip --to /media/disk/larkspur.zip
  sillbook pack larkspur --without-originals --editions history
`;

const options = { to: { type: 'string' }, zip: { type: 'boolean' }, editions: { type: 'string' }, 'without-originals': { type: 'boolean' }, timestamp: { type: 'string' }, all: { type: 'boolean' }, json: { type: 'boolean' } } as const;

/** What was asked for. */
interface Asked {
  job: string;
  target: string;
  zip: boolean;
  editions: string[];
  publicCopy: boolean;
  token: Uint8Array | null;
  all: boolean;
  json: boolean;
}

/** `sillbook pack`. */
export async function command(args: string[]): Promise<ExitCode> {
  const parsed = parse(args, options, help);
  if (!parsed) return 0;
  const { to, zip = false, editions, timestamp, all = false, json = false } = parsed.values;
  const job = onlyJob(parsed.positionals, 'pack');
  const chosen = editions === undefined ? editionIds() : [...new Set(editions.split(',').map((name) => name.trim()))];
  for (const edition of chosen) checkEdition(edition);
  const token = timestamp === undefined ? null : await readFile(timestamp).catch((fault: NodeJS.ErrnoException) => Promise.reject(new WrongUse(`${timestamp} cannot be read (${fault.code}).`, 'Name the token the authority sent.')));
  const target = path.resolve(to ?? `${path.resolve(job)}-bag${zip ? '.zip' : ''}`);
  const made = await make({ job, target, zip, editions: chosen, publicCopy: parsed.values['without-originals'] ?? false, token, all, json });
  if (!made.packed?.manifestSha256) return 1;
  tell(target, made.packed, made.notices, json);
  return 0;
}

async function make(asked: Asked): Promise<{ packed: Packed | null; notices: Notice[] }> {
  const line = progress();
  const stop = interruptible();
  let staging: Staging | null = null;
  try {
    await checkFree(asked.target);
    const inspected = (await inspect(asked.job, { clock: clock(), skip: [asked.target], sensitivity: true, onProgress: line.step, signal: stop.signal })) ?? (await noJob(asked.job));
    checkOutside(asked.target, inspected.folder.car);
    const visits = [...new Set([...inspected.earlier.map(({ inspection }) => inspection.job.visit ?? ''), inspected.folder.name, ''])].toSorted((a, b) => b.length - a.length);
    const gathered = await gather(inspected.folder.car, visits);
    let notices = [...inspected.notices, ...gathered.notices];
    let packed: Packed | null = null;
    if (!failed(notices)) {
      staging = await openStaging(asked.target);
      const built = await buildAll(inspected, asked, path.join(staging.folder, 'bag', 'data', 'dossiers'), line.step, stop.signal);
      notices = distinct([...notices, ...built.notices]);
      const [first] = built.dossiers;
      if (first && !failed(notices)) {
        packed = await fill({ ...asked, staging, inspected, visits, files: gathered.files, dossiers: built.dossiers, first, onProgress: (done, total) => line.step('Packing', done, total), signal: stop.signal });
        notices = [...notices, ...packed.notices];
      }
      if (packed?.manifestSha256) await staging.finish(path.join(staging.folder, asked.zip ? 'bag.zip' : 'bag'));
    }
    line.end();
    report(notices, asked, packed?.manifestSha256 == null);
    return { packed, notices };
  } finally {
    line.end();
    stop.release();
    await staging?.discard();
  }
}

/** Never over anything, which is known before the job is read. */
async function checkFree(target: string): Promise<void> {
  if (await lstat(target).catch(() => null)) throw new WrongUse(`${target} exists already and is never overwritten.`, 'Name another place with --to, or move it away.');
}

/** Never into the job, which would be packed in itself the next time. */
function checkOutside(target: string, car: string): void {
  const inside = path.relative(path.resolve(car), target);
  if (!inside.startsWith('..') && !path.isAbsolute(inside)) throw new WrongUse(`${target} lies in the job and would be packed in itself the next time.`, 'Name a place outside with --to.');
}

/** Every dossier, one after the other, in this process: a killed run leaves no other behind that would go on writing. */
async function buildAll(inspected: Inspected, { job, editions }: Asked, folder: string, onProgress: Progress, signal: AbortSignal): Promise<{ dossiers: { edition: string; folder: string; dossier: Dossier }[]; notices: Notice[] }> {
  const cache = await openCache(path.join(job, '.sillbook'));
  const dossiers: { edition: string; folder: string; dossier: Dossier }[] = [];
  const notices: Notice[] = [];
  try {
    for (const edition of editions) {
      const out = path.join(folder, edition);
      const made = await build(inspected, { out, cache: cache.folder, edition, issue: null, issued: [], rehash: true, version: await version(), onProgress, signal });
      notices.push(...made.notices);
      if (made.dossier === null) return { dossiers: [], notices };
      dossiers.push({ edition, folder: out, dossier: made.dossier });
    }
    return { dossiers, notices };
  } finally {
    await cache.close();
  }
}

type Filling = Asked & { staging: Staging; inspected: Inspected; visits: string[]; files: Awaited<ReturnType<typeof gather>>['files']; dossiers: { edition: string; folder: string; dossier: Dossier }[]; first: { dossier: Dossier }; onProgress: (done: number, total: number) => void; signal: AbortSignal };

async function fill(filling: Filling): Promise<Packed> {
  const { staging, zip, target, inspected, visits, files, dossiers, publicCopy, token, onProgress, signal } = filling;
  const { dossier } = filling.first;
  const { today } = clock();
  const all = [inspected, ...inspected.earlier];
  const expected = new Map(all.flatMap(({ inspection, texts }) => [...inspection.job.photos.map(({ path: name, sha256 }) => [name, sha256] as const), ...texts.map(({ path: name, sha256 }) => [name, sha256] as const)]));
  const root = path.basename(target).replace(/\.zip$/i, '');
  const sink = zip ? await zipSink(path.join(staging.folder, 'bag.zip'), root, today) : folderSink(path.join(staging.folder, 'bag'));
  const input = {
    files,
    expected,
    dossiers,
    visits,
    readme: { title: dossier.title, seenOn: dossier.seenOn, editions: dossiers.map((one) => ({ id: one.edition, title: one.dossier.edition.title, reader: one.dossier.edition.reader })) },
    publicCopy,
    info: [
      ['Source-Organization', inspected.inspection.job.settings.workshop ?? ''],
      ['Bagging-Date', today],
      ['External-Identifier', root],
      ['External-Description', `Record of one car: ${dossier.title}${publicCopy ? '. Public copy: the originals are left out, their hashes stay' : ''}`],
      ['Bag-Software-Agent', `Sillbook ${await version()}`],
    ] as const,
    token,
    onProgress,
    signal,
  };
  return packBag(input, sink);
}

function failed(notices: readonly Notice[]): boolean {
  return notices.some((notice) => notice.level === 'error');
}

/** What several editions say alike is said once. */
function distinct(notices: readonly Notice[]): Notice[] {
  return [...new Map(notices.map((notice) => [JSON.stringify(notice), notice])).values()];
}

function report(notices: readonly Notice[], { all, json }: Asked, stopped: boolean): void {
  if (json && stopped) process.stdout.write(`${JSON.stringify({ bag: null, notices }, null, 2)}\n`);
  if (!json) for (const line of noticeLines(notices.filter((notice) => all || !todoRules.includes(notice.rule)), process.stderr, all)) say(line);
  if (stopped) say(`Nothing was packed: ${levelCounts(notices)}. Mend the errors and pack again.`);
}

function tell(target: string, packed: Packed, notices: readonly Notice[], json: boolean): void {
  if (json) {
    process.stdout.write(`${JSON.stringify({ bag: target, files: packed.files, bytes: packed.bytes, manifestSha256: packed.manifestSha256, timestamp: packed.token, notices }, null, 2)}\n`);
    return;
  }
  process.stdout.write(`${visible(target)}: ${countText(packed.files, 'file', 'files')}, ${numberText(packed.bytes / 1e6, 1)} MB.\nHash of manifest-sha256.txt: ${packed.manifestSha256}\n`);
  for (const line of tokenLines(packed.token)) process.stdout.write(`${visible(line)}\n`);
  say('Lodge the hash with somebody else, for example in the mail to the insurer: beside the files alone it proves nothing.');
}
