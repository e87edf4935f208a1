import type { Block, BlockOf, Section } from '../../model/dossier.ts';
import type { CavityOutlook } from '../../model/inspection.ts';
import type { NextLook } from '../../model/outlook.ts';
import { capital, inSentence } from '../../model/wording.ts';
import { countText, coverageText, hoursText, hundredText, numberText, roughAmountText, roughHoursText } from '../../units.ts';
import { hasPage, nameOfZone, prints } from '../context.ts';
import type { Context } from '../context.ts';
import { aside, cell, heading, lead, link, paragraph, table } from '../inline.ts';
import { cavityName, chanceCell, fiveYears, hasUnseen, looksByWorth, lookText, lookZone, outlookBlock } from '../outlook.ts';
import { advises } from '../say.ts';

type Row = BlockOf<'table'>['rows'][number];

/** Sections drawn with their bars; all of them stand in the table. */
const drawn = 5;
/** Looks named. */
const named = 8;

/** How likely the steel of each closed section is to be through, left and with the work done, and what a look is worth. */
export function outlook(context: Context): Section {
  const entered = context.outlook.cavities.filter((one) => hasPageOf(context, one));
  const pairs = pairsOf(context, [...entered].sort(byNeed));
  return {
    id: 'outlook',
    title: 'How long the steel may last',
    page: 'outlook',
    nav: 'Outlook',
    breakBefore: true,
    blocks: [
      lead(expectedText(context)),
      paragraph('An estimate from what was seen and from the assumptions printed under ', link('Method', 'method'), '. It ranks sections by need; it does not foretell what this car will do, and it is no structural certificate. Ranges are those that hold eight in ten of what is possible; words stand for the ranges the IPCC gives them.'),
      ...outlookBlock(context, pairs.slice(0, drawn).map((pair) => ({ cavity: pair[0], name: `${pairName(context, pair)}: ${inSentence(cavityName(pair[0]))}` })), 'numbers'),
      ...chanceTable(context, pairs),
      ...silent(context, context.outlook.cavities.filter((one) => !entered.includes(one))),
      ...looks(context),
    ],
  };
}

function hasPageOf(context: Context, cavity: CavityOutlook): boolean {
  const zone = context.zones.get(cavity.zone);
  return zone !== undefined && hasPage(zone);
}

type Pair = [CavityOutlook, CavityOutlook?];

/** Left and right of a section in one where their numbers are the same. */
function pairsOf(context: Context, cavities: readonly CavityOutlook[]): Pair[] {
  const pairs: Pair[] = [];
  for (const cavity of cavities) {
    const partner = context.zones.get(cavity.zone)?.partner ?? null;
    const pair = pairs.find(([first, second]) => second === undefined && first.zone === partner && first.cavity === cavity.cavity && sameNumbers(first, cavity));
    if (pair) pair[1] = cavity;
    else pairs.push([cavity]);
  }
  return pairs;
}

function sameNumbers(a: CavityOutlook, b: CavityOutlook): boolean {
  const numbers = ({ weighed, share, work }: CavityOutlook): string => JSON.stringify([weighed.left.chances, weighed.done?.chances ?? null, weighed.left.years, share, work]);
  return numbers(a) === numbers(b);
}

/** "Sill, left", "Chassis leg, left and right". */
function pairName(context: Context, [first, second]: Pair): string {
  const name = nameOfZone(context, first.zone);
  return second === undefined ? name : name.replace(/, (left|right)$/, ', left and right');
}

/** What carries load first, then by the chance within five years. */
function byNeed(a: CavityOutlook, b: CavityOutlook): number {
  const middle = (one: CavityOutlook): number => one.weighed.left.chances[fiveYears]?.middle ?? 0;
  return Number(b.carriesLoad) - Number(a.carriesLoad) || middle(b) - middle(a) || (a.zone < b.zone ? -1 : 1);
}

/** "If all is left as it is, 4 to 15 of 63 closed sections are to be expected through within five years". */
function expectedText(context: Context): string {
  const { car } = context.outlook;
  const worked = context.outlook.cavities.some((one) => one.weighed.done !== null);
  const left = `${countRange(car.through.apart)} of the ${car.sections} closed sections of this body are to be expected through somewhere within five years (${countRange(car.through.alike)}, should all turn out alike)`;
  const done = worked ? `; with all work written or usual done, ${countRange(car.throughDone.apart)} (${countRange(car.throughDone.alike)})` : '';
  return `If all is left as it is, ${left}${done}. ${capital(coverageText(context.inspection.coverage))}.`;
}

function countRange(range: { low: number; high: number }): string {
  const [low, high] = [numberText(range.low, 0), numberText(range.high, 0)];
  return low === high ? `about ${low}` : `${low} to ${high}`;
}

