import { lstat, mkdir, open, readFile, realpath, rm, stat } from 'node:fs/promises';
import path from 'node:path';
import type { Region } from '../model/rusted-area.ts';
import { wholePicture } from '../model/rusted-area.ts';
import { formatByContent, isRawName } from '../read/photos/format.ts';
import { parse, say, WrongUse } from './terminal.ts';
import type { ExitCode } from './terminal.ts';

const help = `sillbook grid <photo> [--region X1 Y1 X2 Y2] [--points N] [--out FILE.png]

Draws a numbered grid of points over a photo, to count on how many of them there is rust: a share that is counted, not
guessed (systematic manual point count, as in ASTM E562). It prints the line for the findings, its count left open. Tenths
along the edges of the picture are the fractions that marks and regions are written in: without --region the whole photo is
shown, to read them off. The photo is not changed and nothing is put beside it.

  --region X1 Y1 X2 Y2   left, top, right and bottom in fractions of the upright photo; default the whole photo. Choose
                         one that holds painted surface and nothing else
  --points N             a square number from 25 to 400; default 100
  --out FILE.png         where to put it; default <job>/grids/<photo>-grid.png, which is never taken for a photo, or, where
                         the photo is in no job, <photo>-grid.png in the folder you are in. Never over another file

Example
  sillbook grid my-job/photos/IMG_4022.jpg --region 0.1 0.1 0.9 0.8
`;

/** `sillbook grid`. */
export async function command(args: string[]): Promise<ExitCode> {
  const parsed = parse(regionTogether(args), { region: { type: 'string' }, points: { type: 'string', default: '100' }, out: { type: 'string' } }, help);
  if (!parsed) return 0;
  const photo = onlyPhoto(parsed.positionals);
  const region = regionOf(parsed.values.region);
  const side = sideOf(parsed.values.points);
  const bytes = await bytesOf(photo);
  const out = await outFor(photo, parsed.values.out);
  // Loaded here, so that wrong use is told without waiting for it.
  const { drawGrid } = await import('../print/pictures/grid.ts');
  const drawn = await drawGrid(bytes, region, side);
  if ('fault' in drawn) {
    say(`No grid was drawn on ${photo}: ${drawn.fault}. Look for the original, or export it as JPEG.`);
    return 1;
  }
  await mkdir(path.dirname(out), { recursive: true });
  await writeNew(out, drawn.png);
  const points = side * side;
  process.stdout.write(`${path.resolve(out)}: ${points} points, ${side} by ${side}, numbered row by row from the top left.\n\n- rusted points ${region.join(' ')}: ?? of ${points}\n\n`);
  if (drawn.damaged) say('The photo is damaged and drawn as far as it can be read.');
  say('Count the points whose open middle is on rust. One right on the edge of it counts half; round the sum up.');
  say(`A point beside the painted surface, on the floor or a hand, counts in neither number: with 31 on rust and 4 of ${points} beside the surface, write "31 of ${points - 4}".`);
  say('Put the line under the photo in the findings, your count in the place of "??".');
  say(`A suggestion, not a measurement: a rule of colour would say about ${drawn.suggested} of ${points}; count yourself. On public pictures such rules were wrong by 15 to 17 in 100 on average.`);
  return 0;
}

/** `--region 0.1 0.1 0.9 0.8` as one value, as the parser of options takes no more. */
function regionTogether(args: readonly string[]): string[] {
  const at = args.indexOf('--region');
  if (at < 0) return [...args];
  const end = args.findIndex((one, index) => index > at && (index > at + 4 || !/^[-+]?[\d.]+,?$/.test(one)));
  const numbers = args.slice(at + 1, end < 0 ? args.length : end);
  return numbers.length === 0 ? [...args] : [...args.slice(0, at), `--region=${numbers.join(' ')}`, ...args.slice(at + 1 + numbers.length)];
}

function onlyPhoto(positionals: readonly string[]): string {
  const [photo, ...more] = positionals;
  if (photo === undefined) throw new WrongUse('sillbook grid needs a photo.', 'For example: sillbook grid my-job/photos/IMG_4022.jpg');
  if (more.length > 0) throw new WrongUse(`sillbook grid takes one photo, but got ${positionals.length}.`, 'Put a name with spaces in quotes.');
  return photo;
}

function regionOf(written: string | undefined): Region {
  if (written === undefined) return wholePicture;
  const advice = 'It takes left, top, right and bottom in fractions of the photo, as in --region 0.1 0.1 0.9 0.8';
  const [x1, y1, x2, y2, ...more] = written.trim().split(/[\s,]+/).map((word) => (/^\d*\.?\d+$/.test(word) ? Number(word) : NaN));
  if (x1 === undefined || y1 === undefined || x2 === undefined || y2 === undefined || more.length > 0) throw new WrongUse(`"${written}" is no region.`, advice);
  if (![x1, y1, x2, y2].every((one) => one >= 0 && one <= 1)) throw new WrongUse(`"${written}" is not within 0 and 1.`, advice);
  if (x1 === x2 || y1 === y2) throw new WrongUse(`"${written}" has no area.`, advice);
  return [Math.min(x1, x2), Math.min(y1, y2), Math.max(x1, x2), Math.max(y1, y2)];
}

