import type { Part } from '../model/catalogue.ts';
import type { Between, Change, Life, Turn } from '../model/comparison.ts';
import { turns } from '../model/comparison.ts';
import type { ZoneInspection } from '../model/inspection.ts';
import type { Reading } from '../model/notes.ts';
import type { Visit } from '../model/visits.ts';
import { changeOfCounted } from './counted.ts';
import { turnOfReading } from './readings.ts';
import { standingOfFindings } from './things.ts';
import { turnOf } from './turn.ts';

/** Parts that are found inside a section, where a place is said as far as the camera went. */
const insideParts = ['metal-inside', 'coating-inside', 'water'];

/** What changed in the zones of two visits, and what did not; `at` is the later of them. */
export function betweenOf(visits: readonly Visit[], lives: readonly Life[], at: number): Between {
  const [before, after] = [visits[at - 1], visits[at]];
  if (!before || !after) return { changes: [], unchanged: [], zonesLeft: [] };
  const [old, now] = [before, after].map((visit) => new Map(visit.inspection.zones.map((zone) => [zone.zone.id, zone]))) as [Map<string, ZoneInspection>, Map<string, ZoneInspection>];
  const order = [...new Set([...now.keys(), ...old.keys()])];
  const all = order.flatMap((id) => {
    const [was, is] = [old.get(id), now.get(id)];
    return was?.entered && is?.entered ? changesInZone(after, was, is, lives.filter((life) => life.zone === id), at) : is?.entered ? firstSeen(lives.filter((life) => life.zone === id), at) : [];
  });
  const isSame = ({ turn }: Change): boolean => turn === 'unchanged';
  const byTurn = (a: Change, b: Change): number => order.indexOf(a.zone) - order.indexOf(b.zone) || turns.indexOf(a.turn) - turns.indexOf(b.turn);
  return {
    changes: all.filter((change) => !isSame(change)).sort(byTurn),
    unchanged: all.filter((change) => isSame(change) && change.before?.seen === true),
    zonesLeft: order.filter((id) => old.get(id)?.entered && !now.get(id)?.entered),
  };
}

/** A zone that was not entered before: all that was seen of it is newly seen. */
function firstSeen(lives: readonly Life[], at: number): Change[] {
  return lives.filter((life) => life.standings[at]?.seen).map((life) => changeOf(life, at, 'newly seen'));
}

function changesInZone(visit: Visit, before: ZoneInspection, after: ZoneInspection, lives: readonly Life[], at: number): Change[] {
  const counted = partsCounted(before, after);
  const both = lives.filter((life) => life.standings[at - 1] && life.standings[at] && life.kind !== 'openings');
  const matched = new Set(both.filter(({ kind }) => kind === 'opening').flatMap((life) => [life.standings[at - 1]?.id ?? '', life.standings[at]?.id ?? '']));
  const single = lives.filter((life) => life.kind !== 'openings' && !both.includes(life) && !counted.some((part) => life.kind === 'opening' && part.id === life.part?.id));
  const insides = insideParts.map((part) => single.filter((life) => life.kind === 'finding' && life.part?.id === part));
  const asWhole = insides.flatMap((group) => insideChange(visit, group, before, after, at));
  const told = new Set(insides.filter((group) => isBothSides(group, at)).flat());
  return [
    ...both.map((life) => changeOf(life, at, turnIn(visit, life, at))),
    ...counted.flatMap((part) => changeOfCounted(visit, part, before, after, matched) ?? []),
    ...asWhole,
    ...single.filter((life) => !told.has(life)).flatMap((life) => singleChange(life, before, after, at)),
  ];
}

/** Kinds of opening of which some are only counted, at either visit. */
function partsCounted(before: ZoneInspection, after: ZoneInspection): Part[] {
  const rows = [...after.rows, ...before.rows].filter((row) => row.known === 'counted');
  return [...new Map(rows.map((row) => [row.part.id, row.part])).values()];
}

function turnIn({ inspection }: Visit, { kind, of, standings }: Life, at: number): Turn {
  const [before = null, after = null] = [standings[at - 1], standings[at]];
  return kind === 'reading' ? turnOfReading(of as Reading['quantity'], before, after) : turnOf(inspection.job.catalogue, before, after);
}

function changeOf({ kind, zone, part, place, of, standings }: Life, at: number, turn: Turn): Change {
  const [before = null, after = null] = [standings[at - 1], standings[at]];
  const wasCalled = before && after && before.place !== after.place ? before.place : '';
  return { kind, zone, part, place: after?.place ?? before?.place ?? place, of, turn, before, after, wasCalled };
}

/** A thing written at one of the two visits only, in a zone entered at both. */
function singleChange(life: Life, before: ZoneInspection, after: ZoneInspection, at: number): Change[] {
  const [was = null, is = null] = [life.standings[at - 1], life.standings[at]];
  if (!was && !is) return [];
  if (life.kind !== 'opening') return was?.seen || is?.seen ? [changeOf(life, at, is ? 'newly seen' : 'no longer seen')] : [];
  // Where nobody named one of its kind at the other visit, it stands there as a kind whose number is not known.
  const unnamed = (zone: ZoneInspection): boolean => zone.rows.every((row) => row.part.id !== life.part?.id || row.known === 'kind');
  if (is) return unnamed(before) ? (is.seen ? [changeOf(life, at, 'newly seen')] : []) : [changeOf(life, at, 'newly named')];
  if (!was?.seen && unnamed(after)) return [];
  return [changeOf(life, at, unnamed(after) ? 'no longer seen' : 'no longer named')];
}

function isBothSides(group: readonly Life[], at: number): boolean {
  return group.some((life) => life.standings[at - 1]?.seen) && group.some((life) => life.standings[at]?.seen);
}

/** What was found inside at places that are called otherwise now: the worst of each visit stands against the other. */
function insideChange(visit: Visit, group: readonly Life[], before: ZoneInspection, after: ZoneInspection, at: number): Change[] {
  const part = group[0]?.part;
  if (!part || !isBothSides(group, at)) return [];
  const { catalogue, settings } = visit.inspection.job;
  const found = (zone: ZoneInspection, index: number): Change['before'] => {
    const ids = new Set(group.flatMap((life) => life.standings[index]?.place ?? []));
    const own = zone.observations.filter((one) => one.part.id === part.id && ids.has(one.finding.about.place.toLowerCase()));
    const places = [...ids].filter((place) => place !== '');
    const standing = standingOfFindings(catalogue, settings.language, own, '');
    return { ...standing, words: places.length > 0 ? `${standing.words} (${places.join('; ')})` : standing.words };
  };
  const [was, is] = [found(before, at - 1), found(after, at)];
  return [{ kind: 'inside', zone: after.zone.id, part, place: '', of: '', wasCalled: '', turn: turnOf(catalogue, was, is), before: was, after: is }];
}
