import { z } from 'zod';

const share = z.number().min(0).max(1);
const ends = z.strictObject({ low: share, middle: share, high: share });
const hours = z.strictObject({ low: z.number(), middle: z.number(), high: z.number() });
const chance = z.strictObject({ years: z.number(), low: share, middle: share, high: share, /** Everything unseen at its best. */ best: share, /** Everything unseen at its worst. */ worst: share, /** The IPCC phrase. */ words: z.string() });
const prospect = z.strictObject({
  chances: z.array(chance),
  /** Years until one in ten, one half, nine in ten are through; null beyond 50. */
  years: z.strictObject({ low: z.number().nullable(), middle: z.number().nullable(), high: z.number().nullable() }),
  /** Share in which it is through already. */
  throughToday: share,
});

/** The outlook as data: chances between 0 and 1, rounded to four decimals. */
export const dossierOutlookSchema = z.strictObject({
  /** Version of the shared risk model. */
  model: z.string(),
  /** Assumptions the job put in the place of the model's own. */
  changed: z.array(z.strictObject({ id: z.string(), was: z.array(z.number()) })),
  surroundings: z.strictObject({ kept: z.string(), winterSalt: z.string(), airRateUm: z.number().nullable() }),
  sections: z.array(
    z.strictObject({
      zone: z.string(),
      section: z.string(),
      name: z.string(),
      carriesLoad: z.boolean(),
      insideSeen: z.enum(['whole', 'part', 'none']),
      measuredMm: z.number().nullable(),
      sheetMm: z.number(),
      waterGetsIn: ends,
      /** Steel left at the deepest place today, estimated, mm. */
      leftMm: z.strictObject({ low: z.number(), middle: z.number(), high: z.number() }),
      left: prospect,
      /** With the work done; null where none is written or usual. */
      done: prospect.nullable(),
      work: z.enum(['written', 'usual', 'none']),
      /** Share of the width of the chance within five years, and of the years, owed to what was not seen. */
      owedToUnseen: z.strictObject({ chance: share.nullable(), years: share.nullable() }),
    }),
  ),
  /** Hours of cutting out and replacing to be expected within five years if all is left, as if all sections turned out alike and as if each did by itself, and how much of that range is owed to what was not seen. */
  expectedHours: z.strictObject({ alike: hours, apart: hours, owedToUnseen: share.nullable() }),
  /** Looks nobody took, the one that narrows most for each hour first. */
  looks: z.array(z.strictObject({ zone: z.string(), section: z.string().nullable(), hours: z.number(), hoursAssumed: z.boolean(), toSee: z.string(), narrowsHours: z.number(), narrowsPerHour: z.number() })),
});
export type DossierOutlook = z.infer<typeof dossierOutlookSchema>;
