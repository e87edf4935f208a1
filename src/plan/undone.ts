import type { Catalogue, WorkKind } from '../model/catalogue.ts';
import type { Inspection, ZoneInspection } from '../model/inspection.ts';
import type { Work } from '../model/notes.ts';
import type { Notice } from '../model/notice.ts';
import { capital } from '../model/wording.ts';
import { whyOf, workKindOf } from '../model/works.ts';
import { worksOf } from '../model/zone-work.ts';
import { dateText } from '../units.ts';
import { datedIn, kindText, orderNotice } from './kinds.ts';
import type { Dated } from './kinds.ts';
import { sentence } from './works.ts';

/** Two kinds of work in one zone of which the one undoes the other: both still to do, or the one done after the other. One notice a pair. */
export function remediesAgainst(inspection: Inspection, zone: ZoneInspection, before: readonly ZoneInspection[], name: string): Notice[] {
  const { catalogue, settings: { language } } = inspection.job;
  const toDo = worksOf(zone).filter((work) => work.done.length === 0);
  return catalogue.works.flatMap((kind) => {
    const text = kindText(kind, language);
    const quoted = (other: WorkKind): string => `"${kindText(other, language)}"`;
    const told = new Set<string>();
    const tell = (other: WorkKind, spot: Work['spot'], found: string, expected: string): Notice[] => {
      if (told.has(other.id)) return [];
      told.add(other.id);
      return [orderNotice('warning', 'remedies-against', spot, { found: `${found} (${name})`, expected, advice: `${sentence(capital(whyOf(kind, other.id)))} Leave one of them out, or mend the order.` })];
    };
    return [
      ...sameLine(catalogue, toDo, kind).flatMap(({ work, other }) => tell(other, work.spot, `${quoted(other)}, then "${text}" in one line`, `nothing that undoes ${quoted(other)}`)),
      ...otherLine(catalogue, toDo, kind).flatMap(({ work, other }) => tell(other, work.spot, `"${text}" beside ${quoted(other)}, both to do`, 'one of the two')),
      ...later(catalogue, zone, before, kind).filter(({ done, last }) => [done, last].some(({ spot }) => spot.file === inspection.job.notes.file)).flatMap(({ done, other, last }) => tell(other, done.spot, `"${text}" on ${dateText(done.date)} after ${quoted(other)} on ${dateText(last.date)}`, `${quoted(other)} after it, or not at all`)),
    ];
  });
}

/** "wax, wash out": what undoes stands behind all that has the effect it undoes. */
function sameLine(catalogue: Catalogue, works: readonly Work[], kind: WorkKind): { work: Work; other: WorkKind }[] {
  return works.flatMap((work) => undoneBy(catalogue, kind).flatMap((others) => {
    const last = Math.max(...others.map((other) => work.kinds.indexOf(other.id)));
    const other = others.find((one) => work.kinds.indexOf(one.id) === last);
    return other && last >= 0 && work.kinds.indexOf(kind.id) > last ? [{ work, other }] : [];
  }));
}

/** Two lines have no order; two things that exclude each other do not need one. */
function otherLine(catalogue: Catalogue, works: readonly Work[], kind: WorkKind): { work: Work; other: WorkKind }[] {
  return works.filter((work) => work.kinds.includes(kind.id)).flatMap((work) =>
    kind.against.filter((id) => works.some((one) => one !== work && one.kinds.includes(id))).flatMap((id) => {
      const other = workKindOf(catalogue, id);
      return other ? [{ work, other }] : [];
    }));
}

function later(catalogue: Catalogue, zone: ZoneInspection, before: readonly ZoneInspection[], kind: WorkKind): { done: Dated; other: WorkKind; last: Dated }[] {
  const dated = datedIn(zone, before).toSorted((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0));
  const done = dated.findLast((one) => one.kind === kind.id);
  if (!done) return [];
  return undoneBy(catalogue, kind).flatMap((others) => {
    const last = dated.findLast((one) => others.some((other) => other.id === one.kind));
    const other = others.find((one) => one.id === last?.kind);
    return last && other && last.date < done.date ? [{ done, other, last }] : [];
  });
}

/** What a kind undoes, by effect: drains opened again after all stand for drains opened. */
function undoneBy(catalogue: Catalogue, kind: WorkKind): WorkKind[][] {
  const others = kind.undoes.flatMap((id) => workKindOf(catalogue, id) ?? []);
  return [...new Set(others.map((other) => other.effect))].map((effect) => others.filter((other) => other.effect === effect));
}
