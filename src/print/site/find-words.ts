import type { Inline } from '../../model/dossier.ts';
import { capital } from '../../model/wording.ts';

/** The words of a run of text. */
export function textOf(inline: Inline): string {
  return inline.map((run) => (typeof run === 'string' ? run : run.text)).join('');
}

/** Lower-case words and numbers with single spaces. */
export function plain(text: string): string {
  return text.normalize('NFKC').toLowerCase().replace(/[^\p{L}\p{M}\p{N}]+/gu, ' ').trim();
}

/** Sentences of what is not empty: "Structure. Water can get in.", each with a large letter and one stop. */
export function saidOf(parts: readonly string[]): string {
  return parts
    .map((part) => part.replace(/\s+/g, ' ').trim())
    .filter((part) => part !== '')
    .map((part) => capital(part))
    .map((part) => (/[.!?…:]["”’)]?$/.test(part) ? part : `${part}.`))
    .join(' ');
}

const longest = 56;

/** The first words of a text: its first sentence where that is short, else as many whole words as fit. A longer word stands whole. */
export function wordsAtStart(text: string): string {
  const plain = text.replace(/\s+/g, ' ').trim();
  const sentence = /^.+?[.!?:](?=\s|$)/u.exec(plain)?.[0] ?? plain;
  if (sentence.length <= longest) return sentence;
  const cut = plain.slice(0, longest + 1).replace(/\s+\S*$/u, '');
  return cut.length <= longest ? cut : (/^\S+/u.exec(plain)?.[0] ?? plain);
}
