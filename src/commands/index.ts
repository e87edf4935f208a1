import { tmpdir } from 'node:os';
import { visible } from '../model/notice.ts';
import { version } from './package-root.ts';
import { say, WrongUse } from './terminal.ts';
import type { ExitCode } from './terminal.ts';

const help = `Sillbook turns a folder of photos and a findings file into a dossier: a site that opens from disk, and a PDF.

  sillbook new <photos…> --into <job>     make a job folder and a findings file from photos
  sillbook check <job>                    read the job and say what is wrong and what is still to do
  sillbook build <job>                    make the dossier, as a draft, in <job>/out
  sillbook watch <job>                    show the site in the browser while you write
  sillbook issue <job> --number N --date D   freeze a dossier for handing over
  sillbook compare <visit> <visit>        say what came of everything from one visit to another
  sillbook pack <job>                     put everything of a car into one archive, with lists of hashes
  sillbook verify <bag, zip or dossier>   compare files with their own lists of hashes
  sillbook grid <photo>                   draw points on a photo, to count how much of it is rusted

Each command tells more with --help. Exit codes: 0 done, 1 errors in the job, 2 wrong use, 130 interrupted.

Examples
  sillbook new ~/Pictures/car --into larkspur
  sillbook check larkspur
  sillbook build larkspur --edition evidence
`;

const commands: Record<string, () => Promise<{ command: (args: string[]) => Promise<ExitCode> }>> = {
  new: () => import('./new.ts'),
  check: () => import('./check.ts'),
  build: () => import('./build.ts'),
  watch: () => import('./watch.ts'),
  issue: () => import('./issue.ts'),
  compare: () => import('./compare.ts'),
  pack: () => import('./pack.ts'),
  verify: () => import('./verify.ts'),
  grid: () => import('./grid.ts'),
};

/** What a command that did not come to its end leaves, and what to do where a disk refuses. */
const unfinished: Record<string, { left: string; next: string; advice: string }> = {
  build: { left: 'the last dossier is as it was', next: ' The next run goes on with the pictures that are made.', advice: 'build can put the dossier elsewhere with --out' },
  issue: { left: 'nothing was issued, and issues before are as they were', next: ' The next run goes on with the pictures that are made.', advice: 'make room or allow writing, and issue again' },
  pack: { left: 'nothing was packed, and the job is as it was', next: ' The next run goes on with the pictures that are made.', advice: 'pack can put the bag elsewhere with --to' },
};
/** Of those that make nothing which could be half made. */
const others = { left: 'what was there before is as it was', next: '', advice: 'allow it, or name another place' };

/** What a disk may refuse, in words. */
const diskTroubles: Record<string, string> = {
  EACCES: 'No permission',
  EPERM: 'No permission',
  EROFS: 'The disk takes no writing',
  ENOSPC: 'The disk is full',
  EDQUOT: 'The disk quota is used up',
  EIO: 'The disk reports an error',
};

/** Runs the command line; never rejects on what a user typed or a job holds. */
export async function run(args: string[]): Promise<ExitCode> {
  const [name = '', ...rest] = args;
  const { left, next, advice } = unfinished[name] ?? others;
  try {
    if (['', '--help', '-h', 'help'].includes(name)) {
      (name === '' ? process.stderr : process.stdout).write(help);
      return name === '' ? 2 : 0;
    }
    if (name === '--version' || name === '-V') {
      process.stdout.write(`${await version()}\n`);
      return 0;
    }
    const load = commands[name];
    if (!load) throw new WrongUse(`There is no command "${name}".`, 'sillbook --help lists the commands.');
    return await (await load()).command(rest);
  } catch (fault) {
    if (fault instanceof WrongUse) {
      say(`${fault.message} ${fault.advice}`);
      return 2;
    }
    if ((fault as Error).name === 'AbortError') {
      say(`Interrupted; ${left}.${next}`);
      return 130;
    }
    const { code, message } = refusal(fault);
    const trouble = diskTroubles[code ?? ''];
    if (trouble === undefined) throw fault;
    const passing = code === 'ENOSPC' && name in unfinished ? ` What is only passing goes to ${tmpdir()}, which must not be full either; TMPDIR names another folder.` : '';
    say(`${trouble} (${visible(message.replace(/^[A-Z]+: /, ''))}). ${left.replace(/^./, (letter) => letter.toUpperCase())}; ${advice}.${passing}`);
    return 1;
  }
}

/** What the disk refused. Makers of pages put it into a text of their own, which may be long. */
function refusal(fault: unknown): { code: string | undefined; message: string } {
  const { code, message = '' } = fault as NodeJS.ErrnoException;
  const within = code === undefined || !(code in diskTroubles) ? /ENOSPC: [^\n]*|No space left on device/.exec(message) : null;
  return within ? { code: 'ENOSPC', message: within[0] } : { code, message };
}
