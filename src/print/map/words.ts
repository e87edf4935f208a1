import type { Outcome } from '../../model/catalogue.ts';
import { inSentence } from '../../model/wording.ts';

/** A zone as the drawing's words name it. */
interface Named {
  name: string;
  state: Outcome;
  gist: string;
}

export type ViewId = 'left' | 'right' | 'above' | 'floor' | 'frame';

const fromAbove = { top: 'right side', left: 'front', bottom: 'left side', right: 'rear' };

/** Title of each view, and what stands at its four edges. An arrow beside "front" is the printer's to draw. */
export const viewWords: Record<ViewId, { title: string; edges: { top: string; left: string; bottom: string; right: string } }> = {
  left: { title: 'Left side', edges: { top: '', left: 'front', bottom: '', right: 'rear' } },
  right: { title: 'Right side', edges: { top: '', left: 'rear', bottom: '', right: 'front' } },
  above: { title: 'From above', edges: fromAbove },
  floor: { title: 'Floor and structure, from above', edges: fromAbove },
  frame: { title: 'Frame, from above', edges: fromAbove },
};

/** Under the drawing. */
export const seenForward = 'Left and right are the driver’s, looking forward. No particular car is drawn.';

/** The order in which states are named: what matters first. */
export const statesInOrder: readonly Outcome[] = ['defect', 'cannot tell', 'not seen', 'sound', 'not fitted'];

/** Name of an area for those who hear it: "Sill, left: defect, plug missing". */
export function heardName({ name, state, gist }: Named): string {
  const rest = gist.startsWith(`${state}: `) ? gist.slice(state.length + 2) : gist;
  return `${name}: ${state}${rest === '' ? '' : `, ${rest}`}`;
}

/** What the drawing shows, for those who do not see it: each state with the zones in it. */
export function alternative(body: string, zones: readonly Named[]): string {
  const said = statesInOrder.flatMap((state) => {
    const names = zones.filter((zone) => zone.state === state).map((zone) => zone.name);
    return names.length === 0 ? [] : [`${state}: ${names.join('; ')}`];
  });
  return `Drawing of the zones of a body (${body}), from both sides and from above. ${said.map((text) => `${text.charAt(0).toUpperCase()}${text.slice(1)}.`).join(' ')}`;
}

/** A body type nobody has drawn yet. */
export function otherBody(body: string): string {
  return `There is no drawing of this type of body yet (${body}); the usual saloon is drawn in its place.`;
}

/** Zones that sit on one side of a car, not known which. */
export function eitherSide(names: readonly string[]): string {
  return `Drawn on both sides, as the side is not written: ${names.map(inSentence).join(', ')}.`;
}

/** Zones of the job that the drawn body has no place for. */
export function notDrawn(zones: readonly Named[]): string {
  return `Not on the drawing, as a body of this type has no usual place for it: ${zones.map((zone) => `${inSentence(zone.name)} (${zone.state})`).join('; ')}.`;
}
