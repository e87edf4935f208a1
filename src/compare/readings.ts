import type { Standing, Turn } from '../model/comparison.ts';
import type { ZoneInspection } from '../model/inspection.ts';
import { median } from '../model/median.ts';
import type { Reading } from '../model/notes.ts';
import type { Visit } from '../model/visits.ts';
import { countText, readingText } from '../units.ts';

/**
 * Two readings of one place differ by this much without anything having changed: another spot of it, another day, another
 * gauge. Our judgement. Of film, a tenth of the larger median, and at least the figure here.
 */
const sameWithin: Record<Reading['quantity'], number> = { steel: 0.1, film: 15, hardness: 5, 'water depth': 5 };

/** All values of one quantity at one place of one visit. */
export function standingOfReading(visit: Visit, all: readonly ZoneInspection['readings'][number][]): Standing {
  const { units } = visit.inspection.job.settings;
  const usable = all.filter(({ verdict }) => verdict.usable);
  const values = usable.flatMap(({ reading }) => reading.values).toSorted((a, b) => a - b);
  const [first] = all;
  const unit = first?.reading.unit ?? 'mm';
  const [least, middle, most] = [values[0], median(values), values.at(-1)];
  const common = { id: '', place: first?.reading.place ?? '', conditions: [], photos: [...new Set(all.flatMap(({ photos }) => photos))], spot: first?.reading.spot ?? null };
  if (least === undefined || middle === undefined || most === undefined) {
    const said = all.flatMap(({ reading }) => reading.values).map((value) => readingText(value, unit, units)).join(', ');
    return { ...common, outcome: 'cannot tell', words: `${said}${first?.verdict.reason ? `, which counts for nothing: ${first.verdict.reason}` : ''}`, seen: false };
  }
  const text = (value: number): string => readingText(value, unit, units);
  const count = countText(values.length, 'value', 'values');
  const words = first?.reading.quantity === 'film' ? `${text(middle)} in the middle of ${count}` : least === most ? `${text(least)}, ${count}` : `${text(least)} to ${text(most)}, ${count}`;
  return { ...common, outcome: 'cannot tell', words, seen: true, values: { unit, least, median: middle, most, count: values.length } };
}

/** Steel by its thinnest value, rubber by its middle, water by its deepest; film is neither better nor worse for being thicker. */
export function turnOfReading(quantity: Reading['quantity'], before: Standing | null, after: Standing | null): Turn {
  const [was, is] = [before?.values, after?.values];
  if (!was || !is) return was ? 'no longer seen' : is ? 'newly seen' : 'unchanged';
  if (was.unit !== is.unit) return 'differs';
  if (quantity === 'film') return Math.abs(is.median - was.median) > Math.max(sameWithin.film, Math.max(is.median, was.median) / 10) ? 'differs' : 'unchanged';
  // More is worse of hardness and water; less is worse of steel.
  const rise = quantity === 'steel' ? was.least - is.least : quantity === 'hardness' ? is.median - was.median : is.most - was.most;
  // A difference of exactly the tolerance is none, whatever the binary fractions say.
  if (Math.abs(rise) <= sameWithin[quantity] + 1e-9) return 'unchanged';
  return rise > 0 ? 'worse' : 'better';
}
