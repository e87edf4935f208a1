import { compare } from '../compare/index.ts';
import { inspect } from '../job.ts';
import type { InspectedVisit } from '../job.ts';
import type { Change, Comparison } from '../model/comparison.ts';
import { visible } from '../model/notice.ts';
import { zoneName } from '../model/wording.ts';
import { countText, hundredText } from '../units.ts';
import { changeText, sinceSentence, thingName, turnText, visitName } from '../write/over-time.ts';
import { languageOf, noJob } from './build.ts';
import { clock, noticeLines, parse, progress, say, WrongUse } from './terminal.ts';
import type { ExitCode } from './terminal.ts';

const help = `sillbook compare <visit> <visit> [--lang LANGUAGE] [--all] [--json]
sillbook compare <car>

Says what came of every opening, place and reading from one visit of a car to another: worse, better, replaced, newly
seen, not looked at. Two folders of visits, in any order: the earlier by its day stands first. Of a car's folder its two
newest visits. Nothing is written; the progress and history editions of build show the same.

  --lang     en-GB or en-US, instead of the one in sillbook.json
  --all      also what is as it was
  --json     print all of it as JSON

Examples
  sillbook compare my-car
  sillbook compare my-car/2026-03-14 my-car/2026-05-09
`;

/** `sillbook compare`. */
export async function command(args: string[]): Promise<ExitCode> {
  const parsed = parse(args, { lang: { type: 'string' }, all: { type: 'boolean' }, json: { type: 'boolean' } }, help);
  if (!parsed) return 0;
  const { all = false, json = false } = parsed.values;
  const visits = await visitsOf(parsed.positionals, languageOf(parsed.values.lang));
  const comparison = compare(visits);
  if (!comparison) throw new WrongUse('There is one visit only, and nothing to compare it with.', 'Name two folders of visits, or the folder of a car that holds them.');
  process.stdout.write(json ? asJson(comparison) : asText(comparison, all));
  if (!json) for (const line of noticeLines(comparison.notices, process.stderr, all)) say(line);
  return 0;
}

/** The two visits named, or the two newest of a car, the earlier first. */
async function visitsOf(folders: readonly string[], language: ReturnType<typeof languageOf>): Promise<InspectedVisit[]> {
  if (folders.length < 1 || folders.length > 2) throw new WrongUse(`sillbook compare takes two folders of visits, or one of a car, but got ${folders.length}.`, 'For example: sillbook compare my-car/2026-03-14 my-car/2026-05-09');
  const line = progress();
  const read = async (folder: string): Promise<{ current: InspectedVisit; earlier: InspectedVisit[] }> => {
    const inspected = await inspect(folder, { clock: clock(), onProgress: line.step, ...language });
    if (!inspected || inspected.folder.findings === null) return noJob(folder, inspected !== null);
    const { findings, texts, inspection, outlook, plan, earlier } = inspected;
    return { current: { job: inspection.job, findings, texts, inspection, outlook, plan }, earlier };
  };
  const found = [];
  for (const folder of folders) found.push(await read(folder));
  line.end();
  const [first, second] = found;
  if (!first) return [];
  if (!second) return [...first.earlier.slice(-1), first.current];
  const day = ({ current }: typeof first): string => current.job.notes.seen?.date ?? '';
  return (day(first) !== '' && day(second) !== '' && day(first) > day(second) ? [second, first] : [first, second]).map(({ current }) => current);
}

function nameOf({ visits }: Comparison, id: string): string {
  const zone = visits.flatMap(({ inspection }) => inspection.zones).find((one) => one.zone.id === id)?.zone;
  return zone ? zoneName(zone, visits[0]?.inspection.job.settings.language ?? 'en-GB') : id;
}

function asText(comparison: Comparison, all: boolean): string {
  const [before] = comparison.visits;
  const between = comparison.between.at(-1);
  if (!between || !before) return '';
  const language = before.inspection.job.settings.language;
  const shown = all ? [...between.changes, ...between.unchanged] : between.changes;
  const zones = [...new Set(shown.map(({ zone }) => zone))];
  const line = (change: Change): string => `  ${turnText(change.turn)}: ${thingName({ language }, change)}: ${changeText(change)}`;
  const looks = comparison.laterLooks.map((look) => `  ${nameOf(comparison, look.zone)}, ${look.name}: ${look.through ? 'through' : 'not through'}; said before: ${hundredText(look.chance.low, look.chance.high)}${look.against ? ', which it speaks against' : ''}`);
  return visible(`${[
    sinceSentence({ comparison }),
    ...zones.flatMap((zone) => ['', nameOf(comparison, zone), ...shown.filter((change) => change.zone === zone).map(line)]),
    ...(between.zonesLeft.length > 0 ? ['', `Not looked at again: ${countText(between.zonesLeft.length, 'zone', 'zones')}, ${between.zonesLeft.map((zone) => nameOf(comparison, zone)).join('; ')}`] : []),
    ...(looks.length > 0 ? ['', `Sections seen now that the outlook of ${visitName(before)} spoke of:`, ...looks] : []),
  ].join('\n')}\n`);
}

function asJson(comparison: Comparison): string {
  const [before, after] = comparison.visits;
  const between = comparison.between.at(-1);
  const change = (one: Change): object => ({ zone: one.zone, kind: one.kind, part: one.part?.id ?? one.of, place: one.place, wasCalled: one.wasCalled, turn: one.turn, before: one.before, after: one.after });
  const dates = [before, after].map((visit) => visit?.inspection.job.notes.seen?.date ?? null);
  return `${JSON.stringify({ before: dates[0], after: dates[1], changes: between?.changes.map(change), unchanged: between?.unchanged.map(change), zonesLeft: between?.zonesLeft, laterLooks: comparison.laterLooks, notices: comparison.notices }, null, 2)}\n`;
}
