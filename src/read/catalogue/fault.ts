import type { Catalogue } from '../../model/catalogue.ts';

/** Something wrong between records. `word` is what to look for in the file to find the line. */
export interface Fault {
  kind: keyof Catalogue;
  id: string;
  word: string;
  wrong: string;
}
