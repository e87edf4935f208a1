import { writeFile } from 'node:fs/promises';
import path from 'node:path';
import { z } from 'zod';
import { dossierSchema } from '../../model/dossier.ts';
import type { Dossier } from '../../model/dossier.ts';
import { partsName, workName } from '../../model/dossier-work.ts';
import { lookAgainName, recordName } from '../../model/dossier-record.ts';
import { calendarText } from './calendar.ts';
import { partsCsv, workCsv } from './csv.ts';
import { recordCsv } from './record-csv.ts';

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

/** Writes `dossier.json` and its schema into a folder; where the edition holds work and cost, or work done, these as tables too, and the dates to look again for a calendar. */
export async function printData(dossier: Dossier, folder: string): Promise<void> {
  await writeFile(path.join(folder, dataName), dossierJson(dossier));
  await writeFile(path.join(folder, schemaName), dossierJsonSchema());
  if ((dossier.record?.done.length ?? 0) > 0) await writeFile(path.join(folder, recordName), recordCsv(dossier, dossier.record));
  const calendar = calendarText(dossier);
  if (calendar !== null) await writeFile(path.join(folder, lookAgainName), calendar);
  if (dossier.work === null) return;
  await writeFile(path.join(folder, workName), workCsv(dossier, dossier.work));
  await writeFile(path.join(folder, partsName), partsCsv(dossier, dossier.work));
}
