import type { Outcome } from '../../model/catalogue.ts';
import type { ZoneMap } from '../../model/zone-map.ts';
import { drawnMap } from '../map/index.ts';
import type { DrawnArea, DrawnMap, DrawnView } from '../map/index.ts';

/** A body map whose areas lead to their zones; `href` is null where this dossier has no place for a zone. */
export interface SiteMap extends Omit<DrawnMap, 'views'> {
  views: (Omit<DrawnView, 'areas'> & { areas: (DrawnArea & { href: string | null })[]; hatches: Hatch[] })[];
}

/** For paper: the lines of a state over a whole view, cut to the areas in that state, by their places among the areas. */
export interface Hatch {
  state: Outcome;
  d: string;
  areas: number[];
}

/** The drawing with its links as they lead from one page. */
export function siteMap(map: ZoneMap, hrefOf: (anchor: string) => string | null): SiteMap {
  const drawn = drawnMap(map);
  return { ...drawn, views: drawn.views.map((view) => ({ ...view, areas: view.areas.map((area) => ({ ...area, href: hrefOf(area.zone) })), hatches: hatchesOf(view) })) };
}

/** Distance of lines and whether they slant, by state; sound has a plain tint. The same as the patterns of the screen. */
const hatchings: Partial<Record<Outcome, { pitch: number; slanted: boolean }>> = {
  defect: { pitch: 4.8, slanted: true },
  'not seen': { pitch: 6, slanted: true },
  'cannot tell': { pitch: 5, slanted: false },
  'not fitted': { pitch: 8, slanted: false },
};

/** A browser prints a pattern as a picture of many megabytes, and lines as lines. */
function hatchesOf({ frame, areas }: DrawnView): Hatch[] {
  return Object.entries(hatchings).flatMap(([state, { pitch, slanted }]): Hatch[] => {
    const own = areas.flatMap((area, at) => (area.state === state ? [at] : []));
    return own.length === 0 ? [] : [{ state: state as Outcome, d: linesOver(frame, pitch, slanted), areas: own }];
  });
}

function linesOver([x, y, width, height]: DrawnView['frame'], pitch: number, slanted: boolean): string {
  const tenth = (number: number): number => Math.round(number * 10) / 10;
  // Slanted lines of one distance lie farther apart along the edge.
  const step = slanted ? pitch * Math.SQRT2 : pitch;
  const count = Math.ceil((slanted ? width + height : height) / step);
  return Array.from({ length: count }, (_, index) => {
    const at = tenth((index + 0.5) * step);
    if (!slanted) return `M${x} ${tenth(y + at)}h${width}`;
    // From the upper or right edge of the frame to its left or lower edge.
    const [right, left] = [Math.min(at, width), Math.max(at - height, 0)];
    return `M${tenth(x + right)} ${tenth(y + at - right)}L${tenth(x + left)} ${tenth(y + at - left)}`;
  }).join('');
}

