/** Middle value of sorted ones; the mean of the two in the middle where their number is even; undefined of none. */
export function median(sorted: readonly number[]): number | undefined {
  const upper = sorted[Math.floor(sorted.length / 2)];
  const lower = sorted[Math.ceil(sorted.length / 2) - 1];
  return upper === undefined || lower === undefined ? undefined : (lower + upper) / 2;
}
