import type { Catalogue, CavityRecord } from '../model/catalogue.ts';
import type { ZoneInspection } from '../model/inspection.ts';
import type { Remedies } from './remedies.ts';
import type { Surroundings } from './states.ts';
import type { CarYears } from './years.ts';

/** What a section is made from. */
export interface Source {
  catalogue: Catalogue;
  zone: ZoneInspection;
  cavity: CavityRecord;
  remedies: Remedies;
  surroundings: Surroundings;
  years: CarYears;
}
