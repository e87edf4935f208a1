import type { LaterLook } from '../model/comparison.ts';
import type { CavityOutlook } from '../model/inspection.ts';
import type { Prospect } from '../model/outlook.ts';
import type { Visit } from '../model/visits.ts';

/** Below one in three a chance is called unlikely, above two in three likely (IPCC 2010): what then comes otherwise speaks against it. */
const [unlikely, likely] = [1 / 3, 2 / 3];

const msInYear = 365.25 * 24 * 3600 * 1000;

/**
 * Sections of which a later visit showed whether they are through, beside the chance the last outlook before had given for
 * that day. Left out: sections that were through already, that were cut out or patched since, and visits without a date.
 */
export function laterLooksOf(visits: readonly Visit[]): LaterLook[] {
  return visits.flatMap((visit, to) => visit.outlook.cavities.flatMap((cavity): LaterLook[] => {
    const through = shownThrough(cavity);
    const before = through === null ? -1 : visits.slice(0, to).findLastIndex((one) => one.outlook.cavities.some((old) => isSame(old, cavity)));
    const old = visits[before]?.outlook.cavities.find((one) => isSame(one, cavity));
    const [from, until] = [visits[before], visit].map((one) => one?.inspection.job.notes.seen?.date);
    if (through === null || !old || !from || !until || shownThrough(old) !== null && old.weighed.left.today === 1 || renewed(visits.slice(before + 1, to + 1), cavity.zone)) return [];
    const years = (Date.parse(until) - Date.parse(from)) / msInYear;
    if (years < 0) return [];
    const chance = chanceAfter(old.weighed.left, years);
    return [{ zone: cavity.zone, cavity: cavity.cavity, name: cavity.name, from: before, to, years, chance, through, against: through ? chance.middle < unlikely : chance.middle > likely }];
  }));
}

function isSame(a: CavityOutlook, b: CavityOutlook): boolean {
  return a.zone === b.zone && a.cavity === b.cavity;
}

/** Whether the section was seen to be through, or not to be; null where nobody looked, or the look left it open. */
function shownThrough({ insideSeen, metal, weighed }: CavityOutlook): boolean | null {
  if (weighed.left.today === 1) return true;
  return weighed.left.today === 0 && insideSeen !== 'none' && metal !== null ? false : null;
}

function renewed(visits: readonly Visit[], zone: string): boolean {
  return visits.some(({ inspection, plan }) => plan.work.some((one) => one.zone === zone && one.work.done.some((done) => done.kinds.some((id) => ['patches', 'replaces'].includes(inspection.job.catalogue.works.find((kind) => kind.id === id)?.effect ?? 'none')))));
}

/** Straight between today and the horizons that were worked out, and level after the last. */
function chanceAfter({ today, chances }: Prospect, years: number): LaterLook['chance'] {
  const points = [{ years: 0, low: today, middle: today, high: today }, ...chances];
  const next = points.find((point) => point.years >= years) ?? points.at(-1);
  const last = points.findLast((point) => point.years <= years) ?? points[0];
  if (!next || !last) return { low: today, middle: today, high: today };
  const share = next.years === last.years ? 0 : Math.min(1, (years - last.years) / (next.years - last.years));
  const at = (key: 'low' | 'middle' | 'high'): number => last[key] + (next[key] - last[key]) * share;
  return { low: at('low'), middle: at('middle'), high: at('high') };
}
