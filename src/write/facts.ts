import type { BlockOf, Inline } from '../model/dossier.ts';
import type { CavityOutlook } from '../model/inspection.ts';
import { amountRangeText, amountText, countText, hoursText, hundredText, likelihoodText, roughAmountText } from '../units.ts';
import { hasPage, nameOfZone, prints } from './context.ts';
import type { Context } from './context.ts';
import { link } from './inline.ts';
import { fiveYears, hasUnseen, isThrough, looksByWorth, lookZone } from './outlook.ts';
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
  if (context.plan.work.every(({ work }) => work.done.length > 0)) return doneFact(context);
  const { expected } = context.plan;
  const spares = expected.cost === null ? '' : `if all is left, ${roughAmountText(expected.cost.apart.low, expected.cost.apart.high, expected.cost.currency)} of cutting out and replacing to be expected within five years, ${roughAmountText(expected.cost.alike.low, expected.cost.alike.high, expected.cost.currency)} should all sections turn out alike`;
  const open = unpriced.toDo > 0 ? `${countText(unpriced.toDo, 'item carries', 'items carry')} no price and ${unpriced.toDo === 1 ? 'is' : 'are'} not in it` : '';
  const taxed = totals.flatMap((total) => (total.withTax ? [amountRangeText(total.withTax.tied.low, total.withTax.tied.high, total.currency)] : []));
  const tax = totals.length === 0 ? '' : taxed.length > 0 ? `without tax; ${taxed.join('; ')} with it` : 'without tax';
  const bare = unplanned.length > 0 ? `of ${countText(unplanned.length, 'zone with a defect', 'zones with defects')} no work is written, and nothing is in it` : '';
  const value: Inline = totals.length === 0 ? ['no total: nothing carries a price'] : [link(totals.map((total) => amountRangeText(total.tied.low, total.tied.high, total.currency)).join('; '), 'work')];
  return [{ term: 'Work written, cost', value, ...(tax + open + bare + spares === '' ? {} : { note: [tax, bare, open, spares].filter((text) => text !== '').join('; ') }) }];
}

/** Where all written work is done: what its labour came to, and what earlier plans left open. */
function doneFact(context: Context): Fact[] {
  const { spent, unpriced, undertakings } = context.plan.record;
  const open = undertakings.filter((one) => one.planned !== null && one.entries.length === 0).length;
  const range = (total: { low: number; high: number }, currency: string): string => (total.low === total.high ? amountText(total.low, currency) : amountRangeText(total.low, total.high, currency));
  const taxed = spent.flatMap((total) => (total.withTax ? [range(total.withTax.tied, total.currency)] : []));
  const note = [
    ...(spent.length === 0 ? [] : [taxed.length > 0 ? `without tax; ${taxed.join('; ')} with it` : 'without tax']),
    ...(unpriced > 0 ? [`${countText(unpriced, 'line carries', 'lines carry')} no price and ${unpriced === 1 ? 'is' : 'are'} not in it`] : []),
    ...(open > 0 ? [`${countText(open, 'planned work is', 'planned works are')} not written as done`] : []),
  ].join('; ');
  const value = spent.length === 0 ? 'no total: nothing carries a price' : spent.map((total) => range(total.tied, total.currency)).join('; ');
  return [{ term: 'Work written as done, labour', value: [prints(context, 'ledger') ? link(value, 'ledger') : link(value, 'work')], ...(note === '' ? {} : { note }) }];
}

/** The look that narrows the range most for its time; the same is named wherever a next look is. */
export function lookFact(context: Context): Fact[] {
  const [pair] = looksByWorth(context);
  if (!pair) return [];
  const [look] = pair;
  const time = look.assumed ? `${hoursText({ ...look.hours, judged: false })}, our judgement` : hoursText(look.hours);
  return [{ term: 'Look next', value: nextLook(context), note: `narrows the range most for its time (${time})` }];
}

/** The next look by name, leading to the looks in their order; nothing where no look narrows anything. */
export function nextLook(context: Context): Inline {
  const [pair] = looksByWorth(context);
  if (!pair) return [];
  const [look] = pair;
  const what = look.cavity === null ? 'openings and drains not seen' : `inside, ${look.sections.map(inSentence).join(', ')}`;
  return [link(`${lookZone(context, pair)}: ${what}`, 'looks')];
}

/** All that was not seen, each thing counted once and by its name. */
export interface UnseenCounts {
  /** Zones nothing of which was seen: those nothing was written about, and those only written about. */
  zones: { all: number; silent: number; written: number };
  /** Openings named or counted, and not seen. */
  openings: number;
  /** Places written as not seen, in zones of which something was seen. */
  places: number;
  /** Kinds of opening nobody counted, in zones written about and in the others. */
  kinds: { all: number; written: number; silent: number };
}

/** Counts what was not seen; every page takes its numbers from here. */
export function unseenCounts({ inspection: { zones } }: Context): UnseenCounts {
  const unseen = zones.filter((zone) => zone.state === 'not seen');
  const written = unseen.filter((zone) => zone.entered).length;
  const rows = zones.flatMap((zone) => zone.rows.filter((row) => row.outcome === 'not seen').map((row) => ({ kind: row.known === 'kind', entered: zone.entered })));
  const kinds = rows.filter(({ kind }) => kind);
  const kindsWritten = kinds.filter(({ entered }) => entered).length;
  return {
    zones: { all: unseen.length, silent: unseen.length - written, written },
    openings: rows.length - kinds.length,
    places: zones.filter((zone) => zone.state !== 'not seen').flatMap((zone) => zone.notSeen).filter(({ entry }) => entry.about === null).length,
    kinds: { all: kinds.length, written: kindsWritten, silent: kinds.length - kindsWritten },
  };
}

/** "19 nothing was written about, 6 written as not seen": which zones nothing was seen of. */
export function unseenZonesText({ zones }: UnseenCounts): string {
  return [...(zones.silent > 0 ? [`${zones.silent} nothing was written about`] : []), ...(zones.written > 0 ? [`${zones.written} written about, but not seen`] : [])].join(', ');
}
