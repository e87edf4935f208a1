import type { Between, Comparison } from '../model/comparison.ts';
import type { Notice } from '../model/notice.ts';
import type { Visit } from '../model/visits.ts';
import { partText, zoneName } from '../model/wording.ts';
import { plainWords } from '../model/zone-names.ts';
import { betweenOf } from './between.ts';
import { laterLooksOf } from './later-looks.ts';
import { livesOf } from './lives.ts';
import { pairsOf } from './pairs.ts';

/** Sets visits of one car beside each other, oldest first: the life of every thing, what changed between one and the next, and what later looks say of earlier outlooks. Null of fewer than two. */
export function compare(visits: readonly Visit[]): Comparison | null {
  const newest = visits.at(-1);
  if (!newest || visits.length < 2) return null;
  const { lives, notices } = livesOf(visits);
  const between = visits.slice(1).map((_, index) => betweenOf(visits, lives, index + 1));
  const last = between.at(-1);
  const { pairs, notices: views } = pairsOf(visits, lives);
  return { visits: [...visits], lives, between, laterLooks: laterLooksOf(visits), pairs, notices: [...twoCars(visits), ...daysWrong(visits), ...notices, ...views, ...(last ? renamedMaybe(newest, last) : [])] };
}

/** Visits that name cars of different names: a folder may have been put into the wrong place. */
function twoCars(visits: readonly Visit[]): Notice[] {
  const names = visits.map(({ inspection }) => inspection.job.notes.car.find((line) => line.key === 'car')?.text.trim() ?? '');
  const other = names.findIndex((name, at) => at > 0 && plainWords(name) !== plainWords(names[at - 1] ?? ''));
  if (other < 0 || names[other] === '' || names[other - 1] === '') return [];
  return [{
    level: 'warning',
    rule: 'car-differs',
    spot: { file: visits[other]?.inspection.job.notes.file ?? '' },
    found: `This visit is of "${names[other]}", the one before of "${names[other - 1]}"`,
    expected: 'visits of one car',
    advice: 'Move the visit to its own car, or write the name of the car the same way; all are compared until then.',
  }];
}

/** Two visits of one day, or a folder that is named by another day than its visit: one of the two may be a slip. */
function daysWrong(visits: readonly Visit[]): Notice[] {
  return visits.flatMap(({ inspection }, at): Notice[] => {
    const { seen, file } = inspection.job.notes;
    const folder = /\d{4}-\d{2}-\d{2}/.exec(inspection.job.visit ?? '')?.[0];
    const spot = seen?.spot ?? { file };
    if (seen && folder !== undefined && folder !== seen.date) return [{ level: 'warning', rule: 'visit-day-differs', spot, found: `The folder is named ${folder}, and "seen:" says ${seen.date}`, expected: 'the same day', advice: 'Mend one of them; the line "seen:" counts.' }];
    const before = visits[at - 1]?.inspection.job.notes.seen?.date;
    return seen && before === seen.date ? [{ level: 'warning', rule: 'visits-same-day', spot, found: `Two visits are of ${seen.date}`, expected: 'a day for each visit', advice: 'Mend the line "seen:" of one of them, or make them one visit.' }] : [];
  });
}

/** One opening newly named and one no longer named, of one kind in one zone: perhaps the same. */
function renamedMaybe({ inspection }: Visit, { changes }: Between): Notice[] {
  const { language } = inspection.job.settings;
  return changes.flatMap((change): Notice[] => {
    if (change.turn !== 'newly named' || !change.part) return [];
    const gone = changes.find((one) => one.turn === 'no longer named' && one.zone === change.zone && one.part?.id === change.part?.id);
    const zone = inspection.zones.find((one) => one.zone.id === change.zone)?.zone;
    if (!gone?.part || !zone) return [];
    const [now, was] = [partText(change.part, change.place, language), partText(gone.part, gone.place, language)];
    return [{
      level: 'note',
      rule: 'opening-renamed',
      ...(change.after?.spot ? { spot: change.after.spot } : {}),
      found: `${zoneName(zone, language)}: "${now}" is newly named, and "${was}" of the visit before is not`,
      advice: `Where it is the same opening, write "was: ${was}" under it.`,
    }];
  });
}
