import type { Outcome } from '../model/catalogue.ts';
import type { Coverage, RegisterRow, ZoneInspection } from '../model/inspection.ts';
import { rustCounted, seenRust } from '../model/rusted-area.ts';
import { worseOutcome } from './verdict.ts';

/** How much of what is expected was seen, of one zone's rows. */
export function coverageOf(rows: readonly RegisterRow[]): Coverage {
  const fitted = rows.filter((row) => row.outcome !== 'not fitted');
  const known = fitted.filter((row) => row.known !== 'kind');
  const seen = known.filter((row) => row.seen);
  return {
    known: known.length,
    seen: seen.length,
    cannotTell: seen.filter((row) => row.outcome === 'cannot tell').length,
    notFitted: rows.length - fitted.length,
    kindsNotCounted: fitted.length - known.length,
  };
}

/** Coverage of several zones together. */
export function coverageSum(parts: readonly Coverage[]): Coverage {
  const sum: Coverage = { known: 0, seen: 0, cannotTell: 0, notFitted: 0, kindsNotCounted: 0 };
  for (const part of parts) {
    sum.known += part.known;
    sum.seen += part.seen;
    sum.cannotTell += part.cannotTell;
    sum.notFitted += part.notFitted;
    sum.kindsNotCounted += part.kindsNotCounted;
  }
  return sum;
}

/**
 * State of a zone: a defect wherever one was seen, rust counted on a photo among them; not seen where nothing was; sound only
 * where everything known was seen and is sound and nothing is left unseen; else it cannot be told. A count that found no rust
 * was a look, of a region only.
 */
export function stateOf(zone: Pick<ZoneInspection, 'rows' | 'observations' | 'notSeen' | 'rusted'>): Outcome {
  if (seenRust(zone.rusted)) return 'defect';
  const all = [...zone.rows, ...zone.observations].map(({ outcome }) => outcome);
  if (all.length > 0 && all.every((outcome) => outcome === 'not fitted')) return 'not fitted';
  const seen = all.filter((outcome) => outcome !== 'not seen' && outcome !== 'not fitted');
  const [first, ...others] = seen;
  if (first === undefined) return rustCounted(zone.rusted).length > 0 ? 'cannot tell' : 'not seen';
  const worst = others.reduce(worseOutcome, first);
  const unseen = all.includes('not seen') || zone.notSeen.length > 0;
  return worst === 'sound' && unseen ? 'cannot tell' : worst;
}
