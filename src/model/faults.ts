import type { Catalogue, Part } from './catalogue.ts';
import type { Observation, RegisterRow, ZoneInspection } from './inspection.ts';
import type { Language } from './wording.ts';
import { badnessOf, conditionText, inSentence, rowIsStructure, termIn, worstCondition } from './wording.ts';

/** From scaling on, steel has visibly been eaten: our judgement. */
const eatenBadness = 45;

/** All that is wrong with one kind of opening, or with one thing beside the openings, of a zone. */
export interface Fault {
  /** A clause for titles and leads: "3 of 4 plugs defective (1 cracked, 2 missing)", "metal inside scaling". */
  text: string;
  part: Part;
  rows: RegisterRow[];
  observations: Observation[];
  /** Condition ids. */
  conditions: string[];
  badness: number;
  structure: boolean;
}

/** Defects of a zone by kind: openings before the rest, eaten steel right behind the worst opening, structure before the rest, the worse condition first. */
export function faultsOf(catalogue: Catalogue, zone: ZoneInspection, language: Language, counts: (one: Observation) => boolean = () => true): Fault[] {
  const rows = zone.rows.filter((row) => row.outcome === 'defect');
  const others = zone.observations.filter((one) => one.outcome === 'defect' && counts(one));
  const openings = byPart(rows).map((all): Fault => ({
    ...weight(catalogue, all.flatMap((row) => row.conditions)),
    text: openingsText(catalogue, zone, all, language),
    part: all[0].part, rows: all, observations: [], structure: all.some((row) => rowIsStructure(zone, row)),
  }));
  const rest = byPart(others).map((all): Fault => ({
    ...weight(catalogue, all.flatMap((one) => one.finding.conditions)),
    text: observedText(catalogue, all, language),
    part: all[0].part, rows: [], observations: all, structure: all.some((one) => one.structure),
  }));
  const worstFirst = (a: Fault, b: Fault): number => Number(b.structure) - Number(a.structure) || b.badness - a.badness;
  const [first = [], second = []] = [openings.sort(worstFirst), rest.sort(worstFirst)];
  // What the steel itself looks like must not stand behind the third kind of opening.
  const metal = second.findIndex((fault) => fault.part.type === 'metal' && fault.badness >= eatenBadness);
  return metal < 0 ? [...first, ...second] : [...first.slice(0, 1), ...second.splice(metal, 1), ...first.slice(1), ...second];
}

/** "plugs missing, drain slot blocked and 2 more": at most so many clauses. */
export function clausesText(faults: readonly Fault[], most: number, separator = ', '): string {
  const shown = faults.slice(0, most).map((fault) => fault.text).join(separator);
  const more = faults.length - most;
  return more > 0 ? `${shown} and ${more} more` : shown;
}

function byPart<T extends { part: Part }>(all: readonly T[]): [T, ...T[]][] {
  const groups = new Map<string, [T, ...T[]]>();
  for (const one of all) {
    const group = groups.get(one.part.id);
    if (group) group.push(one);
    else groups.set(one.part.id, [one]);
  }
  return [...groups.values()];
}

function weight(catalogue: Catalogue, conditions: string[]): { conditions: string[]; badness: number } {
  return { conditions, badness: badnessOf(catalogue, conditions) };
}

/** Counts stand in the order the openings do. */
function openingsText(catalogue: Catalogue, zone: ZoneInspection, rows: readonly [RegisterRow, ...RegisterRow[]], language: Language): string {
  const [first] = rows;
  const known = zone.rows.filter((row) => row.part.id === first.part.id && row.known !== 'kind' && row.outcome !== 'not fitted').length;
  const kinds = rows.map((row) => worstName(catalogue, row.conditions, language));
  const [only = '', ...others] = [...new Set(kinds)];
  if (rows.length === 1 && known <= 1) return joinedClause(inSentence(termIn(first.part.name, language)), only, '');
  const named = `${rows.length} of ${Math.max(known, rows.length)} ${inSentence(termIn(first.part.plural, language))}`;
  if (others.length > 0) return `${named} defective (${[only, ...others].map((kind) => `${kinds.filter((one) => one === kind).length} ${kind}`).join(', ')})`;
  const place = rows.length === 1 && first.known === 'named' ? first.place : '';
  if (isWord(only)) return `${named} ${only}${place ? ` (${place})` : ''}`;
  return `${named} defective (${[only, place].filter((text) => text !== '').join('; ')})`;
}

function observedText(catalogue: Catalogue, all: readonly [Observation, ...Observation[]], language: Language): string {
  const [first] = all;
  const worst = worstName(catalogue, all.flatMap((one) => one.finding.conditions), language);
  const place = all.length === 1 ? first.finding.about.place : '';
  if (first.part.type === 'water') return isWord(worst) ? `${worst} inside` : worst;
  return joinedClause(inSentence(termIn(first.part.name, language)), worst, place);
}

/** "metal inside scaling", or "surface rust (metal inside, front half)" where the condition is more than one word. */
function joinedClause(part: string, condition: string, place: string): string {
  if (isWord(condition)) return `${part} ${condition}${place ? ` (${place})` : ''}`;
  return `${condition} (${[part, place].filter((text) => text !== '').join(', ')})`;
}

function isWord(text: string): boolean {
  return !text.includes(' ');
}

function worstName(catalogue: Catalogue, conditions: readonly string[], language: Language): string {
  const worst = worstCondition(catalogue, conditions)?.id ?? conditions[0];
  return worst === undefined ? 'defective' : conditionText(catalogue, worst, language);
}
