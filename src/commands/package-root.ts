import { fileURLToPath } from 'node:url';

/** Folder of the installed package or the checkout: two above both `src/commands` and `dist/commands`. */
export const packageRoot = fileURLToPath(new URL('../../', import.meta.url));
