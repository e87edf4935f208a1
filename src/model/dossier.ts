import { z } from 'zod';
import { anchorSchema, blockSchema } from './blocks.ts';
import { dossierIndexSchema } from './dossier-index.ts';
import { dossierOutlookSchema } from './dossier-outlook.ts';
import { dossierPhotoSchema } from './dossier-photo.ts';
import { dossierRecordSchema, lookAgainSchema } from './dossier-record.ts';
import { rowSchema } from './dossier-row.ts';
import { rustedAreaSchema } from './dossier-rusted.ts';
import { dossierWorkSchema } from './dossier-work.ts';
import { noticeSchema } from './notice.ts';

export { dossierPhotoSchema, renditionSchema } from './dossier-photo.ts';
export type { DossierPhoto, Rendition } from './dossier-photo.ts';

export * from './blocks.ts';

export const sectionSchema = z.strictObject({
  /** Anchor, unique in the dossier. */
  id: anchorSchema,
  title: z.string(),
  /** Page of the site it stands on, without ending: `index`, `zones/sill-left`, `photos`. Sections of one page are neighbours. */
  page: z.string().regex(/^[a-z0-9]+(-[a-z0-9]+)*(\/[a-z0-9]+(-[a-z0-9]+)*)?$/),
  /** Words of the page's link in the navigation, on the first section of a page that has one. */
  nav: z.string().optional(),
  /** Starts a page of its own in the PDF. */
  breakBefore: z.boolean(),
  blocks: z.array(blockSchema),
});
export type Section = z.infer<typeof sectionSchema>;

const coverageSchema = z.strictObject({
  known: z.int(),
  seen: z.int(),
  cannotTell: z.int(),
  notFitted: z.int(),
  kindsNotCounted: z.int(),
  /** The same in words. */
  words: z.string(),
});

/** The one result: everything site, PDF and data print. */
export const dossierSchema = z.strictObject({
  $schema: z.string(),
  format: z.literal('sillbook-dossier-1'),
  generator: z.strictObject({ name: z.literal('sillbook'), version: z.string() }),
  language: z.enum(['en-GB', 'en-US']),
  edition: z.strictObject({ id: z.string(), title: z.string(), reader: z.string() }),
  /** A draft, or a frozen issue with number and date. */
  status: z.discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('draft') }),
    z.strictObject({ kind: z.literal('issue'), number: z.string(), date: z.string() }),
  ]),
  title: z.string(),
  subtitle: z.string(),
  /** Running foot: what the dossier is not. */
  limits: z.string(),
  /** Who made it, for the foot and the PDF's author. */
  author: z.string(),
  /** Date of the visit, ISO, null where not written. */
  seenOn: z.string().nullable(),
  coverage: coverageSchema,
  sections: z.array(sectionSchema).min(1),
  photos: z.array(dossierPhotoSchema),
  register: z.array(rowSchema),
  /** Empty in issues made before rusted areas were counted. */
  rustedAreas: z.array(rustedAreaSchema).default([]),
  /** Null in issues made before outlooks were worked out. */
  outlook: dossierOutlookSchema.nullable().default(null),
  /** Null in an edition that leaves work and cost out, and in issues made before costs were worked out. */
  work: dossierWorkSchema.nullable().default(null),
  /** Work written as done over all visits. Absent in an edition without that section, and in issues made before there was one. */
  record: dossierRecordSchema.optional(),
  /** Dates to look again over all visits. Absent likewise. */
  again: z.array(lookAgainSchema).optional(),
  /** What an index of the dossier needs beyond its words. Absent in issues made before there was one. */
  index: dossierIndexSchema.optional(),
  /** Every line of the findings as it was typed, with the heading it stands under and its place in the file. */
  findings: z.array(z.strictObject({ under: z.string(), text: z.string(), written: z.string() })),
  originals: z.strictObject({
    /** SHA-256 of `originals-sha256.txt`. */
    listSha256: z.string(),
    count: z.int(),
  }),
  notices: z.array(noticeSchema),
});
export type Dossier = z.infer<typeof dossierSchema>;
