import type { FilmFigures, ReadingVerdict } from '../model/inspection.ts';
import type { Reading } from '../model/notes.ts';
import { zonePhrase } from '../model/wording.ts';
import { countText, filmText, listText, numberText, readingText } from '../units.ts';
import type { Context } from './context.ts';

/** A reading with the zone it was taken in. */
export interface ReadingInZone {
  zone: string;
  reading: Reading;
  photos: string[];
  verdict: ReadingVerdict;
}

/** When a single film reading stands out. */
export const robustRule = 'From five film readings of one place on, a value is said to stand out where it lies farther from their median than three times 1.4826 times the median distance from it, that distance taken as no less than the last digit written.';

/** What film is compared with; empty where no film was read. */
export function baselineText(context: Context): string {
  const { zones, filmBaseline } = context.inspection;
  if (!zones.some((zone) => zone.readings.some(({ verdict }) => verdict.film))) return '';
  if (filmBaseline) {
    const { count, medianUm } = filmBaseline;
    return `Film is compared with the median of ${countText(count, 'reading', 'readings')} of ${fromText(context)}, ${filmText(medianUm, context.units)}${doubtText(context, '; this is ')}.`;
  }
  const named = zones.some((zone) => zone.notes.some((note) => note.key === 'baseline'));
  return `${named ? 'What the findings name as baseline leads to no film reading' : 'The findings name no baseline for film'}, so film readings can be compared with nothing.`;
}

/** "; this is doubtful, as it is written of it: “metal, front edge: filled”" behind the words of a joint; nothing where nobody doubts it. */
function doubtText(context: Context, joint: string): string {
  const doubts = context.inspection.filmBaseline?.doubts ?? [];
  return doubts.length === 0 ? '' : `${joint}doubtful, as it is written of it: ${listText(doubts.map((doubt) => `“${doubt}”`))}`;
}

/** "the roof", "the left sill, outer face and the bonnet": what the baseline was read on. */
function fromText(context: Context): string {
  const from = context.inspection.filmBaseline?.from ?? [];
  return listText(from.map(({ zone, place }) => {
    const known = context.zones.get(zone);
    const phrase = known ? zonePhrase(known.zone, context.language) : zone;
    return place === '' ? phrase : `${phrase} (${place})`;
  }));
}

/** "film, outer face": what was read and where. */
export function readingName({ quantity, place }: Reading): string {
  return place === '' ? quantity : `${quantity}, ${place}`;
}

/** What a reading counts for, and beside what; empty where there is nothing to say. */
export function readingSentence(context: Context, one: ReadingInZone, zoned: 'with zone' | 'of one zone'): string {
  const { reading, verdict } = one;
  if (reading.quantity === 'steel') return steelText(context, one);
  if (verdict.film) return filmSentence(context, one, verdict.film, zoned);
  return verdict.usable ? '' : `counts for nothing (${verdict.reason}).`;
}

/** What the values of a reading stand beside, in its unit: the car's own film, or the new sheet assumed for steel. */
export function marksBeside(context: Context, { zone, reading, verdict }: ReadingInZone): { value: number; words: string }[] {
  if (verdict.film) {
    const { baselineUm } = verdict.film;
    return baselineUm === null ? [] : [{ value: baselineUm, words: `${fromText(context)}, median ${filmText(baselineUm, context.units)}` }];
  }
  if (reading.quantity !== 'steel') return [];
  const sheets = sheetsOf(context, zone);
  const ends = [...new Set([sheets[0], sheets.at(-1)])].filter((mm) => mm !== undefined);
  const which = (index: number): string => (ends.length < 2 ? '' : index === 0 ? 'thinnest ' : 'thickest ');
  return ends.map((mm, index) => ({ value: mm, words: `${which(index)}new sheet, ${readingText(mm, 'mm', context.units)} assumed` }));
}

/** Thicknesses assumed for the new sheets of a zone's sections in mm, ascending. */
function sheetsOf(context: Context, zone: string): number[] {
  return [...new Set((context.zones.get(zone)?.zone.record.cavities ?? []).map((cavity) => cavity.sheetMm))].sort((a, b) => a - b);
}

/** Whether steel counts as thickness left, beside the sheet assumed for the zone's sections. */
function steelText(context: Context, { zone, verdict }: ReadingInZone): string {
  const sheets = sheetsOf(context, zone);
  const show = (mm: number): string => readingText(mm, 'mm', context.units);
  const [thin, thick] = [sheets[0] ?? 0, sheets.at(-1) ?? 0];
  const sheet = `${thin === thick ? show(thin) : `${show(thin)} to ${show(thick)}, by section,`} assumed here (±10 %)`;
  if (verdict.lowestMm === null) return `does not count as thickness left (${verdict.reason}). New sheet: ${sheet}.`;
  return `counts as thickness left, ${show(verdict.lowestMm)} at the least, beside a new sheet of ${sheet}; ${verdict.reason}.`;
}

/** Film beside the car's own baseline, and the values that stand out. */
function filmSentence(context: Context, { reading, verdict }: ReadingInZone, film: FilmFigures, zoned: 'with zone' | 'of one zone'): string {
  return `${[comparedText(context, reading, verdict, film, zoned), standingOut(context, film)].filter((text) => text !== '').join('; ')}.`;
}

function comparedText(context: Context, reading: Reading, verdict: ReadingVerdict, film: FilmFigures, zoned: 'with zone' | 'of one zone'): string {
  if (!verdict.usable) return `${verdict.reason}, so it is compared with nothing`;
  const { filmBaseline } = context.inspection;
  if (film.ratio === null || film.baselineUm === null || !filmBaseline) return zoned === 'of one zone' ? 'no baseline was read on this car, so it can be compared with nothing' : '';
  if (filmBaseline.readings.includes(reading)) return `belongs to the baseline, ${filmText(film.baselineUm, context.units)}`;
  const [only, ...others] = filmBaseline.from;
  const whole = only !== undefined && others.length === 0 && only.place === '';
  const base = whole ? `${fromText(context)}’s ${filmText(film.baselineUm, context.units)}` : `${filmText(film.baselineUm, context.units)}, the median of ${fromText(context)}`;
  // Where the section of readings does not open with it, the doubt stands here.
  return `${numberText(film.ratio, 1)} × ${base}${zoned === 'of one zone' ? doubtText(context, ', ') : ''}`;
}

function standingOut(context: Context, film: FilmFigures): string {
  const values = film.outliers.map((value) => filmText(value, context.units));
  if (values.length > 0) return `${listText(values)} ${values.length === 1 ? 'stands' : 'stand'} out from the others`;
  return film.count >= 5 ? 'no single value stands out' : 'too few values to tell whether one stands out';
}
