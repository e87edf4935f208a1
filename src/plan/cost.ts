import type { CostLine, Estimate, LabourSum, MaterialNeed } from '../model/cost.ts';
import { decimalsOf, mostMinor } from '../model/currency.ts';
import type { Inspection, ZoneInspection } from '../model/inspection.ts';
import type { Money, PartWanted, Spread, Work } from '../model/notes.ts';
import { byCodeUnit } from '../model/order.ts';
import type { Amount, LabourKind, Rate } from '../model/rates.ts';
import { labourKinds } from '../model/rates.ts';
import { workKindOf } from '../model/works.ts';
import { workKey, worksOf } from '../model/zone-work.ts';
import { labourOf } from './labour.ts';
import { needsOf, threeOf } from './quantities.ts';
import { times } from './rounding.ts';
import { suggestedParts } from './suggested.ts';
import { totalsOf } from './totals.ts';
import { sumHours } from './works.ts';

/** What the work written in the findings costs, from the user's own rates and prices. Nothing is priced that nobody priced. */
export function estimateOf(inspection: Inspection): Estimate {
  const works = inspection.zones.flatMap((zone) => worksOf(zone).map((work) => ({ zone, work })));
  const materials = works.filter(({ work }) => work.done.length === 0).flatMap(({ zone, work }) => needsOf(inspection, zone, work));
  const lines = works.flatMap(({ zone, work }) => linesOf(inspection, zone, work));
  const [toDo, spent] = [lines.filter((line) => !line.spent), lines.filter((line) => line.spent)];
  const { tax } = inspection.job.rates;
  const without = (all: readonly CostLine[]): number => all.filter((line) => line.amount === null).length;
  return {
    lines,
    totals: totalsOf(toDo, tax),
    spent: totalsOf(spent, tax),
    unpriced: { toDo: without(toDo), spent: without(spent) },
    tax,
    labour: labourSums(inspection, works, toDo),
    materials,
    suggested: suggestedParts(inspection),
    unplanned: inspection.zones.filter((zone) => worksOf(zone).every((work) => work.unplanned) && [...zone.rows, ...zone.observations].some((one) => one.outcome === 'defect')).map((zone) => zone.zone.id),
  };
}

/** A cost as low, likely and high in whole minor units of one currency, without tax. */
export interface Cost extends Amount {
  currency: string;
}

/**
 * What several works cost together, bound by bound, as if all ran high or low together. Work written as done is left
 * out. Null where anything they need has no price, where currencies mix, and where nothing is left to do.
 */
export function costOfWorks(inspection: Inspection, works: readonly Work[]): Cost | null {
  const keys = new Set(works.filter((work) => work.done.length === 0).map(workKey));
  const lines = inspection.zones.flatMap((zone) => worksOf(zone).filter((work) => keys.has(workKey(work))).flatMap((work) => linesOf(inspection, zone, work)));
  const currency = lines[0]?.currency ?? null;
  if (currency === null || lines.some((line) => line.amount === null || line.currency !== currency)) return null;
  return { currency, ...sumBounds(lines) };
}

/** What hours of one kind of labour cost, without tax; the general rate where the kind has none of its own. Null without a rate. */
export function costOfHours(inspection: Inspection, hours: Pick<Spread, 'low' | 'likely' | 'high'>, labour: string): Cost | null {
  const rate = rateFor(inspection, labour);
  const amount = rate ? hoursTimes(hours, rate) : null;
  return rate?.currency && amount ? { currency: rate.currency, ...amount } : null;
}

/** Lines of one work: its labour or the cost written for it, its parts, its materials. */
export function linesOf(inspection: Inspection, zone: ZoneInspection, work: Work): CostLine[] {
  const spent = work.done.length > 0;
  const base = { zone: zone.zone.id, work, labour: [], hours: null, count: null, litres: null, note: '', spent };
  return [
    ...labourLines(inspection, base),
    ...work.parts.map((part): CostLine => ({ ...base, kind: 'part', name: part.name, count: part.count, ...partCost(part) })),
    ...(spent ? [] : needsOf(inspection, zone, work).filter((need) => !need.named).map((need): CostLine => materialLine(inspection, base, need))),
  ];
}

