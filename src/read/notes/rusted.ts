import type { Mark } from '../../model/notes.ts';
import type { Corner, Region, RustedSaid } from '../../model/rusted-area.ts';
import { outlineFault, wholePicture } from '../../model/rusted-area.ts';
import type { Item, Reader } from './reader.ts';
import { report, short } from './reader.ts';
import { part } from './source.ts';
import type { Snippet } from './source.ts';

/** As the format has it, and as it slips: "rust points 0.1 …". Other words after a slip are free words, not a mark. */
const opener = /^(?:rusted\s+(?:points|outline)|rust(?:ed|y)?\s+(?:points?|outlines?)(?=\s*[-+.,\d]))(?![\p{L}\p{N}])/iu;
/** More are no line that anybody draws; our judgement. */
const mostCorners = 500;
const mostPoints = 10_000;

const forms = {
  points: 'left top right bottom of the grid in fractions of the picture and a count, as in "rusted points 0.1 0.1 0.9 0.8: 34 of 100"',
  outline: 'corners in fractions of the picture, as in "rusted outline 0.1 0.2, 0.3 0.2, 0.3 0.5" or "… in 0.1 0.1 0.9 0.8" for the region it is a share of',
} as const;

/** What was read, or the words at fault and why, a clause, with what to do where that is plain: a sentence and a space. */
type Read<T> = { ok: T } | { at: Snippet; why: string; advice?: string };

/**
 * `rusted points 0.1 0.1 0.9 0.8: 34 of 100. words` and `rusted outline 0.1 0.2, 0.3 0.2, 0.3 0.5 in 0.1 0.1 0.9 0.8: words`.
 * Null where it is one that cannot be read (a notice says why), undefined where the item is neither.
 */
export function rustedMarkOf(reader: Reader, item: Item): Mark | null | undefined {
  const start = opener.exec(item.head.text)?.[0];
  if (start === undefined) return undefined;
  const how = /point/i.test(start) ? 'points' : 'outline';
  const colon = item.head.text.indexOf(':');
  const figures = part(item.head, start.length, colon < 0 ? item.head.text.length : colon);
  const said = colon < 0 ? part(item.head, item.head.text.length) : part(item.head, colon + 1);
  const read: Read<RustedSaid> = how === 'points' ? pointsIn(figures, said) : outlineIn(figures, said.text);
  if ('ok' in read) {
    const rusted = read.ok;
    const numbers = rusted.how === 'points' ? [...rusted.region] : rusted.corners.flat();
    const label = rusted.how === 'points' ? [`${rusted.hits} of ${rusted.points}`, rusted.words].filter((text) => text !== '').join(', ') : rusted.words;
    return { text: item.text, spot: item.spot, shape: `rusted ${how}`, numbers, label, rusted };
  }
  report(reader, read.at.text === '' ? item.head : read.at, 'warning', `rusted-${how}-unclear`, {
    found: `"${short(item.head.text)}": ${read.why}`,
    expected: forms[how],
    advice: `${read.advice ?? ''}The line is printed as typed; no share is taken from it.`,
  });
  return null;
}

/** A rectangle and `34 of 100`, `34 out of 100`, `34/100`, with words behind a full stop or comma. */
function pointsIn(figures: Snippet, said: Snippet): Read<RustedSaid> {
  const region = regionIn(figures);
  if (!('ok' in region)) return region;
  if (/^\?/.test(said.text)) return { at: said, why: 'the points are not counted yet', advice: 'Put your count in the place of "??". ' };
  const count = /^(\d+)\s*(?:(?:out\s+)?of|\/)\s*(\d+)(?![\d%]|[.,]\d)(?:\s*points?\b)?[.,;]?(?=\s|$)/i.exec(said.text);
  if (!count) return { at: said, why: said.text === '' ? 'no count behind a colon' : 'no count of whole points such as 34 of 100' };
  const [hits, points] = [Number(count[1]), Number(count[2])];
  if (points < 1 || points > mostPoints) return { at: said, why: `${points} points; there must be at least one and at most ${mostPoints}` };
  if (hits > points) return { at: said, why: `${hits} of ${points} is more than there are` };
  return { ok: { how: 'points', region: region.ok, hits, points, words: said.text.slice(count[0].length).trim() } };
}

/** Corners, then where written `in` and the region; without it they are a share of the whole picture. */
function outlineIn(figures: Snippet, words: string): Read<RustedSaid> {
  const within = /(?:^|\s)in(?:\s|$)/i.exec(figures.text);
  const region = within ? regionIn(part(figures, within.index + within[0].length)) : { ok: wholePicture };
  if (!('ok' in region)) return region;
  const line = part(figures, 0, within?.index ?? figures.text.length);
  const read = fractionsIn(line);
  if (!('ok' in read)) return read;
  const numbers = read.ok;
  if (numbers.length % 2 === 1) return { at: line, why: 'a corner lacks its second number' };
  const corners = numbers.flatMap((x, index): Corner[] => (index % 2 === 0 ? [[x, numbers[index + 1] ?? 0]] : []));
  if (corners.length > mostCorners) return { at: line, why: `${corners.length} corners, more than ${mostCorners}` };
  const why = outlineFault(region.ok, corners);
  return why === null ? { ok: { how: 'outline', region: region.ok, corners, words } } : { at: line, why };
}

/** Two opposite corners, in any order. */
function regionIn(figures: Snippet): Read<Region> {
  const read = fractionsIn(figures);
  if (!('ok' in read)) return read;
  const [x1, y1, x2, y2] = read.ok;
  if (read.ok.length !== 4 || x1 === undefined || y1 === undefined || x2 === undefined || y2 === undefined) return { at: figures, why: `a region has four numbers, not ${read.ok.length}` };
  if (x1 === x2 || y1 === y2) return { at: figures, why: 'the region has no area' };
  return { ok: [Math.min(x1, x2), Math.min(y1, y2), Math.max(x1, x2), Math.max(y1, y2)] };
}

/** Numbers from 0 to 1 between spaces, commas and semicolons; "0,1" is a decimal comma, "0.1,0.2" two numbers. */
function fractionsIn(figures: Snippet): Read<number[]> {
  const numbers: number[] = [];
  for (const match of figures.text.matchAll(/[^\s;]+/g)) {
    const word = match[0].replace(/,$/, '');
    for (const figure of word.includes('.') ? word.split(',') : word === '' ? [] : [word]) {
      const at = part(figures, match.index, match.index + match[0].length);
      if (!/^[-+]?(?:\d+(?:[.,]\d*)?|[.,]\d+)$/.test(figure)) return { at, why: `"${short(figure)}" is no number` };
      const number = Number(figure.replace(',', '.'));
      if (!(number >= 0 && number <= 1)) return { at, why: `${figure} lies outside of 0 to 1` };
      numbers.push(number);
    }
  }
  return numbers.length === 0 ? { at: figures, why: 'no numbers' } : { ok: numbers };
}
