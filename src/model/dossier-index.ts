import { z } from 'zod';

/** What an index of a dossier needs beyond its words: the zones in order, other names of things, and what carries load. */
export const dossierIndexSchema = z.strictObject({
  /** Every zone of the register, front to rear. */
  zones: z.array(z.strictObject({ id: z.string(), name: z.string(), /** Its record: `sill` of `sill-left`. */ kind: z.string(), carriesLoad: z.boolean() })),
  /** Things of this dossier that have more than one name. */
  terms: z.array(
    z.strictObject({
      of: z.enum(['zone', 'part', 'condition', 'word']),
      id: z.string(),
      /** British and American, that of the dossier first, then the plural. */
      names: z.array(z.string()).min(1),
      /** Further spellings people type, lower case. */
      also: z.array(z.string()),
    }),
  ),
  /** Anchors of openings, observations and steps in metal that carries load, or within 30 cm of a safety mounting. */
  carriesLoad: z.array(z.string()),
});
export type DossierIndex = z.infer<typeof dossierIndexSchema>;
