import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

/** Folder of the installed package or the checkout: two above both `src/commands` and `dist/commands`. */
export const packageRoot = fileURLToPath(new URL('../../', import.meta.url));

/** Version of this package, as printed in every dossier. */
export async function version(): Promise<string> {
  const text = await readFile(path.join(packageRoot, 'package.json'), 'utf8');
  return String((JSON.parse(text) as { version: unknown }).version);
}
