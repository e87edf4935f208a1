import { z } from 'zod';

/** The id of a place in the dossier, as it stands behind `#`. */
export const anchorSchema = z.string().regex(/^[a-z0-9]+(-+[a-z0-9]+)*$/);
