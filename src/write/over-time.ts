import type { Change, Life, Standing, Turn } from '../model/comparison.ts';
import type { Inline } from '../model/dossier.ts';
import type { WorkDone } from '../model/notes.ts';
import type { Visit } from '../model/visits.ts';
import { inSentence, partText, termIn } from '../model/wording.ts';
import { countText, dateText, listText } from '../units.ts';
import { hasPage, nameOfZone } from './context.ts';
import type { Context } from './context.ts';
import { link } from './inline.ts';

/** "14 March 2026"; where no date was written the name of the visit's folder, else that there is none. */
export function visitName({ inspection }: Visit): string {
  const { notes, visit = '' } = inspection.job;
  return notes.seen ? dateText(notes.seen.date) : visit === '' ? 'a day not written' : `the visit “${visit}”`;
}

/** The zone as a link where this dossier has a page of it. */
export function zoneLink(context: Context, id: string): Inline {
  const zone = context.zones.get(id);
  return [zone && hasPage(zone) ? link(nameOfZone(context, id), id) : nameOfZone(context, id)];
}

const quantities: Readonly<Record<string, string>> = { steel: 'steel', film: 'film', hardness: 'hardness', 'water depth': 'depth of water' };

/** "blind plug, inner face 2", "blind plugs", "metal inside", "steel, outer face". */
export function thingName({ language }: Pick<Context, 'language'>, { kind, part, place, of }: Pick<Life, 'kind' | 'part' | 'place' | 'of'>): string {
  if (part === null) return [quantities[of] ?? of, place].filter((text) => text !== '').join(', ');
  return kind === 'openings' ? inSentence(termIn(part.plural, language)) : partText(part, place, language);
}

const turnWords: Record<Turn, string> = {
  worse: 'worse',
  better: 'better',
  replaced: 'replaced',
  unchanged: 'as it was',
  differs: 'not the same',
  'newly seen': 'newly seen',
  'no longer seen': 'not looked at',
  'newly named': 'newly named',
  'no longer named': 'no longer named',
  'made clear': 'now clear',
  'no longer clear': 'no longer clear',
};

/** What came of it, in words. */
export function turnText(turn: Turn): string {
  return turnWords[turn];
}

/** How it stood, for a cell or a clause; "nothing written" where nothing was. */
export function standingText(standing: Standing | null): string {
  return standing === null ? 'nothing written' : standing.seen || standing.outcome === standing.words ? standing.words : `${standing.outcome}: ${standing.words}`;
}

/** "missing, now new"; what was seen at one visit only says which. */
export function changeText({ turn, before, after, wasCalled }: Change): string {
  const [was, is] = [standingText(before), standingText(after)];
  const called = wasCalled === '' ? '' : ` (then called “${wasCalled}”)`;
  if (turn === 'newly seen' || turn === 'newly named') return `${is}${before && !before.seen ? `, before ${was}` : ''}${called}`;
  if (turn === 'no longer seen' || turn === 'no longer named') return `${was}${called}; ${after ? `now ${is}` : 'nothing written of it now'}`;
  return `${was}${called}, now ${is}`;
}

/** "3 replaced, 2 better and 1 worse". */
export function turnCounts(changes: readonly Change[]): string {
  const order: readonly Turn[] = ['worse', 'no longer clear', 'differs', 'replaced', 'better', 'made clear', 'newly seen', 'newly named', 'no longer named', 'no longer seen'];
  return listText(order.flatMap((turn) => {
    const count = changes.filter((change) => change.turn === turn).length;
    return count === 0 ? [] : [`${count} ${turnText(turn)}`];
  }));
}

/** The answer in a sentence: how many things came out how, or that nothing changed; empty where there is one visit. */
export function sinceSentence({ comparison }: Pick<Context, 'comparison'>): string {
  const [before] = comparison?.visits.slice(-2) ?? [];
  const between = comparison?.between.at(-1);
  if (!before || !between) return '';
  if (between.changes.length === 0) return `Of what was looked at again, nothing changed since ${visitName(before)}.`;
  return `Since ${visitName(before)}, of what was looked at: ${turnCounts(between.changes)}; ${between.unchanged.length} as ${between.unchanged.length === 1 ? 'it was' : 'they were'}.`;
}

/** Work written as done in a zone of one visit. */
export function doneIn({ plan }: Visit, zone: string): WorkDone[] {
  return plan.work.filter((one) => one.zone === zone).flatMap(({ work }) => work.done);
}

/** "eight weeks later", "2 years later"; empty where a date is missing. */
export function laterText(before: Visit, after: Visit): string {
  const [from, to] = [before, after].map(({ inspection }) => Date.parse(inspection.job.notes.seen?.date ?? ''));
  const days = ((to ?? Number.NaN) - (from ?? Number.NaN)) / 86_400_000;
  if (Number.isNaN(days) || days < 0) return '';
  if (days < 1) return 'on the same day';
  if (days < 14) return `${countText(days, 'day', 'days')} later`;
  if (days < 92) return `${countText(Math.round(days / 7), 'week', 'weeks')} later`;
  if (days < 730) return `${countText(Math.round(days / 30.44), 'month', 'months')} later`;
  return `${countText(Math.round(days / 365.25), 'year', 'years')} later`;
}
