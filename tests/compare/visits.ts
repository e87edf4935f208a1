import { compare } from '../../src/compare/index.ts';
import type { Change, Comparison } from '../../src/model/comparison.ts';
import { judged } from '../write/builders.ts';

const car = `# Car
- car: Test 1, two-door saloon
- built: 1971
- body: saloon
- kept: outside
- winter salt: some
`;

/** A visit: its day, what was written under its zones, its photos. */
export type VisitText = readonly [day: string, findings: string, photos?: readonly string[]];

/** Visits of one car. */
export function compared(...visits: readonly VisitText[]): Comparison {
  const made = visits.map(([day, findings, photos = []]) => judged(`${car}\n# Visit\n- seen: ${day}\n\n${findings}`, photos));
  const comparison = compare(made);
  if (!comparison) throw new Error('nothing to compare');
  return comparison;
}

/** "sill-left plug inner face 2: missing > new = replaced". */
export function lineOf({ zone, part, of, place, before, after, turn, wasCalled }: Change): string {
  return `${[zone, part?.id ?? of, place].filter((text) => text !== '').join(' ')}${wasCalled === '' ? '' : ` (${wasCalled})`}: ${before?.words ?? '-'} > ${after?.words ?? '-'} = ${turn}`;
}

/** What changed to the newest visit, a line each. */
export function changesOf(comparison: Comparison): string[] {
  return (comparison.between.at(-1)?.changes ?? []).map(lineOf);
}
