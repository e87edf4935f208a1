import { readFileSync } from 'node:fs';
import path from 'node:path';

/** One example of the CommonMark specification with the HTML its authors want. */
export interface Example {
  example: number;
  markdown: string;
  html: string;
}

/** Source: CommonMark spec.txt, commit 31c0ca2, the examples cut out of it (corpus: text/commonmark). */
export function commonmark(folder: string): Example[] {
  return JSON.parse(readFileSync(path.join(folder, 'text/commonmark/spec-tests.derived.json'), 'utf8')) as Example[];
}

/** Source: Big List of Naughty Strings (corpus: text/blns). */
export function naughty(folder: string): string[] {
  return JSON.parse(readFileSync(path.join(folder, 'text/blns/blns.json'), 'utf8')) as string[];
}

/** Source: OWASP cheat sheet on the evasion of XSS filters, every block of code (corpus: text/owasp). */
export function scripting(folder: string): string[] {
  const sheet = readFileSync(path.join(folder, 'text/owasp/cheatsheets/XSS_Filter_Evasion_Cheat_Sheet.md'), 'utf8');
  return [...sheet.matchAll(/^```\w*\n([\s\S]*?)^```/gm)].map((match) => (match[1] ?? '').trimEnd());
}

/** Runs of letters and digits, without regard to case. */
export function wordsOf(text: string): string[] {
  return text.toLowerCase().normalize('NFC').match(/[\p{L}\p{N}]+/gu) ?? [];
}

/** Words of `text` that stand nowhere in `printed`, not even inside another word: Markdown joins `foo*bar*` to "foobar". */
export function missingWords(text: string, printed: string): string[] {
  const have = wordsOf(printed).join(' ');
  return [...new Set(wordsOf(text))].filter((word) => !have.includes(word));
}

/** Text without what Markdown replaces by another sign: `&ouml;`, `&#35;`, and the numbers of list items, which a list counts itself. */
export function withoutSigns(text: string): string {
  return text.replace(/&(#x?[0-9a-f]+|\w+);/gi, ' ').replace(/^([\s>*+-]*)(\d{1,3}[.)](?=\s|$)[\s>*+-]*)+/gm, '$1 ');
}
