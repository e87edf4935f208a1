import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import fc from 'fast-check';
import { afterAll, expect, test } from 'vitest';
import { dossierSchema } from '../../src/model/dossier.ts';
import { csvText } from '../../src/print/data/csv.ts';
import { printData } from '../../src/print/data/index.ts';
import { corpusFolder, corpusIsRequired } from '../corpus/corpus.ts';
import { dossierOf, judged, textOf } from '../write/builders.ts';

const folders: string[] = [];
afterAll(() => {
  for (const folder of folders) rmSync(folder, { recursive: true });
});

/** A reader of RFC 4180 that knows nothing of how the tables are written. */
function readCsv(text: string): string[][] {
  const rows: string[][] = [[]];
  let cell = '';
  let quoted = false;
  for (let at = 0; at < text.length; at += 1) {
    const unit = text[at] ?? '';
    if (quoted && unit === '"' && text[at + 1] === '"') {
      cell += '"';
      at += 1;
    } else if (unit === '"') quoted = !quoted;
    else if (quoted || !/[,\r]/.test(unit)) cell += unit;
    else {
      rows.at(-1)?.push(cell);
      cell = '';
      if (unit === '\r') {
        expect(text[at + 1]).toBe('\n');
        at += 1;
        rows.push([]);
      }
    }
  }
  expect([quoted, cell, rows.pop()]).toEqual([false, '', []]);
  return rows;
}

async function printed(findings: string, edition = 'purchase'): Promise<string> {
  const folder = mkdtempSync(path.join(tmpdir(), 'sillbook-data-'));
  folders.push(folder);
  await printData(dossierOf(judged(findings, [], { currency: 'EUR' }), edition), folder);
  return folder;
}

const job = `# Rates
- labour: 50
# Sill, left
- plug 25 mm, inner face 1: missing
- do: strip, "clean". 2/2.5/4 h
  - part: =HYPERLINK("x") x 2, 1234.50 each
  - part: clips x 3
# Boot floor
- plug, well: perished
- do: weld. 1-1 h
  - done: 2026-05-02, -welded, 1.5 h
`;

test('work and parts as tables: UTF-8 with its mark, CR LF, words harmless, numbers numbers', async () => {
  const folder = await printed(job);
  expect(readdirSync(folder).toSorted()).toEqual(['dossier.json', 'dossier.schema.json', 'parts.csv', 'work.csv']);
  const text = readFileSync(path.join(folder, 'work.csv'), 'utf8');
  expect(text.startsWith('\uFEFFzone,work,item,')).toBe(true);
  const [head = [], ...rows] = readCsv(text.slice(1));
  const column = (name: string): string[] => rows.map((row) => row[head.indexOf(name)] ?? 'absent');
  expect(rows.every((row) => row.length === head.length)).toBe(true);
  expect(column('item')).toEqual(['labour', 'part', 'part', 'labour']);
  expect(column('zone')).toEqual(['Sill, left', 'Sill, left', 'Sill, left', 'Boot floor']);
  expect(column('work').slice(0, 1)).toEqual(['strip, "clean"']);
  expect(column('name')[1]).toBe(`'=HYPERLINK("x")`);
  expect([column('low'), column('likely'), column('high')]).toEqual([['100.00', '2469.00', '', '75.00'], ['125.00', '2469.00', '', '75.00'], ['200.00', '2469.00', '', '75.00']]);
  expect(column('not priced because')).toEqual(['', '', 'no price written', '']);
  expect(column('written as done')).toEqual(['no', 'no', 'no', 'yes']);
  expect(column('number')).toEqual(['', '2', '3', '']);
});

test('parts as a table: what is written and what is only suggested', async () => {
  const folder = await printed(job);
  const [head = [], ...rows] = readCsv(readFileSync(path.join(folder, 'parts.csv'), 'utf8').slice(1));
  const of = (row: string[] | undefined, name: string): string => row?.[head.indexOf(name)] ?? 'absent';
  expect(rows.map((row) => [of(row, 'part'), of(row, 'size'), of(row, 'number'), of(row, 'written or suggested'), of(row, 'zones')])).toEqual([
    [`'=HYPERLINK("x")`, '', '2', 'written', 'Sill, left'],
    ['clips', '', '3', 'written', 'Sill, left'],
    ['blind plug', '', '1', 'suggested', 'Boot floor'],
    ['blind plug', '25 mm', '1', 'suggested', 'Sill, left'],
  ]);
});

