import type { Catalogue, CavityRecord, Exposure } from '../model/catalogue.ts';
import type { CavityOutlook, Inspection, Outlook, RegisterRow, ZoneInspection } from '../model/inspection.ts';
import type { Prospect, SumRange, SurroundingsSaid, Weighed } from '../model/outlook.ts';
import type { RiskModel } from '../model/risk.ts';
import { badnessOf, conditionOf, worstCondition } from '../model/wording.ts';
import { worksOf } from '../model/zone-work.ts';
import { exposedTo, leaks, sectionOf } from './input.ts';
import { seenInside } from './inside.ts';
import { drawsOf } from './judgements.ts';
import type { Draws } from './judgements.ts';
import { classOf } from './kinetics.ts';
import { expectedHours, fiveYears, looksOf, shareOfHours, shareOfSection } from './looks.ts';
import type { Placed, Tools } from './looks.ts';
import { sumRange, weighSection } from './outlook.ts';
import { insideSeenOf, leastReading } from './places.ts';
import { remediesOf } from './remedies.ts';
import type { Remedies } from './remedies.ts';
import { sensitivityOf } from './sensitivity.ts';
import type { KeptSums } from './sensitivity.ts';
import { strainedNotices } from './strained.ts';
import { places } from './states.ts';
import type { SectionInput, Surroundings } from './states.ts';
import { surroundingsOf } from './surroundings.ts';
import { unpinnedNotices } from './unpinned.ts';
import { carYearsOf, yearNotices } from './years.ts';

/** What looks and shares are worked out with: all outer draws, fewer inner ones. */
const lookLevels = { outer: 64, inner: 32 } as const;

/**
 * What was seen of every closed section, and how likely its steel is to be through within 1, 3, 5 and 10 years, left and
 * with the work done; what the looks nobody took are worth; and, where `sensitivity` is asked for, what each assumption does.
 * Pure: no clock, no disk, no chance but the fixed sequence.
 */
export function weigh(inspection: Inspection, options: { sensitivity?: boolean } = {}): Outlook {
  const { catalogue, notes } = inspection.job;
  const { surroundings, notices } = surroundingsOf(notes);
  const years = carYearsOf(notes);
  const known = knownFor(catalogue.risk);
  const { few } = known;
  const placed = inspection.zones.flatMap((zone) => {
    const remedies = remediesOf(catalogue, zone, worksOf(zone).filter((work) => !work.unplanned));
    return zone.zone.record.cavities.map((cavity) => ({ zone, cavity, remedies, input: interned(known, sectionOf({ catalogue, zone, cavity, remedies, surroundings, years })) }));
  });
  const cavities = placed.map((one): CavityOutlook => ({ ...cavityOutlook(catalogue, one), ...answerOf(known, one.input) }));
  const expected = expectedHours(few, placed);
  return {
    model: catalogue.risk.version,
    cavities,
    car: {
      sections: cavities.length,
      through: expectedThrough(cavities, ({ left }) => left),
      throughDone: expectedThrough(cavities, ({ left, done }) => done ?? left),
      hours: sumRange(expected.hours),
      hoursShare: shareOfHours(few, expected),
      looks: looksOf(few, catalogue.risk, placed),
      surroundings: surroundingsSaid(surroundings),
      notices: [...notices, ...unpinnedNotices(inspection), ...yearNotices(inspection, years), ...strainedNotices(inspection, cavities)],
    },
    sensitivity: options.sensitivity ? sensitivityOf(catalogue.risk, placed.map((one) => one.input), known.sums) : [],
  };
}

/** How many sections are to be expected through within five years. */
function expectedThrough(cavities: readonly CavityOutlook[], of: (weighed: Weighed) => Prospect): SumRange {
  return sumRange(cavities.map(({ weighed }) => Float64Array.from(of(weighed).draws, (chances) => chances[fiveYears] ?? 0)));
}

type Answer = Pick<CavityOutlook, 'weighed' | 'share'>;

/** What was worked out with one model: the same for every job, so kept as long as the model is. */
interface Known {
  full: Tools;
  few: Tools;
  /** Sections that are alike, as left and right often are, are one object and weighed once. */
  alike: Map<string, SectionInput>;
  answers: Map<SectionInput, Answer>;
  sums: KeptSums;
}

const knownOf = new WeakMap<RiskModel, Known>();
/** The same model read again, as a preview does after every edit, is told by its text. */
const knownByText = new Map<string, Known>();
/** Models kept by their text. */
const mostModels = 4;
/** Sections kept; a job has some sixty. */
const mostKept = 5000;

