import type { Block, BlockOf, Inline } from '../model/dossier.ts';
import { median } from '../model/median.ts';
import type { Reading } from '../model/notes.ts';
import type { Plot } from '../model/plot.ts';
import { capital } from '../model/wording.ts';
import { countText, listText, readingShown, readingText } from '../units.ts';
import { nameOfZone } from './context.ts';
import type { Context } from './context.ts';
import { inlineText, link } from './inline.ts';
import { marksBeside, readingName, readingSentence } from './readings.ts';
import type { ReadingInZone } from './readings.ts';

const quantities: readonly Reading['quantity'][] = ['steel', 'film', 'hardness', 'water depth'];

type Scale = BlockOf<'plots'>['scales'][number];

/** Every reading along a scale, those of one quantity on the same, each with its sentence; nothing where nothing was read. */
export function readingPlots(context: Context, readings: readonly ReadingInZone[], zoned: 'with zone' | 'of one zone'): Block[] {
  const scales = quantities.flatMap((quantity): Scale[] => {
    const items = readings.filter(({ reading }) => reading.quantity === quantity && reading.values.length > 0);
    const [first] = items;
    if (!first) return [];
    const { unit } = readingShown(0, first.reading.unit, context.units);
    return [{ title: `${capital(quantity)}, in ${unit === 'in' ? 'inches' : unit}`, items: items.map((one) => plotItem(context, one, zoned)) }];
  });
  return scales.length === 0 ? [] : [{ type: 'plots', caption: 'Readings, each value at its place on the scale', scales }];
}

function plotItem(context: Context, one: ReadingInZone, zoned: 'with zone' | 'of one zone'): Scale['items'][number] {
  const name: Inline = zoned === 'with zone' ? [link(nameOfZone(context, one.zone), one.zone), `; ${readingName(one.reading)}`] : [capital(readingName(one.reading))];
  const sentence = readingSentence(context, one, zoned);
  return { name, inline: sentence === '' ? [] : [capital(sentence)], plot: plotOf(context, one, inlineText(name)) };
}

function plotOf(context: Context, one: ReadingInZone, name: string): Plot {
  const { reading, verdict } = one;
  const shown = (value: number): Plot['least'] => ({ at: readingShown(value, reading.unit, context.units).at, text: readingText(value, reading.unit, context.units) });
  const sorted = reading.values.toSorted((a, b) => a - b);
  const outliers = verdict.film?.outliers ?? [];
  const [least, middle, most] = [sorted[0] ?? 0, median(sorted) ?? 0, sorted.at(-1) ?? 0].map(shown) as [Plot['least'], Plot['least'], Plot['least']];
  const text = valuesText(sorted.length, least.text, middle.text, most.text);
  const marks = marksBeside(context, one).map(({ value, words }) => ({ at: shown(value).at, words }));
  const apart = listText(outliers.map((value) => shown(value).text));
  const label = [
    `${name}: ${text}`,
    ...(marks.length === 0 ? [] : [`beside ${listText(marks.map(({ words }) => words))}`]),
    ...(apart === '' ? [] : [`${apart} ${outliers.length === 1 ? 'stands' : 'stand'} out`]),
    ...(verdict.usable ? [] : [`does not count: ${verdict.reason}`]),
  ].join('; ');
  return {
    values: sorted.map((value) => ({ ...shown(value), ...(outliers.includes(value) ? { apart: true as const } : {}) })),
    least, median: middle, most, marks, counts: verdict.usable, text, label: `${label}.`,
  };
}

/** "film, outer face: 5 values, 455 to 610 µm, median 520 µm": a reading in short. */
export function readingInShort(context: Context, reading: Reading): string {
  const sorted = reading.values.toSorted((a, b) => a - b);
  const [least = '', middle = '', most = ''] = [sorted[0] ?? 0, median(sorted) ?? 0, sorted.at(-1) ?? 0].map((value) => readingText(value, reading.unit, context.units));
  return `${readingName(reading)}: ${valuesText(sorted.length, least, middle, most)}`;
}

/** "5 values, 455 to 610 µm, median 520 µm"; "one value, 480 µm"; "4 values, each 0.80 mm". */
function valuesText(count: number, least: string, middle: string, most: string): string {
  const values = countText(count, 'value', 'values');
  if (least === most) return `${values}, ${count === 1 ? '' : 'each '}${least}`;
  return `${values}, ${least.replace(/ \D+$/, '')} to ${most}, median ${middle}`;
}
