import { z } from 'zod';

/** A measured value in the unit shown: as a number, for its place on a scale, and as it is printed. */
const shownSchema = z.strictObject({ at: z.number().nonnegative(), text: z.string() });

/** The values of one reading, as both printers draw them along a scale. */
export const plotSchema = z
  .strictObject({
    /** Every single value, ascending; `apart` where it stands out from the others. */
    values: z.array(shownSchema.extend({ apart: z.literal(true).optional() })).min(1),
    least: shownSchema,
    median: shownSchema,
    most: shownSchema,
    /** What the values stand beside: "the roof, median 118 µm", "new sheet, 0.90 mm assumed". */
    marks: z.array(z.strictObject({ at: z.number().nonnegative(), words: z.string() })),
    /** Whether the values count for what they measure; where not, why stands in the sentence beside. */
    counts: z.boolean(),
    /** The same in numbers: "5 values, 455 to 610 µm, median 520 µm". */
    text: z.string(),
    /** All that is drawn, in one sentence. */
    label: z.string(),
  })
  .refine(({ values, least, median, most }) => values.every(({ at }) => least.at <= at && at <= most.at) && least.at <= median.at && median.at <= most.at, {
    error: 'values and median have to lie between least and most',
  });
export type Plot = z.infer<typeof plotSchema>;
