import path from 'node:path';
import { lookAtPhotos } from '../job.ts';
import type { Inspected, Progress } from '../job.ts';
import { sides } from '../model/catalogue.ts';
import type { CavityOutlook, ZoneInspection } from '../model/inspection.ts';
import type { Notice } from '../model/notice.ts';
import type { NextLook } from '../model/outlook.ts';
import { todoRules } from '../place/checks/index.ts';
import { isUnspoken } from '../model/unspoken.ts';
import { termIn, zoneName } from '../model/wording.ts';
import type { Language } from '../model/wording.ts';
import { countText, coverageText, hoursText, hundredText, likelihoodText } from '../units.ts';
import { outlookData } from '../write/outlook-data.ts';
import { fiveYears, hasUnseen } from '../write/outlook.ts';
import { hintsAbout } from '../model/photo-hints.ts';
import { openMemory } from '../read/photos/memory.ts';
import { inspectFor, languageOf, openCache } from './build.ts';
import { interruptible, levelCounts, noticeLines, onlyJob, parse, progress } from './terminal.ts';
import type { ExitCode } from './terminal.ts';

const help = `sillbook check <job> [--photos] [--lang LANGUAGE] [--all] [--json]

Reads a job and says what is wrong with it, where, and what is still to do before leaving the car: zones without a photo
or a reason, zones with photos and no words, openings neither seen nor explained, photos that stand nowhere, missing
photos of the insurer's set. It looks at no pixels and writes nothing, unless --photos is given.

  --photos   look at the pictures too: which look unsharp, very dark, very bright or like another. Takes as long as their
             part of a build, which then finds the pictures made, in <job>/.sillbook
  --lang     en-GB or en-US, instead of the one in sillbook.json
  --all      show every notice, not only the first two of a kind, and every zone on a line of its own
  --json     print coverage, zones, photos, the outlook of every closed section and all notices as JSON

Examples
  sillbook check my-job
  sillbook check my-job --photos
`;

/** `sillbook check`. */
export async function command(args: string[]): Promise<ExitCode> {
  const parsed = parse(args, { photos: { type: 'boolean' }, lang: { type: 'string' }, all: { type: 'boolean' }, json: { type: 'boolean' } }, help);
  if (!parsed) return 0;
  const job = onlyJob(parsed.positionals, 'check');
  const language = languageOf(parsed.values.lang);
  const line = progress();
  const count: Progress = (stage, done, total) => line.step(stage, done, total);
  const inspected = await inspectFor(job, `${job}/out`, count, 'check', { memory: await openMemory(path.join(job, '.sillbook'), { trust: true }), ...language });
  if (parsed.values.photos) inspected.notices.push(...(await hints(inspected, job, count)));
  line.end();
  const { notices } = inspected;
  process.stdout.write(parsed.values.json ? asJson(inspected) : asText(inspected, parsed.values.all ?? false));
  return notices.some((notice) => notice.level === 'error') ? 1 : 0;
}

/** What the pixels hint at. Pictures made on the way are kept where a build looks for them. */
async function hints(inspected: Inspected, job: string, onProgress: Progress): Promise<Notice[]> {
  const stop = interruptible();
  const cache = await openCache(path.join(job, '.sillbook'));
  try {
    return await lookAtPhotos(inspected, { cache: cache.folder, onProgress, signal: stop.signal });
  } finally {
    await cache.close();
    stop.release();
  }
}

function isTodo(notice: Notice): boolean {
  return todoRules.includes(notice.rule);
}

function asText(inspected: Inspected, all: boolean): string {
  const { inspection, notices } = inspected;
  const faults = notices.filter((notice) => !isTodo(notice));
  // Without findings there is nothing at the car to be said, only that they are missing.
  const todo = inspected.folder.findings === null ? [] : notices.filter(isTodo);
  const lines = noticeLines(faults, process.stdout, all);
  if (todo.length > 0) lines.push(...(lines.length > 0 ? [''] : []), 'Still to do before leaving the car:', ...todoLines(inspected, todo, all));
  const photos = inspection.photos.length;
  const placed = inspection.photos.filter((photo) => photo.rule !== null || photo.views.length > 0).length;
  const shown = lines.filter((line) => line !== '').length - (todo.length > 0 ? 1 : 0);
  const rest = all || shown >= notices.length ? '' : `; ${countText(shown, 'line', 'lines')} shown, --all shows the rest`;
  const summary = `${coverageText(inspection.coverage)}. ${photos} photos, ${placed} placed. ${levelCounts(notices)}${rest}.`;
  if (inspected.folder.findings !== null) lines.push(...outlookLines(inspected));
  return `${[...lines, ...(lines.length > 0 ? [''] : []), summary.charAt(0).toUpperCase() + summary.slice(1)].join('\n')}\n`;
}

