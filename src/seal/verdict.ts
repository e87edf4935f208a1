import type { TokenVerdict } from './timestamp.ts';

/** One thing that is not as the lists say. */
export interface Difference {
  kind: 'changed' | 'missing' | 'added' | 'wrong';
  /** The file, `.` for the whole. */
  name: string;
  what: string;
}

/** What came of a check. */
export interface Verdict {
  kind: 'bag' | 'dossier' | 'unknown';
  /** Of a bag, as written. */
  version: number | null;
  differences: Difference[];
  /** Odd, and no fault. */
  warnings: string[];
  files: number;
  /** SHA-256 of `manifest-sha256.txt`, to compare with what was lodged elsewhere; null where there is none. */
  manifestSha256: string | null;
  token: TokenVerdict | null;
}

/** What systems leave in folders: never a file of a dossier. */
export const litter = /(?:^|\/)(?:\.DS_Store|\._[^/]*|Thumbs\.db|ehthumbs\.db|desktop\.ini)$/i;
