import { z } from 'zod';

const hundred = z.number().min(0).max(100);

/** One case of an outlook on the scale from 0 to 100, all five values in 100. */
export const rangeBarSchema = z
  .strictObject({
    /** What is done: "if left", "with the work done". */
    label: z.string(),
    /** The range itself, printed as a thick line. */
    low: hundred,
    middle: hundred,
    high: hundred,
    /** With everything that nobody saw at its best, and at its worst: a dashed line to either side. */
    best: hundred,
    worst: hundred,
    /** The same in numbers, since nobody reads them off a line: "12 to 31 in 100; with everything unseen at its best 4, at its worst 66". */
    text: z.string(),
  })
  .refine(({ best, low, middle, high, worst }) => best <= low && low <= middle && middle <= high && high <= worst, {
    error: 'best, low, middle, high and worst have to rise in this order',
  });
export type RangeBar = z.infer<typeof rangeBarSchema>;