function knownFor(model: RiskModel): Known {
  const text = knownOf.has(model) ? '' : JSON.stringify(model);
  const known = knownOf.get(model) ?? knownByText.get(text);
  if (known && known.alike.size < mostKept) {
    knownOf.set(model, known);
    return known;
  }
  const made: Known = { full: toolsWith(drawsOf(model)), few: toolsWith(drawsOf(model, lookLevels)), alike: new Map(), answers: new Map(), sums: new Map() };
  knownOf.set(model, made);
  knownByText.set(text === '' ? JSON.stringify(model) : text, made);
  for (const oldest of [...knownByText.keys()].slice(0, -mostModels)) knownByText.delete(oldest);
  return made;
}

function toolsWith(draws: Draws): Tools {
  return { draws, memory: new Map(), chances: new WeakMap() };
}

function interned({ alike }: Known, input: SectionInput): SectionInput {
  const key = JSON.stringify(input);
  const same = alike.get(key) ?? input;
  alike.set(key, same);
  return same;
}

function answerOf({ full, few, answers }: Known, input: SectionInput): Answer {
  let answer = answers.get(input);
  if (!answer) answers.set(input, (answer = { weighed: weighSection(full.draws, input, full.memory), share: shareOfSection(few, input) }));
  return answer;
}

function cavityOutlook(catalogue: Catalogue, { zone, cavity, remedies, input }: Placed & { remedies: Remedies }): Omit<CavityOutlook, keyof Answer> {
  const inside = seenInside(catalogue, zone, cavity);
  return {
    ...statesOf(catalogue, zone, cavity),
    insideSeen: insideSeenOf(zone, cavity, inside.filter((one) => one.part.type === 'metal')),
    measuredMm: leastReading(zone, cavity, 'lowestMm'),
    atMostMm: leastReading(zone, cavity, 'atMostMm'),
    sheetMm: cavity.sheetMm,
    replaceHours: cavity.replaceHours,
    work: input.worked ? remedies.origin : 'none',
  };
}

/** Openings that let water in, drains that hold it back, what was not seen, and the coating, metal and water inside. */
function statesOf(catalogue: Catalogue, zone: ZoneInspection, cavity: CavityRecord): Pick<CavityOutlook, 'zone' | 'cavity' | 'name' | 'carriesLoad' | 'letsIn' | 'holdsBack' | 'unseen' | 'coating' | 'metal' | 'water'> {
  const rows = zone.rows.filter((row) => row.cavity === cavity.id);
  const faulty = rows.filter((row) => row.outcome === 'defect' && row.seen).sort(worstFirst(catalogue));
  const inside = seenInside(catalogue, zone, cavity);
  const conditionsOf = (type: string): string[] => inside.filter((one) => one.part.type === type).flatMap((one) => one.finding.conditions);
  return {
    zone: zone.zone.id,
    cavity: cavity.id,
    name: cavity.name,
    carriesLoad: cavity.carriesLoad,
    letsIn: faulty.filter((row) => row.part.group !== 'drain' || leaks(row)).map((row) => row.id),
    holdsBack: faulty.filter((row) => holdsBack(catalogue, row)).map((row) => row.id),
    unseen: rows.filter((row) => !row.seen && row.outcome !== 'not fitted').map((row) => row.id),
    coating: worstCondition(catalogue, conditionsOf('coating'))?.id ?? null,
    metal: worstCondition(catalogue, conditionsOf('metal'))?.id ?? null,
    water: [...new Set(conditionsOf('water'))].sort((a, b) => badnessOf(catalogue, [b]) - badnessOf(catalogue, [a]) || (a < b ? -1 : 1)),
  };
}

function holdsBack(catalogue: Catalogue, row: RegisterRow): boolean {
  return row.part.group === 'drain' && row.conditions.some((id) => !['tube-off', 'missing', 'hole-enlarged'].includes(id) && conditionOf(catalogue, id)?.outcome === 'defect');
}

function worstFirst(catalogue: Catalogue): (a: RegisterRow, b: RegisterRow) => number {
  return (a, b) =>
    badnessOf(catalogue, b.conditions) - badnessOf(catalogue, a.conditions) ||
    exposureRank(a.exposure) - exposureRank(b.exposure) ||
    (a.id < b.id ? -1 : 1);
}

function exposureRank(exposure: Exposure): number {
  return places.indexOf(exposedTo[exposure]);
}

function surroundingsSaid({ salt, kept, airRateUm }: Surroundings): SurroundingsSaid {
  return { salt, kept, air: airRateUm === null ? null : { rateUm: airRateUm, rateClass: classOf(airRateUm) } };
}