test('the tables hold what the document holds, and the section names them', async () => {
  const folder = await printed(job);
  const dossier = dossierSchema.parse(JSON.parse(readFileSync(path.join(folder, 'dossier.json'), 'utf8')));
  expect(dossier.work?.lines).toHaveLength(4);
  expect(dossier.work?.totals).toEqual([expect.objectContaining({ currency: 'EUR', lines: 2 })]);
  expect(dossier.work?.unpriced).toEqual({ toDo: 1, spent: 0 });
  const words = textOf(dossier.sections.find((section) => section.id === 'work')?.blocks ?? []);
  expect(words).toContain('work.csv');
  expect(words).toContain('parts.csv');
});

test('an edition that leaves work and cost out has no tables of them, and a ledger has its own', async () => {
  const folder = await printed(job, 'evidence');
  expect(readdirSync(folder).toSorted()).toEqual(['dossier.json', 'dossier.schema.json', 'record.csv']);
  expect(JSON.parse(readFileSync(path.join(folder, 'dossier.json'), 'utf8'))).toMatchObject({ work: null });
});

test('an issue made before costs were worked out can still be read', () => {
  const { work: _gone, ...older } = dossierOf(judged(job));
  expect(dossierSchema.parse(older).work).toBeNull();
});

// The signs a spreadsheet takes for a formula: OWASP, CSV Injection, from memory: = + - @, tab and carriage return.
const starters = ['=1+1', '+1', '-1', '@SUM(A1)', '\t=1', '\r=1', '\n=1', ' =1', '"=1', `'=1`, '\u00A0=1', '\u200B=1', '\uFEFF=1', '＝1', '＋1', '－1', '＠1', '−1', '" \t"@x', '=cmd|\' /C calc\'!A0'];

test.each(starters)('%j is taken for words', (words) => {
  const cell = readCsv(csvText(['a'], [[words]]).slice(1))[1]?.[0] ?? '';
  expect(cell.startsWith("'")).toBe(true);
  expect(cell.slice(1)).toBe(words.replaceAll('\r', '\uFFFD'));
});

test('words that begin nothing stay as they are, and numbers stay numbers', () => {
  expect(csvText(['a', 'b', 'c'], [['plug - 25 mm', { digits: '-1.50' }, null]])).toBe('\uFEFFa,b,c\r\nplug - 25 mm,-1.50,\r\n');
  expect(csvText(['a'], [['say "no", twice\nover']])).toBe('\uFEFFa\r\n"say ""no"", twice\nover"\r\n');
});

test('whatever was typed, a table has its rows and columns, and no cell begins a formula', () => {
  fc.assert(fc.property(fc.array(fc.tuple(fc.string({ unit: 'binary' }), fc.string({ unit: 'grapheme' })), { maxLength: 5 }), (given) => {
    const rows = readCsv(csvText(['a', 'b'], given).slice(1));
    expect(rows.length).toBe(given.length + 1);
    expect(rows.every((row) => row.length === 2)).toBe(true);
    expect(rows.flat().filter((cell) => /^[\s"]*[=+\-@]/.test(cell) || /^[\t\r\n]/.test(cell))).toEqual([]);
  }));
});

const corpus = corpusFolder();

if (corpus === null) {
  test('the hostile texts were left out: SILLBOOK_CORPUS names no folder', () => {
    expect(corpusIsRequired, 'on a build machine the corpus has to be there').toBe(false);
  });
} else {
  test('hostile texts in every cell', () => {
    const naughty = JSON.parse(readFileSync(path.join(corpus, 'text/blns/blns.json'), 'utf8')) as string[];
    const filters = readFileSync(path.join(corpus, 'text/owasp/cheatsheets/XSS_Filter_Evasion_Cheat_Sheet.md'), 'utf8').split('\n');
    const texts = [...naughty, ...filters];
    expect(texts.length).toBeGreaterThan(1000);
    const rows = readCsv(csvText(['a', 'b'], texts.map((text) => [text, { digits: '1' }])).slice(1)).slice(1);
    expect(rows).toHaveLength(texts.length);
    expect(rows.filter(([text = '', number]) => number !== '1' || /^[\s"]*[=+\-@]/.test(text))).toEqual([]);
  });
}
