import type { Dossier } from '../../model/dossier.ts';
import { words } from '../../model/printed-words.ts';
import { dateText } from '../../units.ts';

/** Draft, or issue with number and date, for cover and running head. */
export function statusInWords(status: Dossier['status']): string {
  return status.kind === 'draft' ? words.pdf.draft : words.pdf.issued(status.number, dateText(status.date));
}
