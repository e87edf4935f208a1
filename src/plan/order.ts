import type { Inspection, ZoneInspection } from '../model/inspection.ts';
import type { Work, WorkDone } from '../model/notes.ts';
import type { Notice, Spot } from '../model/notice.ts';
import { zoneName } from '../model/wording.ts';
import { dateText } from '../units.ts';
import { worksOf } from './works.ts';

/** Order of work that does damage, and finished work nobody means to look at again. */
export function orderNotices(inspection: Inspection): Notice[] {
  return inspection.zones.flatMap((zone) => {
    const name = zoneName(zone.zone, inspection.job.settings.language);
    return [...waxBeforeWeld(zone, name), ...againMissing(zone, name)];
  });
}

/** Heat burns wax off and lights its vapour: wax goes in when all welding of the zone is done (common practice, no source). */
function waxBeforeWeld(zone: ZoneInspection, name: string): Notice[] {
  const done = worksOf(zone).flatMap((work) => work.done.map((one) => ({ one, text: textOf(work, one) })));
  const welds = done.filter(({ one, text }) => one.date !== null && /\bweld/i.test(text)).map(({ one }) => one.date ?? '');
  const last = welds.sort().at(-1);
  if (last === undefined) return [];
  return done
    .filter(({ one, text }) => one.date !== null && one.date < last && /\bwax/i.test(text))
    .map(({ one }) => notice('error', 'wax-before-weld', one.spot, {
      found: `Wax on ${dateText(one.date ?? '')} before welding on ${dateText(last)} (${name})`,
      expected: 'wax after all welding',
      advice: 'Mend the date, or write the wax that was put in after the welding.',
    }));
}

function againMissing(zone: ZoneInspection, name: string): Notice[] {
  const last = worksOf(zone).flatMap((work) => work.done).at(-1);
  if (last === undefined || zone.notes.some((note) => note.key === 'again')) return [];
  return [notice('note', 'again-missing', last.spot, {
    found: `Finished work without a date to look again (${name})`,
    expected: 'a line such as "again: 2026-10"',
    advice: 'Write when to look again; after the first wet season is usual.',
  })];
}

/** What was done by its own words; by the work's where the entry names neither wax nor welding. */
function textOf(work: Work, done: WorkDone): string {
  const own = done.details.join(' ');
  return /\b(wax|weld)/i.test(own) ? own : work.steps;
}

function notice(level: Notice['level'], rule: string, spot: Spot, words: { found: string; expected: string; advice: string }): Notice {
  return { level, rule, spot, ...words };
}
