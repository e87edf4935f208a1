import { arc } from './curves.ts';
import type { Curve, Point } from './curves.ts';
import type { Landmarks } from './landmarks.ts';

/** Width of a post, and of front and rear panel seen edge on. */
export const postWidth = 7;
export const panelWidth = 9;

/** The inner edges of the frame around the side windows, and where they meet. */
export interface Glasshouse {
  screen: Curve;
  roof: Curve;
  back: Curve;
  front: Point;
  rear: Point;
}

/** Along an opening for a wheel at a distance, from its rear to its front, between two heights. */
export function around(body: Landmarks, axle: number, radius: number, rear: number, front: number): Curve {
  const angle = (z: number): number => (Math.asin(Math.min(1, Math.max(-1, (z - body.wheel) / radius))) * 180) / Math.PI;
  return arc([axle, body.wheel], radius, angle(rear), 180 - angle(front));
}

/** Width of the arch seen around the rear wheel; a bed hides its own. */
export function ringWidth({ tail }: Landmarks): number {
  return tail === 'bed' ? 0 : 8;
}
