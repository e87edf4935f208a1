import type { Section } from '../../model/dossier.ts';
import type { IssueName } from '../../model/changes.ts';
import { capital, inSentence } from '../../model/wording.ts';
import { dateText, listText } from '../../units.ts';
import type { Context } from '../context.ts';
import { bullets, paragraph } from '../inline.ts';

/** What sort of copy this is, and what changed against the one before. */
export function corrections(context: Context): Section {
  const { issue, changes } = context;
  const section = { id: 'corrections', title: 'Issue and corrections', page: 'about', nav: 'Corrections', breakBefore: false };
  if (!issue) {
    return { ...section, blocks: [paragraph('This is a draft. It is made anew each time from the findings and photos and may differ from one day to the next. What is handed over should be an issue with a number and a date.')] };
  }
  const own = paragraph(`This is issue ${issue.number} of ${dateText(issue.date)}. It is kept byte for byte as it was handed over; a correction is a new issue with its own number and a list of what changed.`);
  if (!changes) return { ...section, blocks: [own, paragraph('No issue went before it.')] };
  const against = named(changes.before);
  return {
    ...section,
    blocks: [
      own,
      ...(changes.superseded.length === 0 ? [] : [paragraph({ text: `It takes the place of ${listText(changes.superseded.map(named))}.`, strong: true }, ` What was handed over then is kept as it was, and cannot say so itself: ask for the newest.`)]),
      ...(changes.changes.length === 0 ? [paragraph(`No line of the findings and no photo changed against ${against}.`)] : [paragraph(`Changed against ${against}:`), ...bullets(changes.changes.map((change) => [change]))]),
      ...(changes.beside.length === 0 ? [] : [paragraph('Other issues from this job, which stand beside it:'), ...bullets(changes.beside.map((one) => [`${capital(named(one))}, ${inSentence(one.edition)}${one.seenOn === null ? '' : `, of the visit of ${dateText(one.seenOn)}`}`]))]),
    ],
  };
}

function named({ number, date }: IssueName): string {
  return `issue ${number} of ${dateText(date)}`;
}
