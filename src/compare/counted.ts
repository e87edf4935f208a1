import type { Catalogue, Part } from '../model/catalogue.ts';
import type { Change, Turn } from '../model/comparison.ts';
import type { RegisterRow, ZoneInspection } from '../model/inspection.ts';
import type { Visit } from '../model/visits.ts';
import { badnessOf } from '../model/wording.ts';
import { standingOfAll } from './things.ts';

/**
 * Openings of one kind of which some were only counted, at either visit: what is left of them when those named at both are
 * taken out stands against each other as a whole. Null where nothing is left to compare.
 */
export function changeOfCounted(visit: Visit, part: Part, before: ZoneInspection, after: ZoneInspection, matched: ReadonlySet<string>): Change | null {
  const { catalogue, settings } = visit.inspection.job;
  const left = (zone: ZoneInspection): RegisterRow[] => zone.rows.filter((row) => row.part.id === part.id && row.known !== 'kind' && !matched.has(row.id));
  const [old, now] = [left(before), left(after)];
  if (old.length === 0 && now.length === 0) return null;
  const standing = (rows: readonly RegisterRow[]): Change['before'] => (rows.length === 0 ? null : standingOfAll(catalogue, settings.language, rows));
  return { kind: 'openings', zone: after.zone.id, part, place: '', of: '', wasCalled: '', turn: turnOfRows(catalogue, old, now), before: standing(old), after: standing(now) };
}

/** Worst against worst, next against next: better or worse only where none goes the other way. */
function turnOfRows(catalogue: Catalogue, before: readonly RegisterRow[], after: readonly RegisterRow[]): Turn {
  const [old, now] = [before, after].map((rows) => rows.filter((row) => row.seen).map((row) => rank(catalogue, row)).sort((a, b) => b - a)) as [number[], number[]];
  if (old.length === 0 || now.length === 0) return now.length > 0 ? 'newly seen' : old.length > 0 ? 'no longer seen' : 'unchanged';
  if (old.length !== now.length) return 'differs';
  const [risen, fallen] = [now.some((one, at) => one > (old[at] ?? 0)), now.some((one, at) => one < (old[at] ?? 0))];
  if (risen && fallen) return 'differs';
  if (risen || fallen) return risen ? 'worse' : after.some((row) => row.conditions.includes('new')) ? 'replaced' : 'better';
  return sameConditions(before, after) ? 'unchanged' : 'differs';
}

function rank(catalogue: Catalogue, { outcome, conditions }: RegisterRow): number {
  return (outcome === 'defect' ? 1000 : outcome === 'cannot tell' ? 500 : 0) + badnessOf(catalogue, conditions);
}

function sameConditions(before: readonly RegisterRow[], after: readonly RegisterRow[]): boolean {
  const all = (rows: readonly RegisterRow[]): string => rows.filter((row) => row.seen).map((row) => row.conditions.toSorted().join(' ')).sort().join('|');
  return all(before) === all(after);
}
