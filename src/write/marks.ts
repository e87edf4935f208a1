import type { DossierMark } from '../model/dossier-mark.ts';
import type { Inline } from '../model/dossier.ts';
import type { Mark } from '../model/notes.ts';
import { roughLengthText } from '../units.ts';
import type { Context } from './context.ts';
import { joined } from './inline.ts';

type ShownMark = Mark & { shape: Exclude<Mark['shape'], 'hide'> };

const shapes: Record<ShownMark['shape'], DossierMark['shape']> = { ring: 'ring', arrow: 'arrow', box: 'box', scale: 'scale', 'rusted outline': 'outline', 'rusted points': 'grid frame' };

/** What is drawn over a photo, numbered in the order written. What was to be hidden is not: it is destroyed in the pixels. */
export function dossierMarks(marks: readonly Mark[]): DossierMark[] {
  return shownOf(marks).map(({ shape, numbers, label }, index) => ({ shape: shapes[shape], numbers, number: index + 1, label }));
}

function shownOf(marks: readonly Mark[]): ShownMark[] {
  return marks.filter((mark): mark is ShownMark => mark.shape !== 'hide');
}

/**
 * What the inspector marked on a photo, with the numbers drawn beside the marks where there are several; once, with the photo's
 * zone where it has one, their sizes where a scale lies in the picture; and what was made unreadable on request, as a reader should know why.
 */
export function markText(context: Context, id: string, where: 'zone' | 'index'): Inline {
  const all = context.photos.get(id)?.marks ?? [];
  const shown = shownOf(all);
  const hidden = all.filter((mark) => mark.shape === 'hide' && mark.label !== '').map((mark) => mark.label);
  return [
    ...markedText(shown),
    ...(where === 'zone' || context.photos.get(id)?.zones.length === 0 ? sizesText(context, id, shown) : []),
    ...(hidden.length === 0 ? [] : [` Hidden on the picture: ${hidden.join('; ')}.`]),
  ];
}

function markedText(shown: readonly ShownMark[]): Inline {
  const [only] = shown;
  if (!only) return [];
  if (shown.length > 1) return [' Marked: ', ...joined(shown.map((mark, index): Inline => numbered(index, wordsOf(mark))), '; '), '.'];
  if (only.shape !== 'ring' && only.shape !== 'arrow' && only.shape !== 'box') return [` Marked: ${wordsOf(only)}.`];
  return [` Marked with ${only.shape === 'arrow' ? 'an' : 'a'} ${only.shape}${only.label === '' ? '' : `: ${wordsOf(only)}`}.`];
}

/** "1 open hole"; a colon keeps the number apart from words that begin with one. */
function numbered(index: number, words: string): Inline {
  return [{ text: String(index + 1), strong: true }, `${/^\d/.test(words) ? ':' : ''} ${words}`];
}

function wordsOf({ shape, label }: ShownMark): string {
  const words = label.replace(/[.;]+$/, '');
  if (shape === 'ring' || shape === 'arrow' || shape === 'box') return words || shape;
  return words === '' ? shape : `${shape}, ${words}`;
}

/** How far a figure may be from what was meant: people set marks to a hundredth of the picture. Our judgement. */
const slip = 0.005;

interface Length {
  low: number;
  likely: number;
  high: number;
}

/** Sizes of rings, arrows and boxes by the scale in the picture, as estimates with what limits them. */
function sizesText(context: Context, id: string, shown: readonly ShownMark[]): Inline {
  const picture = context.pictures.get(id)?.renditions.at(-1);
  const scales = shown.flatMap(({ shape, numbers, lengthMm }) => (shape === 'scale' && lengthMm !== undefined ? [{ numbers, lengthMm }] : []));
  if (!picture || scales.length === 0) return [];
  const { width, height } = picture;
  // Fractions are of two different sides: lengths are compared in pixels of the upright picture.
  const along = ([x1 = 0, y1 = 0, x2 = 0, y2 = 0]: readonly number[]): Length => {
    const [across, down] = [Math.abs(x2 - x1) * width, Math.abs(y2 - y1) * height];
    const likely = Math.hypot(across, down);
    const error = likely === 0 ? 0 : (2 * slip * (across * width + down * height)) / likely;
    return { low: likely - error, likely, high: likely + error };
  };
  const inMm = (pixels: Length): string | null => {
    const all = scales.map(({ numbers, lengthMm }): Length => {
      const scale = along(numbers);
      return { low: (lengthMm * pixels.low) / scale.high, likely: (lengthMm * pixels.likely) / scale.likely, high: scale.low > 0 ? (lengthMm * pixels.high) / scale.low : Infinity };
    });
    const low = Math.min(...all.map((one) => one.low));
    const high = Math.max(...all.map((one) => one.high));
    // Beyond twice its low end a range says nothing; our judgement.
    if (!(low > 0 && high <= 2 * low)) return null;
    return roughLengthText({ low, likely: all.reduce((sum, one) => sum + one.likely, 0) / all.length, high }, context.units);
  };
  const sizes = shown.flatMap((mark, index) => {
    const said = sizeOf(mark, along, inMm);
    return said === null ? [] : [numbered(index, said)];
  });
  if (sizes.length === 0) return [];
  const by = scales.length === 1 ? 'the scale' : 'the scales';
  return [` Sizes by ${by} in the picture, estimates for marks set to a hundredth of it, and only for what lies in the plane of ${by}: `, ...joined(sizes, '; '), '.'];
}

/** The size of the mark itself, which is what was measured: a ring may be wider than the hole in it. */
function sizeOf({ shape, numbers }: ShownMark, along: (ends: readonly number[]) => Length, inMm: (pixels: Length) => string | null): string | null {
  const [x1 = 0, y1 = 0, x2 = 0, y2 = 0] = numbers;
  const unclear = 'is too small beside the scale to be measured';
  const say = (ends: readonly number[], way: string): string | null => {
    const text = inMm(along(ends));
    return text === null ? null : `${text} ${way}`;
  };
  switch (shape) {
    case 'ring':
      return say([x1 - x2, y1, x1 + x2, y1], 'across the ring') ?? unclear;
    case 'arrow':
      return say(numbers, 'along the arrow') ?? unclear;
    case 'box': {
      const sides = [say([x1, y1, x2, y1], 'wide'), say([x1, y1, x1, y2], 'high')].filter((side) => side !== null);
      return sides.length === 2 ? sides.join(' and ') : unclear;
    }
    case 'scale':
    case 'rusted outline':
    case 'rusted points':
      return null;
  }
}
