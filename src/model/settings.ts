import { z } from 'zod';

/** `sillbook.json`: optional settings of a job. Unknown keys are a notice, not an error. */
export const settingsSchema = z
  .object({
    $schema: z.string().optional().describe('Address of the schema, for help in an editor.'),
    currency: z.string().regex(/^[A-Z]{3}$/).refine((code) => Intl.supportedValuesOf('currency').includes(code)).optional().describe('ISO 4217 code that unmarked prices are in, for example EUR.'),
    units: z.enum(['mm', 'in']).default('mm').describe('Lengths in the dossier.'),
    language: z.enum(['en-GB', 'en-US']).default('en-GB').describe('Trade terms and spelling of the dossier.'),
    workshop: z.string().optional().describe('Name, address and registration of the workshop, as it should stand on the cover.'),
  })
  .strict();
export type Settings = z.infer<typeof settingsSchema>;
