import type { Followed, Life } from '../model/comparison.ts';
import type { Part } from '../model/catalogue.ts';
import type { Notice } from '../model/notice.ts';
import type { Visit } from '../model/visits.ts';
import { placeForm } from '../model/wording.ts';
import { plainWords } from '../model/zone-names.ts';
import { listText } from '../units.ts';
import type { Thing } from './things.ts';
import { thingsOf } from './things.ts';

/**
 * Follows every thing from visit to visit: by zone, kind and place, or by the name that `was:` says it had. Nothing is
 * guessed; a `was:` that names nothing of an earlier visit is a notice.
 */
export function livesOf(visits: readonly Visit[]): { lives: Life[]; notices: Notice[] } {
  const lives: Life[] = [];
  const notices: Notice[] = [];
  const byName = new Map<string, Life>();
  for (const [at, visit] of visits.entries()) {
    const things = visit.inspection.zones.flatMap((zone) => thingsOf(visit, zone));
    // All at once: two openings may have swapped their names.
    const before = new Map(byName);
    const renamed = new Map<Thing, Life>();
    for (const thing of things.filter(({ was }) => was !== '')) {
      const life = at === 0 ? undefined : calledBefore(thing, [...before.values()]);
      if (life && ![...renamed.values()].includes(life)) renamed.set(thing, life);
      else if (at > 0) notices.push(unknownName(thing, [...before.values()]));
    }
    const taken = new Set(renamed.values());
    for (const [thing, life] of renamed) {
      byName.delete(nameOf(life));
      Object.assign(life, { part: thing.part, place: thing.place });
    }
    for (const thing of things) {
      const known = renamed.get(thing) ?? [before.get(nameOf(thing))].find((life) => life && !taken.has(life));
      const life = known ?? begun(thing, visits.length);
      if (!known) lives.push(life);
      life.standings[at] = thing.standing;
      byName.set(nameOf(thing), life);
    }
  }
  return { lives, notices };
}

function begun({ kind, zone, part, place, of }: Thing, count: number): Life {
  return { kind, zone, part, place, of, standings: Array.from({ length: count }, () => null) };
}

function nameOf({ kind, zone, part, place, of }: Followed): string {
  return [kind, zone, part?.id ?? '', placeForm(place), of].join('|');
}

/** The life a thing says it goes on: "plug, inner face 2", or the place alone; the part may have been called otherwise. */
function calledBefore({ zone, kind, part, was }: Thing, lives: readonly Life[]): Life | undefined {
  const words = was.replace(/\.\s.*$|\.$/, '');
  const [first = '', ...rest] = words.split(/,\s*/);
  const own = lives.filter((life) => life.zone === zone && life.kind === kind);
  const byPart = own.find((life) => life.part && isNameOf(life.part, first) && placeForm(life.place) === placeForm(rest.join(', ')));
  return byPart ?? own.find((life) => life.part?.id === part?.id && placeForm(life.place) === placeForm(words));
}

/** A size may stand behind the name: "plug 25 mm". */
function isNameOf(part: Part, words: string): boolean {
  const said = plainWords(words.replace(/\d+(?:[.,]\d+)?\s?(?:mm|in|cm)\b/g, ''));
  return [part.id, part.name.gb, part.name.us, part.plural.gb, part.plural.us, ...part.also].some((name) => plainWords(name) === said);
}

function unknownName(thing: Thing, lives: readonly Life[]): Notice {
  const others = lives.filter((life) => life.zone === thing.zone && life.part?.id === thing.part?.id && life.kind === thing.kind).map((life) => `"${life.place}"`);
  return {
    level: 'warning',
    rule: 'was-unknown',
    ...(thing.standing.spot ? { spot: thing.standing.spot } : {}),
    found: `"was: ${thing.was}" names nothing of an earlier visit`,
    expected: others.length > 0 ? `one of ${listText(others, 'or')}` : 'the name it had at an earlier visit, in the same zone',
    advice: 'Until then it is taken as newly named.',
  };
}
