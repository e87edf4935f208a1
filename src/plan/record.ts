import type { Catalogue } from '../model/catalogue.ts';
import type { CostLine } from '../model/cost.ts';
import type { Inspection, ZoneInspection } from '../model/inspection.ts';
import type { Spread, Work, WorkDone } from '../model/notes.ts';
import { byCodeUnit } from '../model/order.ts';
import type { DoneEntry, Undertaking, VisitDay, WorkRecord } from '../model/record.ts';
import { kindsInCommon } from '../model/works.ts';
import { worksOf } from '../model/zone-work.ts';
import { linesOf } from './cost.ts';
import { totalsOf } from './totals.ts';
import { visitDay } from './visits.ts';
import { sumHours } from './works.ts';

/** All work written as done at this visit and those before it, beside what was planned for it. */
export function recordOf(inspection: Inspection, earlier: readonly Inspection[]): WorkRecord {
  const undertakings: Undertaking[] = [];
  for (const visit of [...earlier, inspection]) {
    const day = visitDay(visit, visit === inspection);
    for (const zone of visit.zones) takeZone(undertakings, { inspection: visit, zone, day });
  }
  const settled = undertakings.map((one) => settle(inspection, one));
  const { tax } = inspection.job.rates;
  const whole = settled.filter((one) => one.planned !== null && one.entries.length > 0 && one.left.length === 0);
  const timed = whole.filter((one) => one.hours !== null && one.planned?.work.hours);
  const priced = whole.filter((one) => isPriced(one.entries.flatMap((entry) => entry.labour)) && isPriced(one.planned?.labour ?? []));
  const labour = settled.flatMap((one) => one.entries.flatMap((entry) => entry.labour));
  return {
    visits: [...earlier.map((visit) => visitDay(visit, false)), visitDay(inspection, true)],
    undertakings: settled,
    hours: { works: timed.length, took: sumHours(timed.map((one) => one.hours)), estimated: sumHours(timed.map((one) => one.planned?.work.hours ?? null)) },
    cost: { works: priced.length, took: totalsOf(priced.flatMap((one) => one.entries.flatMap((entry) => entry.labour)), tax), estimated: totalsOf(priced.flatMap((one) => one.planned?.labour ?? []), tax) },
    spent: totalsOf(labour, tax),
    unpriced: labour.filter((line) => line.amount === null).length,
  };
}

interface Place {
  inspection: Inspection;
  zone: ZoneInspection;
  day: VisitDay;
}

/** First what a visit plans in a zone, then what it says was done there. */
function takeZone(all: Undertaking[], place: Place): void {
  const works = worksOf(place.zone);
  for (const work of works.filter((one) => !one.unplanned)) {
    const undertaking = plannedAs(all, place, work);
    for (const done of work.done) addEntry(all, undertaking, place, work, done);
  }
  for (const work of works.filter((one) => one.unplanned)) {
    for (const done of work.done) addEntry(all, estimateFor(all, place, work), place, work, done);
  }
}

/** A plan written again at a later visit, before anything of it was done, is the same work; its estimate is the later one where it gives one. */
function plannedAs(all: Undertaking[], place: Place, work: Work): Undertaking {
  const { inspection, zone, day } = place;
  const lines = linesOf(inspection, zone, { ...work, done: [] });
  const planned = { visit: day, work, labour: lines.filter(isLabour), parts: lines.filter((line) => line.kind === 'part') };
  const before = all.filter((one) => one.zone === zone.zone.id && one.planned && !one.planned.visit.current && one.planned.visit !== day && one.entries.length === 0 && isSame(inspection, one.planned.work, work));
  const inCommon = (one: Undertaking): number => (one.planned ? likeness(inspection.job.catalogue, one.planned.work, work) : 0);
  const same = before.toSorted((a, b) => inCommon(b) - inCommon(a))[0];
  if (!same) {
    const made: Undertaking = { zone: zone.zone.id, planned, entries: [], hours: null, left: [] };
    all.push(made);
    return made;
  }
  if (work.hours !== null || work.cost !== null) same.planned = planned;
  return same;
}