function chanceTable(context: Context, pairs: readonly Pair[]): Block[] {
  const rows = pairs.map((pair): Row => {
    const [cavity] = pair;
    const unseen = hasUnseen(cavity);
    const { left, done } = cavity.weighed;
    const five = done?.chances[fiveYears];
    return {
      cells: [
        cell(link(pairName(context, pair), cavity.zone), `: ${inSentence(cavityName(cavity))}`),
        ...left.chances.map((chance) => cell(chanceCell(chance, unseen))),
        cell(five ? chanceCell(five, unseen) : 'no work written or usual'),
      ],
    };
  });
  const columns: [string, number][] = [['Closed section', 5], ['Within one year', 3], ['Three years', 3], ['Five years', 3], ['Ten years', 3], ['Five years, work done', 3]];
  return rows.length === 0 ? [] : [
    heading('Through within so many years'),
    aside('In words, and in brackets in 100. The first four columns are if left; what carries load and is likeliest to go stands first. “Cannot be told” spans more than two of the words: it wants a look where something was not seen.'),
    ...table('Chance that the steel is through', columns, rows),
  ];
}

/** Sections of zones nothing was written about: unseen, and no better for it. */
function silent(context: Context, cavities: readonly CavityOutlook[]): Block[] {
  if (cavities.length === 0) return [];
  const fives = cavities.flatMap((one) => one.weighed.left.chances[fiveYears] ?? []);
  const lows = fives.map((chance) => chance.low);
  const highs = fives.map((chance) => chance.high);
  const zones = [...new Set(cavities.map((one) => one.zone))].map((id) => nameOfZone(context, id));
  return [paragraph(`${capital(countText(cavities.length, 'closed section', 'closed sections'))} of ${countText(zones.length, 'zone', 'zones')} nothing was written about: whether one is through within five years, if left, cannot be told without a look (${hundredText(Math.min(...lows), Math.max(...highs))}). The zones: ${sidesTogether(zones).map((name) => inSentence(name)).join('; ')}.`)];
}

/** "Sill, left" and "Sill, right" as "Sill, left and right". */
function sidesTogether(names: readonly string[]): string[] {
  return names.flatMap((name) => {
    const right = name.replace(/, left$/, ', right');
    if (name !== right && names.includes(right)) return [`${name} and right`];
    return name.endsWith(', right') && names.includes(name.replace(/, right$/, ', left')) ? [] : [name];
  });
}

/** The looks that would narrow the range most for each hour, and how much of it is owed to what nobody saw. */
function looks(context: Context): Block[] {
  const { car } = context.outlook;
  const share = car.hoursShare;
  const owed = share === null || share < 0.005 ? '' : ` Of the width of the second range, ${hundredText(share).replace(' in 100', '')} in 100 is owed to what was not seen.`;
  const { expected } = context.plan;
  const { hours } = expected;
  // An edition without costs has no amounts here either.
  const priced = prints(context, 'work');
  const cost = priced ? expected.cost : null;
  const end = (which: 'apart' | 'alike'): string => `${roughHoursText(hours[which].low, hours[which].high)}${cost === null ? '' : ` (${roughAmountText(cost[which].low, cost[which].high, cost.currency)})`}`;
  const rows = looksByWorth(context).slice(0, named).map((pair): Row => {
    const [look] = pair;
    return { cells: [
      cell(link(lookZone(context, pair), look.zone), `: ${lookText(look)}`),
      cell(look.toSee === '' ? 'way not written' : look.toSee),
      cell(look.assumed ? `${hoursText({ ...look.hours, judged: false })}, our judgement` : hoursText(look.hours)),
      cell(narrowsText(context, look)),
    ] };
  });
  return [
    heading('What cutting out and replacing may come to'),
    paragraph(`If all is left, ${end('apart')} of cutting out and replacing are to be expected within five years, or ${end('alike')} should all sections turn out alike${priced && cost === null ? '; no rate of labour is given, so it stands in hours' : ''}. Hours for each section are our judgement; the ranges are averages over what may happen, not a quotation.${owed}`),
    ...(rows.length === 0 || !advises(context) ? [] : [
      { ...heading('Which look is worth most'), id: 'looks' },
      aside('Looks at what nobody saw, by how much an hour of each narrows, on average, the range of what its section may come to. The first of them is the one named as the next look everywhere. Looking comes before buying, and before cutting.'),
      ...table('Looks, by what an hour of them is worth', [['Look', 5], ['To see it', 4], ['Time', 3], ['Narrows the range by', 3]], rows),
    ]),
  ];
}

function narrowsText(context: Context, look: NextLook): string {
  const { cost, perHour } = context.plan.expected;
  const hours = roughHoursText(look.shrinksHours, look.shrinksHours);
  return cost === null || perHour === null ? hours : `${hours}, ${roughAmountText(look.shrinksHours * perHour, look.shrinksHours * perHour, cost.currency)}`;
}
