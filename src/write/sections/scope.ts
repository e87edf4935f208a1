import type { Block, Inline, Section } from '../../model/dossier.ts';
import { dateText } from '../../units.ts';
import type { Words } from '../../model/notes.ts';
import { hasPage, metaText, prints, spotText } from '../context.ts';
import type { Context } from '../context.ts';
import { aside, bullets, facts, heading, paragraph } from '../inline.ts';
import { leftover } from '../leftover.ts';
import { proseBlocks } from '../prose.ts';
import { car } from './car.ts';
import { photos } from './photos.ts';
import { views } from './views.ts';
import { ratesBlocks } from './work.ts';

/** Keys of the visit that have a line of their own in the list. */
const known = ['seen', 'place', 'by', 'for', 'tools', 'interest', 'paid', 'paid by', 'rely', 'asked'];

/**
 * Scope and limits: what ISO/IEC 17020:2012 clause 7.4 asks of an inspection report, as quoted in public guidance
 * (from memory). What was not written is said to be not written.
 */
export function scope(context: Context): Section {
  const said = facts(items(context));
  return {
    id: 'scope',
    title: 'Scope and limits',
    page: 'about',
    nav: 'Scope and limits',
    breakBefore: false,
    blocks: [
      ...said,
      ...asTyped(context, said),
      heading('Limits'),
      ...bullets([
        ['This is the condition on the day of the visit, as far as it was seen. What was not seen is listed and counts as neither sound nor defective.'],
        ['It is not a test of roadworthiness, replaces none, and says nothing about what the car is worth.'],
        ['A roadworthiness test that found nothing is no evidence about closed sections: such tests need not look behind trim.'],
      ]),
      ...proseBlocks(context.edition.limits),
      ...outside(context),
    ],
  };
}

function items(context: Context): { term: string; value: Inline }[] {
  const { issue, inspection: { job: { notes, settings } } } = context;
  const visit = (key: string): string => metaText(notes.visit, key) ?? 'not written';
  const others = notes.visit.filter((line) => !known.includes(line.key) && line.text.trim() !== '');
  return [
    { term: 'Issued by', value: [settings.workshop ?? visit('by')] },
    { term: 'Number and date of issue', value: [issue ? `${issue.number}, ${dateText(issue.date)}` : 'none: this is a draft'] },
    { term: 'Inspected by', value: [visit('by')] },
    { term: 'Date of inspection', value: [seenText(context)] },
    { term: 'Item inspected', value: [[metaText(notes.car, 'car'), metaText(notes.car, 'identity')].filter((text) => text !== null).join('; ') || 'not written'] },
    { term: 'Place and conditions', value: [visit('place')] },
    { term: 'Tools', value: [visit('tools')] },
    { term: 'Asked for by, and why', value: [visit('for')] },
    ...(metaText(notes.visit, 'asked') ? [{ term: 'What was asked', value: [visit('asked')] }] : []),
    { term: 'Paid by', value: [metaText(notes.visit, 'paid by') ?? visit('paid')] },
    { term: 'Interest of the inspector in the repair work', value: [visit('interest')] },
    { term: 'Who may rely on it', value: [metaText(notes.visit, 'rely') ?? 'not written; without other words only those who asked for it'] },
    { term: 'Findings of others', value: ['lines marked as told name who said them; all else is the inspector’s own'] },
    { term: 'Signature', value: ['by hand, on the copy that is handed over'] },
    ...others.map((line) => ({ term: line.key === '' ? 'Also written' : line.key.charAt(0).toUpperCase() + line.key.slice(1), value: [line.text] })),
  ];
}

function seenText(context: Context): string {
  const { seen } = context.inspection.job.notes;
  if (!seen) return metaText(context.inspection.job.notes.visit, 'seen') ?? 'not written';
  const hours = seen.from ? `, ${seen.from}${seen.to ? ` to ${seen.to}` : ''}` : '';
  return `${dateText(seen.date)}${hours}${seen.timeZone ? `, ${seen.timeZone}` : ''}${unknownTimeZone(context)}`;
}

/** What stands after date and hours of `seen:` where that is no time zone anybody knows. */
function unknownTimeZone(context: Context): string {
  const { seen } = context.inspection.job.notes;
  const written = context.inspection.job.notes.visit.find((line) => line.key === 'seen' && line.spot === seen?.spot)?.text ?? '';
  const words = /^[\d-]+(?:[\s,T]+\d{1,2}:\d{2}(?:\s*(?:-|–|to)\s*\d{1,2}:\d{2})?)?[\s,]+(?!\d)(.+)$/.exec(written)?.[1];
  return seen?.timeZone === null && words ? `; “${words}” is no known time zone` : '';
}

/** Keys whose line is named in this edition's own words. */
const named = ['car', 'built', 'body', 'kept', 'identity', 'mileage', 'winter salt', ...known];

/** Lines of Car, Visit and Rates of which nothing here, with the car, the photo set or the rates says all words. */
function asTyped(context: Context, said: readonly Block[]): Block[] {
  const { notes } = context.inspection.job;
  const metas = [...notes.car, ...notes.visit].map(({ key, text, spot }): Words => ({ text: named.includes(key) && text.trim() !== '' ? text : `${key}: ${text}`, spot }));
  const rates = notes.rates.map(({ key, text, spot }): Words => ({ text: key === '' ? text : `${key}: ${text}`, spot }));
  const blocks = [
    ...said,
    ...(prints(context, 'car') ? car(context).blocks : []),
    ...(prints(context, 'views') ? views(context).blocks : []),
    ...(prints(context, 'photos') ? photos(context).blocks : []),
    ...(prints(context, 'work') ? ratesBlocks(context) : []),
  ];
  return leftover([...metas, ...rates, ...notes.views], blocks);
}

/** Words that stand under no zone are printed, not dropped. */
function outside(context: Context): Block[] {
  const { job, unplacedNotes } = context.inspection;
  const before = job.notes.preamble.flatMap((stretch) => proseBlocks(stretch.text));
  const loose = unplacedNotes.flatMap((notes) => [
    aside(`Under “${notes.heading}” (${spotText(notes.spot)}), a heading no zone was recognised in:`),
    ...bullets(notes.texts.map((text): Inline => [text])),
  ]);
  const bare = bareHeadings(context);
  return before.length + loose.length + bare.length === 0 ? [] : [heading('Written outside any zone'), ...before, ...loose, ...bare];
}

/** Headings of zones under which nothing stands, where they say more than the zone's name. */
function bareHeadings(context: Context): Block[] {
  const { inspection } = context;
  return inspection.zones.filter((zone) => !hasPage(zone)).flatMap(({ zone }) => {
    const headings = inspection.job.notes.zones.filter((notes) => notes.zone === zone.id).map((notes) => notes.heading);
    return leftover(headings, [paragraph(`${zone.name} ${zone.nameUs}`)]);
  });
}