function isSame({ job }: Inspection, a: Work, b: Work): boolean {
  return a.steps.toLowerCase() === b.steps.toLowerCase() || likeness(job.catalogue, a, b) > 0;
}

/** Words that say where or how often, not what. */
const placing = new Set('again also back below above behind both each from front inner into left lower more other outer over rear right side some that then through under upper well with'.split(' '));

/**
 * How many kinds of work two lines have in common. Where one of them names no kind we know, two words in common make them
 * alike: "flush both tubes", "tubes flushed". Our judgement.
 */
function likeness(catalogue: Catalogue, a: Work, b: Work): number {
  const common = kindsInCommon(catalogue, a.kinds, b.kinds);
  if (common > 0 || (a.kinds.length > 0 && b.kinds.length > 0)) return common;
  const [own, others] = [wordsOf(a), wordsOf(b)];
  return own.filter((word) => others.some((other) => other.startsWith(word) || word.startsWith(other))).length >= 2 ? 0.5 : 0;
}

function wordsOf({ steps }: Work): string[] {
  return [...new Set(steps.toLowerCase().match(/\p{L}{4,}/gu) ?? [])].filter((word) => !placing.has(word));
}

/** The plan a line of work done belongs to: of the same zone, with most kinds of work in common, the latest of those. */
function estimateFor(all: readonly Undertaking[], { inspection, zone }: Place, work: Work): Undertaking | null {
  const fits = all.filter((one) => one.zone === zone.zone.id && one.planned !== null).map((one) => ({ one, common: one.planned ? likeness(inspection.job.catalogue, one.planned.work, work) : 0 })).filter(({ common }) => common > 0);
  return fits.reduce<{ one: Undertaking; common: number } | null>((best, fit) => (best === null || fit.common >= best.common ? fit : best), null)?.one ?? null;
}

/** A dated line said again at a later visit counts once. */
function addEntry(all: Undertaking[], to: Undertaking | null, { inspection, zone, day }: Place, work: Work, done: WorkDone): void {
  const said = all.some((one) => one.zone === zone.zone.id && one.entries.some((entry) => entry.visit.folder !== day.folder && done.date !== null && entry.done.text === done.text));
  if (said) return;
  const undertaking = to ?? { zone: zone.zone.id, planned: null, entries: [], hours: null, left: [] };
  if (to === null) all.push(undertaking);
  // What was estimated never stands in for what was not written down.
  const alone: Work = { ...work, text: done.text, steps: done.did.join(', ') || work.steps, kinds: done.kinds, hours: null, waits: null, split: [], cost: null, parts: [], done: [done] };
  undertaking.entries.push({ visit: day, zone: zone.zone.id, work, done, labour: linesOf(inspection, zone, alone).filter(isLabour) });
}

function isLabour(line: CostLine): boolean {
  return line.kind === 'labour' || line.kind === 'whole work';
}

function isPriced(lines: readonly CostLine[]): boolean {
  return lines.length > 0 && lines.every((line) => line.amount !== null);
}

function settle(inspection: Inspection, one: Undertaking): Undertaking {
  const entries = one.entries.toSorted((a, b) => byCodeUnit(a.done.date ?? '~', b.done.date ?? '~'));
  return { ...one, entries, hours: hoursOf(entries), left: entries.length === 0 ? [] : leftOf(inspection, one) };
}

/** Waiting takes no hours, so that its entry lacks none. */
function hoursOf(entries: readonly DoneEntry[]): Spread | null {
  const worked = entries.filter((entry) => entry.labour.length > 0);
  return worked.every((entry) => entry.done.hours !== null) ? sumHours(worked.map((entry) => entry.done.hours)) : null;
}

/** Planned kinds that no entry names. */
function leftOf({ job }: Inspection, { planned, entries }: Undertaking): string[] {
  const done = entries.flatMap((entry) => entry.done.kinds);
  return (planned?.work.kinds ?? []).filter((id) => kindsInCommon(job.catalogue, [id], done) === 0);
}
