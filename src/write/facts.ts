import type { BlockOf, Inline } from '../model/dossier.ts';
import type { CavityOutlook } from '../model/inspection.ts';
import { amountRangeText, countText, hoursText, hundredText, likelihoodText, roughAmountText } from '../units.ts';
import { hasPage, nameOfZone, prints } from './context.ts';
import type { Context } from './context.ts';
import { link } from './inline.ts';
import { fiveYears, hasUnseen, isThrough } from './outlook.ts';
import { inSentence } from '../model/wording.ts';

type Fact = BlockOf<'facts'>['items'][number];

/** The load-carrying section most likely to be through within five years, among the zones somebody wrote about. */
export function weakestFact(context: Context): Fact[] {
  const middle = (one: CavityOutlook): number => one.weighed.left.chances[fiveYears]?.middle ?? 0;
  const entered = context.outlook.cavities.filter((one) => {
    const zone = context.zones.get(one.zone);
    return zone !== undefined && hasPage(zone);
  });
  const load = entered.filter((one) => one.carriesLoad);
  const [weakest] = [...(load.length > 0 ? load : entered)].sort((a, b) => middle(b) - middle(a) || (a.zone < b.zone ? -1 : 1));
  const chance = weakest?.weighed.left.chances[fiveYears];
  if (!weakest || !chance) return [];
  const words = isThrough(chance) ? 'through already' : `if left, through within five years: ${likelihoodText(chance, hasUnseen(weakest))} (${hundredText(chance.low, chance.high)})`;
  const done = weakest.weighed.done?.chances[fiveYears];
  return [{
    term: load.length > 0 ? 'Load-carrying section likeliest to go' : 'Section likeliest to go',
    value: [link(`${nameOfZone(context, weakest.zone)}, ${inSentence(weakest.name)}`, weakest.zone)],
    note: `${words}${done ? `; with the work done: ${likelihoodText(done, hasUnseen(weakest))} (${hundredText(done.low, done.high)})` : ''}`,
  }];
}

/** What the written work comes to, and what it leaves out; nothing in an edition without costs. */
export function costFact(context: Context): Fact[] {
  if (!prints(context, 'work') || context.plan.work.length === 0) return [];
  const { totals, unpriced, unplanned } = context.plan.estimate;
  const { expected } = context.plan;
  const spares = expected.cost === null ? '' : `if all is left, ${roughAmountText(expected.cost.apart.low, expected.cost.apart.high, expected.cost.currency)} of cutting out and replacing to be expected within five years, ${roughAmountText(expected.cost.alike.low, expected.cost.alike.high, expected.cost.currency)} should all sections turn out alike`;
  const open = unpriced.toDo > 0 ? `${countText(unpriced.toDo, 'item carries', 'items carry')} no price and ${unpriced.toDo === 1 ? 'is' : 'are'} not in it` : '';
  const taxed = totals.flatMap((total) => (total.withTax ? [amountRangeText(total.withTax.tied.low, total.withTax.tied.high, total.currency)] : []));
  const tax = totals.length === 0 ? '' : taxed.length > 0 ? `without tax; ${taxed.join('; ')} with it` : 'without tax';
  const bare = unplanned.length > 0 ? `of ${countText(unplanned.length, 'zone with a defect', 'zones with defects')} no work is written, and nothing is in it` : '';
  const value: Inline = totals.length === 0 ? ['no total: nothing carries a price'] : [link(totals.map((total) => amountRangeText(total.tied.low, total.tied.high, total.currency)).join('; '), 'work')];
  return [{ term: 'Work written, cost', value, ...(tax + open + bare + spares === '' ? {} : { note: [tax, bare, open, spares].filter((text) => text !== '').join('; ') }) }];
}

/** The look that narrows the range most for its time. */
export function lookFact(context: Context): Fact[] {
  const look = context.outlook.car.looks.find((one) => one.shrinksHours >= 0.05);
  if (!look) return [];
  const names = look.sections.map(inSentence).join(', ');
  const time = look.assumed ? `${hoursText({ ...look.hours, judged: false })}, our judgement` : hoursText(look.hours);
  return [{ term: 'Look next', value: [link(`${nameOfZone(context, look.zone)}: ${look.cavity === null ? 'openings and drains not seen' : `inside, ${names}`}`, 'looks')], note: `narrows the range most for its time (${time})` }];
}
