import type { Catalogue } from '../model/catalogue.ts';
import type { Standing, Turn } from '../model/comparison.ts';
import { badnessOf } from '../model/wording.ts';

/** Conditions that say a new part was put in. */
const newParts = ['new', 'replaced'];

/** What came of a thing seen at both visits: the worst of its conditions decides, then the outcome. */
export function turnOf(catalogue: Catalogue, before: Standing | null, after: Standing | null): Turn {
  const [was, is] = [before?.seen ?? false, after?.seen ?? false];
  if (before === null || after === null || !was || !is) return was ? 'no longer seen' : is ? 'newly seen' : unseenTurn(before, after);
  if (newParts.some((id) => after.conditions.includes(id) && !before.conditions.includes(id))) return 'replaced';
  if (before.outcome !== after.outcome && (before.outcome === 'cannot tell' || after.outcome === 'cannot tell')) return after.outcome === 'cannot tell' ? 'no longer clear' : 'made clear';
  const [old, now] = [rank(catalogue, before), rank(catalogue, after)];
  if (now !== old) return now > old ? 'worse' : 'better';
  return sameSet(before.conditions, after.conditions) ? 'unchanged' : 'differs';
}

/** Of two that were not seen: whether the body has such an opening at all can still have changed. */
function unseenTurn(before: Standing | null, after: Standing | null): Turn {
  return before && after && before.outcome !== after.outcome ? 'differs' : 'unchanged';
}

/** A defect is worse than what is none, whatever its badness. */
function rank(catalogue: Catalogue, { outcome, conditions }: Standing): number {
  return (outcome === 'defect' ? 1000 : 0) + badnessOf(catalogue, conditions);
}

function sameSet(a: readonly string[], b: readonly string[]): boolean {
  return a.length === b.length && a.every((one) => b.includes(one));
}