type Base = Pick<CostLine, 'zone' | 'work' | 'labour' | 'hours' | 'count' | 'litres' | 'note' | 'spent'>;
type Priced = Pick<CostLine, 'currency' | 'amount' | 'reason'>;

/**
 * A cost for the whole work stands for its labour. Of work that is done, costs and hours written then stand before those
 * that were estimated. Drying and cooling take time and nobody's hours.
 */
function labourLines(inspection: Inspection, base: Base): CostLine[] {
  const { work } = base;
  const labour = laboursOf(inspection, work.kinds);
  const paid = work.done.filter((done) => done.cost !== null);
  const did = sumHours(work.done.filter((done) => done.cost === null).map((done) => done.hours));
  const whole = (money: Money, hours: Spread | null): CostLine => ({ ...base, kind: 'whole work', name: work.steps, labour, hours, ...moneyCost(money), note: 'the cost written for the whole work stands for its labour' });
  const done = did === null ? [] : [labourLine(inspection, { ...base, labour, hours: did, note: 'hours as written when it was done' })];
  if (paid.length > 0) return [...paid.flatMap(({ cost, hours }) => (cost ? [whole(cost, hours)] : [])), ...done];
  if (work.cost) return [whole(work.cost, did ?? work.hours)];
  if (did) return done;
  const shares = work.split.filter(({ kinds }) => kinds.length === 0 || laboursOf(inspection, kinds).length > 0);
  if (shares.length > 0) return [...shares, ...untimed(inspection, work)].map(({ kinds, hours }) => labourLine(inspection, { ...base, labour: laboursOf(inspection, kinds), hours }));
  if (work.hours === null && work.kinds.length > 0 && laboursOf(inspection, work.kinds).length === 0) return [];
  return [labourLine(inspection, { ...base, labour, hours: work.hours })];
}

/** Kinds of labour without a time of their own, beside others that have one: they cost something, and nobody wrote how long. */
function untimed(inspection: Inspection, work: Work): { kinds: string[]; hours: null }[] {
  const timed = new Set(work.split.flatMap(({ kinds }) => kinds));
  const left = work.kinds.filter((kind) => !timed.has(kind));
  return laboursOf(inspection, left).length > 0 ? [{ kinds: left, hours: null }] : [];
}

function labourLine(inspection: Inspection, base: Base): CostLine {
  return { ...base, kind: 'labour', name: base.labour.length === 1 ? `labour, ${base.labour[0]}` : 'labour', ...labourCost(inspection, base) };
}

function labourCost(inspection: Inspection, { labour, hours, work }: Base): Priced {
  if (hours === null) return unpriced(work.split.length === 0 && work.waits === null && /\d\s*(?:h|hrs?|hours?|min(?:utes?|s)?)\b/i.test(work.text) ? 'no hours that can be read' : 'no hours written');
  const rate = rateFor(inspection, labour.length === 1 ? labour[0] : undefined);
  if (rate === null) return unpriced('no rate for labour');
  if (rate.currency === null) return unpriced('no currency');
  const amount = hoursTimes(hours, rate);
  return amount === null ? unpriced('too large to be counted') : { currency: rate.currency, amount, reason: '' };
}

/** The rate of a kind of labour where it has one, else the general one. */
function rateFor(inspection: Inspection, labour: string | undefined): Rate | null {
  const { rates } = inspection.job;
  return rates.byKind.find(({ kind }) => kind === labour)?.rate ?? rates.labour;
}

/** Bound by bound: the hours and what an hour costs run high together. */
function hoursTimes(hours: Amount, rate: Amount): Amount | null {
  return amountOf(times(rate.low, hours.low), times(rate.likely, hours.likely), times(rate.high, hours.high));
}

