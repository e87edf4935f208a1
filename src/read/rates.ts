import { decimalsOf } from '../model/currency.ts';
import type { Meta } from '../model/notes.ts';
import type { Notice, Spot } from '../model/notice.ts';
import type { LabourKind, Rate, Rates, Rounding, Tax } from '../model/rates.ts';
import { labourKinds } from '../model/rates.ts';
import type { Settings } from '../model/settings.ts';
import { findMoney } from './notes/money.ts';
import { plain } from './notes/lexicon.ts';

/** Further words people type for a kind of labour; "-ing" is understood by itself. */
const otherWords: Record<string, LabourKind> = {
  inspection: 'inspect', look: 'inspect', strip: 'strip trim', trim: 'strip trim', stripping: 'strip trim', 'stripping trim': 'strip trim', metalwork: 'metal', 'metal work': 'metal', panel: 'metal', bodywork: 'metal',
  welder: 'weld', sealer: 'seal', painter: 'paint', spraying: 'paint', 'fit up': 'refit', refitting: 'refit', 'looking again': 'look again',
};

/** What is read of one line, or what is wrong with it. */
type Said<T> = { ok: T } | { wrong: string; expected: string };

/** What the lines of `# Rates` set. */
interface Found {
  labour: Rate | null;
  byKind: Map<LabourKind, Rate>;
  tax: Partial<Pick<Tax, 'percent' | 'per' | 'rounding'>>;
  /** What a line meant to set and did not: another value out of the settings would be a guess. */
  unclear: Set<string>;
}

const rateForm = 'what an hour costs, such as "labour: 55", "labour: EUR 55 an hour" or "labour, weld: 50-65"';
const taxForm = 'a percentage, such as "tax: 20 %" or "tax: 20 % per invoice, half even"';

/**
 * The workshop's rates and tax: the lines of `# Rates`, and what `sillbook.json` sets where they say nothing. A line that
 * cannot be read counts for nothing, and nothing else takes its place; it stays printed as written, and gets a notice.
 */
export function ratesOf(lines: readonly Meta[], settings: Settings): { rates: Rates; notices: Notice[] } {
  const notices: Notice[] = [];
  const found: Found = { labour: null, byKind: new Map(), tax: {}, unclear: new Set() };
  for (const line of lines) {
    if (line.key === '' || line.text.trim() === '') continue;
    const said = takeLine(found, line, settings.currency ?? null);
    if ('wrong' in said) notices.push({ level: 'warning', rule: 'rate-unclear', spot: line.spot, found: said.wrong, expected: said.expected, advice: 'The line is shown as written and counts for nothing.' });
  }
  const rates = withSettings(found, settings);
  if ([rates.labour, ...rates.byKind.map(({ rate }) => rate)].some((rate) => rate?.currency === null)) {
    notices.push({ level: 'warning', rule: 'rate-unclear', spot: { file: 'sillbook.json' }, found: 'Rates without a currency', expected: '"currency" beside "rates"', advice: 'The rates price nothing until then.' });
  }
  return { rates, notices };
}

function takeLine(found: Found, line: Meta, currency: string | null): Said<true> {
  const words = `"${line.key}: ${line.text}"`;
  const labour = /^labou?r(?:[,\s]+(.+))?$/.exec(line.key);
  if (labour) return takeLabour(found, labour[1] ?? null, line, currency, words);
  if (line.key === 'tax' || line.key === 'vat') return takeTax(found, line.text, words, 'with percentage');
  if (line.key === 'rounding') return takeTax(found, line.text, words, 'words alone');
  return { wrong: words, expected: 'a line of labour, tax or rounding' };
}

function takeLabour(found: Found, kindWords: string | null, line: Meta, currency: string | null, words: string): Said<true> {
  const kind = kindWords === null ? null : kindOf(kindWords);
  if (kind === undefined) return { wrong: words, expected: `labour by itself, or one of ${labourKinds.join(', ')} after it` };
  if (kind === null ? found.labour : found.byKind.has(kind)) return { wrong: `${words}, set before`, expected: 'one line for each kind of labour' };
  const rate = rateIn(line.text, line.spot, currency);
  if ('wrong' in rate) {
    found.unclear.add(kind === null ? 'labour' : `labour, ${kind}`);
    return { wrong: `${words}${rate.wrong}`, expected: rate.expected };
  }
  if (kind === null) found.labour = rate.ok;
  else found.byKind.set(kind, rate.ok);
  return { ok: true };
}

/** The kind of labour a few words name; undefined where they name none. */
function kindOf(words: string): LabourKind | undefined {
  const word = plain(words);
  return labourKinds.find((kind) => kind === word || `${kind}ing` === word || `${kind.replace(/e$/, '')}ing` === word) ?? otherWords[word];
}

/** What may stand behind the amount: the hour, and that tax is not in it. */
const anHour = /^\s*(?:(?:an?|per|\/|each)?\s*(?:h|hrs?|hours?)\b)?\s*,?\s*(?:net|(?:plus|\+|without|before|excl(?:uding|\.)?|ex) (?:tax|vat))?\.?\s*$/i;

