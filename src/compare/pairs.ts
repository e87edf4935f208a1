import type { Life, PhotoPair } from '../model/comparison.ts';
import type { PlacedPhoto } from '../model/inspection.ts';
import type { Visit } from '../model/visits.ts';

/**
 * Photos of one thing from two visits: the first visit that showed it with a photo, and the last. Between them stand its
 * photos of visits between, and those of its zone taken on the last day before the last photo. Two things on the same two
 * photos are one pair. In the order of the body.
 */
export function pairsOf(visits: readonly Visit[], lives: readonly Life[]): PhotoPair[] {
  const pairs = new Map<string, PhotoPair>();
  for (const life of lives) {
    const shown = life.standings.flatMap((standing, at) => (standing && standing.photos.length > 0 ? [at] : []));
    const [first, last] = [shown[0], shown.at(-1)];
    if (first === undefined || last === undefined || first === last) continue;
    const [before, after] = [ownPhoto(visits[first], life.standings[first]?.photos), ownPhoto(visits[last], life.standings[last]?.photos)];
    if (before === undefined || after === undefined) continue;
    const known = pairs.get(`${before} ${after}`);
    if (known) known.lives.push(life);
    else {
      const between = shown.slice(1, -1).flatMap((at) => life.standings[at]?.photos ?? []);
      pairs.set(`${before} ${after}`, { zone: life.zone, lives: [life], from: first, to: last, before, after, during: [...new Set([...between, ...workPhotos(visits[last], life.zone, after)])] });
    }
  }
  const order = new Map((visits.at(-1)?.inspection.zones ?? []).map((zone, index) => [zone.zone.id, index]));
  return [...pairs.values()].sort((a, b) => (order.get(a.zone) ?? Infinity) - (order.get(b.zone) ?? Infinity));
}

/** Of several photos the one that shows the least else: the fewest things are written about it. First as written where equal. */
function ownPhoto(visit: Visit | undefined, ids: readonly string[] | undefined): string | undefined {
  if (!visit || !ids) return undefined;
  const uses = (id: string): number => visit.inspection.zones.flatMap((zone) => [...zone.rows, ...zone.observations]).filter((one) => one.photos.includes(id)).length;
  return ids.toSorted((a, b) => uses(a) - uses(b))[0];
}

/** Photos of the zone taken on the day of the later photo and before it: the work under way. */
function workPhotos(visit: Visit | undefined, zone: string, after: string): string[] {
  const end = visit?.inspection.photos.find(({ photo }) => photo.id === after)?.wall;
  if (!visit || !end) return [];
  const earlier = ({ wall, zones }: PlacedPhoto): boolean => zones.includes(zone) && wall !== null && wall.date === end.date && wall.second < end.second;
  return visit.inspection.photos.filter(earlier).toSorted((a, b) => (a.wall?.second ?? 0) - (b.wall?.second ?? 0)).map(({ photo }) => photo.id);
}
