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

/** What a disk may refuse, in words. */
const diskTroubles: Record<string, string> = {
  EACCES: 'No permission to write',
  EPERM: 'No permission to write',
  EROFS: 'The disk takes no writing',
  ENOSPC: 'The disk is full',
  EDQUOT: 'The disk quota is used up',
  EIO: 'The disk reports an error',
};

/** Runs the command line; never rejects on what a user typed or a job holds. */
export async function run(args: string[]): Promise<ExitCode> {
  const [name = '', ...rest] = args;
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
      say('Interrupted; the last dossier is as it was. The next run goes on with the pictures that are made.');
      return 130;
    }
    const { code, message } = fault as NodeJS.ErrnoException;
    const trouble = diskTroubles[code ?? ''];
    if (trouble === undefined) throw fault;
    say(`${trouble} (${message.replace(/^[A-Z]+: /, '')}). What was there before is as it was; build can put the dossier elsewhere with --out.`);
    return 1;
  }
}