function rateIn(text: string, spot: Spot, currency: string | null): Said<Rate> {
  const money = findMoney(text, currency, true) ?? findMoney(text.replace(/(\d)\s*\/?\s*h\b/i, '$1 per hour'), currency, true);
  if (!money || money.before.trim() !== '' || !anHour.test(money.after)) return { wrong: '', expected: rateForm };
  const { minor, range, flaw } = money.money;
  if (flaw !== undefined) return { wrong: `: ${flaw}`, expected: rateForm };
  if (money.money.currency === null) return { wrong: ', without a currency', expected: 'a currency in the line, or in sillbook.json' };
  return { ok: { low: minor, likely: range?.likelyMinor ?? minor, high: range?.highMinor ?? minor, currency: money.money.currency, text: text.replace(/\.$/, ''), from: 'findings', spot } };
}

/** `20 % per invoice, half even`; `rounding: half up per line` has the words alone. */
function takeTax(found: Found, text: string, words: string, form: 'with percentage' | 'words alone'): Said<true> {
  const head = form === 'with percentage' ? /^(?:(\d+(?:[.,]\d+)?)\s*(?:%|percent\b|per cent\b)|(none|no|nil)\b)/i.exec(text) : null;
  const percent = head?.[2] ? '0' : head?.[1]?.replace(',', '.');
  const tail = head ? text.slice(head[0].length) : text;
  const per = /\b(?:per|each|every|on (?:each|every|the)) (line|invoice)\b/i.exec(tail)?.[1]?.toLowerCase() as Tax['per'] | undefined;
  const rounding = roundingIn(tail);
  const rest = tail.replace(/\b(?:per|each|every|on (?:each|every|the)) (?:line|invoice)\b/i, ' ').replace(/\b(?:round(?:ed|ing)? )?(?:half[ -](?:up|even)|down|(?:to )?even)\b/i, ' ').replace(/[\s,;.]+|\band\b/gi, '');
  const expected = form === 'with percentage' ? taxForm : '"half up", "half even" or "down", and "per line" or "per invoice"';
  if (rest !== '' || (form === 'with percentage' && (percent === undefined || Number(percent) > 100)) || (form === 'words alone' && per === undefined && rounding === undefined)) {
    found.unclear.add('tax');
    return { wrong: words, expected };
  }
  const twice = (percent !== undefined && found.tax.percent !== undefined) || clash(found.tax.per, per) || clash(found.tax.rounding, rounding);
  if (twice) return { wrong: `${words}, set otherwise before`, expected: 'one tax, rounded in one way' };
  Object.assign(found.tax, percent === undefined ? {} : { percent }, per ? { per } : {}, rounding ? { rounding } : {});
  return { ok: true };
}

function roundingIn(text: string): Rounding | undefined {
  if (/\bhalf[ -]up\b/i.test(text)) return 'half-up';
  if (/\beven\b/i.test(text)) return 'half-even';
  return /\bdown\b/i.test(text) ? 'down' : undefined;
}

function clash(before: string | undefined, now: string | undefined): boolean {
  return before !== undefined && now !== undefined && before !== now;
}

/** What the findings leave open is taken from `sillbook.json`, key by key; what nobody set, ours. */
function withSettings(found: Found, settings: Settings): Rates {
  const own = settings.rates ?? {};
  const rates: Rates = { labour: found.labour, byKind: [], tax: null, overridden: [] };
  const fallback = (name: string, written: Rate | null | undefined, set: Spread | undefined): Rate | null => {
    const other = set === undefined || found.unclear.has(name) ? null : settingsRate(set, settings.currency ?? null);
    if (written && other && !alike(written, other)) rates.overridden.push(name);
    return written ?? other;
  };
  rates.labour = fallback('labour', found.labour, own.labour);
  for (const kind of labourKinds) {
    const rate = fallback(`labour, ${kind}`, found.byKind.get(kind), own[`labour ${kind}`]);
    if (rate) rates.byKind.push({ kind, rate });
  }
  rates.tax = found.unclear.has('tax') ? null : taxOf(found.tax, settings, rates.overridden);
  return rates;
}

function taxOf(written: Found['tax'], settings: Settings, overridden: string[]): Tax | null {
  const set = settings.tax;
  const percent = written.percent ?? (set ? String(set.percent) : undefined);
  if (percent === undefined) return null;
  const differs = [[written.percent, set && String(set.percent)], [written.per, set?.per], [written.rounding, set?.rounding]].some(([one, other]) => one !== undefined && other !== undefined && one !== other && Number(one) !== Number(other));
  if (differs) overridden.push('tax');
  const per = written.per ?? set?.per;
  const rounding = written.rounding ?? set?.rounding;
  // Per invoice and half up are what most invoices do: our judgement, and said to be.
  return { percent, per: per ?? 'invoice', rounding: rounding ?? 'half-up', from: written.percent === undefined ? 'sillbook.json' : 'findings', assumed: [...(per ? [] : ['per' as const]), ...(rounding ? [] : ['rounding' as const])] };
}

type Spread = number | [number, number] | [number, number, number];

function settingsRate(set: Spread, currency: string | null): Rate {
  const numbers = typeof set === 'number' ? [set] : set;
  const digits = (currency === null ? null : decimalsOf(currency)) ?? 2;
  const [low = 0, ...more] = numbers.map((value) => Math.round(Number(`${value}e${digits}`)));
  const high = more.at(-1) ?? low;
  return { low, likely: more.length === 2 ? (more[0] ?? low) : Math.round((low + high) / 2), high, currency, text: numbers.join('-'), from: 'sillbook.json', spot: null };
}

function alike(a: Rate, b: Rate): boolean {
  return a.low === b.low && a.likely === b.likely && a.high === b.high && a.currency === b.currency;
}
