import type { BlockOf, Inline } from '../model/dossier.ts';
import type { CavityOutlook } from '../model/inspection.ts';
import type { Chance, NextLook } from '../model/outlook.ts';
import { capital, inSentence } from '../model/wording.ts';
import { horizonText, hundredText, likelihoodText, listText, steelText, yearsText } from '../units.ts';
import { insideText, waysText } from './cavities.ts';
import { inputsLink } from './inputs.ts';
import { nameOfZone } from './context.ts';
import type { Context } from './context.ts';

/** What the scale of every range bar is. */
const barCaption = 'Chance that the steel is through within five years, in 100';
/** Five and ten years, by their place among the chances. */
export const fiveYears = 2;
export const tenYears = 3;

type Item = BlockOf<'outlook'>['items'][number];
/** With what was seen and what the steel is taken to be, on the zone's page; or the numbers alone. */
export type Depth = 'with states' | 'numbers';

/** Closed sections with what was seen of them, how likely each is through, and its bars. */
export function outlookBlock(context: Context, cavities: readonly { cavity: CavityOutlook; name: Inline | string }[], depth: Depth): BlockOf<'outlook'>[] {
  const items = cavities.map(({ cavity, name }): Item => ({
    name: typeof name === 'string' ? name : name.map((part) => (typeof part === 'string' ? part : part.text)).join(''),
    inline: [...(depth === 'with states' ? [`${waysText(context, cavity)} ${insideText(context, cavity)} `] : []), ...outlookWords(context, cavity, depth)],
    bars: barsOf(cavity),
  }));
  return items.length === 0 ? [] : [{ type: 'outlook', caption: barCaption, items }];
}

function barsOf({ weighed }: CavityOutlook): Item['bars'] {
  const bar = (label: string, chance: Chance | undefined): Item['bars'] => {
    if (!chance) return [];
    const whole = (share: number): number => Math.round(share * 1000) / 10;
    const { low, middle, high, best, worst } = chance;
    const ends = best < low - 0.005 || worst > high + 0.005 ? (best < 0.01 && worst > 0.99 ? '; what nobody saw could move it anywhere' : `; everything unseen at its best ${bare(best)}, at its worst ${bare(worst)}`) : '';
    return [{ label, low: whole(low), middle: whole(middle), high: whole(high), best: whole(best), worst: whole(worst), text: `${hundredText(low, high)}${ends}` }];
  };
  const { left, done } = weighed;
  const bars = [...bar('if left', left.chances[fiveYears]), ...bar('with the work done', done?.chances[fiveYears])];
  return bars.length > 0 ? (bars as Item['bars']) : bar('if left', { years: 5, low: 0, middle: 0, high: 1, best: 0, worst: 1 });
}

function bare(share: number): string {
  return hundredText(share).replace(' in 100', '');
}

/** Whether anything that moves the chance was not seen. */
export function hasUnseen({ insideSeen, unseen }: CavityOutlook): boolean {
  return insideSeen !== 'whole' || unseen.length > 0;
}

/** Seen to be through: nothing is left to estimate. */
export function isThrough({ low }: Pick<Chance, 'low'>): boolean {
  return low >= 0.9995;
}

/** "unlikely (8 to 26 in 100) to be through within five years": words never without numbers, nor numbers without words. */
export function chanceText(chance: Chance, unseen: boolean): string {
  const words = likelihoodText(chance, unseen);
  const range = hundredText(chance.low, chance.high);
  if (isThrough(chance)) return 'it is through already';
  if (words.startsWith('cannot')) return `it ${words} (${range}) whether it will be through within ${horizonText(chance.years)}`;
  return `it is ${words} (${range}) to be through within ${horizonText(chance.years)}`;
}

/** "unlikely (8 to 26)": the same for the cell of a table whose head says what it is of. */
export function chanceCell(chance: Chance, unseen: boolean): string {
  if (isThrough(chance)) return 'through already';
  return `${likelihoodText(chance, unseen).replace(' without a look', '')} (${hundredText(chance.low, chance.high).replace(' in 100', '')})`;
}

