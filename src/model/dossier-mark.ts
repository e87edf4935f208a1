import { z } from 'zod';

const fraction = z.number().min(0).max(1);

/** One mark to draw over a photo. What was to be hidden is none of them: that is destroyed in the pixels. */
export const dossierMarkSchema = z.strictObject({
  shape: z.enum(['ring', 'arrow', 'box', 'scale', 'outline', 'grid frame']),
  /**
   * Fractions of the upright picture from its upper left corner, x before y. Ring: x y and the radius, a fraction of the
   * width; arrow: from x y to x y; scale: its two ends; box and grid frame: two opposite corners; outline: its corners.
   */
  numbers: z.array(fraction).min(3),
  /** Counts the marks of one photo from 1; drawn beside the mark, and said in the caption, where there are several. */
  number: z.int().positive(),
  /** As typed, "rust run", "34 of 100"; may be empty. */
  label: z.string(),
  /** Of a scale: the length it stands for, "50 mm", drawn beside its line. */
  length: z.string().optional(),
  /** Of an outline: the rectangle it is a share of, as two opposite corners; missing where that is the whole picture. */
  within: z.tuple([fraction, fraction, fraction, fraction]).optional(),
});
export type DossierMark = z.infer<typeof dossierMarkSchema>;
