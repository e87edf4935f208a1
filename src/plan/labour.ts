import type { Catalogue, Labour } from '../model/catalogue.ts';
import { labours } from '../model/catalogue.ts';
import type { Plan } from '../model/inspection.ts';
import type { Spread } from '../model/notes.ts';
import { byCodeUnit } from '../model/order.ts';
import { workKindOf } from '../model/works.ts';
import { sumHours } from './works.ts';

/** Hours of one kind of labour, or of several that share one time. */
export interface LabourRow {
  /** Kinds of labour in the usual order; empty where the words name no kind of work we know. */
  labour: Labour[];
  hours: Spread;
  /** Zone ids, each once, in the order of the work. */
  zones: string[];
  /** True for time that passes while nobody works: no labour. */
  waits: boolean;
}

/**
 * Hours still to be worked, summed by kind of labour. Where one time stands for several kinds it is one row with all of
 * them: it is never divided by guess. Work written as done is left out; work without hours has none here.
 */
export function labourOf(catalogue: Catalogue, works: Plan['work']): LabourRow[] {
  const groups = new Map<string, { labour: Labour[]; all: Spread[]; zones: string[]; waits: boolean }>();
  const add = (zone: string, kinds: readonly string[], hours: Spread | null, waits: boolean): void => {
    if (hours === null) return;
    const labour = laboursOf(catalogue, kinds, waits);
    const key = `${waits ? 1 : 0} ${labour.length === 0 ? '9' : labour.map((one) => String(labours.indexOf(one)).padStart(2, '0')).join(' ')}`;
    const group = groups.get(key) ?? { labour, all: [], zones: [], waits };
    group.all.push(hours);
    if (!group.zones.includes(zone)) group.zones.push(zone);
    groups.set(key, group);
  };
  for (const { zone, work } of works.filter((one) => one.work.done.length === 0)) {
    if (work.split.length === 0) add(zone, work.kinds, work.hours, false);
    for (const { kinds, hours } of work.split) add(zone, kinds, hours, false);
    add(zone, work.kinds, work.waits, true);
  }
  return [...groups].sort(([a], [b]) => byCodeUnit(a, b)).flatMap(([, { labour, all, zones, waits }]) => {
    const hours = sumHours(all);
    return hours ? [{ labour, hours, zones, waits }] : [];
  });
}

function laboursOf(catalogue: Catalogue, kinds: readonly string[], waits: boolean): Labour[] {
  const named = new Set(kinds.flatMap((id) => workKindOf(catalogue, id) ?? []).filter((kind) => kind.waits === waits).map((kind) => kind.labour));
  return labours.filter((labour) => named.has(labour));
}