/** What a part line costs: its number times its price, or the reason why it carries none. */
export function partCost(part: PartWanted): Priced {
  if (part.price === null) return unpriced(/(?<![\p{L}])[A-Z]{3}\s?\d|\d\s?[A-Z]{3}(?![\p{L}])/u.test(part.text) ? 'no price that can be read' : 'no price written');
  return moneyCost(part.price, part.together ? 1 : part.count);
}

function moneyCost(money: Money, count = 1): Priced {
  if (money.flaw !== undefined) return unpriced(`a price that cannot count: ${money.flaw}`);
  if (money.currency === null) return unpriced('no currency');
  const { minor, range } = money;
  const amount = amountOf(times(minor, count), times(range?.likelyMinor ?? minor, count), times(range?.highMinor ?? minor, count));
  return amount === null ? unpriced('too large to be counted') : { currency: money.currency, amount, reason: '' };
}

function materialLine(inspection: Inspection, base: Base, need: MaterialNeed): CostLine {
  const { materials, currency } = inspection.job.settings;
  const record = inspection.job.catalogue.materials.find((one) => one.id === need.material);
  const line = { ...base, kind: 'material' as const, name: record?.name.gb ?? need.material, litres: need.litres, note: 'worked out from the area, which is assumed' };
  const price = materials?.[need.material as 'wax' | 'paint']?.pricePerLitre;
  if (price === undefined) return { ...line, ...unpriced('no price for a litre') };
  const digits = currency === undefined ? null : decimalsOf(currency);
  if (currency === undefined || digits === null) return { ...line, ...unpriced('no currency') };
  const each = threeOf(price);
  const cost = (bound: keyof Amount): number | null => times(Math.round(Number(`${each[bound]}e${digits}`)), need.litres[bound]);
  const amount = amountOf(cost('low'), cost('likely'), cost('high'));
  return { ...line, ...(amount === null ? unpriced('too large to be counted') : { currency, amount, reason: '' }) };
}

function unpriced(reason: string): Priced {
  return { currency: null, amount: null, reason };
}

/** Three amounts, or null where one of them is beyond what is added up exactly. */
function amountOf(low: number | null, likely: number | null, high: number | null): Amount | null {
  if (low === null || likely === null || high === null || high > mostMinor) return null;
  return { low, likely, high };
}

/** Kinds of labour of several kinds of work; waiting is none. */
function laboursOf(inspection: Inspection, kinds: readonly string[]): LabourKind[] {
  const named = new Set(kinds.map((id) => workKindOf(inspection.job.catalogue, id)?.labour));
  return labourKinds.filter((kind) => named.has(kind));
}

/** Hours by kind of labour with what they cost; several kinds in one time are never divided by guess. */
function labourSums(inspection: Inspection, works: readonly { zone: ZoneInspection; work: Work }[], lines: readonly CostLine[]): LabourSum[] {
  const timed = lines.filter((line) => (line.kind === 'labour' || line.kind === 'whole work') && line.hours !== null);
  return labourOf(inspection.job.catalogue, works.map(({ zone, work }) => ({ zone: zone.zone.id, work }))).map(({ labour, hours: { low, likely, high }, zones, waits }) => {
    const own = waits ? [] : timed.filter((line) => line.labour.join() === labour.join());
    const labourOnly = own.filter((line) => line.kind === 'labour');
    const currencies = [...new Set(labourOnly.flatMap((line) => line.currency ?? []))].sort(byCodeUnit);
    const amounts = currencies.map((currency) => ({ currency, amount: sumBounds(labourOnly.filter((line) => line.currency === currency)) }));
    return { labour, hours: { low, likely, high }, zones, waits, amounts, unpriced: own.filter((line) => line.kind === 'whole work' || line.amount === null).length };
  });
}

function sumBounds(lines: readonly CostLine[]): Amount {
  const sum = (bound: keyof Amount): number => lines.reduce((total, line) => total + (line.amount?.[bound] ?? 0), 0);
  return { low: sum('low'), likely: sum('likely'), high: sum('high') };
}
