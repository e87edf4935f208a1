import type { Outcome } from '../../model/catalogue.ts';
import { words } from '../../model/printed-words.ts';
import { inSentence } from '../../model/wording.ts';
import type { ZoneMap } from '../../model/zone-map.ts';
import { pickup, van } from './carriers.ts';
import { convertible, coupe, estate, saloon, separateChassis } from './cars.ts';
import type { Point } from './curves.ts';
import { setLabels } from './labels.ts';
import type { DrawnLabel } from './labels.ts';
import type { Landmarks } from './landmarks.ts';
import { setViews } from './paper.ts';
import type { SetArea, SetView } from './paper.ts';
import { alternative, heardName, statesInOrder, viewEdges } from './said.ts';
import type { ViewId } from './said.ts';
import type { Pen } from './shapes.ts';

export type { DrawnLabel } from './labels.ts';
export type { Pen } from './shapes.ts';

/** Where a zone is seen in a view. */
export interface DrawnArea {
  /** Anchor of the zone. */
  zone: string;
  /** Absolute M, L, C, Z and plain decimals; filled by the even-odd rule. */
  d: string;
  /** Thin lines upon it, the same commands; may be empty. */
  detail: string;
  state: Outcome;
  /** The view in which the zone is seen best: there it is reached by keyboard and named. */
  main: boolean;
  /** For those who hear it or point at it: "Sill, left: defect, plug missing". */
  heard: string;
  /** A point well within it. */
  label: Point;
}

/** One view of the body. All views have one scale and width, with the axles at the same places. */
export interface DrawnView {
  id: ViewId;
  title: string;
  /** What stands at its edges: "front", "left side". */
  edges: { top: string; left: string; bottom: string; right: string };
  /** The edge at which the front is. */
  front: 'left' | 'right';
  /** Left, top, width, height. */
  frame: readonly [number, number, number, number];
  ink: { pen: Pen; d: string }[];
  /** Front to rear, as the zones stand in the list. */
  areas: DrawnArea[];
  labels: DrawnLabel[];
}

export interface DrawnMap {
  views: DrawnView[];
  /** Size of the letters of the labels, in units of the drawing. */
  labelSize: number;
  /** States that occur, what matters first: what the key has to say. */
  states: Outcome[];
  /** How it is to be read, and what it cannot show: whole sentences. */
  notes: string[];
  /** Text alternative of the whole. */
  alt: string;
}

const bodies: Record<string, (rearDoors: boolean) => Landmarks> = {
  saloon, coupe, convertible, estate, van, pickup, 'separate-chassis': separateChassis,
};
const usualBody = saloon;

/** Ids of the bodies there are drawings of. */
export const drawnBodies: readonly string[] = Object.keys(bodies);

const kept = new Map<string, SetView[]>();

/** The views of a body, drawn once for the process: a pure cache. A body nobody has drawn yet is drawn as a saloon. */
function viewsOf(body: string, rearDoors: boolean): SetView[] {
  const key = `${body} ${rearDoors}`;
  const known = kept.get(key);
  if (known) return known;
  const views = setViews((bodies[body] ?? usualBody)(rearDoors));
  kept.set(key, views);
  return views;
}

type MapZone = ZoneMap['zones'][number];

/** Zones that sit on one side of a car although their record has no sides: both sides show them. */
const onOneSide = ['fuel-filler', 'sliding-door-rail'];

/**
 * A body map as both printers draw it: views with quiet lines, areas in their states, names. Pure; the same map gives the
 * same drawing.
 * @param labelSize of the names of zones with defects, in units of the drawing (centimetres of the car)
 */
export function drawnMap(map: ZoneMap, labelSize = 11): DrawnMap {
  const views = viewsOf(map.body, map.rearDoors);
  const zones = new Map(map.zones.map((zone, order) => [zone.zone, { ...zone, order }]));
  const placed = views.map((view) => ({ view, areas: view.areas.flatMap((area) => { const zone = zones.get(zoneOf(area, zones)); return zone ? [{ area, zone }] : []; }) }));
  const drawn = new Set(placed.flatMap(({ areas }) => areas.map(({ zone }) => zone.zone)));
  const best = new Map([...drawn].map((zone) => [zone, bestView(zone, placed)]));
  const labelled = placed.map(({ view, areas }) => setLabels(areas.filter(({ zone }) => zone.state === 'defect' && best.get(zone.zone) === view.id).map(({ area, zone }) => ({ zone: zone.zone, name: zone.name, structure: zone.structure, area })), view, labelSize));
  const absent = map.zones.filter((zone) => !drawn.has(zone.zone));
  const either = map.zones.filter((zone) => onOneSide.includes(zone.zone) && drawn.has(zone.zone));
  return {
    views: placed.map(({ view, areas }, at) => {
      // Views that stand side by side have their bands alike, so that both stand on one line.
      const band = (side: 'top' | 'bottom'): number => Math.max(...placed.flatMap((other, index) => (rowOf(other.view.id) === rowOf(view.id) ? [labelled[index]?.[side] ?? 0] : [])));
      return {
        id: view.id,
        title: words.map.views[view.id],
        edges: viewEdges[view.id],
        front: view.id === 'right' ? ('right' as const) : ('left' as const),
        frame: [0, 0 - band('top'), view.width, view.height + band('top') + band('bottom')] as const,
        ink: view.ink,
        areas: areas
          .toSorted((a, b) => a.zone.order - b.zone.order)
          .map(({ area, zone }) => ({ zone: zone.zone, d: area.d, detail: area.detail, state: zone.state, main: best.get(zone.zone) === view.id, heard: heardName(zone), label: area.label })),
        labels: labelled[at]?.labels ?? [],
      };
    }),
    labelSize,
    states: statesOf(map.zones),
    notes: [
      ...(map.doubt === '' ? [] : [map.doubt]),
      words.map.seenForward,
      ...(map.body in bodies ? [] : [words.map.otherBody(map.bodyName)]),
      ...(either.length > 0 ? [words.map.eitherSide(either.map(({ name }) => inSentence(name)))] : []),
      ...(absent.length > 0 ? [words.map.notDrawn(absent.map(({ name, state }) => `${inSentence(name)} (${words.states[state]})`))] : []),
    ],
    alt: alternative(map.bodyName, map.zones),
  };
}

function statesOf(zones: readonly MapZone[]): Outcome[] {
  return statesInOrder.filter((state) => zones.some((zone) => zone.state === state));
}

/** The id of the zone an area stands for: the record's own, or that of its side. */
function zoneOf({ record, side }: SetArea, zones: ReadonlyMap<string, unknown>): string {
  return side !== null && zones.has(`${record}-${side}`) ? `${record}-${side}` : record;
}

function rowOf(id: ViewId): string {
  return id === 'left' || id === 'right' ? 'sides' : id === 'frame' ? 'frame' : 'plans';
}

/** The view that shows a zone best: its own side, then the skin from above, then the structure; frames in their own view. */
function bestView(zone: string, placed: readonly { view: SetView; areas: readonly { area: SetArea; zone: MapZone }[] }[]): ViewId | null {
  const showing = placed.filter(({ areas }) => areas.some((area) => area.zone.zone === zone)).map(({ view }) => view.id);
  const sided = /-(left|right)$/.test(zone);
  const order: readonly ViewId[] = sided ? ['frame', 'left', 'right', 'above', 'floor'] : ['frame', 'above', 'floor', 'left', 'right'];
  return order.find((id) => showing.includes(id)) ?? null;
}
