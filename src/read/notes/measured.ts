import type { Count, Entry, Reading } from '../../model/notes.ts';
import type { Subject } from './about.ts';
import { splitValue } from './finding.ts';
import { didYouMean, plain } from './lexicon.ts';
import { lookedIn, originIn, takePhotos } from './mentions.ts';
import { typedCount, typedNumber } from './numbers.ts';
import type { Item, Reader } from './reader.ts';
import { report, short } from './reader.ts';
import type { Snippet } from './source.ts';
import { split } from './source.ts';
import { placeForm } from '../../model/wording.ts';

const quantities: Record<string, { quantity: Reading['quantity']; unit: Reading['unit']; method: string }> = {
  steel: { quantity: 'steel', unit: 'mm', method: 'ultrasonic' },
  'steel thickness': { quantity: 'steel', unit: 'mm', method: 'ultrasonic' },
  film: { quantity: 'film', unit: 'um', method: 'magnetic induction' },
  paint: { quantity: 'film', unit: 'um', method: 'magnetic induction' },
  'film thickness': { quantity: 'film', unit: 'um', method: 'magnetic induction' },
  hardness: { quantity: 'hardness', unit: 'Shore A', method: 'durometer' },
  'water depth': { quantity: 'water depth', unit: 'mm', method: 'rule' },
};

/** Factors to the unit of the quantity. Inch = 25.4 mm exactly (international inch); thou = 0.0254 mm. */
const toMm: Record<string, number> = { mm: 1, cm: 10, in: 25.4, inch: 25.4, '"': 25.4, thou: 0.0254, mil: 0.0254, um: 0.001, µm: 0.001, μm: 0.001, micron: 0.001, microns: 0.001 };

/** `steel, outer face: 0.62 mm, 0.64 mm`: a reading, or null where the words before the colon name no quantity. */
export function readingOf(reader: Reader, key: string, value: Snippet, item: Item): Entry | null {
  const [name = '', ...place] = key.split(/,\s+/);
  const kind = quantities[plain(name)];
  if (!kind) return null;
  const { first, rest } = splitValue(value);
  const head = takePhotos(reader, first);
  const tail = takePhotos(reader, rest);
  const base = { text: item.text, spot: item.spot, origin: originIn(tail.rest.text), photos: [...item.pictures, ...head.photos, ...tail.photos], words: tail.rest.text };
  const values = valuesOf(reader, kind, head.rest, item);
  if (!values) return { ...base, type: 'remark', words: item.head.text };
  const said = /\b(caliper|callipers?|micrometer|ultrasonic|magnetic induction|eddy current)\b/i.exec(`${head.rest.text} ${tail.rest.text}`)?.[1];
  const method = said ? said.toLowerCase().replace(/^callipers?$/, 'caliper') : kind.method;
  return { ...base, type: 'reading', quantity: kind.quantity, place: placeForm(place.join(', ')), values, unit: kind.unit, method };
}

function valuesOf(reader: Reader, kind: (typeof quantities)[string], words: Snippet, item: Item): number[] | null {
  const pieces = split(words, /[,;]\s+/g).map((piece) => ({ piece, match: /^([-−]?[\d.,]+(?: \d{3})?)\s*([a-zµμ"]+(?: a)?)?(?:\s+(?:caliper|callipers?|micrometer|ultrasonic))?$/i.exec(piece.text) }));
  const wrong = pieces.find(({ match }) => !match);
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
      advice: 'Write each unit on a line of its own; the line is kept as a remark and counts as no reading.',
    });
    return null;
  }
  const unit = units[0] ?? kind.unit.toLowerCase();
  return pieces.every(({ piece, match }) => usable(reader, kind, piece, match?.[1] ?? '', unit)) ? pieces.map(({ match }) => convert(kind, match?.[1] ?? '', unit)) : null;
}

function usable(reader: Reader, kind: (typeof quantities)[string], piece: Snippet, figure: string, unit: string): boolean {
  const number = typedNumber(figure, unit !== 'mm' && unit !== 'in');
  const fits = kind.unit === 'Shore A' ? /^(shore a|a|sh a|shore)$/.test(unit) : unit in toMm;
  if (number.ok && number.value > 0 && fits) return true;
  report(reader, piece, 'warning', 'reading-unclear', {
    found: number.ok ? (fits ? `A reading of ${short(piece.text)}` : `Unit "${unit}"`) : number.why,
    expected: number.ok && fits ? 'a number above zero' : `a plain number in ${kind.unit === 'Shore A' ? 'Shore A' : 'mm, um, in or thou'}`,
    advice: 'The line is kept as a remark and counts as no reading.',
  });
  return false;
}

function convert(kind: (typeof quantities)[string], figure: string, unit: string): number {
  const number = typedNumber(figure, unit !== 'mm' && unit !== 'in');
  if (!number.ok) throw new Error('Readings are checked before they are converted');
  if (kind.unit === 'Shore A') return number.value;
  const mm = number.value * (toMm[unit] ?? 1);
  const value = kind.unit === 'um' ? mm * 1000 : mm;
  return Math.round(value * 1e6) / 1e6;
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
