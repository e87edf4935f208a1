import type { Dossier, Section } from '../../../src/model/dossier.ts';
import type { ZoneMap } from '../../../src/model/zone-map.ts';
import { sampleDossier } from '../sample-dossier.ts';
import { wholeMap } from './maps.ts';

/** Zones of the made-up dossier that have no place in it: their areas lead nowhere. */
export const placeless = ['front-panel', 'door-left', 'tunnel'];

/** An overview with a body map, and for nearly every zone a page of its own. */
export function mapDossier(map: ZoneMap = wholeMap('saloon', true)): Dossier {
  const items = map.zones.filter(({ zone }) => !placeless.includes(zone)).map(({ zone, name, state, structure, gist }) => ({ zone, name, state, structure, gist, coverage: '3 of 5 known openings seen' }));
  const pages = items.map(({ zone, name }): Section => ({ id: zone, title: name, page: `zones/${zone}`, breakBefore: false, blocks: [{ type: 'paragraph', inline: ['What was found.'] }] }));
  return { ...sampleDossier(), photos: [], sections: [{ id: 'zones', title: 'Zones', page: 'index', nav: 'Zones', breakBefore: true, blocks: [{ type: 'zones', map, items }] }, ...pages] };
}
