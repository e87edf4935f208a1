import { writeFile } from 'node:fs/promises';
import path from 'node:path';
import { z } from 'zod';
import { dossierSchema } from '../../model/dossier.ts';
import type { Dossier } from '../../model/dossier.ts';

export const dataName = 'dossier.json';
export const schemaName = 'dossier.schema.json';

/** JSON Schema (draft 2020-12) of the dossier, from the same zod schema that checks it. */
export function dossierJsonSchema(): string {
  return `${JSON.stringify(z.toJSONSchema(dossierSchema), null, 2)}\n`;
}

/** The dossier as text: two spaces, keys in the order of the document, a line end last. */
export function dossierJson(dossier: Dossier): string {
  return `${JSON.stringify(dossier, null, 2)}\n`;
}

/** Writes `dossier.json` and its schema into a folder. */
export async function printData(dossier: Dossier, folder: string): Promise<void> {
  await writeFile(path.join(folder, dataName), dossierJson(dossier));
  await writeFile(path.join(folder, schemaName), dossierJsonSchema());
}
