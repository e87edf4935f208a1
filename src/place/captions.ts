import type { Catalogue } from '../model/catalogue.ts';
import type { Entry, Finding, Origin, PhotoName } from '../model/notes.ts';
import type { Language } from '../model/wording.ts';
import { conditionText, conditionsText, inSentence, partText, termIn, toldBy } from '../model/wording.ts';

/** What a photo shows, from the line that names it: part, place, conditions and words; else the words of the picture. */
export function captionOf(catalogue: Catalogue, language: Language, entry: Entry, name: PhotoName): string {
  if (entry.type === 'photo') return name.alt;
  return said(entry.origin) + entryText(catalogue, language, entry, name);
}

/** "told by seller: ", "opinion: ", or nothing for what was seen. */
export function said(origin: Origin): string {
  if (origin.kind === 'told') return `${toldBy(origin.by)}: `;
  return origin.kind === 'opinion' ? 'opinion: ' : '';
}

function entryText(catalogue: Catalogue, language: Language, entry: Exclude<Entry, { type: 'photo' }>, name: PhotoName): string {
  switch (entry.type) {
    case 'finding':
      return findingText(catalogue, language, entry);
    case 'count': {
      const part = catalogue.parts.find((one) => one.id === entry.part);
      const plural = part ? inSentence(termIn(part.plural, language)) : entry.part;
      const counts = [...(entry.expected === null ? [] : [`${entry.expected} expected`]), ...entry.counts.map(({ condition, count }) => `${count} ${conditionText(catalogue, condition, language)}`)].join(', ');
      return sentences([join([join([plural, entry.place], ', '), counts], ': '), entry.words]);
    }
    case 'reading':
      return sentences([join([entry.quantity, entry.place], ', '), entry.words]);
    case 'not seen':
      return sentences([join(['not seen', entry.what], ': '), entry.reasonWords]);
    case 'not fitted':
      return join(['not fitted', entry.what], ': ');
    case 'mounting':
      return entry.of;
    case 'work':
      return entry.steps;
    case 'remark':
    case 'note':
      return name.alt || entry.words || entry.text;
  }
}

function findingText(catalogue: Catalogue, language: Language, finding: Finding): string {
  const { about } = finding;
  const part = catalogue.parts.find((one) => one.id === about.part);
  const named = part ? partText(part, about.place, language) : join([about.part, about.place], ', ');
  return join([named, findingWords(catalogue, language, finding)], ': ');
}

/** Conditions, details and free words of a finding, without a last full stop: "cracked, loose. rust run below". */
export function findingWords(catalogue: Catalogue, language: Language, finding: Finding): string {
  return sentences([join([conditionsText(catalogue, finding.conditions, language), ...finding.details], ', '), finding.words]);
}

/** The words keep the capitals they were typed with. */
function sentences(texts: readonly string[]): string {
  return join(texts.map((text) => text.trim().replace(/\.$/, '')), '. ');
}

function join(texts: readonly string[], separator: string): string {
  return texts.filter((text) => text.trim() !== '').join(separator);
}
