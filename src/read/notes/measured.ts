import type { Count, Entry, Reading } from '../../model/notes.ts';
import type { Subject } from './about.ts';
import { splitValue } from './finding.ts';
import { didYouMean, plain } from './lexicon.ts';
import { lookedIn, originIn, takePhotos } from './mentions.ts';
import { stepTyped, typedCount, typedNumber } from './numbers.ts';
import { implausible, inUnitOf, probablyMeant, spanOf, toMm } from './plausible.ts';
import type { Item, Reader } from './reader.ts';
import { report, short } from './reader.ts';
import type { Snippet } from './source.ts';
import { split } from './source.ts';
import { capital, placeForm } from '../../model/wording.ts';

const quantities: Record<string, { quantity: Reading['quantity']; unit: Reading['unit']; method: string }> = {
  steel: { quantity: 'steel', unit: 'mm', method: 'ultrasonic' },
  'steel thickness': { quantity: 'steel', unit: 'mm', method: 'ultrasonic' },
  'wall thickness': { quantity: 'steel', unit: 'mm', method: 'ultrasonic' },
  'sheet thickness': { quantity: 'steel', unit: 'mm', method: 'ultrasonic' },
  'metal thickness': { quantity: 'steel', unit: 'mm', method: 'ultrasonic' },
  film: { quantity: 'film', unit: 'um', method: 'magnetic induction' },
  paint: { quantity: 'film', unit: 'um', method: 'magnetic induction' },
  'film thickness': { quantity: 'film', unit: 'um', method: 'magnetic induction' },
  'paint thickness': { quantity: 'film', unit: 'um', method: 'magnetic induction' },
  hardness: { quantity: 'hardness', unit: 'Shore A', method: 'durometer' },
  'water depth': { quantity: 'water depth', unit: 'mm', method: 'rule' },
};

/** Stands behind every advice about a reading that cannot be taken. */
const noReading = 'The line is kept as a remark and counts as no reading.';

interface Values {
  values: number[];
  step: number;
}

