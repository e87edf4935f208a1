import type { Catalogue, WorkKind } from '../model/catalogue.ts';
import type { Inspection, ZoneInspection } from '../model/inspection.ts';
import type { Work } from '../model/notes.ts';
import type { Notice, Spot } from '../model/notice.ts';
import { byCodeUnit } from '../model/order.ts';
import { capital, zoneName } from '../model/wording.ts';
import { whyOf, workKindOf } from '../model/works.ts';
import { worksOf } from '../model/zone-work.ts';
import { dateText, listText } from '../units.ts';
import { datesWrong } from './dates.ts';
import { againMissing, drainNotShown } from './finished.ts';
import { datedIn, earlierOf, kindText, orderNotice, placeText } from './kinds.ts';
import type { Dated } from './kinds.ts';
import { remediesAgainst } from './undone.ts';
import { sentence } from './works.ts';

/**
 * Order of work that does damage or undoes other work, dates that cannot be, and what finished work leaves open. Dated work
 * is held against that of earlier visits; what concerns those alone was said of them.
 */
export function orderNotices(inspection: Inspection, earlier: readonly Inspection[] = []): Notice[] {
  return inspection.zones.flatMap((zone) => {
    const before = earlierOf(earlier, zone);
    const name = zoneName(zone.zone, inspection.job.settings.language);
    return [
      ...breaches(inspection, zone, before, name),
      ...unusualOrder(inspection, zone, name),
      ...remediesAgainst(inspection, zone, before, name),
      ...datesWrong(inspection, zone, name),
      ...drainNotShown(inspection, zone, name),
      ...againMissing(zone, before, name),
    ];
  });
}

/** Kinds of work in the usual order, each once: what must come first does, else by `order`. Ids the catalogue lacks come last, as given. */
export function orderOfWork(catalogue: Catalogue, kinds: readonly string[]): string[] {
  let left = catalogue.works.filter((kind) => kinds.includes(kind.id));
  const ordered: string[] = [];
  while (left.length > 0) {
    // A catalogue without circles always has one; the first stands in, should there be none.
    const next = left.find((kind) => !left.some((other) => kind.after.includes(other.id))) ?? left[0];
    if (!next) break;
    ordered.push(next.id);
    left = left.filter((kind) => kind !== next);
  }
  return [...ordered, ...new Set(kinds.filter((id) => !ordered.includes(id)))];
}

interface Breach {
  kind: WorkKind;
  before: WorkKind;
  done: Dated;
  /** What it came before. */
  later: Dated;
}

/**
 * Dated work that came too early, by the order of the catalogue. What was done again after the other is well. Heat and
 * new metal count by their last date, as every time does damage; anything else by its first.
 */
function breaches(inspection: Inspection, zone: ZoneInspection, before: readonly ZoneInspection[], name: string): Notice[] {
  const { catalogue, settings: { language } } = inspection.job;
  const { file } = inspection.job.notes;
  const dated = datedIn(zone, before);
  const found = catalogue.works.flatMap((kind) => breachesOf(catalogue, dated, kind)).filter(({ done, later }) => done.spot.file === file || later.spot.file === file);
  const burnt = found.filter((breach) => breach.kind.effect === 'protects' && breach.before.hot);
  const others = found.filter((breach) => !burnt.includes(breach));
  return [
    ...waxBeforeHeat(inspection, burnt, name),
    ...others.map(({ kind, before: first, done, later }) => orderNotice('warning', 'order-breach', done.spot, {
      found: `"${kindText(kind, language)}" on ${dateText(done.date)} before "${kindText(first, language)}" on ${dateText(later.date)} (${name})`,
      expected: `"${kindText(first, language)}" first`,
      advice: `${sentence(capital(whyOf(kind, first.id)))} Mend the date, or write when it was done again. ${otherLine(later)}`,
    })),
  ];
}

function otherLine(later: Dated): string {
  return `The other line is ${placeText(later.spot)}.`;
}

