/** Rusted share in percent up to which each grade reaches, the bound itself included: ASTM D610-08, Table 1. */
const upTo: readonly (readonly [percent: number, grade: number])[] = [[0.01, 10], [0.03, 9], [0.1, 8], [0.3, 7], [1, 6], [3, 5], [10, 4], [16, 3], [33, 2], [50, 1], [100, 0]];

/** Grades of an interval: the better one belongs to its low end. */
export interface RustGrades {
  best: number;
  worst: number;
  /** "4 to 2", or "4" where both are one. */
  words: string;
}

/** Rust grade 10 (none to speak of) to 0 of a rusted share of painted surface in percent; null of what is no share. It says nothing of depth. */
export function rustGrade(percent: number): number | null {
  if (!(percent >= 0)) return null;
  return upTo.find(([bound]) => percent <= bound)?.[1] ?? null;
}

/** The grades that an interval of the rusted share spans; null where an end is no share or the ends run backwards. */
export function rustGrades(lowPercent: number, highPercent: number): RustGrades | null {
  const [best, worst] = [rustGrade(lowPercent), rustGrade(highPercent)];
  if (best === null || worst === null || lowPercent > highPercent) return null;
  return { best, worst, words: best === worst ? String(best) : `${best} to ${worst}` };
}
