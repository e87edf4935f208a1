import type { Inspection, ZoneInspection } from '../../src/model/inspection.ts';
import type { Notice } from '../../src/model/notice.ts';
import { place } from '../../src/place/index.ts';
import { orderNotices } from '../../src/plan/order.ts';
import { worksOf } from '../../src/model/zone-work.ts';
import { noRates } from '../../src/model/rates.ts';
import { readCatalogue } from '../../src/read/catalogue/index.ts';
import { readNotes } from '../../src/read/notes/index.ts';

export const catalogue = readCatalogue();

/** Findings read and placed; nothing is weighed. */
export function inspected(findings: string): Inspection {
  const settings = { units: 'mm', language: 'en-GB' } as const;
  const { notes, notices } = readNotes({ file: 'findings.md', text: findings, catalogue, settings, photoNames: [] });
  return place({ catalogue, settings, rates: noRates, notes, photos: [], notices });
}

/** Lines under the left sill of a car built in 1971, seen in March 2026. */
export function sill(lines: string): Inspection {
  return inspected(`# Car\n- built: 1971\n# Visit\n- seen: 2026-03-14 10:00-11:45\n# Sill, left\n${lines}\n`);
}

/** The zone the lines stand in. */
export function zoneOf(inspection: Inspection, id = 'sill-left'): ZoneInspection {
  const zone = inspection.zones.find((one) => one.zone.id === id);
  if (!zone) throw new Error(`no ${id}`);
  return zone;
}

/** Notices about order in lines under the left sill, without what any finished work gets. */
export function order(lines: string): Notice[] {
  return orderNotices(sill(`${lines}\n- again: 2026-10`)).filter((notice) => notice.rule !== 'drain-not-shown');
}

/** Work as the plan carries it. */
export function plannedWork(inspection: Inspection): { zone: string; work: ReturnType<typeof worksOf>[number] }[] {
  return inspection.zones.flatMap((zone) => worksOf(zone).map((work) => ({ zone: zone.zone.id, work })));
}
