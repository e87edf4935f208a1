import { z } from 'zod';
import { dossierMarkSchema } from './dossier-mark.ts';

/** A delivered picture made from a photo: upright, sRGB, without metadata. */
export const renditionSchema = z.strictObject({
  /** Relative to the site: `photos/3fa91c…-960.jpg`. */
  file: z.string(),
  width: z.int().positive(),
  height: z.int().positive(),
});
export type Rendition = z.infer<typeof renditionSchema>;

export const dossierPhotoSchema = z.strictObject({
  /** An anchor, as all ids. */
  id: z.string().regex(/^[a-z0-9]+(-+[a-z0-9]+)*$/),
  /** Path of the original in the job. */
  file: z.string(),
  bytes: z.int().nonnegative(),
  /** SHA-256 of the original; empty where it could not be read. */
  sha256: z.string(),
  /** Zone anchors. */
  zones: z.array(z.string()),
  /** Why it stands there, or "not placed". */
  placed: z.string(),
  /** Local time as shown, null where none. */
  taken: z.string().nullable(),
  /** Where the time comes from, a clause. */
  takenFrom: z.string(),
  camera: z.string(),
  caption: z.string(),
  /** Ascending by width; empty where the photo cannot be shown. */
  renditions: z.array(renditionSchema),
  /** Why it is not shown, or how it is damaged; empty where all is well. */
  flaw: z.string(),
  /** What is worth a second look about it, clauses: "looks unsharp". Empty in issues made before there were hints. */
  hints: z.array(z.string()).default([]),
  /** Drawn over the picture, never in it. Absent where nothing is marked, and in issues made before marks were drawn. */
  marks: z.array(dossierMarkSchema).min(1).optional(),
});
export type DossierPhoto = z.infer<typeof dossierPhotoSchema>;