/** Points along one side of the grid. */
function sideOf(written: string): number {
  const points = /^\d{1,4}$/.test(written) ? Number(written) : NaN;
  const side = Math.round(Math.sqrt(points));
  if (side * side === points && points >= 25 && points <= 400) return side;
  throw new WrongUse(`"${written}" is no number of points for a grid.`, 'Choose a square number from 25 to 400, such as 100, 144 or 225.');
}

async function bytesOf(photo: string): Promise<Buffer> {
  const found = await stat(photo).catch(() => null);
  if (!found) throw new WrongUse(`There is no ${photo}.`, 'Check the name; nothing was made.');
  if (!found.isFile()) throw new WrongUse(`${photo} is no file.`, 'Name one photo.');
  const bytes = await readFile(photo).catch(() => null);
  if (!bytes) throw new WrongUse(`${photo} cannot be opened.`, 'Allow reading it; nothing was made.');
  if (formatByContent(bytes) === null || isRawName(photo)) throw new WrongUse(`${photo} is not a picture Sillbook takes.`, 'Name a JPEG, HEIC, PNG, WebP, AVIF or TIFF file.');
  return bytes;
}

/** Where the grid goes: as named, else into the job's folder for grids under a name still free, else beside whoever asks. */
async function outFor(photo: string, named: string | undefined): Promise<string> {
  const stem = path.basename(photo, path.extname(photo));
  const job = named === undefined ? await jobAround(photo) : null;
  if (job === null) {
    const out = named ?? `${stem}-grid.png`;
    await checkOut(out, photo);
    return out;
  }
  for (let count = 1; ; count += 1) {
    const out = path.join(job, 'grids', `${stem}-grid${count === 1 ? '' : `-${count}`}.png`);
    if (!(await lstat(out).catch(() => null))) return out;
  }
}

/** The nearest folder above a photo that holds findings. */
async function jobAround(photo: string): Promise<string | null> {
  for (let at = path.dirname(path.resolve(photo)); ; at = path.dirname(at)) {
    if (await stat(path.join(at, 'findings.md')).catch(() => null)) return at;
    if (at === path.dirname(at)) return null;
  }
}

/** Wrong use where the picture would lie among photos, in a job or a dossier: there it would be taken for a photo, or spoil a list of hashes. */
async function checkOut(out: string, photo: string): Promise<void> {
  if (path.extname(out).toLowerCase() !== '.png') throw new WrongUse(`${out} does not end in .png.`, 'The grid is drawn as a PNG; name it so with --out.');
  const folder = await realpath(path.dirname(path.resolve(out))).catch(() => null);
  if (folder === null) throw new WrongUse(`There is no folder ${path.dirname(out)}.`, 'Name a folder that exists with --out.');
  const advice = 'Put it elsewhere with --out.';
  const homes = [path.dirname(path.resolve(photo)), path.dirname(await realpath(photo))];
  for (const home of await Promise.all(homes.map((one) => realpath(one)))) {
    const above = home.split(path.sep);
    const photos = above.lastIndexOf('photos');
    if (isWithin(folder, photos < 0 ? home : above.slice(0, photos + 1).join(path.sep))) throw new WrongUse(`${out} would lie among the photos.`, advice);
  }
  for (let at = folder; ; at = path.dirname(at)) {
    for (const name of ['findings.md', 'dossier.json']) {
      if (await stat(path.join(at, name)).catch(() => null)) throw new WrongUse(`${out} would lie in ${at}, which is a ${name === 'findings.md' ? 'job: it would be taken for a photo of it' : 'dossier'}.`, advice);
    }
    if (at === path.dirname(at)) return;
  }
}

function isWithin(folder: string, around: string): boolean {
  const inner = path.relative(around, folder);
  return inner === '' || (inner !== '..' && !inner.startsWith(`..${path.sep}`) && !path.isAbsolute(inner));
}

/** Writes a file that is not there yet, whole or not at all. */
async function writeNew(out: string, content: Buffer): Promise<void> {
  const file = await open(out, 'wx').catch((fault: NodeJS.ErrnoException) => {
    if (fault.code === 'EEXIST') throw new WrongUse(`${out} exists already and is not overwritten.`, 'Name another file with --out.');
    throw fault;
  });
  try {
    await file.writeFile(content);
    await file.close();
  } catch (fault) {
    await file.close().catch(() => undefined);
    await rm(out, { force: true });
    throw fault;
  }
}
