import type { CavityRecord } from '../model/catalogue.ts';
import type { ZoneInspection } from '../model/inspection.ts';
import type { NextLook, Range, UnseenShare } from '../model/outlook.ts';
import type { Spread } from '../model/notes.ts';
import { rangeOf } from '../model/quantile.ts';
import type { RiskModel } from '../model/risk.ts';
import type { Memory } from './curves.ts';
import type { Draws, Judgement } from './judgements.ts';
import { drawAll, yearsOf } from './outlook.ts';
import { drawChance } from './section.ts';
import type { Unseen } from './setting.ts';
import type { SectionInput } from './states.ts';

/** A section with where it belongs. */
export interface Placed {
  zone: ZoneInspection;
  cavity: CavityRecord;
  input: SectionInput;
}

/** Draws with what was worked out with them. */
export interface Tools {
  draws: Draws;
  memory: Memory;
  /** Chances within five years, by section and outcome. */
  chances: WeakMap<SectionInput, Map<string, Float64Array>>;
}

/** Horizon of the work that is to be expected: five years, by its place among the printed horizons. */
export const fiveYears = 2;
/** Outcomes of a look that are tried: these draws of the outer sequence, which lie in the middle of equal parts of its axes. */
const lookOutcomes = [32, 64] as const;
/** The same where everything is seen at once, and for ranges of years, which take longer. */
const shareOutcomes = [32, 48] as const;
const yearsOutcomes = [32, 40] as const;
/** Longest time counted in a range of years. */
const longest = 50;

/** Which of the unseen is put in place as another draw has it. */
const targets = { inside: ['inside'], openings: ['openings'], everything: ['inside', 'openings', 'around'] } as const;
type At = keyof typeof targets;

/** Chances within five years in every outer draw, with some of the unseen as the outcome has it. Kept with the section: like sections are one object. */
function fiveYearChances(tools: Tools, input: SectionInput, at: At, outcome: number): Float64Array {
  let kept = tools.chances.get(input);
  if (!kept) tools.chances.set(input, (kept = new Map()));
  const judgement = tools.draws.judgements[outcome];
  const key = judgement === undefined ? '' : `${at}: ${outcomeOf(input, at, judgement)}`;
  let chances = kept.get(key);
  if (!chances) {
    const unseen = seenAs(at, judgement);
    kept.set(key, (chances = Float64Array.from(tools.draws.judgements, (_, draw) => drawChance(tools.draws, draw, input, 'left', unseen, tools.memory, fiveYears))));
  }
  return chances;
}

function seenAs(at: At, judgement: Judgement | undefined): Unseen {
  return judgement === undefined ? {} : Object.fromEntries(targets[at].map((target) => [target, judgement]));
}

/** What an outcome would have seen of a section: outcomes that show the same are weighed once. */
function outcomeOf({ places, openings, drain, surroundings }: SectionInput, at: At, outcome: Judgement): string {
  const seen: string[] = [];
  const inside = targets[at].some((target) => target === 'inside');
  if (inside && places.some((place) => place.metal === 'unseen')) seen.push(outcome.unseenMetal);
  if (inside && places.some((place) => place.coating === 'unseen')) seen.push(outcome.unseenCoating);
  if (at === 'inside') return seen.join(' ');
  for (const [index, opening] of openings.filter((one) => one.state === 'unseen').entries()) seen.push(outcome.unseenOpening(opening.kind, index));
  return [...seen, drain === 'unseen' && outcome.unseenDrainBlocked, at === 'everything' && surroundings.salt === 'unseen' && outcome.unseenSalt, at === 'everything' && surroundings.kept === 'unseen' && outcome.unseenKept].join(' ');
}

/** As everything is left: no outcome is put in place. */
const asItIs = -1;

/** Hours of cutting out and replacing to be expected within five years, for each outer draw: likely hours times the chance. */
export interface Expected {
  sections: readonly Placed[];
  /** One row for each section. */
  hours: Float64Array[];
  totals: Float64Array;
}

/** Expected hours of every section and of the car, as everything is left. */
export function expectedHours(tools: Tools, sections: readonly Placed[]): Expected {
  const hours = sections.map((section) => fiveYearChances(tools, section.input, 'everything', asItIs).map((chance) => chance * section.cavity.replaceHours[1]));
  return { sections, hours, totals: sum(hours, tools.draws.judgements.length) };
}

function sum(rows: readonly Float64Array[], length: number): Float64Array {
  const totals = new Float64Array(length);
  for (const row of rows) for (let draw = 0; draw < length; draw += 1) totals[draw] = (totals[draw] as number) + (row[draw] as number);
  return totals;
}

/** How much of the car's 10-90 % range goes on average when everything unseen is seen; null where there is nothing to go. */
export function shareOfHours(tools: Tools, expected: Expected): number | null {
  const open = expected.sections.map((section) => hasUnseen(section.input));
  if (!open.includes(true)) return null;
  const widths = outcomesOf(shareOutcomes).map((outcome) => {
    const rows = expected.sections.map((section, index) =>
      open[index] ? fiveYearChances(tools, section.input, 'everything', outcome).map((chance) => chance * section.cavity.replaceHours[1]) : (expected.hours[index] as Float64Array));
    return widthOf(rangeOf(sum(rows, tools.draws.judgements.length)));
  });
  return shareOf(widths, widthOf(rangeOf(expected.totals)));
}

