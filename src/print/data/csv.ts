import type { Dossier } from '../../model/dossier.ts';
import type { DossierWork } from '../../model/dossier-work.ts';
import { visible } from '../../model/notice.ts';
import { decimalText } from '../../units.ts';

/** A value of a table: words, or a number already in digits. Null is an empty cell. */
export type CsvCell = string | { digits: string } | null;

/** What a spreadsheet takes for a formula or a command, also behind spaces, quotes and characters nobody sees; `＝＋－＠` are its full-width forms. */
const formula = /^(?:[\t\r\n]|[\s\p{C}\p{Z}"'`‘’“”]*[=+\-@＝＋－＠−])/u;

/**
 * A table as RFC 4180 has it: commas, lines ended by CR LF, cells with a comma, a quote or a line end in quotes. Begins
 * with the mark that tells a spreadsheet it is UTF-8. Words that would run as a formula get an apostrophe in front;
 * numbers stay numbers.
 */
export function csvText(columns: readonly string[], rows: readonly (readonly CsvCell[])[]): string {
  return `\uFEFF${[columns, ...rows].map((row) => `${row.map(cellText).join(',')}\r\n`).join('')}`;
}

function cellText(cell: CsvCell): string {
  if (cell === null) return '';
  if (typeof cell !== 'string') return cell.digits;
  const words = cell.replace(/[\uD800-\uDBFF](?![\uDC00-\uDFFF])|(?<![\uD800-\uDBFF])[\uDC00-\uDFFF]/g, '\uFFFD');
  const harmless = visible(formula.test(words) ? `'${words}` : words);
  return /[",\r\n]/.test(harmless) ? `"${harmless.replaceAll('"', '""')}"` : harmless;
}

/** Every line of cost, priced or not. Amounts are in whole units of their currency, without tax. */
export function workCsv(dossier: Dossier, work: DossierWork): string {
  const columns = ['zone', 'work', 'item', 'name', 'labour', 'written as done', 'hours low', 'hours likely', 'hours high', 'number', 'litres low', 'litres likely', 'litres high', 'currency', 'low', 'likely', 'high', 'not priced because', 'note', 'written at'];
  const rows = work.lines.map((line) => [
    zoneName(dossier, line.zone), line.work, line.kind, line.name, line.labour.join(' + '), line.spent ? 'yes' : 'no',
    ...numbers(line.hours), line.count === null ? null : number(line.count), ...numbers(line.litres),
    line.currency, ...amounts(line.currency, line.amount), line.reason, line.note, line.written,
  ]);
  return csvText(columns, rows);
}

/** Every part, as written and summed, then what the register calls for; one row for each currency of a part. */
export function partsCsv(dossier: Dossier, work: DossierWork): string {
  const columns = ['part', 'size', 'cable', 'number', 'of which used', 'written or suggested', 'price as written', 'currency', 'low', 'likely', 'high', 'number without a price', 'zones'];
  const rows = work.parts.flatMap((part) => {
    const sums = part.sums.length > 0 ? part.sums : [{ currency: null, amount: null }];
    return sums.map(({ currency, amount }, index) => [
      part.name, part.size, part.cable, index === 0 ? number(part.count) : null, index === 0 ? number(part.used) : null, part.suggested ? 'suggested' : 'written',
      part.price, currency, ...amounts(currency, amount), index === 0 ? number(part.unpriced) : null, part.zones.map((zone) => zoneName(dossier, zone)).join('; '),
    ]);
  });
  return csvText(columns, rows);
}

/** A zone by the title of its page, else by its id. */
export function zoneName(dossier: Dossier, zone: string): string {
  return dossier.sections.find((section) => section.id === zone)?.title ?? zone;
}

function number(value: number): CsvCell {
  return { digits: String(value) };
}

/** Low, likely, high; empty cells where there is none. */
export function numbers(three: { low: number; likely: number; high: number } | null): CsvCell[] {
  return three === null ? [null, null, null] : [three.low, three.likely, three.high].map(number);
}

/** The same of money, in whole units of its currency. */
export function amounts(currency: string | null, amount: { low: number; likely: number; high: number } | null): CsvCell[] {
  if (currency === null || amount === null) return [null, null, null];
  return [amount.low, amount.likely, amount.high].map((minor) => ({ digits: decimalText(minor, currency) }));
}
