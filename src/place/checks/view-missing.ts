import type { Inspection } from '../../model/inspection.ts';
import type { Notice } from '../../model/notice.ts';
import { inSentence, termIn } from '../../model/wording.ts';
import { listText } from '../../units.ts';

/** Photos of the set insurers usually ask for that are not there: one notice for all. */
export function viewMissing({ job, views }: Inspection): Notice[] {
  const missing = job.catalogue.views.filter((view) => views.some(({ id, photo }) => id === view.id && photo === null));
  const [first] = missing;
  if (!first) return [];
  const nameOf = (view: typeof first): string => inSentence(termIn(view.name, job.settings.language));
  return [
    {
      level: 'note',
      rule: 'view-missing',
      spot: { file: job.notes.file },
      found: `No photo for ${missing.length === 1 ? 'the view' : 'the views'} ${listText(missing.map(nameOf))}`,
      expected: 'a photo of each view insurers usually ask for',
      advice: `Take them, and write "- view ${nameOf(first)}: IMG_1234" under "# Visit".`,
    },
  ];
}
