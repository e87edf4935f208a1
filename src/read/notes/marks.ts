import type { Mark } from '../../model/notes.ts';
import { formOf, otherShape } from './mark-words.ts';
import type { Shape } from './mark-words.ts';
import { typedNumber } from './numbers.ts';
import type { Item, Reader } from './reader.ts';
import { report, short } from './reader.ts';
import { rustedMarkOf } from './rusted.ts';

interface Form {
  shape: Shape;
  start: RegExp;
  /** How many figures. */
  count: number;
  /** As it is written, for messages. */
  form: string;
}

const shapes: Form[] = [
  { shape: 'ring', start: /^ring\s+(?=[-−\d.,]|nan\b)/i, count: 3, form: formOf.ring },
  { shape: 'arrow', start: /^arrow\s+(?=[-−\d.,]|nan\b)/i, count: 4, form: formOf.arrow },
  { shape: 'box', start: /^box\s+(?=[-−\d.,]|nan\b)/i, count: 4, form: formOf.box },
  { shape: 'hide', start: /^hide\b(?!:)/i, count: 4, form: formOf.hide },
  { shape: 'scale', start: /^scale\s+(?=[-−\d.,]|nan\b)/i, count: 4, form: formOf.scale },
];

/** A mark on a photo, or `undefined` where the item is none, or null where it is one that cannot be read (a notice says why). */
export function markOf(reader: Reader, item: Item): Mark | null | undefined {
  const rusted = rustedMarkOf(reader, item);
  if (rusted !== undefined) return rusted;
  const text = item.head.text;
  const form = shapes.find((one) => one.start.test(text));
  if (!form) return otherShape(reader, item);
  const colon = text.search(/[:：]/);
  const figures = figuresIn((colon < 0 ? text : text.slice(0, colon)).replace(form.start, ''), form.shape === 'hide');
  const numbers = figures.map((figure) => (/^(\d+\.?\d*|\.\d+)$/.test(figure) ? Number(figure) : Number.NaN));
  if (!numbers.every((number) => number >= 0 && number <= 1) || numbers.length !== form.count) {
    refuse(reader, item, form, 'mark-unclear', `fractions of the picture from 0 to 1, as in "${form.form}"`, unitHint(numbers));
    return null;
  }
  if (isEmpty(form.shape, numbers)) {
    refuse(reader, item, form, 'mark-empty', `a mark of some size, as in "${form.form}"`);
    return null;
  }
  const mark: Mark = { text: item.text, spot: item.spot, shape: form.shape, numbers, label: colon < 0 ? '' : text.slice(colon + 1).trim() };
  if (form.shape !== 'scale') return mark;
  const lengthMm = lengthIn(mark.label);
  if (lengthMm !== null) return { ...mark, lengthMm };
  refuse(reader, item, form, 'scale-unclear', `the length of what was laid beside it, up to ${farthestMm / 1000} m, with its unit, as in "${form.form}"`);
  return null;
}

/**
 * Figures between spaces, commas and "to"; a bare comma behind a leading zero is a decimal one: `0,42`. `strict`, where a
 * wrong guess would publish what was to be hidden, takes points only.
 */
function figuresIn(text: string, strict: boolean): string[] {
  const points = strict ? text : text.replace(/(?<![\d.,])0,(\d+)(?!\d|[.,]\d)/g, '0.$1');
  return points.replace(/\bto\b/gi, ' ').split(/[\s,]+/).filter((word) => word !== '');
}

/** What the figures may be instead, where all of them are figures. */
function unitHint(numbers: readonly number[]): string {
  const most = Math.max(...numbers);
  if (numbers.length === 0 || Number.isNaN(most) || most < 2) return '';
  return most <= 100 ? `If they are percent, ${String(most)} % is ${String(Number((most / 100).toFixed(4)))}. ` : 'If they are pixels, divide them by width and height of the upright picture. ';
}

/** Whether nothing can be seen of a mark, or nothing lies in it. */
function isEmpty(shape: Shape, numbers: readonly number[]): boolean {
  const [x1 = 0, y1 = 0, x2 = 0, y2 = 0] = numbers;
  switch (shape) {
    case 'ring':
      return x2 === 0;
    case 'arrow':
    case 'scale':
      return x1 === x2 && y1 === y2;
    case 'box':
    case 'hide':
      return x1 === x2 || y1 === y2;
  }
}

/** Longest thing anybody lays beside a finding. Our judgement. */
const farthestMm = 10_000;

const millimetres: Record<string, number> = { mm: 1, cm: 10, m: 1000, in: 25.4, inch: 25.4, inches: 25.4, '"': 25.4, '”': 25.4, '″': 25.4 };

/** The one length in a label, in mm; null where there is none, or several, or one that can be read in two ways. */
function lengthIn(label: string): number | null {
  const found = [...label.matchAll(/(?<![\p{L}\d.,/⁄−-]|\d\s)(\d[\d.,]*\d|\d|\.\d+)\s*(mm|cm|m|inches|inch|in|"|”|″)(?![\p{L}\p{N}])/giu)];
  const [, figure = '', unit = ''] = found[0] ?? [];
  const number = typedNumber(figure, unit.toLowerCase() === 'mm');
  if (found.length !== 1 || !number.ok) return null;
  const lengthMm = Math.round(number.value * (millimetres[unit.toLowerCase()] ?? Number.NaN) * 1e6) / 1e6;
  return lengthMm > 0 && lengthMm <= farthestMm ? lengthMm : null;
}

function refuse(reader: Reader, item: Item, { shape }: Form, rule: string, expected: string, hint = ''): void {
  report(reader, item.head, shape === 'hide' ? 'error' : 'warning', rule, {
    found: `"${short(item.head.text)}"`,
    expected,
    advice: hint + (shape === 'hide' ? 'Nothing is published until it is clear what to hide.' : 'The line is printed as typed; no mark is drawn.'),
  });
}
