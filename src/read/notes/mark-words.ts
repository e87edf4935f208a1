import { distance } from 'fastest-levenshtein';
import type { Mark } from '../../model/notes.ts';
import { subjectOf } from './about.ts';
import type { Item, Reader } from './reader.ts';
import { report, short } from './reader.ts';

/** Rusted points and outlines are read by `rusted.ts`. */
export type Shape = Exclude<Mark['shape'], 'rusted points' | 'rusted outline'>;

/** Every mark as it is written, for messages. */
export const formOf: Readonly<Record<Shape, string>> = {
  ring: 'ring 0.42 0.31 0.06: words',
  arrow: 'arrow 0.1 0.1 to 0.4 0.3: words',
  box: 'box 0.2 0.2 0.5 0.4: words',
  hide: 'hide 0.7 0.8 0.9 0.9: words',
  scale: 'scale 0.2 0.9 to 0.5 0.9: 50 mm',
};

/** What people call a mark; our judgement. */
const called: Readonly<Record<Shape, readonly string[]>> = {
  ring: ['circle', 'oval', 'ellipse', 'disc', 'disk', 'dot', 'round', 'spot', 'loop'],
  arrow: ['line', 'pointer', 'dart', 'point', 'crack', 'path', 'lines'],
  box: ['rectangle', 'rect', 'square', 'frame', 'area', 'region', 'field'],
  scale: ['ruler', 'rule', 'measure', 'length'],
  hide: ['hid', 'hidden', 'hides', 'hiding', 'hyde', 'blur', 'blurred', 'mask', 'masked', 'cover', 'covered', 'blank', 'black', 'blackout', 'redact', 'redacted', 'censor', 'obscure', 'pixelate', 'conceal', 'erase'],
};

/** Words that look like a mark's and stand before figures of something else. */
const figure = String.raw`\d?[.,]?\d+\s*%?`;
const before = new RegExp(String.raw`^([a-z]+)(?:\s+[a-z]+)?(\s*:)?\s+((?:(?:to\s+)?${figure}[\s,;]*){2,})`, 'i');

/**
 * Figures behind a word that is no mark: `line 0.1 0.1 to 0.2 0.2: crack`, `hde 0.1 0.1 0.2 0.2: face`. Null where it is
 * likely one (a notice says which was meant), undefined where it is not. What was to be hidden must not be published for a
 * slip: it stops the build, and nothing else does.
 */
export function otherShape(reader: Reader, item: Item): null | undefined {
  const { text } = item.head;
  const [, word = '', colon, figures = ''] = before.exec(text) ?? [];
  const count = figures.match(/\d+(?:[.,]\d+)?|[.,]\d+/g)?.length ?? 0;
  const fractions = /(?:^|[\s,;])(?:0?[.,]\d|0[\s,;])/.test(figures);
  if (word === '' || word.length > 10 || count < 2 || (count < 3 && !fractions)) return undefined;
  const meant = meantBy(word.toLowerCase(), count);
  if (colon !== undefined && meant !== 'hide') return undefined;
  // "cover strip 0.5 1.5 mm" hides nothing: a word of every day needs four figures, or fractions alone.
  if (meant === 'hide' && !isNearHide(word.toLowerCase()) && count < 4 && !(fractions && aloneIn(text, word))) return undefined;
  if (meant === 'hide') {
    report(reader, item.head, 'error', 'mark-unclear', {
      found: `Unexpected "${short(text)}"`,
      expected: `a mark such as "${formOf.hide}"`,
      advice: 'Nothing is published until it is clear what to hide.',
    });
    return null;
  }
  // "steel 0.62 0.64" and "plug 25" are no marks, nor is a word that nobody uses for one, unless fractions alone stand behind it.
  if (meant === null && (!fractions || !aloneIn(text, word) || isOfCar(reader, word))) return undefined;
  report(reader, item.head, 'warning', 'mark-unclear', {
    found: `Unexpected "${short(text)}"`,
    expected: meant === null ? 'one of ring, arrow, box, scale, hide, rusted points, rusted outline' : `a mark such as "${formOf[meant]}"`,
    advice: `${meant === null ? '' : `Did you mean "${meant}"? `}The line is printed as typed; no mark is drawn.`,
  });
  return null;
}

function meantBy(word: string, count: number): Shape | null {
  const shapes = Object.keys(formOf) as Shape[];
  const known = shapes.find((shape) => called[shape].includes(word));
  if (known) return known;
  const near = shapes.filter((shape) => shape !== 'hide' && distance(shape, word) <= (shape.length > 3 ? 2 : 1));
  return isNearHide(word) ? 'hide' : count >= 3 ? near[0] ?? null : null;
}

/** One slip, or two that begin alike or only swap letters. */
function isNearHide(word: string): boolean {
  const away = distance('hide', word);
  const sorted = (letters: string): string => [...letters].toSorted().join('');
  return away <= 1 || (away === 2 && (word.startsWith('h') || sorted(word) === sorted('hide')));
}

/** Whether only fractions from 0 to 1 stand between a word and its colon or the end. */
function aloneIn(text: string, word: string): boolean {
  const between = text.slice(word.length).split(/[:：]/)[0] ?? '';
  return between.trim().split(/[\s,;]+/).every((one) => one === 'to' || /^(?:0?[.,]\d+|0|1|1[.,]0+)$/.test(one));
}

function isOfCar(reader: Reader, word: string): boolean {
  return subjectOf(reader.lexicon, word) !== null || /^(?:steel|film|paint|hardness)$/i.test(word);
}
