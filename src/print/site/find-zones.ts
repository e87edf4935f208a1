import type { Outcome } from '../../model/catalogue.ts';
import type { Dossier } from '../../model/dossier.ts';
import { saidOf } from './find-words.ts';

/** A zone as the index names it. */
export interface IndexZone {
  id: string;
  name: string;
  /** Its record: `sill` of `sill-left`; empty where the dossier does not say. */
  kind: string;
  carriesLoad: boolean;
  /** As in the list of zones; null where it is not in it. */
  state: Outcome | null;
  /** Coverage and what matters in it, as in the list of zones. */
  said: string;
}

/** Zones front to rear. Of an issue that carries no index: those of the list of zones, then others the register names. */
export function zonesOf(dossier: Dossier): Map<string, IndexZone> {
  const listed = dossier.sections.flatMap(({ blocks }) => blocks.flatMap((block) => (block.type === 'zones' ? block.items : [])));
  const items = new Map(listed.map((item) => [item.zone, item]));
  const ids = dossier.index?.zones.map(({ id }) => id) ?? [...items.keys(), ...dossier.register.map(({ zone }) => zone)];
  const known = new Map(dossier.index?.zones.map((zone) => [zone.id, zone]));
  return new Map([...new Set([...ids, ...items.keys()])].map((id): [string, IndexZone] => {
    const item = items.get(id);
    const zone = known.get(id);
    return [id, {
      id,
      name: zone?.name ?? item?.name ?? id.replaceAll('-', ' '),
      kind: zone?.kind ?? '',
      carriesLoad: zone?.carriesLoad ?? item?.structure ?? false,
      state: item?.state ?? null,
      said: item ? saidOf([item.coverage, item.gist]) : '',
    }];
  }));
}
