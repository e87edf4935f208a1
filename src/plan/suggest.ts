import type { Inspection, ZoneInspection } from '../model/inspection.ts';
import type { Catalogue, WorkKind } from '../model/catalogue.ts';
import type { Work } from '../model/notes.ts';
import { zoneIsStructure } from '../model/wording.ts';
import { whyOf, workKindOf } from '../model/works.ts';
import { worksOf } from '../model/zone-work.ts';
import { orderOfWork } from './order.ts';

/**
 * What the work still to do in a zone needs and nobody wrote, in the usual order, each with the damage it prevents: a
 * suggestion, never a part of the work as written. "weld" asks for the battery off before it and wax after it.
 */
export function usualOrder(inspection: Inspection, zone: ZoneInspection): { kind: WorkKind; why: string }[] {
  const { catalogue } = inspection.job;
  const works = worksOf(zone);
  const named = new Set(works.flatMap((work) => [...work.kinds, ...work.done.flatMap((done) => done.kinds)]));
  const reasons = new Map<string, string>();
  for (const work of works.filter((one) => one.done.length === 0)) {
    for (const kind of work.kinds.flatMap((id) => workKindOf(catalogue, id) ?? [])) {
      for (const id of kind.needs) {
        const needed = workKindOf(catalogue, id);
        if (!needed || named.has(id) || reasons.has(id) || !isWanted(catalogue, zone, needed, named) || isMetBehind(catalogue, work, kind, needed)) continue;
        reasons.set(id, whyOf(kind, id));
      }
    }
  }
  return orderOfWork(catalogue, [...reasons.keys()]).flatMap((id) => {
    const kind = workKindOf(catalogue, id);
    return kind ? [{ kind, why: reasons.get(id) ?? kind.why }] : [];
  });
}

function isWanted(catalogue: Catalogue, zone: ZoneInspection, { id, where }: WorkKind, named: ReadonlySet<string>): boolean {
  if (where === 'covered') return catalogue.works.some((kind) => named.has(kind.id) && kind.after.includes(id));
  if (where === 'structure') return zoneIsStructure(zone);
  if (where === 'fuel') return zone.zone.record.cautions.includes('fire');
  return where === null || zone.rows.some((row) => row.part.group === 'drain' && row.outcome !== 'not fitted');
}

/** "wax, open the drains" has them open at the end, however it is put. */
function isMetBehind(catalogue: Catalogue, work: Work, kind: WorkKind, needed: WorkKind): boolean {
  const behind = work.kinds.slice(work.kinds.indexOf(kind.id) + 1);
  return needed.effect !== 'none' && behind.some((id) => workKindOf(catalogue, id)?.effect === needed.effect);
}
