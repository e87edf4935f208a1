import fc from 'fast-check';
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

/** Lines as people and phones type them, good and bad, to be put together in any order. */
export const findingLines = fc.constantFrom(
  '# Sill, left', '# Car', '# Visit', '#Sill right', '# Nowhere', '## deeper', '- plug, inner face 2: missing. rust IMG_4022', '- plug: blcoked', '- plugs: 4 expected, 2 missing, 3 odd',
  '  - part: plug 25 mm x 4, 1.90', '    • done: 2026-05-02, waxed', '- do: wax. 2 h', '![plug: missing. run](a b.jpg)', '![](c.jpg) words behind', '- ring 0.1 0.2 0.3: light', '- told, seller: "all fine"',
  '- not seen: rear third. strip. to see it: drill, 1 h', '- steel: 0.6 mm, 4 thou', '- mounting: 22 cm from bolt', '> quoted words', '```', '1. numbered', '[ref]: target "title"', '<b>raw</b> words', '---', '', 'plain words', '- ', '* - nested', '- # heading inside', '| a | b |', '- was: plug, front', '- again: never', 'key: value',
);
