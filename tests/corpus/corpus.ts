import { existsSync } from 'node:fs';
import { join, resolve } from 'node:path';

const beside = resolve(import.meta.dirname, '../../../shared/corpus');

/** Folder of real pictures from public sources, which are not part of this repository; null where it is not there. */
export function corpusFolder(): string | null {
  const folder = process.env['SILLBOOK_CORPUS'] || beside;
  return existsSync(join(folder, 'expected-exif.tsv')) ? folder : null;
}

/** On a build machine a missing corpus is a fault; elsewhere it is said. */
export const corpusIsRequired = process.env['CI'] === 'true' || (process.env['SILLBOOK_CORPUS'] ?? '') !== '';
