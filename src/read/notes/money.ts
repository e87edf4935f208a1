import { decimalsOf, mostMinor } from '../../model/currency.ts';
import type { Money } from '../../model/notes.ts';
import { isDate, typedNumber } from './numbers.ts';
import type { Reader } from './reader.ts';
import { report, short } from './reader.ts';
import type { Snippet } from './source.ts';

const signs: Record<string, string> = { '€': 'EUR', '£': 'GBP', '¥': 'JPY', euro: 'EUR', pound: 'GBP' };
/** A dollar sign names a currency only where the job's own is a dollar. */
const dollars = ['USD', 'CAD', 'AUD', 'NZD', 'SGD', 'HKD', 'TWD', 'NAD', 'FJD', 'JMD', 'BBD', 'BSD', 'BZD', 'TTD', 'XCD'];

const figure = String.raw`\d[\d.,]*\d|\d`;
/** `20`, `20-30`, `20 to 30`, `20/25/40`; a currency may be said again before the second. */
const amounts = String.raw`(?<first>${figure})(?:\s?(?:[-–]|to\b)\s?(?:[€£¥$]|[A-Z]{3}\s?)?(?<second>${figure})(?![\d.,]*[-–/]\d)|\s?/\s?(?<middle>${figure})\s?/\s?(?<third>${figure}))?`;
/** A minus that is no dash between words and no range. */
const minus = String.raw`(?<![\p{L}\p{N}.,])[-−]`;
const before = new RegExp(String.raw`(?<minus>${minus})?(?:\b(?<code>[A-Z]{3})(?:\s(?<within>[-−])?)?|(?<sign>[€£¥$])\s?(?<inside>[-−])?)${amounts}`, 'gu');
const behind = new RegExp(String.raw`(?:(?<minus>${minus})|(?<![\d.,/])(?<!\d[-–−]))${amounts}\s?(?:(?<code>[A-Z]{3})\b|(?<sign>[€£¥$])|(?<word>euro|pound|dollar)s?\b)`, 'gu');
const bareAmount = new RegExp(String.raw`^(?:about|approx\.?|ca\.?|at|@|~)?\s*(?<minus>[-−])?${amounts}(?=\s*(?:each\b|ea\b|a piece\b|apiece\b|per\b|together\b|in all\b|in total\b|altogether\b|for (?:all|both)\b|,|\.?$))`, 'u');

/** Money found in a text, with the words on either side of it. */
export interface FoundMoney {
  money: Money;
  before: string;
  after: string;
}

/**
 * The first money in a text: `EUR 1.90`, `1.90 EUR`, `€1.90`, `£20-30`, `20/25/40 EUR`, or a bare `1.90` at its beginning
 * where `bare` allows it, then in the job's currency. Minor units by ISO 4217 decimals. With no currency at all the
 * amount stays as text: unpriced. A code that is no currency is none: null.
 */
export function findMoney(text: string, currency: string | null, bare: boolean): FoundMoney | null {
  const marked = [...text.matchAll(before), ...text.matchAll(behind)].sort((a, b) => a.index - b.index);
  for (const match of marked) {
    const money = moneyOf(match, currency);
    if (money) return { money, before: text.slice(0, match.index), after: text.slice(match.index + match[0].length) };
  }
  const plain = bare && marked.length === 0 ? bareAmount.exec(text) : null;
  const money = plain ? moneyOf(plain, currency) : null;
  return plain && money ? { money, before: '', after: text.slice(plain[0].length) } : null;
}

/** The money alone. */
export function typedMoney(text: string, currency: string | null, bare: boolean): Money | null {
  return findMoney(text, currency, bare)?.money ?? null;
}

/** Money of a whole piece between commas, `35` or `20-30`: no date, and no word beside it. */
export function pieceOfMoney(text: string, currency: string | null): Money | null {
  const whole = new RegExp(String.raw`^[-−]?(?:${amounts})$`, 'u').test(text);
  return whole && !isDate(text) ? typedMoney(text, currency, true) : null;
}

