import type { Outcome } from '../../model/catalogue.ts';
import type { Dossier } from '../../model/dossier.ts';
import { dateText } from '../../units.ts';

/** Every word the PDF adds of its own, in one place so that another language can follow. */
export const words = {
  contents: 'Contents',
  draft: 'DRAFT',
  draftMeaning: 'Not issued. It may still change; ask for the issue with a number and a date.',
  issue: 'Issue',
  dated: 'dated',
  reader: 'Made for',
  author: 'Made by',
  seenOn: 'Looked at on',
  coverage: 'Seen',
  originals: 'Original files',
  listHash: 'SHA-256 of the list of originals',
  listHashMeaning: 'Lodge this with somebody else: it shows later that the list, and with it each original file, is unchanged.',
  limits: 'Limits',
  signature: 'Signature',
  signedOn: 'Place and date',
  continued: 'continued',
  zone: 'Zone',
  state: 'State',
  whatMatters: 'What matters',
  page: 'Page',
  structure: 'carries structure',
  bars: 'The thick line, solid or hollow, is the range; the short upright is its middle; the dashed line is how far what nobody saw could move it.',
  moreSteps: 'Further first steps, on the pages after these:',
  barsElsewhere: 'how to read the bars: page',
  caution: 'Caution',
  source: 'Source:',
  opinion: 'Opinion',
  told: 'Told',
  toldBy: 'Told by',
  fact: 'Fact',
  plots: {
    dot: 'Each dot is one value; values that nearly coincide stand on each other.',
    line: 'The line is their range, the short upright below it their median.',
    mark: 'Dashed: what they stand beside.',
    apart: 'A hollow lozenge stands out from the others.',
    hollow: 'Outlined dots do not count.',
    beside: 'dashed:',
  },
  timeline: 'A dot is one photo; the time line is dashed where none was taken for long.',
  before: 'Before.',
  during: 'Between the two.',
  after: 'After.',
  unlike: 'The two photos differ in shape: the earlier one stands whole in a frame of the shape of the later.',
  notShown: 'This photo is not shown',
} as const;

/** "page 3 of 12" of the foot. */
export function pageOfPages(page: number, pages: number): string {
  return `page ${page} of ${pages}`;
}

/** Draft, or issue with number and date, for cover and running head. */
export function statusInWords(status: Dossier['status']): string {
  return status.kind === 'draft' ? words.draft : `${words.issue} ${status.number}, ${words.dated} ${dateText(status.date)}`;
}

/** The word printed beside a state's shape. */
export function stateWord(outcome: Outcome): string {
  return outcome;
}