/** Sentences of one section: if left, with the work, years, steel, and how much of the range is owed to what nobody saw. */
function outlookWords(context: Context, cavity: CavityOutlook, depth: Depth): Inline {
  const { left, done } = cavity.weighed;
  const unseen = hasUnseen(cavity);
  const [five, ten] = [left.chances[fiveYears], left.chances[tenYears]];
  if (!five || !ten) return [];
  if (left.today >= 0.9995) return [{ text: 'The steel is through.', strong: true }, ...doneWords(cavity, unseen)];
  return [
    { text: 'If left', strong: true }, `, ${chanceText(five, unseen)}${tenWords(ten, unseen)}.`,
    ...doneWords(cavity, unseen),
    ...(done === null || cavity.work !== 'usual' ? [] : [' That is with the usual remedy, as none is written.']),
    ` Left as it is, it probably lasts ${yearsText(left.years)}.`,
    ...(depth === 'numbers' ? [] : [` ${steelWords(context, cavity)}`]),
    ...shareWords(cavity, depth),
    ...(depth === 'with states' ? inputsLink(context, cavity) : []),
  ];
}

function tenWords(ten: Chance, unseen: boolean): string {
  const words = likelihoodText(ten, unseen);
  const range = hundredText(ten.low, ten.high);
  return words.startsWith('cannot') ? `; within ten years ${words === 'cannot be told' ? 'it cannot be told' : 'it cannot be told without a look'} (${range})` : `; within ten, ${words} (${range})`;
}

function doneWords({ weighed }: CavityOutlook, unseen: boolean): Inline {
  const five = weighed.done?.chances[fiveYears];
  return five ? [' ', { text: 'With the work done', strong: true }, `, ${chanceText(five, unseen)}.`] : [];
}

/** What the steel is taken to be today. */
function steelWords({ units }: Context, { weighed, measuredMm, atMostMm, sheetMm }: CavityOutlook): string {
  const { low, high } = weighed.leftUm;
  const whole = (mm: number): string => steelText(mm * 1000, mm * 1000, units);
  const readings = [...(measuredMm === null ? [] : [`${whole(measuredMm)} is measured`]), ...(atMostMm === null ? [] : [`at most ${whole(atMostMm)} at one place, by a reading that is refused as too high`])];
  const basis = [...readings, `a sheet of ${whole(sheetMm)} when new is assumed`].join(', ');
  return `Steel left today at its deepest place: ${steelText(low, high, units)} by estimate (${basis}).`;
}

/** "Of the width of that chance, 71 in 100 is owed to what was not seen." */
function shareWords({ share }: CavityOutlook, depth: Depth): Inline {
  if (share.chance === null || share.chance < 0.005) return [];
  const years = depth === 'numbers' || share.years === null || share.years < 0.005 ? '' : `, ${hundredText(share.years)} of that of the years`;
  return [` ${capital(hundredText(share.chance))} of the width of that range is owed to what was not seen${years}.`];
}

/** Name of a section for a heading: "Outer cell, carries load". */
export function cavityName({ name, carriesLoad }: CavityOutlook): string {
  return `${capital(name)}${carriesLoad ? ', carries load' : ''}`;
}

/** A look, and whether it stands for the other side too. */
export type LookPair = [look: NextLook, both: boolean];

/** Looks that narrow anything worth naming, by how much an hour of each does; left and right that come to the same in one. The first is the next look, wherever one is named. */
export function looksByWorth(context: Context): LookPair[] {
  const pairs: LookPair[] = [];
  for (const look of context.outlook.car.looks.filter((one) => one.shrinksHours >= 0.05)) {
    const partner = context.zones.get(look.zone)?.partner ?? null;
    const pair = pairs.find(([first, both]) => !both && first.zone === partner && first.cavity === look.cavity && first.toSee === look.toSee && Math.abs(first.perHour - look.perHour) < 1e-6);
    if (pair) pair[1] = true;
    else pairs.push([look, false]);
  }
  return pairs;
}

/** "Sill, left", "Chassis leg, left and right, each": where a look is. */
export function lookZone(context: Context, [look, both]: LookPair): string {
  const name = nameOfZone(context, look.zone);
  return both ? name.replace(/, (left|right)$/, ', left and right, each') : name;
}

/** "Inside the outer cell", "the openings of both sections". */
export function lookText(look: NextLook): string {
  const names = listText(look.sections.map((name) => inSentence(name)));
  return look.cavity === null ? `openings and drains not seen (${names})` : `inside, ${names}`;
}
