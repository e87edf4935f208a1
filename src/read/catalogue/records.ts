import type { Term } from '../../model/catalogue.ts';

/** One `- …` item of a record, with the items indented under it. */
export interface RecordItem {
  /** Text of the item, its continuation lines joined by single spaces. */
  text: string;
  /** Line in the file, from 1. */
  line: number;
  children: RecordItem[];
}

/** One file of `content/`, read but not yet understood. */
export interface RecordText {
  /** Path to show in messages: `content/zones/sill.md`. */
  file: string;
  /** File name without ending. */
  id: string;
  name: Term;
  /** Items before the first section. */
  items: RecordItem[];
  /** Items under each `## Section`, keyed by its words in lower case. */
  sections: Map<string, { line: number; items: RecordItem[] }>;
}

/** Stops the program: a record that cannot be read is our own mistake, or that of whoever edited it last. */
export function recordError(file: string, line: number, wrong: string): Error {
  return new Error(`${file}:${line} ${wrong}`);
}

/**
 * Reads one record. The format is a small part of Markdown, so that records look right in any viewer, and is read by
 * line because the catalogue is loaded by every command: a Markdown parser took six times as long (measured on 187 records).
 *
 * `# British / American` · `- key: value` · `## Section` · `- item` · `  - item under it`. A line indented by two
 * spaces or more without a dash goes on with the item above. Anything else is an error with its line.
 */
export function readRecord(text: string, file: string): RecordText {
  const id = file.slice(file.lastIndexOf('/') + 1).replace(/\.md$/, '');
  const record: RecordText = { file, id, name: { gb: '', us: '' }, items: [], sections: new Map() };
  let list = record.items;
  let top: RecordItem | null = null;
  let last: RecordItem | null = null;
  const lines = text.split(/\r?\n/);
  for (const [index, raw] of lines.entries()) {
    const line = index + 1;
    const shown = raw.trimEnd();
    if (shown === '') continue;
    const item = /^( *)- +(.*)$/.exec(shown);
    if (item) {
      if (!record.name.gb) throw recordError(file, line, 'stands before the name; expected "# Name" first');
      const indent = item[1]?.length ?? 0;
      last = { text: item[2] ?? '', line, children: [] };
      if (indent === 0) {
        list.push(last);
        top = last;
      } else if (top && indent === 2) top.children.push(last);
      else throw recordError(file, line, 'is indented in no way we know; expected no indent, or two spaces under an item');
    } else if (/^ {2,}\S/.test(shown) && last) last.text += ` ${shown.trim()}`;
    else if (shown.startsWith('## ')) {
      const title = shown.slice(3).trim().toLowerCase();
      if (record.sections.has(title)) throw recordError(file, line, `repeats the section "${title}"`);
      list = [];
      record.sections.set(title, { line, items: list });
      top = last = null;
    } else if (shown.startsWith('# ') && !record.name.gb) record.name = termOf(shown.slice(2), file, line);
    else throw recordError(file, line, `cannot be read: "${shown}"; expected "- key: value", "## Section" or "- item"`);
  }
  if (!record.name.gb) throw recordError(file, 1, 'has no name; expected "# Name" first');
  return record;
}

/** `British / American`, or one name for both. */
export function termOf(text: string, file: string, line: number): Term {
  const [gb = '', us, ...more] = text.split(' / ').map((word) => word.trim());
  if (!gb || us === '' || more.length > 0) throw recordError(file, line, `has a name of no known form: "${text}"; expected "British / American" or one name`);
  return { gb, us: us ?? gb };
}

/** Key and value of `key: value`; the value is empty for `key:`. Null where there is no colon. */
export function keyValue(text: string): { key: string; value: string } | null {
  const found = /^([^:]+?):(?: +(.*))?$/.exec(text);
  return found ? { key: found[1] ?? '', value: found[2] ?? '' } : null;
}

/** Values of a list of `key: value` items, with a way to ask for each once and to complain of what nobody asked for. */
export interface Keys {
  /** Line of a key, or of the record where it is absent. */
  line: (key: string) => number;
  text: (key: string) => string | undefined;
  /** Comma list, empty where the key is absent. */
  words: (key: string) => string[];
  number: (key: string, unit?: string) => number | undefined;
  /** `yes` or `no`; no where the key is absent. */
  yes: (key: string) => boolean;
  /** Throws for a key nobody asked for: most often a slip of the pen. */
  done: () => void;
}

/** Opens a list of `key: value` items; `startLine` is where a missing key is reported. */
export function openKeys(items: readonly RecordItem[], file: string, startLine: number): Keys {
  const values = new Map<string, { value: string; line: number }>();
  const asked = new Set<string>();
  for (const item of items) {
    const pair = keyValue(item.text);
    if (!pair) throw recordError(file, item.line, `is no "key: value": "${item.text}"`);
    if (values.has(pair.key)) throw recordError(file, item.line, `gives "${pair.key}" twice`);
    values.set(pair.key, { value: pair.value, line: item.line });
  }
  const line = (key: string): number => values.get(key)?.line ?? startLine;
  const text = (key: string): string | undefined => {
    asked.add(key);
    return values.get(key)?.value;
  };
  return {
    line,
    text,
    words: (key) => wordList(text(key) ?? ''),
    number: (key, unit = '') => {
      const value = text(key);
      if (value === undefined) return undefined;
      const amount = unit && value.endsWith(` ${unit}`) ? value.slice(0, -unit.length - 1) : value;
      if (!/^\d+(\.\d+)?$/.test(amount) || (unit && amount === value)) {
        throw recordError(file, line(key), `has "${key}: ${value}"; expected a number${unit ? ` with " ${unit}"` : ''}`);
      }
      return Number(amount);
    },
    yes: (key) => {
      const value = text(key) ?? 'no';
      if (value !== 'yes' && value !== 'no') throw recordError(file, line(key), `has "${key}: ${value}"; expected yes or no`);
      return value === 'yes';
    },
    done: () => {
      for (const [key, { line: at }] of values) {
        if (!asked.has(key)) throw recordError(file, at, `has an unknown key "${key}"; expected one of ${[...asked].join(', ')}`);
      }
    },
  };
}

/** Words of a comma list; empty for an empty text. */
export function wordList(text: string): string[] {
  return text === '' ? [] : text.split(',').map((word) => word.trim());
}
