import type { RegisterRow } from '../model/inspection.ts';
import type { Finding, NotFitted, NotSeen } from '../model/notes.ts';
import type { Notice } from '../model/notice.ts';
import { conditionsText } from '../model/wording.ts';
import { spotText } from './spots.ts';
import type { Terms } from './verdict.ts';
import { verdictOf } from './verdict.ts';

/** A notice where one thing in one place is written sound and with a defect; null where not. Hearsay contradicts nothing. */
export function contradictionOf(terms: Terms, name: string, findings: readonly Finding[]): Notice | null {
  const judged = findings.filter((finding) => finding.origin.kind === 'fact').map((finding) => ({ finding, outcome: verdictOf(terms, finding).outcome }));
  const sound = judged.find(({ outcome }) => outcome === 'sound')?.finding;
  const defect = judged.find(({ outcome }) => outcome === 'defect')?.finding;
  if (!sound || !defect) return null;
  const words = (finding: Finding): string => `${conditionsText(terms.catalogue, finding.conditions, terms.language)} at ${spotText(finding.spot)}`;
  return {
    level: 'warning',
    rule: 'finding-contradicts',
    spot: defect.spot,
    found: `“${name}” is ${words(defect)} and ${words(sound)}`,
    expected: 'one state for one place',
    advice: 'The worse counts. Correct one line, or write two places.',
  };
}

/** A notice where one opening is written as seen and as not seen or not fitted, or as not fitted and not seen. */
export function seenAndUnseen(name: string, row: RegisterRow, entry: NotSeen | NotFitted): Notice {
  const state = row.seen ? 'seen' : row.outcome;
  const counts = row.seen ? 'What was seen counts.' : 'Not seen counts.';
  return {
    level: 'warning',
    rule: 'finding-contradicts',
    spot: entry.spot,
    found: `“${name}” is ${entry.type} at ${spotText(entry.spot)} and ${state}${row.spot ? ` at ${spotText(row.spot)}` : ''}`,
    expected: 'one state for one place',
    advice: `${counts} Correct one line.`,
  };
}
