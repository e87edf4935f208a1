import type { Inspection } from '../../model/inspection.ts';
import type { Notice } from '../../model/notice.ts';
import { defectWithoutPhoto } from './defect-without-photo.ts';
import { openingNotExplained } from './opening-not-explained.ts';
import { photoNotPlaced } from './photo-not-placed.ts';
import { viewMissing } from './view-missing.ts';
import { zoneNotEntered } from './zone-not-entered.ts';
import { zoneWithoutWords } from './zone-without-words.ts';

/** Something that can be left undone, and the notices that say where it was. */
export interface Check {
  /** Rule of all its notices. */
  rule: string;
  check: (inspection: Inspection) => Notice[];
}

/** What is still to be done before leaving the car. One file for each. */
export const checks: readonly Check[] = [
  { rule: 'zone-not-entered', check: zoneNotEntered },
  { rule: 'zone-without-words', check: zoneWithoutWords },
  { rule: 'opening-not-explained', check: openingNotExplained },
  { rule: 'photo-not-placed', check: photoNotPlaced },
  { rule: 'view-missing', check: viewMissing },
  { rule: 'defect-without-photo', check: defectWithoutPhoto },
];

/** Rules of notices that say what is still to be done, not what is wrong. */
export const todoRules: readonly string[] = checks.map(({ rule }) => rule);
