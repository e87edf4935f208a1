import type { Spot } from '../../model/notice.ts';

/** The findings file after the tidy pass, with the way back to the file as it lies on disk. */
export interface Source {
  file: string;
  text: string;
  /** Line and column on disk of an offset in `text`. */
  spot(offset: number): Spot;
}

/** A stretch of the source with the offset of every UTF-16 unit, so that joined lines still point home. */
export interface Snippet {
  text: string;
  offsets: number[];
}

interface Line {
  text: string;
  /** Column on disk (from 0) of every unit of `text`, and one more for its end. */
  columns: number[];
}

const bullet = /^([ ]*)(?:([-*+•‣◦·●▪‐‑‒–—−])(?=[ ])[ ]*|([•‣◦●▪])(?=\S))/u;
const ordered = /^[ ]*\d{1,3}[.)][ ]/;

/** Decodes the bytes of a findings file: UTF-8, or UTF-16 where its byte order mark says so. `damaged` tells of bytes that are no text. */
export function decode(bytes: Uint8Array): { text: string; damaged: boolean } {
  const utf16 = bytes[0] === 0xff && bytes[1] === 0xfe ? 'utf-16le' : bytes[0] === 0xfe && bytes[1] === 0xff ? 'utf-16be' : null;
  const text = new TextDecoder(utf16 ?? 'utf-8').decode(bytes);
  return { text, damaged: text.includes('\uFFFD') };
}

/**
 * Mends what phones and pasting do to Markdown before it is parsed: bullets of all kinds, indents, non-breaking spaces,
 * line ends, `#Sill left` without its space, picture targets with spaces, a rule of `---` under text. Lines stay lines,
 * so that a position is a line and a column.
 * @param opensFinding tells whether a line begins with a part and a colon.
 * @param namesHeading tells whether the words after a bare `#` name a zone, Car, Visit or Rates.
 */
export function tidy(file: string, raw: string, namesHeading: (words: string) => boolean, opensFinding: (line: string) => boolean = () => false): Source {
  const lines = raw
    .replace(/^\uFEFF/, '')
    .split(/\r\n|\n|\r/)
    .map(plainSpaces);
  const stack: number[] = [];
  let before = '';
  const tidied = lines.map((line) => {
    const done = tidyLine(line, before, stack, { namesHeading, opensFinding });
    before = done.text;
    return done;
  });
  escapeOpenFences(tidied);
  const starts: number[] = [];
  let length = 0;
  for (const line of tidied) {
    starts.push(length);
    length += line.text.length + 1;
  }
  return { file, text: tidied.map((line) => line.text).join('\n'), spot: (offset) => spotOf(file, tidied, starts, offset) };
}

