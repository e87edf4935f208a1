import type { Material } from '../model/catalogue.ts';
import type { MaterialNeed, Three } from '../model/cost.ts';
import { namesOne } from '../model/cost.ts';
import type { Inspection, ZoneInspection } from '../model/inspection.ts';
import type { Work } from '../model/notes.ts';
import type { Settings } from '../model/settings.ts';

/**
 * Litres of a liquid for a dry film: area × dry film ÷ (10 × volume solids × (1 − loss)), with solids in percent and the
 * loss as a fraction. One square metre times one µm is one millilitre, so 1 m² at 50 µm dry of 40 % solids takes 0.125 l.
 */
export function litresOf(areaM2: number, filmUm: number, solidsPercent: number, lossPercent: number): number {
  return (areaM2 * filmUm) / (10 * solidsPercent * (1 - lossPercent / 100));
}

/** Wet film that leaves a dry film: what is not solids dries off. */
export function wetFilmOf(filmUm: number, solidsPercent: number): number {
  return (filmUm * 100) / solidsPercent;
}

/** Materials one work puts on, each with the area of the closed sections it is put into. */
export function needsOf(inspection: Inspection, zone: ZoneInspection, work: Work): MaterialNeed[] {
  const { catalogue, settings } = inspection.job;
  return catalogue.materials.filter((material) => material.usedBy.some((kind) => work.kinds.includes(kind))).map((material) => {
    const cavities = cavitiesOf(zone, work);
    const areaM2 = cavities.reduce((sum, cavity) => sum + cavity.areaM2, 0);
    const { filmUm, solidsPercent, lossPercent } = paramsOf(material, settings);
    return {
      zone: zone.zone.id,
      work,
      material: material.id,
      cavities: cavities.map((cavity) => cavity.id),
      areaM2,
      filmUm,
      wetFilmUm: { low: wetFilmOf(filmUm.low, solidsPercent.high), likely: wetFilmOf(filmUm.likely, solidsPercent.likely), high: wetFilmOf(filmUm.high, solidsPercent.low) },
      solidsPercent,
      lossPercent,
      litres: {
        low: litresOf(areaM2, filmUm.low, solidsPercent.high, lossPercent.low),
        likely: litresOf(areaM2, filmUm.likely, solidsPercent.likely, lossPercent.likely),
        high: litresOf(areaM2, filmUm.high, solidsPercent.low, lossPercent.high),
      },
      named: work.parts.some((part) => namesMaterial(inspection, material, part.name)),
    };
  });
}

/** A part that names an opening is no material: a plug for a wax hole. */
function namesMaterial(inspection: Inspection, material: Material, name: string): boolean {
  const openings = inspection.job.catalogue.parts.filter((part) => part.type === 'opening');
  return namesOne(name, [material.name.gb, material.name.us, ...material.also]) && !openings.some((part) => namesOne(name, [part.name.gb, part.name.us, ...part.also]));
}

/** The closed sections the words of the work name; where they name none, all of the zone. */
function cavitiesOf(zone: ZoneInspection, work: Work): ZoneInspection['zone']['record']['cavities'] {
  const { cavities } = zone.zone.record;
  const named = cavities.filter((cavity) => namesOne(`${work.steps} ${work.words}`, [cavity.name, cavity.id]));
  return named.length > 0 ? named : cavities;
}

type Params = Pick<MaterialNeed, 'filmUm' | 'solidsPercent' | 'lossPercent'>;

/** What the settings say of a material, and the catalogue where they are silent. */
function paramsOf(material: Material, settings: Settings): Params {
  const own = settings.materials?.[material.id as 'wax' | 'paint'] ?? {};
  return {
    filmUm: threeOf(own.filmUm ?? material.filmUm),
    solidsPercent: threeOf(own.solidsPercent ?? material.solidsPercent),
    lossPercent: threeOf(own.lossPercent ?? material.lossPercent),
  };
}

/** One number, low and high, or all three, as three. */
export function threeOf(given: number | readonly number[]): Three {
  const [low = 0, ...more] = typeof given === 'number' ? [given] : given;
  const high = more.at(-1) ?? low;
  return { low, likely: more.length === 2 ? (more[0] ?? low) : (low + high) / 2, high };
}
