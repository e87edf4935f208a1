import { constants } from 'node:fs';
import { copyFile, mkdir, readFile, readdir, realpath, stat, writeFile } from 'node:fs/promises';
import path from 'node:path';
import type { PlacedPhoto } from '../model/inspection.ts';
import { inspect } from '../job.ts';
import { isLaterVisit } from '../read/folder.ts';
import { packageRoot } from './package-root.ts';
import { clock, commandName, parse, progress, quoted, say, WrongUse } from './terminal.ts';
import type { ExitCode } from './terminal.ts';

const help = `sillbook new <photos…> --into <job>

Makes a job folder from photos: copies them into <job>/photos and writes a findings file with a heading for every zone
that a folder, file name or keyword names, and the other photos in the order they were taken, with a blank line at every
gap over five minutes. Then write what you saw. Nothing is ever overwritten and the photos you name are not changed.

  <photos…>     photo files, or folders of them
  --into <job>  the job folder to make; photos that lie in it already are not copied
  --json        print what was made as JSON

Examples
  sillbook new ~/Pictures/saturday --into green-saloon
  sillbook new green-saloon/photos --into green-saloon
  sillbook new ~/Pictures/may --into green-saloon/2026-05-09   (a further visit: a folder beside the others)
`;

const gapMinutes = 5;
const picture = /\.(jpe?g|jpe|mpo|heic|heif|hif|png|webp|avif|tiff?)$/i;

/** `sillbook new`. */
export async function command(args: string[]): Promise<ExitCode> {
  const parsed = parse(args, { into: { type: 'string' }, json: { type: 'boolean' } }, help);
  if (!parsed) return 0;
  const { into } = parsed.values;
  if (!into) throw new WrongUse('sillbook new needs --into and the job folder to make.', 'For example: sillbook new ~/Pictures/car --into my-job');
  if (parsed.positionals.length === 0) throw new WrongUse('sillbook new needs photos or a folder of them.', `For example: sillbook new ~/Pictures/car --into ${into}`);
  const findings = path.join(into, 'findings.md');
  if (await stat(findings).catch(() => null)) throw new WrongUse(`${findings} exists already and is not overwritten.`, `For more photos of this job, copy the new photos into ${path.join(into, 'photos')} and name them in findings.md; for another job, name another folder with --into.`);
  const files = await filesOf(parsed.positionals);
  const pictures = files.filter((file) => picture.test(file.to));
  if (pictures.length === 0) throw new WrongUse('There is no photo in what was named.', 'Name JPEG, HEIC, PNG, WebP, AVIF or TIFF files, or a folder of them.');
  if (pictures.length < files.length) say(`Left where they are, as their names are not those of photos: ${files.length - pictures.length}.`);
  await copyAll(pictures, into);
  const line = progress();
  const inspected = await inspect(into, { clock: clock(), onProgress: (stage, done, total) => line.step(stage, done, total) });
  line.end();
  if (!inspected) throw new WrongUse(`${into} cannot be opened.`, 'Name another folder with --into.');
  const photos = inspected.inspection.photos;
  const template = await readFile(path.join(packageRoot, 'templates', 'job', (await isLaterVisit(into)) ? 'later-visit.md' : 'findings.md'), 'utf8');
  const text = template.replace('{seen}', seenOf(photos)).replace('{zones}', zonesText(inspected.inspection.zones.map(({ zone }) => zone), photos));
  await writeFile(findings, text, { flag: 'wx' });
  const placed = photos.filter((photo) => photo.rule !== null && recognised.includes(photo.rule)).length;
  if (parsed.values.json) {
    process.stdout.write(`${JSON.stringify({ findings, photos: photos.length, placed }, null, 2)}\n`);
    return 0;
  }
  process.stdout.write(`${findings}: ${photos.length} photos, ${placed} under a zone, ${photos.length - placed} to place.\n`);
  say(`Next: write what you saw, then: ${commandName()} check ${quoted(into)}`);
  return 0;
}

interface Source {
  from: string;
  /** Path below `photos/`, with `/`. */
  to: string;
}

