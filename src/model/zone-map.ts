import { z } from 'zod';
import { anchorSchema } from './anchor.ts';
import { outcomeSchema } from './catalogue.ts';

/** A zone in a list or on a map. */
export const zoneLineSchema = z.strictObject({
  /** Anchor of the zone's section; a printer links to it where the dossier has it. */
  zone: anchorSchema,
  name: z.string(),
  state: outcomeSchema,
  structure: z.boolean(),
  /** What matters in it, a short line; may be empty. */
  gist: z.string(),
});

/** What a body map shows: the body as it is drawn, and every zone expected on it, those nobody wrote about among them. */
export const zoneMapSchema = z.strictObject({
  /** Id of the body that is drawn. */
  body: z.string(),
  /** "saloon", in the dossier's language. */
  bodyName: z.string(),
  rearDoors: z.boolean(),
  /** How far the drawing is known to be of this car: a sentence, empty where nothing is to be said. */
  doubt: z.string(),
  zones: z.array(zoneLineSchema).min(1),
});
export type ZoneMap = z.infer<typeof zoneMapSchema>;
