import type { Catalogue, CavityRecord } from '../model/catalogue.ts';
import type { Observation, ZoneInspection } from '../model/inspection.ts';
import type { RiskModel } from '../model/risk.ts';
import { conditionOf } from '../model/wording.ts';
import { isPartOnly, namesCavity } from './inside.ts';
import type { Source } from './source.ts';
import { yearsSince, yearWritten } from './years.ts';
import type { CarYears } from './years.ts';
import { coatingStates, metalStates } from './states.ts';
import type { CoatingState, MetalState, PlaceInput } from './states.ts';

/**
 * The places inside one closed section: each where metal was seen, each with a usable reading, and the rest that nobody
 * saw, unless metal was seen without being said to be of a part only and nothing is written as not seen.
 */
export function placesOf(source: Source, inside: readonly Observation[]): PlaceInput[] {
  const { zone, cavity } = source;
  const metal = inside.filter((one) => one.part.type === 'metal');
  const seen = metal.map((one) => metalPlace(source, one, inside));
  const worstSeen = metalStates.findLast((state) => seen.some((place) => place.metal === state)) ?? 'unseen';
  // A refused reading is no thickness left, but steel on which the gauge reads too much is not thicker than it reads.
  const measured = readingsIn(zone, cavity).map((measuredMm): PlaceInput => ({ ...unseenPlace, metal: worstSeen, ...coatOf(source, inside, ''), measuredMm }));
  const rest: PlaceInput[] = insideSeenOf(zone, cavity, metal) === 'whole' ? [] : [restOf(source, inside)];
  const all = [...seen, ...measured, ...rest];
  if (source.remedies.steel === 'replaced') return all.map((place) => ({ ...place, renewed: true }));
  return all;
}

const unseenPlace: PlaceInput = { metal: 'unseen', coating: 'unseen', measuredMm: null, newYears: null, coatedYears: 0, renewed: false };

/** How much of the metal inside was seen. */
export function insideSeenOf(zone: ZoneInspection, cavity: CavityRecord, metal: readonly Observation[]): 'whole' | 'part' | 'none' {
  const usable = metal.filter((one) => one.outcome !== 'cannot tell');
  if (usable.length === 0) return metal.length === 0 ? 'none' : 'part';
  const whole = usable.some((one) => one.part.id.includes('inside') && !isPartOnly(cavity, one.finding.about.place));
  return whole && !writtenUnseen(zone, cavity) ? 'whole' : 'part';
}

/** Whether a place of this section is written as not seen: one that names no opening, and no other section of the zone. */
function writtenUnseen(zone: ZoneInspection, cavity: CavityRecord): boolean {
  const others = zone.zone.record.cavities.filter((one) => one !== cavity);
  return zone.notSeen.some(({ entry }) => {
    const opening = entry.about !== null && zone.rows.some((row) => row.part.id === entry.about?.part);
    const what = entry.what.toLowerCase();
    return !opening && (namesCavity(cavity, what) || !others.some((one) => namesCavity(one, what)));
  });
}

/** Steel nobody saw: its coating was not seen either, save where a coating was seen and nothing is written as not seen. */
function restOf(source: Source, inside: readonly Observation[]): PlaceInput {
  const { zone, cavity } = source;
  const coated = inside.some((one) => one.part.type === 'coating' && !isPartOnly(cavity, one.finding.about.place));
  if (!coated || writtenUnseen(zone, cavity)) return unseenPlace;
  return { ...unseenPlace, ...coatOf(source, inside, '') };
}

function metalPlace(source: Source, one: Observation, inside: readonly Observation[]): PlaceInput {
  const { catalogue, years, remedies } = source;
  const { conditions, about } = one.finding;
  const metal = metalOf(catalogue.risk, conditions);
  const weak = conditions.some((id) => conditionOf(catalogue, id)?.weakens);
  const isNew = conditions.some((id) => id === 'new' || id === 'replaced');
  const since = isNew ? yearsSince(yearWritten(one), years) : null;
  return {
    ...unseenPlace,
    metal: isNew && metal === 'unseen' ? (conditions.includes('new') || since !== null ? 'sound' : 'unseen') : metal,
    ...coatOf(source, inside, about.place),
    newYears: metal === 'unseen' ? since : null,
    renewed: remedies.steel === 'patched' && (weak || metal === 'holed' || metal === 'thin'),
  };
}

