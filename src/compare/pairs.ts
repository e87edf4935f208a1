import type { Life, PhotoPair } from '../model/comparison.ts';
import type { PlacedPhoto } from '../model/inspection.ts';
import type { Note } from '../model/notes.ts';
import type { Notice } from '../model/notice.ts';
import type { Visit } from '../model/visits.ts';

/**
 * Photos of one thing from two visits: two that the findings say are the same view; else the first visit that showed it
 * with a photo, and the last. Between them stand its photos of visits between, and those of its zone taken on the last day
 * before the last photo. Two things on the same two photos are one pair. In the order of the body.
 */
export function pairsOf(visits: readonly Visit[], lives: readonly Life[]): { pairs: PhotoPair[]; notices: Notice[] } {
  const { pairs: said, notices } = sameViews(visits, lives);
  const pairs = new Map(said.map((pair) => [`${pair.before} ${pair.after}`, pair]));
  const taken = new Set(said.map(({ after }) => after));
  for (const life of lives) {
    const shown = life.standings.flatMap((standing, at) => (standing && standing.photos.length > 0 ? [at] : []));
    const [first, last] = [shown[0], shown.at(-1)];
    if (first === undefined || last === undefined || first === last) continue;
    const [before, after] = [photoOf(visits[first], life, first), photoOf(visits[last], life, last)];
    if (before === undefined || after === undefined || taken.has(after)) continue;
    const known = pairs.get(`${before} ${after}`);
    if (known) known.lives.push(life);
    else {
      const between = shown.slice(1, -1).flatMap((at) => life.standings[at]?.photos ?? []);
      pairs.set(`${before} ${after}`, { zone: life.zone, lives: [life], from: first, to: last, before, after, during: [...new Set([...between, ...workPhotos(visits[last], life.zone, after)])] });
    }
  }
  const order = new Map((visits.at(-1)?.inspection.zones ?? []).map((zone, index) => [zone.zone.id, index]));
  const all = [...pairs.values()];
  // What stands between two photos of one pair is not shown again as the later of another.
  const inner = all.filter((pair) => !all.some((other) => other.before === pair.before && other.during.includes(pair.after)));
  return { pairs: inner.sort((a, b) => (order.get(a.zone) ?? Infinity) - (order.get(b.zone) ?? Infinity)), notices };
}

/** Pairs that `same view:` names, with the things the later photo shows. */
function sameViews(visits: readonly Visit[], lives: readonly Life[]): { pairs: PhotoPair[]; notices: Notice[] } {
  const pairs: PhotoPair[] = [];
  const notices: Notice[] = [];
  for (const [to, visit] of visits.entries()) {
    for (const { zone, note } of visit.inspection.zones.flatMap((zone) => zone.notes.map((note) => ({ zone: zone.zone.id, note })))) {
      const after = note.of && photoNamed(visit, note.of.text);
      if (note.key !== 'same view' || after === undefined) continue;
      const from = visits.slice(0, to).findLastIndex((one) => photoNamed(one, note.words) !== undefined);
      const before = from < 0 ? undefined : photoNamed(visits[from], note.words);
      if (before === undefined) {
        if (to > 0) notices.push(unknownView(note));
        continue;
      }
      const shown = lives.filter((life) => life.standings[to]?.photos.includes(after));
      pairs.push({ zone, lives: shown, from, to, before, after, during: workPhotos(visit, zone, after) });
    }
  }
  return { pairs, notices };
}

/** A photo of a visit by its file name, with or without folder and ending. */
function photoNamed(visit: Visit | undefined, words: string): string | undefined {
  const plain = (name: string): string => name.trim().replace(/\.$/, '').toLowerCase();
  const wanted = plain(words);
  return visit?.inspection.photos.find(({ photo }) => {
    const path = plain(photo.path);
    return [path, path.replace(/\.[a-z0-9]{1,5}$/, '')].some((one) => one === wanted || one.endsWith(`/${wanted}`));
  })?.photo.id;
}

function unknownView({ words, spot }: Note): Notice {
  return { level: 'warning', rule: 'same-view-unknown', spot, found: `"${words}" is no photo of an earlier visit`, expected: 'the file name of one', advice: 'Until then the pair is made of the photos that name the same opening.' };
}

/** Of several photos the one that shows the least else; of openings that were counted, the one that shows most of them. First as written where equal. */
function photoOf(visit: Visit | undefined, life: Life, at: number): string | undefined {
  const ids = life.standings[at]?.photos ?? [];
  const zone = visit?.inspection.zones.find((one) => one.zone.id === life.zone);
  const things = life.kind === 'openings' ? (zone?.rows.filter((row) => row.part.id === life.part?.id) ?? []) : (visit?.inspection.zones.flatMap((one) => [...one.rows, ...one.observations]) ?? []);
  const uses = (id: string): number => things.filter((one) => one.photos.includes(id)).length;
  return ids.toSorted((a, b) => (life.kind === 'openings' ? uses(b) - uses(a) : uses(a) - uses(b)))[0];
}

/** Photos of the zone taken on the day of the later photo and before it, with the same camera: the work under way. */
function workPhotos(visit: Visit | undefined, zone: string, after: string): string[] {
  const last = visit?.inspection.photos.find(({ photo }) => photo.id === after);
  const end = last?.wall;
  if (!visit || !last || !end) return [];
  const earlier = ({ photo, wall, zones }: PlacedPhoto): boolean => zones.includes(zone) && photo.model === last.photo.model && wall !== null && wall.date === end.date && wall.second < end.second;
  return visit.inspection.photos.filter(earlier).toSorted((a, b) => (a.wall?.second ?? 0) - (b.wall?.second ?? 0)).map(({ photo }) => photo.id);
}
