import type { Reading } from '../../model/notes.ts';
import { numberText } from '../../units.ts';

/** Factors to mm. Inch = 25.4 mm exactly (international inch); thou = 0.0254 mm. */
export const toMm: Record<string, number> = { mm: 1, cm: 10, in: 25.4, inch: 25.4, '"': 25.4, thou: 0.0254, mil: 0.0254, um: 0.001, µm: 0.001, μm: 0.001, micron: 0.001, microns: 0.001 };

/** What can be at all on a car, and what is usual, in the unit of the quantity. Our judgement. */
const limits: Record<Reading['quantity'], { least: number; most: number; words: string; usual: [number, number] }> = {
  steel: { least: 0.05, most: 12, words: 'between 0.05 and 12 mm', usual: [0.3, 3.2] },
  film: { least: 1, most: 20_000, words: 'between 1 um and 20 mm', usual: [20, 3000] },
  hardness: { least: 0, most: 100, words: 'between 0 and 100 Shore A', usual: [20, 95] },
  'water depth': { least: 0, most: 1000, words: 'at most 1000 mm', usual: [1, 300] },
};

/** "between 0.05 and 12 mm" where a value in the quantity's unit cannot be; null where it can. */
export function implausible(quantity: Reading['quantity'], value: number): string | null {
  const { least, most, words } = limits[quantity];
  return value < least || value > most ? words : null;
}

/** What a figure beyond the limits was probably meant to be, "0.62 mm" of "62 mm": a point left out or another unit; else empty. */
export function probablyMeant(quantity: Reading['quantity'], figure: number, unit: string): string {
  const [from, to] = limits[quantity].usual;
  const meant = triesOf(quantity, figure, unit).find((one) => {
    const value = inUnitOf(quantity, one.figure, one.unit);
    return value >= from && value <= to;
  });
  return meant ? `${numberText(meant.figure, 4)} ${meant.unit}` : '';
}

function triesOf(quantity: Reading['quantity'], figure: number, unit: string): { figure: number; unit: string }[] {
  const shifted = [10, 100, 1000].map((by) => ({ figure: figure / by, unit }));
  if (quantity === 'hardness') return shifted.map((one) => ({ ...one, unit: 'Shore A' }));
  if (unit === 'mm') return quantity === 'film' ? [{ figure, unit: 'um' }] : shifted;
  return ['mm', 'thou', 'um'].filter((other) => other !== unit).map((other) => ({ figure, unit: other }));
}

/** A figure in the unit of the quantity: film in µm, hardness as it is, all else in mm; without the dust of binary fractions. */
export function inUnitOf(quantity: Reading['quantity'], figure: number, unit: string): number {
  if (quantity === 'hardness') return figure;
  const mm = figure * (toMm[unit] ?? 1);
  return Math.round((quantity === 'film' ? mm * 1000 : mm) * 1e6) / 1e6;
}

/** What stands in a list of readings and is a span of values: "0.6-0.8 mm", "0.8 to 0.6"; null for anything else. */
export function spanOf(text: string): { backwards: boolean } | null {
  const match = /^([\d.,]*\d)\s*(?:[a-zµμ"]+)?\s*(?:[-–—−~]|\.{2,3}|…|\/|to\b)\s*([\d.,]*\d)(?!\S*[-–/]\d)/i.exec(text);
  if (!match) return null;
  const [first, second] = [match[1], match[2]].map((one) => Number((one ?? '').replace(',', '.')));
  return { backwards: first !== undefined && second !== undefined && second < first };
}