/** Files named on the command line, folders with all that lies in them; hidden files are left out. */
async function filesOf(named: readonly string[]): Promise<Source[]> {
  const files: Source[] = [];
  const folders: string[] = [];
  for (const name of named) {
    const found = await stat(name).catch(() => null);
    if (!found) throw new WrongUse(`There is no ${name}.`, 'Check the name; nothing was made.');
    if (found.isDirectory()) folders.push(name);
    else files.push({ from: name, to: path.basename(name) });
  }
  for (const folder of folders) {
    const prefix = folders.length > 1 || files.length > 0 ? `${path.basename(path.resolve(folder))}/` : '';
    const entries = await readdir(folder, { recursive: true, withFileTypes: true });
    for (const entry of entries) {
      const full = path.join(entry.parentPath, entry.name);
      const inner = path.relative(folder, full).split(path.sep).join('/');
      if (entry.isFile() && !/(^|\/)\./.test(inner)) files.push({ from: full, to: prefix + inner });
    }
  }
  return files.toSorted((a, b) => (a.from < b.from ? -1 : 1));
}

/** Copies into `photos/`; a file that lies in the job already stays where it is, two of one name get folders of their own. */
async function copyAll(files: readonly Source[], into: string): Promise<void> {
  await mkdir(into, { recursive: true });
  const root = await realpath(into);
  const taken = new Set<string>();
  for (const { from, to } of files) {
    if ((await realpath(from)).startsWith(root + path.sep)) continue;
    let name = to;
    for (let count = 2; taken.has(name.toLowerCase()); count += 1) name = `${count}/${to}`;
    taken.add(name.toLowerCase());
    const target = path.join(into, 'photos', ...name.split('/'));
    await mkdir(path.dirname(target), { recursive: true });
    await copyFile(from, target, constants.COPYFILE_EXCL | constants.COPYFILE_FICLONE).catch((fault: NodeJS.ErrnoException) => {
      if (fault.code === 'EEXIST') throw new WrongUse(`${target} exists already and is not overwritten.`, 'Name another job with --into.');
      throw fault;
    });
  }
}

const recognised: readonly string[] = ['folder', 'file name', 'keyword'];

/** The visit's date and hours, where all timed photos are of one day. */
function seenOf(photos: readonly PlacedPhoto[]): string {
  const times = photos.flatMap(({ photo }) => (photo.takenAt ? [photo.takenAt.local] : [])).toSorted();
  const [first, last] = [times[0], times.at(-1)];
  if (!first || !last || first.slice(0, 10) !== last.slice(0, 10)) return '';
  const hours = first.slice(11, 16) === last.slice(11, 16) ? first.slice(11, 16) : `${first.slice(11, 16)}-${last.slice(11, 16)}`;
  return `${first.slice(0, 10)} ${hours}`;
}

/** Headings of the zones recognised, front to rear, then the rest in time order. */
function zonesText(zones: readonly { id: string; name: string }[], photos: readonly PlacedPhoto[]): string {
  const inTime = photos.toSorted((a, b) => (timeOf(a) < timeOf(b) ? -1 : timeOf(a) > timeOf(b) ? 1 : a.photo.path < b.photo.path ? -1 : 1));
  const names = new Map<string, number>();
  for (const { photo } of photos) names.set(photo.name.toLowerCase(), (names.get(photo.name.toLowerCase()) ?? 0) + 1);
  const line = ({ photo }: PlacedPhoto): string => `![](${target(names.get(photo.name.toLowerCase()) === 1 ? photo.name : photo.path)})`;
  const sections = zones.flatMap((zone) => {
    const own = inTime.filter((photo) => photo.rule !== null && recognised.includes(photo.rule) && photo.zones.includes(zone.id));
    return own.length === 0 ? [] : [`# ${zone.name}\n\n${withGaps(own, line)}`];
  });
  const rest = inTime.filter((photo) => photo.rule === null || !recognised.includes(photo.rule));
  if (rest.length > 0) sections.push(`# To place\n\n${withGaps(rest, line)}`);
  return sections.join('\n\n');
}

function timeOf({ photo }: PlacedPhoto): string {
  return photo.takenAt?.local ?? '~';
}

function withGaps(photos: readonly PlacedPhoto[], line: (photo: PlacedPhoto) => string): string {
  let text = '';
  let before: number | null = null;
  for (const photo of photos) {
    const local = photo.photo.takenAt?.local;
    const minutes = local === undefined ? null : Date.parse(`${local.slice(0, 19)}Z`) / 60_000;
    const gap = before !== null && (minutes === null || minutes - before > gapMinutes);
    text += `${text === '' ? '' : gap ? '\n\n' : '\n'}${line(photo)}`;
    before = minutes;
  }
  return text;
}

/** A file name as a Markdown target that reads back as the same name. */
function target(name: string): string {
  if (/[<>\n\r\\%]/.test(name)) return encodeURI(name).replace(/[()]/g, (one) => (one === '(' ? '%28' : '%29'));
  return /[\s()]/.test(name) ? `<${name}>` : name;
}
