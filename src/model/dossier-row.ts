import { z } from 'zod';
import { outcomeSchema } from './catalogue.ts';

/** A line of the register as data. */
export const rowSchema = z.strictObject({
  id: z.string().regex(/^[a-z0-9]+(-+[a-z0-9]+)*$/),
  zone: z.string(),
  part: z.string(),
  place: z.string(),
  size: z.string().nullable(),
  known: z.enum(['named', 'counted', 'kind']),
  outcome: outcomeSchema,
  conditions: z.array(z.string()),
  details: z.array(z.string()),
  exposure: z.string(),
  cavity: z.string(),
  seen: z.boolean(),
  evidence: z.string().nullable(),
  origin: z.enum(['fact', 'opinion', 'told']),
  reason: z.string(),
  toSee: z.string(),
  mountingMm: z.number().nullable(),
  photos: z.array(z.string()),
  partner: z.string().nullable(),
  /** `findings.md:12:3`, null where nothing was written. */
  written: z.string().nullable(),
});