/** A fence of code that is never closed would take every zone below it for code: it is the text it is. */
function escapeOpenFences(lines: Line[]): void {
  for (let at = 0; at < lines.length; at += 1) {
    const line = lines[at];
    const marks = /^(`{3,}(?=[^`]*$)|~{3,})/.exec(line?.text ?? '')?.[0];
    if (!line || !marks) continue;
    const end = lines.findIndex(({ text }, index) => index > at && text.trim().startsWith(marks) && /^ {0,3}(`+|~+) *$/.test(text));
    if (end < 0) lines[at] = splice(line, 0, 0, '\\');
    else at = end;
  }
}

function spotOf(file: string, lines: readonly Line[], starts: readonly number[], offset: number): Spot {
  let low = 0;
  let high = starts.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((starts[middle] ?? 0) <= offset) low = middle;
    else high = middle - 1;
  }
  const columns = lines[low]?.columns ?? [0];
  const column = columns[Math.min(offset - (starts[low] ?? 0), columns.length - 1)] ?? 0;
  return { file, line: low + 1, column: column + 1 };
}

function plainSpaces(raw: string): Line {
  const text = raw.replace(/[\u00A0\u2007\u202F\u3000]/g, ' ');
  return { text, columns: Array.from({ length: text.length + 1 }, (_, index) => index) };
}

/** Replaces `count` units at `index` by `by`; the new units point at the place of the replaced ones. */
function splice(line: Line, index: number, count: number, by: string): Line {
  const at = line.columns[index] ?? 0;
  const columns = [...line.columns.slice(0, index), ...Array.from(by, () => at), ...line.columns.slice(index + count)];
  return { text: line.text.slice(0, index) + by + line.text.slice(index + count), columns };
}

/** What words alone can tell about a line. */
interface Signs {
  namesHeading(words: string): boolean;
  opensFinding(line: string): boolean;
}

function tidyLine(line: Line, before: string, stack: number[], signs: Signs): Line {
  if (line.text.trim() === '') return line;
  const untabbed = expandIndent(line);
  const mark = bullet.exec(untabbed.text);
  if (mark) return wrapTargets(nest(untabbed, mark, stack));
  if (ordered.test(untabbed.text)) return wrapTargets(untabbed);
  const indent = untabbed.text.length - untabbed.text.trimStart().length;
  // A picture or a finding on a line of its own begins something new, even right below an item: people leave out bullets and blank lines.
  if (stack.length > 0 && before.trim() !== '' && indent < 2 && (untabbed.text.trimStart().startsWith('![') || signs.opensFinding(untabbed.text.trim()))) return wrapTargets(splice(untabbed, 0, indent, '- '));
  const inItem = stack.length > 0 && (before.trim() !== '' || indent >= 2);
  if (inItem && !/^\s{0,1}#/.test(untabbed.text)) return wrapTargets(splice(untabbed, 0, indent, ' '.repeat(stack.length * 2)));
  stack.length = 0;
  return wrapTargets(tidyText(splice(untabbed, 0, indent, ''), before, signs.namesHeading));
}

/** Text outside a list: headings and rules. */
function tidyText(line: Line, before: string, namesHeading: (words: string) => boolean): Line {
  // "1998. Sills replaced" is a sentence, not point 1998 of a list.
  const year = /^\d{4,}(?=[.)]\s)/.exec(line.text);
  if (year) return splice(line, year[0].length, 0, '\\');
  const bare = /^#(?=[^\s#])/.exec(line.text);
  if (bare && namesHeading(line.text.slice(1))) return splice(line, 1, 0, ' ');
  const underText = before.trim() !== '' && !before.trimStart().startsWith('#');
  if (underText && /^(-+|=+)\s*$/.test(line.text)) return splice(line, 0, 0, '\\');
  return line;
}

function expandIndent(line: Line): Line {
  let done = line;
  for (let index = 0; /\s/.test(done.text[index] ?? ''); index += 1) if (done.text[index] === '\t') done = splice(done, index, 1, '    ');
  return done;
}

/** Rewrites a bullet as `- ` at a depth worked out from the indents before it, whatever they were. */
function nest(line: Line, mark: RegExpExecArray, stack: number[]): Line {
  const indent = (mark[1] ?? '').length;
  while (stack.length > 0 && indent < (stack.at(-1) ?? 0)) stack.pop();
  if (stack.length === 0 || indent >= (stack.at(-1) ?? 0) + 2) stack.push(indent);
  return splice(line, 0, mark[0].length, `${' '.repeat((stack.length - 1) * 2)}- `);
}

/** `](my photo 1.jpg)` becomes `](<my photo 1.jpg>)`. */
function wrapTargets(line: Line): Line {
  let done = line;
  for (let from = done.text.indexOf(']('); from >= 0; from = done.text.indexOf('](', from + 2)) {
    const start = from + 2;
    const end = closingBracket(done.text, start);
    if (end < 0) break;
    const target = done.text.slice(start, end);
    if (!/\s/.test(target.trim()) || target.startsWith('<') || /\s["'(].*["')]\s*$/.test(target)) continue;
    done = splice(done, end, 0, '>');
    done = splice(done, start, 0, '<');
  }
  return done;
}

function closingBracket(text: string, from: number): number {
  let depth = 0;
  for (let index = from; index < text.length; index += 1) {
    if (text[index] === '(') depth += 1;
    if (text[index] === ')' && depth-- === 0) return index;
  }
  return -1;
}

/** The stretch from `start` to `end`, its lines joined by one space each and their indents dropped. */
export function snippet(source: Source, start: number, end: number): Snippet {
  const raw = source.text.slice(start, end);
  let text = '';
  const offsets: number[] = [];
  for (const match of raw.matchAll(/\n\s*|[^\n]+/g)) {
    const piece = match[0].startsWith('\n') ? ' ' : match[0];
    for (let index = 0; index < piece.length; index += 1) offsets.push(start + match.index + index);
    text += piece;
  }
  return { text, offsets };
}

/** Part of a snippet by index in its text, white space at both ends dropped. */
export function part(whole: Snippet, from: number, to: number = whole.text.length): Snippet {
  const text = whole.text.slice(from, to);
  const lead = text.length - text.trimStart().length;
  const kept = text.trim();
  return { text: kept, offsets: whole.offsets.slice(from + lead, from + lead + kept.length) };
}

/** Cuts a snippet at every match of `separator`, which must be global. Pieces are trimmed; empty ones are left out. */
export function split(whole: Snippet, separator: RegExp): Snippet[] {
  const pieces: Snippet[] = [];
  let from = 0;
  for (const match of whole.text.matchAll(separator)) {
    pieces.push(part(whole, from, match.index));
    from = match.index + match[0].length;
  }
  pieces.push(part(whole, from));
  return pieces.filter((piece) => piece.text !== '');
}

/** Where a snippet begins, on disk. An empty one has no place of its own. */
export function spotOfSnippet(source: Source, piece: Snippet, fallback: Spot): Spot {
  const first = piece.offsets[0];
  return first === undefined ? fallback : source.spot(first);
}