/** The worst state of the metal; what a patch, filler or a second sheet hides is unseen. */
function metalOf(risk: RiskModel, conditions: readonly string[]): MetalState | 'unseen' {
  if (conditions.includes('holed')) return 'holed';
  const ids: Readonly<Record<string, string>> = { sound: 'loss-sound', 'surface-rust': 'loss-surface-rust', scaling: 'loss-scaling', pitted: 'pit-depth', thin: 'thin-left' };
  const found = metalStates.findLast((state) => risk.values.find((value) => value.id === ids[state])?.conditions.some((id) => conditions.includes(id)));
  const hides = conditions.some((id) => ['patched', 'overlaid', 'filled'].includes(id));
  return found === undefined || (hides && metalStates.indexOf(found) < metalStates.indexOf('thin')) ? 'unseen' : found;
}

/** The coating at a place, and for how long it has been there where that is known. */
function coatOf({ catalogue, cavity, years }: Source, inside: readonly Observation[], place: string): Pick<PlaceInput, 'coating' | 'coatedYears'> {
  const coating = coatingAt(catalogue, inside, place, cavity);
  return { coating, coatedYears: coatedYearsOf(inside, years, coating) };
}

/** The worst coating seen at a place, or without a place; a coating seen elsewhere in the section says nothing of it. */
function coatingAt(catalogue: Catalogue, inside: readonly Observation[], place: string, cavity: CavityRecord): CoatingState | 'unseen' {
  const ids: Readonly<Record<CoatingState, string>> = { 'wax-good': 'protection-wax-good', paint: 'protection-paint', 'wax-thin': 'protection-wax-thin', none: 'protection-none' };
  const conditions = inside
    .filter((one) => one.part.type === 'coating' && (one.finding.about.place === place || !isPartOnly(cavity, one.finding.about.place)))
    .flatMap((one) => one.finding.conditions);
  return coatingStates.findLast((state) => catalogue.risk.values.find((value) => value.id === ids[state])?.conditions.some((id) => conditions.includes(id))) ?? 'unseen';
}

/** "Waxed 2021" tells when, not how it looks today. */
function coatedYearsOf(inside: readonly Observation[], years: CarYears, coating: CoatingState | 'unseen'): number {
  if (coating === 'unseen' || coating === 'none') return 0;
  return Math.max(0, ...inside.filter((one) => one.part.type === 'coating').map((one) => yearsSince(yearWritten(one), years) ?? 0));
}

/** Least of the thickness readings at the walls of this section, usable ones and those that say what is left at most, mm; empty where there is none. */
function readingsIn(zone: ZoneInspection, cavity: CavityRecord): number[] {
  return [leastReading(zone, cavity, 'lowestMm'), leastReading(zone, cavity, 'atMostMm')].filter((mm) => mm !== null);
}

/** The least reading of one kind at the walls of a section, mm; null where there is none. */
export function leastReading(zone: ZoneInspection, cavity: CavityRecord, kind: 'lowestMm' | 'atMostMm'): number | null {
  const all = zone.zone.record.cavities;
  const least = zone.readings.flatMap(({ reading, verdict }) => {
    const mm = verdict[kind];
    if (mm === null) return [];
    const named = all.filter((one) => touches(one, reading.place));
    return named.length === 0 || named.includes(cavity) ? [mm] : [];
  });
  return least.length === 0 ? null : Math.min(...least);
}

/** "Outer face" is a wall of the outer cell: the place and the wall begin with the same word. */
function touches(cavity: CavityRecord, place: string): boolean {
  if (place === '') return false;
  if (namesCavity(cavity, place)) return true;
  const [first = ''] = place.split(/[\s,]+/);
  return [cavity.name, ...cavity.walls].some((name) => place.includes(name.toLowerCase()) || name.toLowerCase().split(/\s+/)[0] === first);
}
