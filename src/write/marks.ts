import type { DossierMark } from '../model/dossier-mark.ts';
import type { Inline } from '../model/dossier.ts';
import type { Mark } from '../model/notes.ts';
import type { RustedSaid } from '../model/rusted-area.ts';
import { isWhole, rustedByOutlines, rustedByPoints } from '../model/rusted-area.ts';
import { lengthText, roughLengthText, roughPercentText } from '../units.ts';
import type { Context } from './context.ts';
import { joined } from './inline.ts';

type ShownMark = Mark & { shape: Exclude<Mark['shape'], 'hide'> };

const shapes: Record<ShownMark['shape'], DossierMark['shape']> = { ring: 'ring', arrow: 'arrow', box: 'box', scale: 'scale', 'rusted outline': 'outline', 'rusted points': 'grid frame' };

/** Letters of a scale's words that stand beside its line as typed; of longer ones the length alone does. */
const shortLabel = 10;

/** What is drawn over a photo, numbered in the order written. What was to be hidden is not: it is destroyed in the pixels. */
export function dossierMarks(marks: readonly Mark[], units: 'mm' | 'in'): DossierMark[] {
  return shownOf(marks).map(({ shape, numbers, label, lengthMm, rusted }, index) => ({
    shape: shapes[shape], numbers, number: index + 1, label,
    ...(lengthMm === undefined ? {} : { length: label.length <= shortLabel ? label : lengthText(lengthMm, units) }),
    ...(rusted?.how === 'outline' && !isWhole(rusted.region) ? { within: [...rusted.region] as [number, number, number, number] } : {}),
  }));
}

function shownOf(marks: readonly Mark[]): ShownMark[] {
  return marks.filter((mark): mark is ShownMark => mark.shape !== 'hide');
}

/** What the inspector wrote behind the marks of a photo, and the counts; empty where the marks stand there without a word. */
export function markWords(context: Context, id: string): string[] {
  const shown = shownOf(context.photos.get(id)?.marks ?? []);
  return shown.filter(({ label, rusted, shape }) => (label !== '' && shape !== 'scale') || rusted !== undefined).map((mark) => wordsOf(mark, shown));
}

/**
 * What the inspector marked on a photo, with the numbers drawn beside the marks where there are several; once, with the photo's
 * zone where it has one, their sizes where a scale lies in the picture; and what was made unreadable on request, as a reader should know why.
 */
export function markText(context: Context, id: string, where: 'zone' | 'index'): Inline {
  const all = context.photos.get(id)?.marks ?? [];
  const shown = shownOf(all);
  const hidden = all.filter((mark) => mark.shape === 'hide' && mark.label !== '').map((mark) => mark.label);
  const sizes = where === 'zone' || context.photos.get(id)?.zones.length === 0 ? sizesOf(context, id, shown) : [];
  return [
    ...markedText(shown, sizes),
    ...limitsText(shown, sizes),
    ...(hidden.length === 0 ? [] : [` Hidden on the picture: ${hidden.join('; ')}.`]),
  ];
}

function markedText(shown: readonly ShownMark[], sizes: readonly string[]): Inline {
  const [only] = shown;
  if (!only) return [];
  const words = (mark: ShownMark, index: number): string => [wordsOf(mark, shown), sizes[index] ?? ''].filter((text) => text !== '').join(', ');
  if (shown.length > 1) return [' Marked: ', ...joined(shown.map((mark, index): Inline => [{ text: `${index + 1})`, strong: true }, ` ${words(mark, index)}`]), '; '), '.'];
  if (only.shape !== 'ring' && only.shape !== 'arrow' && only.shape !== 'box') return [` Marked: ${words(only, 0)}.`];
  return [` Marked with ${only.shape === 'arrow' ? 'an' : 'a'} ${only.shape}${only.label === '' ? '' : `: ${words(only, 0)}`}.`];
}

