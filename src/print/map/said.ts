import type { Outcome } from '../../model/catalogue.ts';
import { words } from '../../model/printed-words.ts';

/** A zone as the drawing's words name it. */
interface Named {
  name: string;
  state: Outcome;
  gist: string;
}

export type ViewId = keyof typeof words.map.views;

/** What stands at the four edges of a view. An arrow beside "front" is the printer's to draw. */
interface Edges {
  top: string;
  left: string;
  bottom: string;
  right: string;
}

const { front, rear, left, right } = words.map.edges;
const fromAbove: Edges = { top: right, left: front, bottom: left, right: rear };

/** Edges of each view; empty where nothing stands. */
export const viewEdges: Record<ViewId, Edges> = {
  left: { top: '', left: front, bottom: '', right: rear },
  right: { top: '', left: rear, bottom: '', right: front },
  above: fromAbove,
  floor: fromAbove,
  frame: fromAbove,
};

/** The order in which states are named: what matters first. */
export const statesInOrder: readonly Outcome[] = ['defect', 'cannot tell', 'not seen', 'sound', 'not fitted'];

/** Name of an area for those who hear it: "Sill, left: defect, plug missing". */
export function heardName({ name, state, gist }: Named): string {
  const rest = gist.startsWith(`${state}: `) ? gist.slice(state.length + 2) : gist;
  return `${name}: ${words.states[state]}${rest === '' ? '' : `, ${rest}`}`;
}

/** What the drawing shows, for those who do not see it: each state with the zones in it. */
export function alternative(body: string, zones: readonly Named[]): string {
  const said = statesInOrder.flatMap((state) => {
    const names = zones.filter((zone) => zone.state === state).map((zone) => zone.name);
    return names.length === 0 ? [] : [`${words.states[state]}: ${names.join('; ')}`];
  });
  return `${words.map.alternative(body)} ${said.map((text) => `${text.charAt(0).toUpperCase()}${text.slice(1)}.`).join(' ')}`;
}
