import { z } from 'zod';
import { settingsSchema } from '../model/settings.ts';

/** JSON Schema of `sillbook.json` for editors, from the same zod schema that checks it; kept as `templates/job/sillbook.schema.json`. */
export function settingsJsonSchema(): string {
  return `${JSON.stringify({ title: 'sillbook.json', ...z.toJSONSchema(settingsSchema, { io: 'input' }) }, null, 2)}\n`;
}
