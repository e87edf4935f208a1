import type { Inspection, ZoneInspection } from '../model/inspection.ts';
import type { Work, WorkDone } from '../model/notes.ts';
import type { Notice, Spot } from '../model/notice.ts';
import { zoneName } from '../model/wording.ts';
import { dateText } from '../units.ts';
import { worksOf } from './works.ts';

/** Order of work that does damage, wax without a drain shown open after it, and finished work nobody means to look at again. */
export function orderNotices(inspection: Inspection): Notice[] {
  return inspection.zones.flatMap((zone) => {
    const name = zoneName(zone.zone, inspection.job.settings.language);
    return [...waxBeforeWeld(zone, name), ...drainNotShown(inspection, zone, name), ...againMissing(zone, name)];
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

/** Wax runs into drains and sets there: they are opened again afterwards, and shown open in a photo (common practice, no source). */
function drainNotShown(inspection: Inspection, zone: ZoneInspection, name: string): Notice[] {
  const drains = zone.rows.filter((row) => row.part.group === 'drain' && row.outcome !== 'not fitted');
  const waxed = worksOf(zone).flatMap((work) => work.done.filter((one) => /\bwax/i.test(textOf(work, one))));
  const last = waxed.toSorted((a, b) => ((a.date ?? '') < (b.date ?? '') ? -1 : 1)).at(-1);
  if (last === undefined || drains.length === 0) return [];
  const shown = drains.filter((row) => row.outcome === 'sound').flatMap((row) => row.photos);
  const isLater = (id: string): boolean => (inspection.photos.find(({ photo }) => photo.id === id)?.photo.takenAt?.local.slice(0, 10) ?? '9') >= (last.date ?? '');
  if (shown.some(isLater)) return [];
  return [notice('warning', 'drain-not-shown', last.spot, {
    found: `Wax${last.date ? ` on ${dateText(last.date)}` : ''} without a later photo of an open drain (${name})`,
    expected: 'a drain written as open, with a photo taken after the wax',
    advice: 'Open the drains again, take the photo, and name it in the line of the drain.',
  })];
}

function againMissing(zone: ZoneInspection, name: string): Notice[] {
  const last = worksOf(zone).flatMap((work) => work.done).at(-1);
  if (last === undefined || zone.notes.some((note) => note.key === 'again')) return [];
  return [notice('warning', 'again-missing', last.spot, {
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
