import { stretches } from './lines.ts';
import type { Piece, Stretch } from './lines.ts';
import type { Fonts } from './fonts.ts';

/** Steps in which width goes from one column to another, wide ones first. Points. */
const steps = [48, 24, 12, 6];
/** A table of thousands of rows is measured by so many of them. */
const rowsMeasured = 240;

/**
 * Widths of a table's columns so that it is as low as it gets: width goes from one column to another for as long as that
 * saves lines. Starts from `widths`; no column gets narrower than its `needs`. All in points.
 */
export function lowestWidths(fonts: Fonts, rows: readonly (readonly Piece[][])[], widths: readonly number[], needs: readonly number[]): number[] {
  const every = Math.ceil(rows.length / rowsMeasured);
  const measured = rows.filter((_, index) => index % every === 0).map((row) => row.map((pieces) => stretches(fonts, pieces)));
  const counts = widths.map(() => new Map<number, number[]>());
  const linesOf = (column: number, width: number): number[] => {
    const known = counts[column]?.get(width);
    if (known) return known;
    const lines = measured.map((row) => lineCount(row[column] ?? [], width));
    counts[column]?.set(width, lines);
    return lines;
  };
  const height = (tried: readonly number[]): number => {
    const columns = tried.map((width, column) => linesOf(column, width));
    return measured.reduce((sum, _, row) => sum + columns.reduce((most, lines) => Math.max(most, lines[row] ?? 0), 1), 0);
  };
  let best = [...widths];
  let least = height(best);
  for (const step of steps) {
    for (let better: number[] | null = best; better; ) {
      better = null;
      for (const tried of moves(best, needs, step)) {
        const lines = height(tried);
        if (lines < least) {
          least = lines;
          better = tried;
        }
      }
      if (better) best = better;
    }
  }
  return best;
}

/** Every way to give a step of width from one column to another. */
function moves(widths: readonly number[], needs: readonly number[], step: number): number[][] {
  return widths.flatMap((from, giver) => (from - step < (needs[giver] ?? 0) ? [] : widths.flatMap((_, taker) => (taker === giver ? [] : [widths.map((width, at) => (at === giver ? width - step : at === taker ? width + step : width))]))));
}

/** Lines that stretches take in a room of so many points. */
function lineCount(parts: readonly Stretch[], room: number): number {
  let count = parts.length > 0 ? 1 : 0;
  let used = 0;
  for (const { ink, width, ends } of parts) {
    if (used > 0 && used + ink > room) {
      count += 1;
      used = 0;
    }
    // A stretch longer than the line is cut.
    if (ink > room) count += Math.ceil(ink / room) - 1;
    used += width;
    if (ends) {
      count += 1;
      used = 0;
    }
  }
  return count;
}