/** The sections that need most, and the looks worth most, before leaving the car. */
function outlookLines({ inspection, outlook }: Inspected): string[] {
  const entered = new Set(inspection.zones.filter((zone) => zone.entered).map((zone) => zone.zone.id));
  const { language } = inspection.job.settings;
  const name = (id: string): string => inspection.zones.filter((zone) => zone.zone.id === id).map((zone) => zoneName(zone.zone, language))[0] ?? id;
  const middle = (one: CavityOutlook): number => one.weighed.left.chances[fiveYears]?.middle ?? 0;
  const weakest = outlook.cavities.filter((one) => entered.has(one.zone) && one.carriesLoad).sort((a, b) => middle(b) - middle(a)).slice(0, 3);
  const looks = outlook.car.looks.filter((look) => look.shrinksHours >= 0.05).slice(0, 3);
  if (weakest.length === 0) return [];
  return [
    '',
    'Likeliest to be through within five years if left, of what carries load:',
    ...weakest.flatMap((one) => one.weighed.left.chances.slice(fiveYears, fiveYears + 1).map((chance) => `  ${name(one.zone)}, ${one.name}: ${likelihoodText(chance, hasUnseen(one))} (${hundredText(chance.low, chance.high)})`)),
    ...(looks.length > 0 ? ['Looks that narrow the range of what it may cost most, for each hour:', ...looks.map((look) => `  ${name(look.zone)}: ${look.cavity === null ? 'openings and drains not seen' : `inside, ${look.sections.join(', ')}`} (${lookWords(look)})`)] : []),
  ];
}

/** "drill out 14 rivets; 1 h", "0.2 to 0.5 h, our judgement". */
function lookWords({ toSee, hours, assumed }: NextLook): string {
  const time = assumed ? `${hoursText({ ...hours, judged: false })}, our judgement` : hoursText(hours);
  return [...(toSee === '' ? [] : [toSee]), time].join('; ');
}

/** What is still to do, by kind; zones by name alone, as they are many and the names say all: with `all` one a line, else both sides as one. */
function todoLines({ inspection }: Inspected, todo: readonly Notice[], all: boolean): string[] {
  const { language } = inspection.job.settings;
  const { notes } = inspection.job;
  const listed = (title: string, zones: readonly ZoneInspection[]): string[] => {
    if (zones.length === 0) return [];
    return all ? [`  ${title} (${zones.length}):`, ...zones.map(({ zone }) => `    ${zoneName(zone, language)}`)] : [`  ${title} (${zones.length}): ${sidesTogether(zones, language).join('; ')}`];
  };
  const views = inspection.views.filter((view) => view.photo === null).map((view) => inspection.job.catalogue.views.filter((one) => one.id === view.id).map((one) => termIn(one.name, language))[0] ?? view.id);
  const others = todo.filter((notice) => !['zone-not-entered', 'zone-without-words', 'view-missing'].includes(notice.rule));
  return [
    ...listed('Zones without a photo or a reason', inspection.zones.filter((zone) => !zone.entered)),
    ...listed('Zones with photos and no words, which count as not seen', inspection.zones.filter((zone) => isUnspoken(notes, zone))),
    ...(views.length > 0 ? [`  Photos of the insurer's set (${views.length}): ${views.join('; ')}`] : []),
    ...noticeLines(others.map(({ expected: _, advice: __, ...notice }) => notice), process.stdout, all).map((line) => `  ${line.trim()}`),
  ];
}

/** "Sill, both sides; Floor, left". */
function sidesTogether(zones: readonly ZoneInspection[], language: Language): string[] {
  return zones.flatMap(({ zone, partner }) => {
    const other = zones.some((one) => one.zone.id === partner);
    if (!other) return [zoneName(zone, language)];
    return zone.side === sides[0] ? [`${termIn(zone.record.name, language)}, both sides`] : [];
  });
}

function asJson({ inspection, outlook, notices }: Inspected): string {
  const zones = inspection.zones.map((zone) => ({ id: zone.zone.id, name: zoneName(zone.zone, inspection.job.settings.language), entered: zone.entered, state: zone.state, coverage: zone.coverage, photos: zone.photos.length }));
  const photos = inspection.photos.map(({ photo, zones: placed, rule, reason }) => ({ file: photo.path, sha256: photo.sha256, zones: placed, rule, reason, hints: hintsAbout(notices, photo.path) }));
  const todo = notices.filter(isTodo);
  return `${JSON.stringify({ coverage: inspection.coverage, zones, photos, outlook: outlookData(outlook, inspection.job.catalogue.risk), notices: notices.filter((notice) => !isTodo(notice)), todo }, null, 2)}\n`;
}