function wordsOf(mark: ShownMark, shown: readonly ShownMark[]): string {
  const { shape } = mark;
  const words = mark.label.replace(/[.;]+$/, '');
  if (shape === 'ring' || shape === 'arrow' || shape === 'box') return words || shape;
  if (mark.rusted) return [`${shape}${rustedText(mark.rusted, shown)}`, mark.rusted.words.replace(/[.;]+$/, '')].filter((text) => text !== '').join(', ');
  return words === '' ? shape : `${shape}, ${words}`;
}

/** ", 31 of 96: 32 % (24 to 42)"; of an outline that is not the only one of its region the zone's page has the share of all together. */
function rustedText(said: RustedSaid, shown: readonly ShownMark[]): string {
  if (said.how === 'points') {
    const area = rustedByPoints(said.region, said.hits, said.points);
    return `, ${said.hits} of ${said.points}${area?.how === 'points' ? `: ${roughPercentText(area.percent, area.lowPercent, area.highPercent)}` : ''}`;
  }
  const alike = shown.filter(({ rusted }) => rusted?.how === 'outline' && rusted.region.join() === said.region.join());
  const area = alike.length === 1 ? rustedByOutlines(said.region, [said.corners]) : null;
  return area ? `: ${roughPercentText(area.percent)}` : '';
}

/** How far a figure may be from what was meant: people set marks to a hundredth of the picture. Our judgement. */
const slip = 0.005;

interface Length {
  low: number;
  likely: number;
  high: number;
}

/**
 * For each mark its size by the scale in the picture, as an estimate, or nothing: rings and boxes are measured; an arrow points.
 * Empty where there is no scale or no picture.
 */
function sizesOf(context: Context, id: string, shown: readonly ShownMark[]): string[] {
  const picture = context.pictures.get(id)?.renditions.at(-1);
  const scales = scalesOf(shown);
  if (!picture || scales.length === 0) return [];
  const { width, height } = picture;
  // Fractions are of two different sides: lengths are compared in pixels of the upright picture.
  const along = ([x1 = 0, y1 = 0, x2 = 0, y2 = 0]: readonly number[]): Length => {
    const [across, down] = [Math.abs(x2 - x1) * width, Math.abs(y2 - y1) * height];
    const likely = Math.hypot(across, down);
    const error = likely === 0 ? 0 : (2 * slip * (across * width + down * height)) / likely;
    return { low: likely - error, likely, high: likely + error };
  };
  const inMm = (ends: readonly number[]): string | null => {
    const pixels = along(ends);
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
  return shown.map((mark) => sizeOf(mark, inMm));
}

function scalesOf(shown: readonly ShownMark[]): { numbers: readonly number[]; lengthMm: number }[] {
  return shown.flatMap(({ shape, numbers, lengthMm }) => (shape === 'scale' && lengthMm !== undefined ? [{ numbers, lengthMm }] : []));
}

/** What stands behind sizes, once for a picture. */
function limitsText(shown: readonly ShownMark[], sizes: readonly string[]): Inline {
  if (!sizes.some((size) => size !== '')) return [];
  const by = scalesOf(shown).length === 1 ? 'the scale' : 'the scales';
  return [` Sizes are those of the marks by ${by} in the picture, estimates for marks set to a hundredth of it, and only for what lies in the plane of ${by}.`];
}

/** The size of the mark itself, which is what was measured: a ring may be wider than the hole in it. */
function sizeOf({ shape, numbers }: ShownMark, inMm: (ends: readonly number[]) => string | null): string {
  const [x1 = 0, y1 = 0, x2 = 0, y2 = 0] = numbers;
  const unclear = 'too small beside the scale to be measured';
  if (shape === 'ring') return inMm([x1 - x2, y1, x1 + x2, y1]) ?? unclear;
  if (shape !== 'box') return '';
  const [wide, high] = [inMm([x1, y1, x2, y1]), inMm([x1, y1, x1, y2])];
  if (wide === null && high === null) return unclear;
  return `${wide === null ? `width ${unclear}` : `${wide} wide`} and ${high === null ? `height ${unclear}` : `${high} high`}`;
}
