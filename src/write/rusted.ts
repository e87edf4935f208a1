import type { Block, Dossier, Inline } from '../model/dossier.ts';
import type { RustedMeasure } from '../model/inspection.ts';
import type { Region } from '../model/rusted-area.ts';
import { isWhole } from '../model/rusted-area.ts';
import { numberText, percentText } from '../units.ts';
import { nameOfZone, spotText } from './context.ts';
import type { Context } from './context.ts';
import { aside, bullets, link } from './inline.ts';
import { originText, photoCell } from './say.ts';

/** A rusted area with the zone it was counted in. */
export interface RustedInZone extends RustedMeasure {
  zone: string;
}

/** What stands with every rusted area. */
export const rustedLimits = 'It is the visible painted region of the picture only: it says nothing of depth, and perspective distorts it.';

const pointsNote = 'Points on an even grid were counted by eye (systematic manual point count, ASTM E562), with Wilson’s 95 % interval.';
const outlineNote = 'How closely an outline follows the rust is in none of its figures, so it has no interval.';
const wholeNote = 'Of a whole picture, what is no painted surface counts as not rusted: share and grade may then come out too good.';
const gradeNote = 'Rust grades are those of ASTM D610, from 10, hardly any, to 0, more than half.';

/** One sentence for each rusted area, then how it was found and what it does not say; nothing where none was counted or traced. */
export function rustedBlocks(context: Context, all: readonly RustedInZone[], zoned: 'with zone' | 'of one zone'): Block[] {
  if (all.length === 0) return [];
  const lines = all.map((one): Inline => {
    const name = { text: zoned === 'with zone' ? 'rusted area' : 'Rusted area', strong: true as const };
    const photo = photoCell(context, one.photos, one.names);
    const zone: Inline = zoned === 'with zone' ? [link(nameOfZone(context, one.zone), one.zone), '; '] : [];
    return [...zone, name, ...(photo.length === 0 ? [] : [' on ', ...photo]), `: ${sentence(one)}`];
  });
  return [...bullets(lines), aside(notes(all))];
}

function notes(all: readonly RustedInZone[]): string {
  const areas = all.map(({ area }) => area);
  return [
    ...(areas.some(({ how }) => how === 'points') ? [pointsNote] : []),
    ...(areas.some(({ how }) => how === 'outline') ? [outlineNote] : []),
    ...(areas.some(({ region }) => isWhole(region)) ? [wholeNote] : []),
    gradeNote,
    all.length === 1 ? rustedLimits : rustedLimits.replace('It is', 'Each is'),
  ].join(' ');
}

/** "34 of 100 points, 34 % of the region …; 95 % interval 25.5 to 43.7 %; rust grade 2 to 1. lower edge." */
function sentence({ area, words, origin }: RustedMeasure): string {
  const of = `${percentText(area.percent)} of ${regionText(area.region)}`;
  const grade = `rust grade ${area.grades.words}`;
  const found =
    area.how === 'points'
      ? [`${area.hits} of ${area.points} ${area.points === 1 ? 'point' : 'points'}, ${of}`, `95 % interval ${percentText(area.lowPercent, area.highPercent)}`, grade]
      : [`${area.outlines === 1 ? 'one traced outline' : `${area.outlines} traced outlines together`}, ${of}`, grade];
  const whose = originText(origin);
  return [[...found, ...(whose === '' ? [] : [whose])].join('; '), ...(words === '' ? [] : [words.replace(/\.$/, '')])].map((text) => `${text}.`).join(' ');
}

/** "the whole picture", "the region from 10 to 90 % of its width and 10 to 80 % of its height". */
function regionText(region: Region): string {
  if (isWhole(region)) return 'the whole picture';
  const [left, top, right, bottom] = region.map((side) => numberText(side * 100, 1));
  return `the region from ${left} to ${right} % of the width and ${top} to ${bottom} % of the height`;
}

/** Rusted areas of all zones as data, percent to four decimals. */
export function dossierRustedAreas(context: Context): Dossier['rustedAreas'] {
  return context.inspection.zones.flatMap(({ zone, rusted }) => rusted.map((one): Dossier['rustedAreas'][number] => {
    const { area } = one;
    const points = area.how === 'points' ? area : null;
    return {
      zone: zone.id,
      photos: one.photos,
      how: area.how,
      region: [...area.region],
      hits: points && points.hits,
      points: points && points.points,
      outlines: area.how === 'outline' ? area.outlines : null,
      percent: rounded(area.percent),
      lowPercent: points && rounded(points.lowPercent),
      highPercent: points && rounded(points.highPercent),
      bestGrade: area.grades.best,
      worstGrade: area.grades.worst,
      origin: one.origin.kind,
      words: sentence(one),
      limits: rustedLimits,
      written: one.spots.map(spotText),
    };
  }));
}

function rounded(percent: number): number {
  return Math.round(percent * 1e4) / 1e4;
}