function moneyOf(match: RegExpExecArray | RegExpMatchArray, currency: string | null): Money | null {
  const { groups = {} } = match;
  const sign = groups['sign'] ?? groups['word'] ?? '';
  const dollar = sign === '$' || sign === 'dollar';
  const own = dollar && !(currency !== null && dollars.includes(currency)) ? null : currency;
  const code = groups['code'] ?? signs[sign] ?? own;
  const digits = code === null ? 2 : decimalsOf(code);
  const [first, ...more] = [groups['first'], groups['middle'], groups['second'] ?? groups['third']].filter((one) => one !== undefined).map((one) => typedNumber(one, true));
  if (digits === null || !first?.ok || !more.every((one) => one.ok)) return null;
  const minors = [first.value, ...more.map((one) => (one.ok ? one.value : 0))].map((value) => minorOf(value, digits));
  const negative = [groups['minus'], groups['within'], groups['inside']].some((one) => one !== undefined);
  return withRange({ minor: minors[0] ?? 0, currency: code, text: match[0].trim() }, minors, negative);
}

function withRange(money: Money, minors: readonly number[], negative: boolean): Money {
  const low = minors[0] ?? 0;
  const high = minors.at(-1) ?? low;
  const likely = minors.length === 3 ? (minors[1] ?? low) : Math.round((low + high) / 2);
  const range = minors.length > 1 ? { range: { likelyMinor: likely, highMinor: high } } : {};
  if (negative) return { ...money, flaw: 'it is below nothing' };
  if (minors.some((minor) => !(minor <= mostMinor))) return { ...money, minor: 0, flaw: 'it is too large' };
  if (low > likely || likely > high) return { ...money, flaw: 'it runs backwards' };
  return { ...money, ...range };
}

/** Whole minor units, halves up, without the dust of binary fractions: 1.005 with two decimals is 101. */
function minorOf(value: number, digits: number): number {
  return Math.round(Number(`${value}e${digits}`));
}

const flaws: Record<string, { rule: string; expected: string }> = {
  'it is below nothing': { rule: 'price-negative', expected: 'a price of nothing or more' },
  'it is too large': { rule: 'price-large', expected: 'a price below ten thousand million' },
  'it runs backwards': { rule: 'price-reversed', expected: 'low-high or low/likely/high' },
};

/** Reports what is wrong with an amount that was found, or with one that was not: an unknown currency. */
export function checkMoney(reader: Reader, at: Snippet, cost: Money | null): void {
  const code = /(?<![\p{L}])([A-Z]{3})\s?\d|\d\s?([A-Z]{3})(?![\p{L}])/u.exec(at.text);
  const written = code?.[1] ?? code?.[2];
  if (cost === null && written && !/^(IMG|DSC|PXL|MM|PCS)$/.test(written)) {
    report(reader, at, 'warning', 'currency-unknown', {
      found: `"${written}" with an amount`,
      expected: 'a currency code of ISO 4217 such as EUR or GBP',
      advice: 'The amount is kept in your words and counts as unpriced.',
    });
  }
  if (cost === null) return;
  const flaw = cost.flaw === undefined ? undefined : flaws[cost.flaw];
  if (flaw) {
    report(reader, at, 'warning', flaw.rule, { found: `"${short(cost.text)}"`, expected: flaw.expected, advice: 'It counts as unpriced until then.' });
  } else if (cost.currency === null && /\$|dollar/.test(cost.text)) {
    report(reader, at, 'note', 'price-without-currency', {
      found: `"${cost.text}", and a dollar may be of many countries`,
      expected: 'a code such as USD or CAD, in the line or in sillbook.json',
      advice: 'It is shown as unpriced, never as zero.',
    });
  } else if (cost.currency === null) {
    report(reader, at, 'note', 'price-without-currency', {
      found: `An amount of ${cost.text} without a currency`,
      expected: 'a currency in the line or in sillbook.json',
      advice: 'It is shown as unpriced, never as zero.',
    });
  }
}
