import type { Block, Dossier, Inline } from '../model/dossier.ts';
import type { RustedMeasure, ZoneInspection } from '../model/inspection.ts';
import type { Region } from '../model/rusted-area.ts';
import { isWhole, rustCounted, seenRust } from '../model/rusted-area.ts';
import type { RustedArea } from '../model/rusted-area.ts';
import { countText, numberText, percentText, roughPercentText } from '../units.ts';
import { nameOfZone, spotText } from './context.ts';
import type { Context } from './context.ts';
import { aside, bullets, joined, link, paragraph } from './inline.ts';
import { originText, photoCell } from './say.ts';

/** A rusted area with the zone it was counted in. */
export interface RustedInZone extends RustedMeasure {
  zone: string;
}

/** What stands with every rusted area. */
const rustedLimits = 'It is the visible painted region of the picture only: it says nothing of depth, and perspective distorts it.';

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

/**
 * The rust counted or traced in a zone as a clause, the largest share first: "rusted: 31 of 96 points, 32 % (24 to 42)".
 * Empty where nobody did, or it is hearsay or opinion.
 */
export function rustedClause(all: readonly RustedMeasure[]): string {
  const [largest, ...others] = rustCounted(all).toSorted((a, b) => b.area.percent - a.area.percent);
  if (!largest) return '';
  const more = others.length === 0 ? '' : `, and ${countText(others.length, 'more region', 'more regions')}`;
  if (largest.area.percent === 0) return `no rust on the regions counted: ${shareText(largest.area)}${more}`;
  return `rusted: ${shareText(largest.area)}${more}`;
}

/** Where rust was counted or traced, the largest share first, three zones at most; nothing where it was not. */
export function rustedSummary(context: Context): Block[] {
  const share = ({ rusted }: ZoneInspection): number => Math.max(...rustCounted(rusted).map(({ area }) => area.percent));
  const zones = context.inspection.zones.filter(({ rusted }) => seenRust(rusted)).toSorted((a, b) => share(b) - share(a));
  if (zones.length === 0) return [];
  const named = zones.slice(0, 3).map(({ zone, rusted }): Inline => [link(nameOfZone(context, zone.id), zone.id), ` (${rustedClause(rusted).replace(/^rusted: /, '')})`]);
  const more: Inline[] = zones.length > 3 ? [[`${countText(zones.length - 3, 'more zone', 'more zones')}`]] : [];
  return [paragraph('Rusted, of a region counted or traced on a photo: ', ...joined([...named, ...more], '; '), '.')];
}

/** "31 of 96 points, 32 % (24 to 42)"; of outlines, whose error is not known, "8 % by outline". */
function shareText(area: RustedArea): string {
  if (area.how === 'outline') return `${roughPercentText(area.percent)} by outline`;
  return `${area.hits} of ${countText(area.points, 'point', 'points').replace(/^one/, '1')}, ${roughPercentText(area.percent, area.lowPercent, area.highPercent)}`;
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
