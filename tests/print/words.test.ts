import { execFileSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, realpathSync, renameSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { PDFDict, PDFDocument, PDFHexString, PDFName, PDFString } from 'pdf-lib';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { poppler } from './pdf/tools.ts';

/**
 * A copy of the program whose printers say every word in marks prints a dossier whose own words are all x. What then stands
 * in a page, a PDF or the calendar file unmarked and is no x comes from a printer that has words of its own.
 */
const folder = realpathSync(mkdtempSync(path.join(tmpdir(), 'sillbook-words-')));
const out = path.join(folder, 'out');

/** Every word of every string, and of what functions give back, stands in marks, so that a line may break between them. */
const marked = `import { words as own } from './words-unmarked.ts';
const mark = (value: any): any =>
  typeof value === 'string' ? value.replace(/\\S+/g, '‹$&›')
  : typeof value === 'function' ? (...given: any[]) => mark(value(...given).replaceAll(/[‹›]/g, ''))
  : Object.fromEntries(Object.entries(value).map(([key, one]) => [key, mark(one)]));
export const words = mark(own);
`;

beforeAll(() => {
  const copy = path.join(folder, 'program');
  for (const name of ['src', 'templates', 'content', 'package.json']) cpSync(name, path.join(copy, name), { recursive: true });
  mkdirSync(path.join(copy, 'tests/print'), { recursive: true });
  cpSync('tests/print/words-marked.ts', path.join(copy, 'tests/print/words-marked.ts'));
  symlinkSync(path.resolve('node_modules'), path.join(copy, 'node_modules'));
  renameSync(path.join(copy, 'src/model/printed-words.ts'), path.join(copy, 'src/model/words-unmarked.ts'));
  writeFileSync(path.join(copy, 'src/model/printed-words.ts'), marked);
  execFileSync(process.execPath, [path.join(copy, 'tests/print/words-marked.ts'), path.resolve('sample-job/expected/dossier.json'), out], { stdio: ['ignore', 'ignore', 'inherit'] });
}, 180_000);

afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** What is neither the words file's nor the dossier's and yet printed, each with its reason. */
const exceptions: readonly RegExp[] = [
  // Dates and lists are made by units.ts.
  /^(January|February|March|April|May|June|July|August|September|October|November|December|and)$/,
  // The name of the program.
  /^Sillbook$/,
];

/** Words with a letter that is no x, without those in marks and those excepted. */
function foreign(text: string): string[] {
  const words = text.replaceAll(/‹[^‹›]*›/g, ' ').split(/[^\p{L}\p{N}]+/u);
  return words.filter((word) => /\p{L}/u.test(word.replaceAll(/[xX]/g, '')) && !exceptions.some((one) => one.test(word)));
}

const unescaped = (text: string): string =>
  text.replaceAll('&lt;', '<').replaceAll('&gt;', '>').replaceAll(/&quot;|&#34;/g, '"').replaceAll('&#39;', "'").replaceAll(/&amp;|&#38;/g, '&');

/** Strings of what a page carries for its scripts as JSON; else the text itself. */
function stringsOf(text: string): string[] {
  const inside = (value: unknown): string[] => (typeof value === 'string' ? [value] : Object.values(value as object).flatMap(inside));
  return text.startsWith('{') ? inside(JSON.parse(text)) : [text];
}

/** All that a page shows, says to those who hear it, or carries for its scripts. */
function saidBy(html: string): string[] {
  const page = html.replaceAll(/<(script|style)\b.*?<\/\1>/gs, '');
  const spoken = /\s(?:aria-label|alt|title|placeholder|data-say|data-viewer|data-taken|data-label|data-terms|data-k)="([^"]*)"/g;
  return [...page.matchAll(/>([^<]+)</g), ...page.matchAll(spoken)].flatMap(([, text = '']) => stringsOf(unescaped(text)));
}

const pages = (): string[] => readdirSync(out, { recursive: true, encoding: 'utf8' }).filter((file) => file.endsWith('.html'));

test('no page of the site has words that stand in no words file', () => {
  expect(pages().length).toBeGreaterThan(30);
  const found = pages().flatMap((file) => saidBy(readFileSync(path.join(out, file), 'utf8')).flatMap((text) => foreign(text).map((word) => `${file}: ${word}`)));
  expect([...new Set(found)]).toEqual([]);
});

test('the pages carry what is marked: the page of hashes its check, the index its form, every page the words of the viewer', () => {
  const textOf = (file: string): string => saidBy(readFileSync(path.join(out, file), 'utf8')).join('\n');
  expect(textOf('files.html')).toContain('‹Choose› ‹files›');
  expect(textOf('find.html')).toContain('‹Clear› ‹all›');
  expect(textOf('find.html')).toContain('‹not› ‹seen›');
  expect(textOf('alone.html')).toContain('‹Link› ‹to› ‹this› ‹photo›');
});

/** What a PDF says besides its pages: alternatives of figures, titles of bookmarks and of itself, words of links. */
async function saidAside(file: string): Promise<string[]> {
  const pdf = await PDFDocument.load(readFileSync(file), { updateMetadata: false });
  const dictionaries = pdf.context.enumerateIndirectObjects().flatMap(([, object]) => (object instanceof PDFDict ? [object] : []));
  return dictionaries.flatMap((dictionary) => ['Alt', 'ActualText', 'Title', 'Subject', 'Contents', 'Desc'].flatMap((key) => {
    const value = dictionary.get(PDFName.of(key));
    return value instanceof PDFHexString || value instanceof PDFString ? [value.decodeText()] : [];
  }));
}

test('neither a draft nor an issue as a PDF has words that stand in no words file', async () => {
  for (const file of ['dossier.pdf', 'issue.pdf'].map((name) => path.join(out, name))) {
    const aside = await saidAside(file);
    expect(aside.some((text) => text.includes('‹Drawing› ‹of› ‹the› ‹zones›'))).toBe(true);
    expect(aside).toContain('‹Contents›');
    expect([...new Set(aside.flatMap(foreign))]).toEqual([]);
    const text = poppler('pdftotext', ['-raw', file, '-'])?.toString('utf8');
    if (text === undefined) continue;
    expect(text).toContain('‹Signature›');
    expect([...new Set(foreign(text))]).toEqual([]);
  }
});

test('nor has the calendar file', () => {
  const lines = readFileSync(path.join(out, 'look-again.ics'), 'utf8').replaceAll('\r\n ', '').split('\r\n').filter((line) => /^(SUMMARY|DESCRIPTION):/.test(line));
  expect(lines).toHaveLength(8);
  expect(lines.flatMap((line) => foreign(line.replace(/^\w+:/, '').replaceAll('\\n', '\n')))).toEqual([]);
});
