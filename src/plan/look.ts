import type { Inspection, Observation, Outlook, RegisterRow, Step, ZoneInspection } from '../model/inspection.ts';
import type { NotSeen, Spread } from '../model/notes.ts';
import type { Spot } from '../model/notice.ts';
import { inSentence, partText, rowIsStructure, termIn, zoneIsStructure, zoneName, zonePhrase } from '../model/wording.ts';
import { countText, listText } from '../units.ts';
import { lookCautions } from './cautions.ts';
import type { Ranked } from './ranked.ts';
import { silentStep } from './silent.ts';
import { sentence, sumHours } from './works.ts';

/** A look up to this long, by its likely hours, is a short one. Our judgement. */
const shortHours = 0.5;
/** Short looks named with their way in the step that gathers them; the rest stand in the list of what was not seen. */
const named = 5;

/** What is open in one zone, and what it would take to see it. */
interface Look {
  zone: ZoneInspection;
  order: number;
  rows: RegisterRow[];
  own: NotSeen[];
  unclear: string[];
  /** Ways to see it, as written; where none is, the usual ones. */
  ways: string[];
  hours: Spread | null;
}

/**
 * Rank 4: looks at what nobody saw. A zone with a written way to see it has a step of its own, left and right in one
 * where the words are the same; more than two short looks are gathered, and so is all that nobody wrote a way for. A look without a clear
 * answer belongs to the work on its zone where there is any.
 */
export function lookSteps(inspection: Inspection, outlook: Outlook, mended: ReadonlySet<string>): Ranked[] {
  const worth = (looks: readonly Look[]): number => Math.max(0, ...outlook.car.looks.filter((one) => looks.some((look) => look.zone.zone.id === one.zone)).map((one) => one.perHour));
  const looks = inspection.zones.flatMap((zone, order) => (zone.entered ? lookOf(zone, order, mended.has(zone.zone.id)) : []));
  const pairs = pairsOf(inspection, looks.filter((look) => look.ways.length > 0));
  const brief = pairs.filter(([first, second]) => second === undefined && first.hours !== null && first.hours.likely <= shortHours);
  const short = brief.length > 2 ? brief : [];
  return [
    ...pairs.filter((pair) => !short.includes(pair)).map((pair) => ({ ...lookStep(inspection, pair), value: worth(pair.filter((look) => look !== undefined)) })),
    ...gathered(inspection, 'step-look-short', short.map(([look]) => look)).map((one) => ({ ...one, value: worth(short.map(([look]) => look)) })),
    ...gathered(inspection, 'step-look-open', looks.filter((look) => look.ways.length === 0)).map((one) => ({ ...one, value: worth(looks.filter((look) => look.ways.length === 0)) })),
    ...silentStep(inspection),
  ];
}

function lookOf(zone: ZoneInspection, order: number, mended: boolean): Look[] {
  const rows = zone.rows.filter((row) => row.outcome === 'not seen' && row.known !== 'kind');
  const own = zone.notSeen.map(({ entry }) => entry).filter((entry) => !rows.some((row) => isSpot(row.spot, entry.spot)));
  const unclear = mended ? [] : unclearIn(zone).map((one) => one.id);
  const nothing = zone.observations.length === 0 && zone.rows.every((row) => row.outcome === 'not seen');
  if (rows.length + own.length + unclear.length === 0 && !nothing) return [];
  const written = zone.notSeen.map(({ entry }) => entry.toSee).filter((text) => text !== '');
  const ways = [...new Set(written.length > 0 ? written : rows.map((row) => row.toSee).filter((text) => text !== ''))];
  return [{ zone, order, rows, own, unclear, ways, hours: sumHours([...own.map((entry) => entry.hours), ...rows.map((row) => row.lookHours)]) }];
}

/** What was looked at without a clear answer. */
export function unclearIn(zone: ZoneInspection): (RegisterRow | Observation)[] {
  return [...zone.rows, ...zone.observations].filter((one) => one.outcome === 'cannot tell');
}

/** A line that names a known opening is told with that opening. */
function isSpot(a: Spot | null, b: Spot): boolean {
  return a !== null && a.file === b.file && a.line === b.line && a.column === b.column;
}

type Pair = readonly [Look, Look?];

/** Left and right of a zone in one where the same was not seen, for the same reason, with the same way to see it. */
function pairsOf(inspection: Inspection, looks: readonly Look[]): Pair[] {
  const pairs: Pair[] = [];
  for (const look of looks) {
    const at = pairs.findIndex(([first, second]) => second === undefined && first.zone.partner === look.zone.zone.id && alike(inspection, first) === alike(inspection, look));
    const [first] = pairs[at] ?? [];
    if (first) pairs[at] = [first, look];
    else pairs.push([look]);
  }
  return pairs;
}

function alike(inspection: Inspection, look: Look): string {
  return [...unseenText(inspection, look), ...look.ways].join('\n');
}

