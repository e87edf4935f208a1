import type { BlockOf, Section } from '../../model/dossier.ts';
import { inSentence, termIn } from '../../model/wording.ts';
import { countText, dateText } from '../../units.ts';
import type { Context } from '../context.ts';
import { aside, cell, paragraph, table } from '../inline.ts';
import { photoLinks } from '../say.ts';

/** The set of photos insurers usually ask for: which are here, which are not. */
export function views(context: Context): Section {
  const all = context.inspection.views;
  const present = all.filter((view) => view.photo !== null).length;
  const section = { id: 'views', title: 'Photo set for insurers', page: 'about', nav: 'Photo set', breakBefore: false };
  if (all.length === 0) return { ...section, blocks: [paragraph('No photo set is on record.')] };
  const rows = all.map(({ id, photo }): BlockOf<'table'>['rows'][number] => {
    const record = context.inspection.job.catalogue.views.find((view) => view.id === id);
    return { cells: [cell(record ? inSentence(termIn(record.name, context.language)) : id), cell(...(photo === null ? [noPhoto(context, id)] : photoLinks(context, [photo])))] };
  });
  const counted = countText(all.length, 'view', 'views');
  return {
    ...section,
    blocks: [
      paragraph(present === all.length ? `The set is complete: ${counted}, a photo for each.` : `The set is not complete: a photo for ${present} of ${counted}.`),
      aside('Insurers usually ask for these views, dated, and for new ones every one to three years; the policy in hand decides (common practice, no source).'),
      ...table('Views insurers usually ask for', [['View', 4], ['Photo', 6]], rows),
    ],
  };
}

/** A photo of an earlier visit shows how it was then: it is named, and does not count. */
function noPhoto(context: Context, id: string): string {
  const before = context.earlier.findLast(({ inspection }) => inspection.views.some((view) => view.id === id && view.photo !== null));
  if (!before) return 'no photo';
  const date = before.inspection.job.notes.seen?.date;
  return `no photo at this visit; one of ${date ? dateText(date) : 'an earlier visit, its day not written'}, which is not counted`;
}