/** One value with or without its unit, and the way it was read. */
const valuePattern = /^([-−]?[\d.,]+(?: \d{3})?)\s*([a-zµμ"]+(?: a)?)?(?:\s+(?:call?ipers?|micrometer|ultrasonic))?$/i;

const shore = /^(shore a|a|sh a|shore)$/;

/** True where a quantity stands before the colon and a value or a range of them behind: no finding, though a part is named too. */
export function isMeasured(reader: Reader, key: string, value: Snippet): boolean {
  const first = split(takePhotos(reader, splitValue(value).first).rest, /[,;]\s+/g)[0]?.text ?? '';
  const unit = valuePattern.exec(first)?.[2]?.toLowerCase() ?? '';
  const isValue = valuePattern.test(first) && (unit === '' || Object.hasOwn(toMm, unit) || shore.test(unit));
  return quantityIn(key) !== null && (isValue || spanOf(first) !== null);
}

/** The quantity that the words before a colon begin with, and the rest of them, which is a place: "steel, outer face", "film roof". */
function quantityIn(key: string): { kind: (typeof quantities)[string]; place: string } | null {
  const [name = '', ...others] = key.split(/,\s+/);
  const words = name.trim().split(/\s+/);
  for (let count = Math.min(words.length, 2); count > 0; count -= 1) {
    const spelling = plain(words.slice(0, count).join(' '));
    const kind = Object.hasOwn(quantities, spelling) ? quantities[spelling] : undefined;
    if (kind) return { kind, place: placeForm([words.slice(count).join(' '), ...others].filter((one) => one !== '').join(', ')) };
  }
  return null;
}

/** `steel, outer face: 0.62 mm, 0.64 mm`: a reading, or null where the words before the colon name no quantity. */
export function readingOf(reader: Reader, key: string, value: Snippet, item: Item): Entry | null {
  const named = quantityIn(key);
  if (!named) return null;
  const { kind, place } = named;
  const { first, rest } = splitValue(value);
  const head = takePhotos(reader, first);
  const tail = takePhotos(reader, rest);
  const base = { text: item.text, spot: item.spot, origin: originIn(tail.rest.text), photos: [...item.pictures, ...head.photos, ...tail.photos], words: tail.rest.text };
  const read = valuesOf(reader, kind, head.rest, item);
  if (!read) return { ...base, type: 'remark', words: item.head.text };
  const said = /\b(call?ipers?|micrometer|ultrasonic|magnetic induction|eddy current)\b/i.exec(`${head.rest.text} ${tail.rest.text}`)?.[1];
  const method = said ? said.toLowerCase().replace(/^call?ipers?$/, 'caliper') : kind.method;
  return { ...base, type: 'reading', quantity: kind.quantity, place, ...read, unit: kind.unit, method };
}

function valuesOf(reader: Reader, kind: (typeof quantities)[string], words: Snippet, item: Item): Values | null {
  const pieces = split(words, /[,;]\s+/g).map((piece) => ({ piece, match: valuePattern.exec(piece.text) }));
  const wrong = pieces.find(({ match }) => !match);
  const span = wrong ? spanOf(wrong.piece.text) : null;
  if (wrong && span) {
    report(reader, wrong.piece, 'warning', 'reading-range', {
      found: `A range ${span.backwards ? 'that runs backwards, ' : ''}"${short(wrong.piece.text)}"`,
      expected: 'single values, such as 0.62 mm, 0.64 mm',
      advice: `Write each value that the gauge showed, with a comma and a space between. ${noReading}`,
    });
    return null;
  }
  if (pieces.length === 0 || wrong) {
    report(reader, wrong?.piece ?? item.spot, 'warning', 'reading-unclear', {
      found: wrong ? `Unexpected "${short(wrong.piece.text)}"` : 'No value',
      expected: 'numbers with a unit, such as 0.62 mm, 0.64 mm',
      advice: 'The line is kept as a remark; put free words after a full stop.',
    });
    return null;
  }
  const units = [...new Set(pieces.flatMap(({ match }) => (match?.[2] ? [match[2].toLowerCase()] : [])))];
  if (new Set(units.map((unit) => toMm[unit] ?? unit)).size > 1) {
    report(reader, words, 'warning', 'units-mixed', {
      found: `${units.join(' and ')} in one list`,
      expected: 'one unit',
      advice: `Write each unit on a line of its own. ${noReading}`,
    });
    return null;
  }
  const unit = units[0] ?? kind.unit.toLowerCase();
  if (!pieces.every(({ piece, match }) => usable(reader, kind, piece, match?.[1] ?? '', unit))) return null;
  const steps = pieces.map(({ match }) => inUnitOf(kind.quantity, stepTyped(match?.[1] ?? '', thousandsIn(unit)), unit));
  return { values: pieces.map(({ match }) => convert(kind, match?.[1] ?? '', unit)), step: Math.min(...steps) };
}

/** Whether a mark of thousands makes sense in a unit. */
function thousandsIn(unit: string): boolean {
  return unit !== 'mm' && unit !== 'in';
}

function usable(reader: Reader, kind: (typeof quantities)[string], piece: Snippet, figure: string, unit: string): boolean {
  const number = typedNumber(figure, thousandsIn(unit));
  const fits = kind.unit === 'Shore A' ? shore.test(unit) : Object.hasOwn(toMm, unit);
  if (number.ok && number.value > 0 && fits) return isPlausible(reader, kind, piece, number.value, unit);
  report(reader, piece, 'warning', 'reading-unclear', {
    found: number.ok ? (fits ? `A reading of ${short(piece.text)}` : `Unit "${unit}"`) : number.why,
    expected: number.ok && fits ? 'a number above zero' : `a plain number in ${kind.unit === 'Shore A' ? 'Shore A' : 'mm, um, in or thou'}`,
    advice: noReading,
  });
  return false;
}

/** A point left out or a unit mistaken makes a reading that no car has; it is asked back, not believed. */
function isPlausible(reader: Reader, kind: (typeof quantities)[string], piece: Snippet, figure: number, unit: string): boolean {
  const expected = implausible(kind.quantity, inUnitOf(kind.quantity, figure, unit));
  if (expected === null) return true;
  const meant = probablyMeant(kind.quantity, figure, unit);
  report(reader, piece, 'warning', 'reading-implausible', {
    found: `${capital(kind.quantity)} of "${short(piece.text)}"`,
    expected,
    advice: meant === '' ? noReading : `Did you mean ${meant}? ${noReading}`,
  });
  return false;
}

function convert(kind: (typeof quantities)[string], figure: string, unit: string): number {
  const number = typedNumber(figure, thousandsIn(unit));
  if (!number.ok) throw new Error('Readings are checked before they are converted');
  return inUnitOf(kind.quantity, number.value, unit);
}

/** `plugs: 4 expected, 1 sound, 2 missing` and `expected: 9 plugs`. Null where the value is not of that form. */
export function countOf(reader: Reader, subject: Subject, value: Snippet, item: Item): Count | null {
  const { first, rest } = splitValue(value);
  const head = takePhotos(reader, first);
  const pieces = split(head.rest, /[,;]\s+/g).map((piece) => ({ piece, match: /^(\S+)\s+(.+)$/.exec(piece.text) }));
  const numbered = pieces.filter(({ match }) => match && typedCount(match[1] ?? '') !== null && !/^\d*\s?(?:mm|cm|%)/.test(match[2] ?? ''));
  if (numbered.length === 0 || (!subject.plural && !numbered.some(({ match }) => /^expected\b/.test(match?.[2] ?? '')))) return null;
  const known = reader.lexicon.conditions.get(subject.part.group);
  let expected: number | null = null;
  const counts: Count['counts'] = [];
  const others: string[] = [];
  for (const { piece, match } of pieces) {
    const count = typedCount(match?.[1] ?? '');
    const word = plain(match?.[2] ?? '');
    const condition = word === 'not seen' || word === 'not fitted' ? word : known?.get(word)?.id;
    if (count !== null && /^expected\b/.test(word)) {
      expected = count;
      if (word !== 'expected') others.push(piece.text);
    } else if (count !== null && condition) counts.push({ condition, count });
    else {
      others.push(piece.text);
      report(reader, piece, 'warning', 'count-unclear', {
        found: `Unexpected "${short(piece.text)}"`,
        expected: 'a number and a condition, such as 2 missing',
        advice: didYouMean(word, known?.keys() ?? []) || 'The words are kept, but count for nothing.',
      });
    }
  }
  const tail = takePhotos(reader, rest);
  const said = tail.rest.text;
  const words = [...others, said].filter((text) => text !== '').join('. ');
  const photos = [...item.pictures, ...head.photos, ...tail.photos];
  const place = subject.abouts[0]?.place ?? '';
  return { type: 'count', text: item.text, spot: item.spot, origin: originIn(said), photos, words, part: subject.part.id, place, expected, counts, looked: lookedIn(reader, said) };
}
