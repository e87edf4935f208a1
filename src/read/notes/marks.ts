import { distance } from 'fastest-levenshtein';
import type { Mark } from '../../model/notes.ts';
import type { Item, Reader } from './reader.ts';
import { report, short } from './reader.ts';

const shapes: { shape: Mark['shape']; start: RegExp; count: (numbers: number) => boolean; form: string }[] = [
  { shape: 'rusted points', start: /^rusted points\s/i, count: (n) => n === 4, form: 'rusted points 0.1 0.1 0.9 0.8: 34 of 100' },
  { shape: 'rusted outline', start: /^rusted outline\s/i, count: (n) => n >= 6 && n % 2 === 0, form: 'rusted outline 0.1 0.2, 0.3 0.2, 0.3 0.5' },
  { shape: 'ring', start: /^ring\s+[-\d.]/i, count: (n) => n === 3, form: 'ring 0.42 0.31 0.06: words' },
  { shape: 'arrow', start: /^arrow\s+[-\d.]/i, count: (n) => n === 4, form: 'arrow 0.1 0.1 to 0.4 0.3: words' },
  { shape: 'box', start: /^box\s+[-\d.]/i, count: (n) => n === 4, form: 'box 0.2 0.2 0.5 0.4: words' },
  { shape: 'hide', start: /^hide\b(?!:)/i, count: (n) => n === 4, form: 'hide 0.7 0.8 0.9 0.9: words' },
  { shape: 'scale', start: /^scale\s+[-\d.]/i, count: (n) => n === 4, form: 'scale 0.2 0.9 to 0.5 0.9: 50 mm' },
];

/** A mark on a photo, or `undefined` where the item is none, or null where it is one that cannot be read (a notice says why). */
export function markOf(reader: Reader, item: Item): Mark | null | undefined {
  const text = item.head.text;
  const shape = shapes.find((one) => one.start.test(text));
  if (!shape) return misspelled(reader, item);
  const colon = text.indexOf(':');
  const figures = (colon < 0 ? text : text.slice(0, colon)).replace(shape.start, (start) => start.replace(/^[a-z ]+/i, ''));
  const words = figures.replace(/\bto\b/g, ' ').split(/[\s,]+/).filter((word) => word !== '');
  const numbers = words.map(Number);
  const inside = numbers.every((number) => Number.isFinite(number) && number >= 0 && number <= 1);
  if (inside && shape.count(numbers.length)) {
    return { text: item.text, spot: item.spot, shape: shape.shape, numbers, label: colon < 0 ? '' : text.slice(colon + 1).trim() };
  }
  report(reader, item.head, shape.shape === 'hide' ? 'error' : 'warning', 'mark-unclear', {
    found: `"${short(text)}"`,
    expected: `fractions of the picture from 0 to 1, as in "${shape.form}"`,
    advice: shape.shape === 'hide' ? 'Nothing is published until it is clear what to hide.' : 'The line is kept as a remark; no mark is drawn.',
  });
  return null;
}

/** `hde 0.1 0.1 0.2 0.2: face`: fractions behind a word that is nearly a mark. What was to be hidden must not be published for a slip. */
function misspelled(reader: Reader, item: Item): null | undefined {
  const word = /^([a-z]+)(?:\s+[a-z]+)?(?:\s+(?:to\s+)?\d?[.,]?\d+){3,}/i.exec(item.head.text)?.[1];
  if (word === undefined || word.length > 10) return undefined;
  const meant = ['hide', 'ring', 'arrow', 'box', 'scale'].find((one) => distance(one, word.toLowerCase()) <= 2);
  if (meant === undefined) return undefined;
  report(reader, item.head, meant === 'hide' ? 'error' : 'warning', 'mark-unclear', {
    found: `Unexpected "${short(item.head.text)}"`,
    expected: `a mark such as "${shapes.find((one) => one.shape === meant)?.form ?? meant}"`,
    advice: meant === 'hide' ? 'Nothing is published until it is clear what to hide.' : `Did you mean "${meant}"? The line is kept as a remark; no mark is drawn.`,
  });
  return null;
}