/** The same of one section's own ranges. */
export function shareOfSection(tools: Tools, input: SectionInput): UnseenShare {
  if (!hasUnseen(input)) return { chance: null, years: null };
  const chanceWidth = (outcome: number): number => widthOf(rangeOf(fiveYearChances(tools, input, 'everything', outcome)));
  const yearsWidth = (unseen: Unseen): number => {
    const { low, high } = yearsOf(drawAll(tools.draws, input, 'left', unseen, tools.memory));
    return (high ?? longest) - (low ?? longest);
  };
  return {
    chance: shareOf(outcomesOf(shareOutcomes).map(chanceWidth), chanceWidth(asItIs)),
    years: shareOf(outcomesOf(yearsOutcomes).map((outcome) => yearsWidth(seenAs('everything', tools.draws.judgements[outcome]))), yearsWidth({})),
  };
}

function outcomesOf([from, to]: readonly [number, number]): number[] {
  return Array.from({ length: to - from }, (_, index) => from + index);
}

function widthOf(range: Range): number {
  return range.high - range.low;
}

/** What goes of a width on average; null where it had next to none. A look can, at worst, narrow nothing. */
function shareOf(after: readonly number[], before: number): number | null {
  if (before < 1e-6) return null;
  return Math.max(0, 1 - after.reduce((all, width) => all + width, 0) / after.length / before);
}

/** Whether anything of a section was not seen. */
export function hasUnseen(input: SectionInput): boolean {
  return unseenInside(input) || unseenOpenings(input) || input.surroundings.kept === 'unseen' || input.surroundings.salt === 'unseen';
}

function unseenInside(input: SectionInput): boolean {
  return input.places.some((place) => place.metal === 'unseen' && place.measuredMm === null);
}

function unseenOpenings(input: SectionInput): boolean {
  return input.drain === 'unseen' || input.openings.some((opening) => opening.state === 'unseen');
}

/** Every look there is: at the inside of each section, and at the openings of each zone; the one that narrows most for each hour first. */
export function looksOf(tools: Tools, risk: RiskModel, sections: readonly Placed[]): NextLook[] {
  const zones = [...new Set(sections.map((section) => section.zone))];
  const inside = sections.filter((section) => unseenInside(section.input)).map((section) => lookOf(tools, risk, { zone: section.zone, sections: [section], at: 'inside' }));
  const openings = zones.flatMap((zone) => {
    const own = sections.filter((section) => section.zone === zone && unseenOpenings(section.input));
    return own.length === 0 ? [] : [lookOf(tools, risk, { zone, sections: own, at: 'openings' })];
  });
  return [...inside, ...openings].sort((a, b) => b.perHour - a.perHour || (keyOf(a) < keyOf(b) ? -1 : 1));
}

function keyOf(look: NextLook): string {
  return `${look.zone} ${look.cavity ?? ''}`;
}

interface Target {
  zone: ZoneInspection;
  sections: readonly Placed[];
  at: 'inside' | 'openings';
}

function lookOf(tools: Tools, risk: RiskModel, { zone, sections, at }: Target): NextLook {
  const shrinksHours = sections.reduce((all, section) => all + section.cavity.replaceHours[1] * shrinkOf(tools, section, at), 0);
  const { hours, assumed, toSee } = timeOf(risk, zone, at);
  return {
    zone: zone.zone.id,
    cavity: at === 'inside' ? (sections[0]?.cavity.id ?? null) : null,
    sections: sections.map((section) => section.cavity.name),
    hours, assumed, toSee, shrinksHours,
    perHour: shrinksHours / Math.max(hours.likely, 0.05),
  };
}

/** By how much the range of a section's chance shrinks on average over the outcomes of a look; a look can, at worst, narrow nothing. */
function shrinkOf(tools: Tools, section: Placed, at: At): number {
  const now = widthOf(rangeOf(fiveYearChances(tools, section.input, 'everything', asItIs)));
  const after = outcomesOf(lookOutcomes).map((outcome) => widthOf(rangeOf(fiveYearChances(tools, section.input, at, outcome))));
  return Math.max(0, now - after.reduce((all, width) => all + width, 0) / after.length);
}

/** Time and way of a look as written, else the judged time. */
function timeOf(risk: RiskModel, zone: ZoneInspection, at: Target['at']): { hours: Spread; assumed: boolean; toSee: string } {
  const own = zone.notSeen.map(({ entry }) => entry).filter((entry) => (at === 'inside' ? entry.about === null : entry.about !== null));
  const rows = at === 'openings' ? zone.rows.filter((row) => row.outcome === 'not seen' && (row.lookHours !== null || row.toSee !== '')) : [];
  const toSee = [...new Set([...own.map((entry) => entry.toSee), ...rows.map((row) => row.toSee)])].filter((text) => text !== '').join('; ');
  const written = [...own.map((entry) => entry.hours), ...(own.length > 0 ? [] : rows.map((row) => row.lookHours))].filter((hours) => hours !== null);
  if (written.length > 0) return { hours: written.reduce((all, one) => ({ low: all.low + one.low, likely: all.likely + one.likely, high: all.high + one.high, judged: all.judged && one.judged })), assumed: false, toSee };
  const usual = risk.values.find((value) => value.id === 'look-hours');
  return { hours: { low: usual?.low ?? 0, likely: usual?.likely ?? 0, high: usual?.high ?? 0, judged: true }, assumed: true, toSee };
}
