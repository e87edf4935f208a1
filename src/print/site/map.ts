import type { ZoneMap } from '../../model/zone-map.ts';
import { drawnMap } from '../map/index.ts';
import type { DrawnArea, DrawnMap, DrawnView } from '../map/index.ts';

/** A body map whose areas lead to their zones; `href` is null where this dossier has no place for a zone. */
export interface SiteMap extends Omit<DrawnMap, 'views'> {
  views: (Omit<DrawnView, 'areas'> & { areas: (DrawnArea & { href: string | null })[] })[];
}

/** The drawing with its links as they lead from one page. */
export function siteMap(map: ZoneMap, hrefOf: (anchor: string) => string | null): SiteMap {
  const drawn = drawnMap(map);
  return { ...drawn, views: drawn.views.map((view) => ({ ...view, areas: view.areas.map((area) => ({ ...area, href: hrefOf(area.zone) })) })) };
}
