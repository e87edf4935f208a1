import type { Entry, Notes } from '../../src/model/notes.ts';
import type { Notice } from '../../src/model/notice.ts';
import { settingsSchema } from '../../src/model/settings.ts';
import { readCatalogue } from '../../src/read/catalogue/index.ts';
import { readNotes } from '../../src/read/notes/index.ts';

export const catalogue = readCatalogue();

/** Reads a text as `findings.md` of a job priced in EUR, or in no currency. */
export function notesOf(text: string, options: { currency: string | null } = { currency: 'EUR' }): { notes: Notes; notices: Notice[] } {
  const settings = settingsSchema.parse(options.currency === null ? {} : { currency: options.currency });
  return readNotes({ file: 'findings.md', text, catalogue, settings, photoNames: [] });
}

/** Rules of the notices a text gets. */
export function rulesOf(text: string): string[] {
  return notesOf(text).notices.map((notice) => notice.rule);
}

function wordsOf(text: string): string[] {
  return text.normalize('NFC').match(/[\p{L}\p{N}]+/gu) ?? [];
}

/** The number of a list item is a sign of Markdown, like a bullet; items may stand in one another. */
function withoutNumbering(text: string): string {
  return text.replace(/^([\s>*+-]*)(\d{1,3}[.)](?=\s|$)[\s>*+-]*)+/gm, '$1');
}

/** Everything a reader of the notes can print. */
function kept(notes: Notes): string[] {
  const metas = [...notes.car, ...notes.visit, ...notes.rates].flatMap((meta) => [meta.key, meta.text]);
  const zones = notes.zones.flatMap((zone) => [zone.heading.text, ...zone.narrative.map((one) => one.text), ...zone.entries.flatMap(keptOf)]);
  return [...metas, ...notes.views.map((view) => view.text), ...notes.preamble.map((one) => one.text), ...zones];
}

function keptOf(entry: Entry): string[] {
  const own = [entry.text, entry.words, ...entry.photos.flatMap((photo) => [photo.text, photo.alt])];
  if (entry.type === 'finding') return [...own, entry.was === null ? '' : `was ${entry.was}`, ...entry.marks.map((mark) => mark.text), ...entry.work.flatMap(keptOf)];
  if (entry.type === 'photo') return [...own, ...entry.marks.map((mark) => mark.text)];
  if (entry.type === 'work') return [...own, ...entry.parts.map((part) => part.text), ...entry.done.map((done) => done.text)];
  return own;
}

/** Words of a findings text that stand nowhere in what was read from it. The empty list is what is wanted. */
export function everyWordKept(text: string): string[] {
  const { notes } = notesOf(text);
  // Markdown reads NUL as U+FFFD, and headings are compared without case.
  const have = new Set(kept(notes).flatMap((one) => wordsOf(one.toLowerCase())));
  const openers = new Set(['car', 'visit', 'rates']);
  return [...new Set(wordsOf(withoutNumbering(text.toLowerCase().replaceAll('\0', ' '))))].filter((word) => !have.has(word) && !openers.has(word));
}
