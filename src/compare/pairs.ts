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
    const [before, after] = [photoOf(visits[first], life, first), photoOf(visits[last], life, last)];
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
