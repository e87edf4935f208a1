import type { Catalogue, Exposure } from '../model/catalogue.ts';
import type { Observation, RegisterRow } from '../model/inspection.ts';
import type { RiskModel } from '../model/risk.ts';
import { eatenOutside, seenInside } from './inside.ts';
import { placesOf } from './places.ts';
import type { Remedies } from './remedies.ts';
import type { Source } from './source.ts';
import { inOrder, openingStates } from './states.ts';
import type { DrainState, OpeningInput, OpeningKind, OpeningPlace, OpeningState, SectionInput, WaterState } from './states.ts';

/** A closed section as the model takes it. */
export function sectionOf(source: Source): SectionInput {
  const { catalogue, zone, cavity, remedies, surroundings } = source;
  const rows = zone.rows.filter((row) => row.cavity === cavity.id && row.outcome !== 'not fitted');
  const drains = rows.filter(isDrain);
  const openings = inOrder(rows.filter((row) => !isDrain(row) || leaks(row)).map((row) => openingOf(catalogue, row, remedies)));
  const inside = seenInside(catalogue, zone, cavity);
  const places = placesOf(source, [...inside, ...eatenOutside(catalogue, zone, cavity)]);
  const opened = remedies.opensDrains && drains.some((row) => row.outcome !== 'sound');
  return {
    sheetMm: cavity.sheetMm,
    openings,
    drain: drainOf(drains),
    drainOpened: opened,
    water: waterOf(catalogue.risk, inside),
    places,
    protected: remedies.protects,
    worked: openings.some((one) => one.mended) || opened || remedies.protects || places.some((place) => place.renewed),
    surroundings,
  };
}

function isDrain(row: RegisterRow): boolean {
  return row.part.group === 'drain';
}

/** Troubles of a drain that let water in where it should not go. */
const leaking = ['tube-off', 'missing', 'hole-enlarged'];

/** Whether a drain lets water in rather than hold it back. */
export function leaks(row: RegisterRow): boolean {
  return row.seen && row.conditions.some((id) => leaking.includes(id));
}

/** Exposure of the register as a place of the model. */
export const exposedTo: Readonly<Record<Exposure, OpeningPlace>> = { 'wheel spray': 'wheel-spray', 'road spray': 'road-spray', 'rain by design': 'rain', indoors: 'indoors' };

function openingOf(catalogue: Catalogue, row: RegisterRow, remedies: Remedies): OpeningInput {
  const kind: OpeningKind = row.part.group === 'seam' ? 'seam' : row.part.group === 'hole' || row.part.group === 'jacking' ? 'hole' : 'plug';
  return {
    state: row.seen ? (stateOf(catalogue.risk, row) ?? 'unseen') : 'unseen',
    kind,
    place: exposedTo[row.exposure],
    mended: row.outcome === 'defect' && (kind === 'seam' ? remedies.seals : remedies.closes),
  };
}

/** The worst state among the conditions; null where none of them says how much water gets in. */
function stateOf(risk: RiskModel, row: RegisterRow): OpeningState | null {
  const found = openingStates.filter((state) => risk.values.find((value) => value.id === `opening-${state}`)?.conditions.some((id) => row.conditions.includes(id)));
  return found.at(-1) ?? (row.outcome === 'sound' ? 'sound' : null);
}

/** The worst drain rules; one that was not seen may be blocked. */
function drainOf(drains: readonly RegisterRow[]): DrainState {
  const states = drains.map((row): DrainState => {
    if (!row.seen || row.outcome === 'cannot tell') return 'unseen';
    if (row.outcome === 'sound' || row.conditions.every((id) => leaking.includes(id))) return 'open';
    return row.conditions.every((id) => id === 'slow' || leaking.includes(id)) ? 'slow' : 'blocked';
  });
  const order: readonly DrainState[] = ['blocked', 'slow', 'unseen', 'open'];
  return order.find((state) => states.includes(state)) ?? 'none';
}

function waterOf(risk: RiskModel, inside: readonly Observation[]): WaterState {
  const conditions = inside.filter((one) => one.part.type === 'water').flatMap((one) => one.finding.conditions);
  const states = ['standing', 'silt', 'damp'] as const;
  return states.find((state) => risk.values.find((value) => value.id === `water-${state}`)?.conditions.some((id) => conditions.includes(id))) ?? 'nothing seen';
}
