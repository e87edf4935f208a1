import { z } from 'zod';
import { labourKinds, roundings, taxSpans } from './rates.ts';

const amount = z.number().min(0).max(1e8);
const rising = (numbers: number | readonly number[]): boolean => typeof numbers === 'number' || numbers.every((number, index) => index === 0 || number >= (numbers[index - 1] ?? 0));

/** One number, low and high, or low, likely and high, in rising order. */
function spread(one: z.ZodNumber): z.ZodType<number | [number, number] | [number, number, number]> {
  return z.union([one, z.tuple([one, one]), z.tuple([one, one, one])]).refine(rising);
}

const labourKeys = ['labour', ...labourKinds.map((kind) => `labour ${kind}` as const)] as const;

const material = z
  .strictObject({
    filmUm: spread(z.number().positive().max(10_000)).optional().describe('Dry film in µm.'),
    solidsPercent: spread(z.number().positive().max(100)).optional().describe('Solids by volume, in percent, as the data sheet says.'),
    lossPercent: spread(z.number().min(0).max(95)).optional().describe('What misses the surface, in percent.'),
    pricePerLitre: spread(amount).optional().describe('Without tax, in the currency above.'),
  })
  .optional();

/** `sillbook.json`: optional settings of a job. Unknown keys are a notice, not an error. */
export const settingsSchema = z
  .object({
    $schema: z.string().optional().describe('Address of the schema, for help in an editor.'),
    currency: z.string().regex(/^[A-Z]{3}$/).refine((code) => Intl.supportedValuesOf('currency').includes(code)).optional().describe('ISO 4217 code that unmarked prices are in, for example EUR.'),
    units: z.enum(['mm', 'in']).default('mm').describe('Lengths in the dossier; without it, mm, and in for en-US.'),
    language: z.enum(['en-GB', 'en-US']).default('en-GB').describe('Trade terms and spelling of the dossier.'),
    risk: z.record(z.string(), z.array(z.number())).optional().describe('Assumptions of the shared risk model put in the place of its own, by their ids in content/risk-model.md: [low, likely, high], or one share for each state. The dossier says which.'),
    workshop: z.string().optional().describe('Name, address and registration of the workshop, as it should stand on the cover.'),
    rates: z.partialRecord(z.enum(labourKeys), spread(amount)).optional().describe('What an hour of labour costs without tax: one number, [low, high] or [low, likely, high]. "labour weld" and the like hold for work of that kind alone. Rates in the findings win.'),
    tax: z
      .strictObject({
        percent: z.number().min(0).max(100).refine((percent) => /^\d+(\.\d+)?$/.test(String(percent))),
        per: z.enum(taxSpans).optional().describe('Rounded on every line, or once on the sum.'),
        rounding: z.enum(roundings).optional().describe('Half up goes away from zero, down towards it.'),
      })
      .optional()
      .describe('Tax on top of rates and prices. The findings win.'),
    materials: z.strictObject({ wax: material, paint: material }).partial().optional().describe('What is known of the wax and the paint used; what is not said is taken from the catalogue.'),
  })
  .strict();
export type Settings = z.infer<typeof settingsSchema>;
