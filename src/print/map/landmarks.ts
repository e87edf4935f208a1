import { smoothParts } from './curves.ts';
import type { Curve, Point } from './curves.ts';

/** What the tail of a body is: a boot with a lid, the same without a roof, a tailgate, two load doors, or an open bed. */
export type Tail = 'boot' | 'open' | 'tailgate' | 'load doors' | 'bed';

/**
 * The places a drawing of a body hangs on, in centimetres: lengths from the foremost point rearwards, heights from the ground,
 * half widths from the middle. Everything between them is drawn the same way for all bodies. No particular car; our judgement.
 */
export interface Landmarks {
  tail: Tail;
  length: number;
  /** Of front and rear axle. */
  axles: readonly [number, number];
  /** Radius of the wheel, and of the opening around it. */
  wheel: number;
  arch: number;
  /** Lower and upper edge of the sill; lower edge of the body before and behind the wheels. */
  sill: { low: number; high: number };
  skirt: number;
  /** The outline from the side, each part from the front to the rear, the nose upwards and the stern downwards. */
  nose: Curve;
  bonnet: Curve;
  screen: Curve;
  roof: Curve;
  back: Curve;
  deck: Curve;
  stern: Curve;
  /** The waistline below the windows, from the screen to the stern. */
  belt: Curve;
  /** Front edges of A-post and B-post, rear edge of the rear door (null without one), and where the side windows end. */
  posts: { a: number; b: number; rear: number | null; glass: number };
  lamp: { at: Point; rx: number; rz: number };
  filler: Point;
  /** From above: half width of the body from the middle of the nose to the middle of the stern. */
  edge: Curve;
  /** Half widths of bonnet, foot and head of the screen, rear edge of the roof, foot of the rear screen, and boot lid. */
  halves: { bonnet: readonly [number, number]; screen: readonly [number, number]; roof: number; back: number; deck: number };
  /** Front and rear edge of the seat pan, or where the floor ends and what follows begins. */
  seat: readonly [number, number];
  /** End of a pickup's cab, or null. */
  cab: number | null;
  /** Half width of a separate frame along the car, null where the body is its own frame. */
  frame: Curve | null;
}

type Part = 'nose' | 'bonnet' | 'screen' | 'roof' | 'back' | 'deck' | 'stern';

/** The outline from points: parts that end where the next begins run on without a corner, save at the feet of the screens. */
export function profile(points: Record<Part, readonly Point[]>): Record<Part, Curve> {
  const { nose, bonnet, screen, roof, back, deck, stern } = points;
  const [noseLine = [], bonnetLine = []] = smoothParts(nose, bonnet);
  const meets = (roof.at(-1) as Point)[0] === (back[0] as Point)[0];
  const [screenLine = [], roofLine = [], backLine = []] = meets ? smoothParts(screen, roof, back) : [...smoothParts(screen, roof), ...smoothParts(back)];
  const [deckLine = [], sternLine = []] = smoothParts(deck, stern);
  return { nose: noseLine, bonnet: bonnetLine, screen: screenLine, roof: roofLine, back: backLine, deck: deckLine, stern: sternLine };
}
