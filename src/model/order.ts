/** Orders texts by UTF-16 code unit: the same on every machine and in every language. */
export function byCodeUnit(a: string, b: string): number {
  if (a === b) return 0;
  return a < b ? -1 : 1;
}