/** What was not seen and why, a clause each. */
function unseenText(inspection: Inspection, { own, rows, unclear }: Look): string[] {
  const { language } = inspection.job.settings;
  return [
    ...own.map((entry) => `${entry.what === '' ? 'whole zone' : entry.what} not seen: ${entry.reasonWords || 'no reason written'}`),
    ...(rows.length === 0 ? [] : [`not seen: ${listText(rows.map((row) => reasoned(row, partText(row.part, row.place, language))))}`]),
    ...(unclear.length === 0 ? [] : [`${countText(unclear.length, 'look', 'looks')} gave no clear answer`]),
  ];
}

function reasoned(row: RegisterRow, name: string): string {
  return row.reason === '' ? name : `${name} (${inSentence(row.reason)})`;
}

function lookStep(inspection: Inspection, pair: Pair): Ranked {
  const { language } = inspection.job.settings;
  const [look, other] = pair;
  const all = other ? [look, other] : [look];
  const name = other ? `${termIn(look.zone.zone.record.name, language)}, left and right` : zoneName(look.zone.zone, language);
  const words = look.ways.join('; ');
  const step: Step = {
    ...common(all),
    id: `step-${look.zone.zone.id}-look`,
    zone: look.zone.zone.id,
    title: `${name}: look at ${target(inspection, look)}`,
    why: unseenText(inspection, look).map(sentence).join(' '),
    what: sentence(`To see it: ${words}${other ? ', on each side' : ''}`),
    cautions: lookCautions(inspection, all.map((one) => one.zone), words),
  };
  return { step, value: 0, badness: 0, order: look.order };
}

function common(looks: readonly Look[]): Pick<Step, 'zones' | 'rank' | 'structure' | 'outcome' | 'suggested' | 'hours' | 'answers' | 'stopsWater' | 'worth'> {
  return {
    zones: looks.map((look) => look.zone.zone.id),
    rank: 4,
    structure: looks.some((look) => zoneIsStructure(look.zone) || look.rows.some((row) => rowIsStructure(look.zone, row))),
    outcome: looks.every((look) => look.rows.length + look.own.length === 0 && look.unclear.length > 0) ? 'cannot tell' : 'not seen',
    suggested: false,
    stopsWater: false,
    worth: null,
    hours: sumHours(looks.map((look) => look.hours)),
    answers: looks.flatMap((look) => [...look.rows.map((row) => row.id), ...look.unclear]),
  };
}

/** "the rear third", "the drain hole, bottom of bowl", "3 openings". */
function target(inspection: Inspection, { own, rows, unclear }: Look): string {
  const [entry] = own;
  const [row] = rows;
  if (own.length + rows.length === 0) return unclear.length > 0 ? 'what was not clear' : 'what was not seen';
  if (entry && own.length === 1 && rows.length === 0) return withArticle(entry.what === '' ? 'whole zone' : inSentence(entry.what));
  if (row && rows.length === 1 && own.length === 0) return `the ${partText(row.part, row.place, inspection.job.settings.language)}`;
  return own.length === 0 ? countText(rows.length, 'opening', 'openings') : 'what was not seen';
}

function withArticle(words: string): string {
  return /^(the|an?|all|any\w*|every\w*|what\w*|both|one|\d|under|behind|above|below|inside|in|beneath|over|between|beside)\b/i.test(words) ? words : `the ${words}`;
}

/** Several looks in one step: each zone with its way, or with what is open. */
function gathered(inspection: Inspection, id: string, looks: readonly Look[]): Ranked[] {
  const { language } = inspection.job.settings;
  const [first] = looks;
  if (!first) return [];
  const written = first.ways.length > 0;
  const shown = looks.slice(0, named);
  const name = (look: Look): string => zoneName(look.zone.zone, language);
  const rest = looks.length > named ? ` ${looks.length - named} more stand in the list of what was not seen.` : '';
  const step: Step = {
    ...common(looks),
    id,
    zone: looks.length === 1 ? first.zone.zone.id : '',
    title: looks.length === 1 ? `${name(first)}: look at ${target(inspection, first)}` : `${written ? `${looks.length} short looks` : 'Look again'}${looks.length <= named ? `: ${listText(looks.map((look) => zonePhrase(look.zone.zone, language)))}` : ` in ${looks.length} zones`}`,
    why: shown.map((look) => sentence([name(look), unseenText(inspection, look).join('; ')].filter((text) => text !== '').join(': '))).join(' ') + rest,
    what: written ? shown.map((look) => sentence(`${name(look)}: ${look.ways.join('; ')}`)).join(' ') : 'What it would take was not written.',
    cautions: lookCautions(inspection, looks.map((look) => look.zone), looks.flatMap((look) => look.ways).join('; ')),
  };
  return [{ step, value: 0, badness: 0, order: first.order }];
}