function breachesOf(catalogue: Catalogue, dated: readonly Dated[], kind: WorkKind): Breach[] {
  const done = latest(dated.filter((one) => one.kind === kind.id));
  if (!done) return [];
  const all = kind.after.flatMap((id): Breach[] => {
    const before = workKindOf(catalogue, id);
    const dates = dated.filter((one) => one.kind === id).toSorted((a, b) => byCodeUnit(a.date, b.date));
    const later = before && isLasting(before) ? dates.at(-1) : dates[0];
    // What undoes this kind is told by itself.
    const breach = before && later !== undefined && done.date < later.date && !before.undoes.includes(kind.id);
    return breach ? [{ kind, before, done, later }] : [];
  });
  // "welded a patch in" is one piece of work under two names: heat is told rather than what it made.
  const lasting = all.filter(({ before }) => isLasting(before));
  const told = lastOf(lasting.some(({ before }) => before.hot) ? lasting.filter(({ before }) => before.hot) : lasting);
  return all.filter((breach) => !lasting.includes(breach) || breach === told);
}

function lastOf(breaches: readonly Breach[]): Breach | undefined {
  return breaches.toSorted((a, b) => byCodeUnit(a.later.date, b.later.date) || a.before.order - b.before.order).at(-1);
}

function latest(dated: readonly Dated[]): Dated | undefined {
  return dated.toSorted((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0)).at(-1);
}

function isLasting(kind: WorkKind): boolean {
  return kind.hot || kind.effect === 'patches' || kind.effect === 'replaces';
}

/**
 * Heat burns wax off and lights its vapour: wax goes in when all of it is over (common practice, no source). An error: the
 * wax of the dossier is not there any more. Where the wax is of an earlier visit it was true then, and is a warning now.
 */
function waxBeforeHeat(inspection: Inspection, burnt: readonly Breach[], name: string): Notice[] {
  const last = lastOf(burnt);
  if (!last) return [];
  const welded = last.before.labour === 'weld';
  const heat = welded ? 'welding' : `heat or sparks ("${kindText(last.before, inspection.job.settings.language)}")`;
  const level = last.done.spot.file === inspection.job.notes.file ? 'error' : 'warning';
  return [orderNotice(level, 'wax-before-weld', level === 'error' ? last.done.spot : last.later.spot, {
    found: `Wax on ${dateText(last.done.date)} before ${heat} on ${dateText(last.later.date)} (${name})`,
    expected: `wax after all ${welded ? 'welding' : 'heat'}`,
    advice: `Mend the date, or write the wax that was put in after ${welded ? 'the welding' : 'it'}. The other line is ${placeText(level === 'error' ? last.later.spot : last.done.spot)}.`,
  })];
}

/** A line of work still to do whose words run against the usual order. */
function unusualOrder(inspection: Inspection, zone: ZoneInspection, name: string): Notice[] {
  const { catalogue, settings: { language } } = inspection.job;
  return worksOf(zone).filter((work) => work.done.every((done) => done.date === null)).flatMap((work) => {
    const pair = firstUnusual(catalogue, work);
    if (!pair) return [];
    const [kind, before] = pair;
    const usual = orderOfWork(catalogue, work.kinds).flatMap((id) => workKindOf(catalogue, id) ?? []).map((one) => kindText(one, language));
    return [unusual(work.spot, `"${kindText(kind, language)}" before "${kindText(before, language)}" in one line (${name})`, usual, whyOf(kind, before.id))];
  });
}

function unusual(spot: Spot, found: string, usual: readonly string[], why: string): Notice {
  return orderNotice('note', 'order-unusual', spot, { found, expected: `the usual order: ${listText(usual)}`, advice: `${sentence(capital(why))} Nothing is changed; the line stands as written.` });
}

/** The first kind named before one that comes first, where the later does not undo it: that is told by itself. */
function firstUnusual(catalogue: Catalogue, work: Work): [WorkKind, WorkKind] | null {
  const kinds = work.kinds.flatMap((id) => workKindOf(catalogue, id) ?? []);
  for (const [at, kind] of kinds.entries()) {
    const before = kinds.slice(at + 1).find((later) => kind.after.includes(later.id) && !later.undoes.includes(kind.id));
    if (before) return [kind, before];
  }
  return null;
}
