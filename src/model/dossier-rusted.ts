import { z } from 'zod';

const fraction = z.number().min(0).max(1);
const percent = z.number().min(0).max(100);
const grade = z.int().min(0).max(10);

/** Rusted share of a region of one picture as data: a point count with its interval, or traced outlines without one. */
export const rustedAreaSchema = z.strictObject({
  zone: z.string(),
  /** Anchors of the photos; empty where the photo named is not in the job. */
  photos: z.array(z.string()),
  how: z.enum(['points', 'outline']),
  /** What it is a share of: left, top, right, bottom in fractions of the upright picture. */
  region: z.tuple([fraction, fraction, fraction, fraction]),
  /** Of a point count, else null. */
  hits: z.int().nonnegative().nullable(),
  points: z.int().positive().nullable(),
  /** Outlines put together, overlaps once; null of a point count. */
  outlines: z.int().positive().nullable(),
  percent,
  /** 95 % interval (Wilson) of a point count; null of outlines, whose error is not known. */
  lowPercent: percent.nullable(),
  highPercent: percent.nullable(),
  /** ASTM D610, of the ends of the interval; of outlines both are one. */
  bestGrade: grade,
  worstGrade: grade,
  origin: z.enum(['fact', 'opinion', 'told']),
  /** The same in words, and what it does not say. */
  words: z.string(),
  limits: z.string(),
  /** Places of the lines: `findings.md:12:3`. */
  written: z.array(z.string()),
});
