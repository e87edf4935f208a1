import type { Spread } from '../../model/notes.ts';

/** A time as typed, with where it stands in its text. */
export interface HoursAt {
  hours: Spread;
  from: number;
  /** One behind the last character. */
  to: number;
  /** `1/2 h` can be half an hour or one to two, `1,500 h` can have a mark of thousands. */
  unclear: boolean;
  /** `1 h each`, `4 x 1 h`: what it comes to is not said. */
  each: boolean;
  /** `4 h in all`: what the other times add up to. */
  total: boolean;
}

const figure = String.raw`\d+(?:[.,]\d+)?`;
const unit = String.raw`(?:h|hrs?|hours?|min(?:ute)?s?)\b`;
const pattern = new RegExp(
  String.raw`(?<![\d.,/])(?<first>${figure})(?:\s*(?:(?<firstUnit>${unit})\s*)?(?:(?<slash>/)|[-–]|\bto\b)\s*(?<second>${figure}))?(?:\s*/\s*(?<third>${figure}))?\s*(?<unit>${unit})`,
  'gi',
);

/**
 * All times in a text, in order: `2-3 h` low and high, `2/2.5/4 h` low, likely, high, `2 h` with the judged spread −20 %
 * +40 % (our judgement), `90 min`, `1 h 30 min`. None of them is checked for its order.
 */
export function hoursIn(text: string): HoursAt[] {
  const found: HoursAt[] = [];
  for (const match of text.matchAll(pattern)) {
    const given = match.groups ?? {};
    const last = found.at(-1);
    let to = match.index + match[0].length;
    if (last && match.index < last.to) continue;
    const [first, second, third] = [numberOf(given['first']), numberOf(given['second']), numberOf(given['third'])];
    if (first === null) continue;
    const scale = scaleOf(given['unit']);
    const minutes = scale === 1 && second === null ? /^\s*(?:and\s+)?(\d{1,2})\s*min(?:ute)?s?\b/i.exec(text.slice(to, to + 20)) : null;
    to += minutes?.[0].length ?? 0;
    const whole = first * (second === null ? scale : scaleOf(given['firstUnit'] ?? given['unit'])) + Number(minutes?.[1] ?? 0) / 60;
    found.push({
      hours: spreadOf(whole, second === null ? null : second * scale, third === null ? null : third * scale),
      from: match.index,
      to,
      unclear: /\d,\d{3}(?!\d)/.test(match[0]) || (given['slash'] !== undefined && third === null && ((first === 1 && [2, 3, 4].includes(second ?? 0)) || (first === 3 && second === 4))),
      each: /\d\s*[x×]\s*$/i.test(text.slice(Math.max(0, match.index - 6), match.index)) || /^\s*(?:each|apiece|a piece|a side|per side|per)\b/i.test(text.slice(to, to + 20)),
      total: /^,?\s*(?:in all|in total|total|altogether|all told|overall|together)\b/i.test(text.slice(to, to + 20)) || /\b(?:in all|total|altogether|all told|overall)(?: of)?[:,]?\s*$/i.test(text.slice(Math.max(0, match.index - 20), match.index)),
    });
  }
  return found;
}

function numberOf(text: string | undefined): number | null {
  return text === undefined ? null : Number(text.replace(',', '.'));
}

function scaleOf(word: string | undefined): number {
  return word !== undefined && /^min/i.test(word) ? 1 / 60 : 1;
}

function spreadOf(first: number, second: number | null, third: number | null): Spread {
  if (second === null) return { low: neat(first * 0.8), likely: neat(first), high: neat(first * 1.4), judged: true };
  if (third === null) return { low: neat(first), likely: neat((first + second) / 2), high: neat(second), judged: false };
  return { low: neat(first), likely: neat(second), high: neat(third), judged: false };
}

/** Without the dust of binary fractions. */
function neat(value: number): number {
  return Math.round(value * 1e4) / 1e4;
}

/** Sum of times bound by bound; null where there is none. */
export function hoursSum(all: readonly Spread[]): Spread | null {
  if (all.length === 0) return null;
  const sum = (of: (one: Spread) => number): number => neat(all.reduce((total, one) => total + of(one), 0));
  return { low: sum((one) => one.low), likely: sum((one) => one.likely), high: sum((one) => one.high), judged: all.every((one) => one.judged) };
}

const counted = 'half an?|half|a quarter of an|an?|a couple of|a few|several|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|all';
const inWords = new RegExp(String.raw`\b(?:(?:${counted})(?: and a half)?|\d+(?:[.,]\d+)?(?: ?[½¼¾])?)\s+(?:half\s+)?(?:hours?|days?|mornings?|afternoons?|evenings?|weekends?|weeks?)\b|(?<!\d)\d*\s?[½¼¾]\s?(?:an? )?(?:h|hrs?|hours?)\b`, 'gi');

/** Stretches that give a time in words or in days, "about two hours", "half a day"; those `times` covers are left out. */
export function hoursInWords(text: string, times: readonly HoursAt[]): { from: number; to: number }[] {
  return [...text.matchAll(inWords)]
    .map((match) => ({ from: match.index, to: match.index + match[0].length }))
    .filter(({ from, to }) => !times.some((time) => time.from < to && from < time.to));
}
