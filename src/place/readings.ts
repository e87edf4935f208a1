import type { Zone } from '../model/catalogue.ts';
import type { Observation, ReadingVerdict } from '../model/inspection.ts';
import type { Reading } from '../model/notes.ts';
import type { Notice } from '../model/notice.ts';
import { conditionsText, findingCounts, inSentence, partText, termIn, toldBy, zonePhrase } from '../model/wording.ts';
import { readingText } from '../units.ts';
import { filmFigures } from './film.ts';
import { anyOf, saidIn } from './phrases.ts';
import { canBeSamePlace, inOtherCavity } from '../model/same-place.ts';
import type { Terms } from './verdict.ts';

/** What readings of one zone are judged with. */
export interface ReadingTools extends Terms {
  zone: Zone;
  units: 'mm' | 'in';
}

/** Metal on which an ultrasonic gauge reads more than is there. */
const roughMetal = ['scaling', 'pitted', 'thin', 'holed'];
/** What lies over the steel and is read in its stead. */
const overSteel = ['filled', 'overlaid'];
/** The same in the words of a reading. Lead and filler count where the reading is over them. */
const roughWords =
  /\b(?:rough(?:ness|ened|er)?|scal(?:e|ed|es|ing|y)|pitt(?:ed|ing|y)|pits|flak(?:e|es|ed|ing|y)|corroded|corrosion|perforat(?:ed|ion)|holed|rusted through|(?:paper|wafer)[ -]thin|gives under|(?:over|on|through) (?:[\w-]+ )?(?:lead|solder|stopper)|(?<!fuel )filler(?! (?:neck|cap|flap|pipe|pocket)))\b/i;
/** Methods that touch both faces: roughness takes nothing away that was not measured. */
const byTouch = ['caliper', 'micrometer'];

/**
 * Verdict of each reading of a zone, in order, and what is to be said about them. Steel by ultrasound is refused as
 * thickness left where either face was seen rough, scaled, pitted, thin or holed, or filler or another sheet lies over
 * it: the gauge then reads more than is there. Told, guessed and opinion count for nothing. Film is compared later, when
 * the readings of all zones are known.
 */
export function judgeReadings(tools: ReadingTools, readings: readonly Reading[], observations: readonly Observation[]): { verdicts: { reading: Reading; verdict: ReadingVerdict }[]; notices: Notice[] } {
  const notices: Notice[] = [];
  return { verdicts: readings.map((reading) => ({ reading, verdict: verdictOn(tools, reading, observations, notices) })), notices };
}

function verdictOn(tools: ReadingTools, reading: Reading, observations: readonly Observation[], notices: Notice[]): ReadingVerdict {
  const film = reading.quantity === 'film' ? filmFigures(reading) : null;
  const hearsay = hearsayIn(tools, reading);
  const refusal = hearsay ?? (reading.quantity === 'steel' ? roughness(tools, reading, observations) : null);
  if (refusal !== null) {
    if (reading.quantity === 'steel') notices.push(refused(tools, reading, refusal, hearsay !== null));
    return { usable: false, reason: refusal, basis: 'none', lowestMm: null, atMostMm: reading.quantity === 'steel' && hearsay === null ? Math.min(...reading.values) : null, film };
  }
  if (reading.quantity !== 'steel') return { usable: true, reason: '', basis: 'measured', lowestMm: null, atMostMm: null, film };
  const above = aboveNominal(tools, reading);
  if (above) notices.push(above);
  return { usable: true, reason: above ? tooThick : farSide(tools, reading, observations), basis: 'measured', lowestMm: Math.min(...reading.values), atMostMm: null, film };
}

const tooThick = 'thicker than the sheet this zone usually has: an overlaid panel, paint in the reading, or a rough far side';

/** Whose word it is, where the reading is not the inspector's own. */
function hearsayIn(tools: ReadingTools, reading: Reading): string | null {
  if (reading.origin.kind === 'told') return toldBy(reading.origin.by);
  if (reading.origin.kind === 'opinion') return 'opinion';
  // "Not seen" in a reading's words speaks of the far side and takes nothing from the reading.
  const uncounted = tools.catalogue.evidence.filter((one) => !one.counts && one.id !== 'none');
  const one = uncounted.find(({ name, also }) => saidIn(reading.words, anyOf([name.gb, name.us, ...also])) !== null);
  return one ? inSentence(termIn(one.name, tools.language)) : null;
}

/** What was seen of either face, or is written with the reading, that an ultrasonic gauge misreads; null where nothing is. */
function roughness(tools: ReadingTools, reading: Reading, observations: readonly Observation[]): string | null {
  if (byTouch.includes(reading.method)) return null;
  const seen = observations.flatMap((one): string[] => {
    const conditions = one.finding.conditions.filter((id) => roughMetal.includes(id) || overSteel.includes(id));
    if (conditions.length === 0 || !findingCounts(tools.catalogue, one.finding) || !isOfFace(tools, reading, one, conditions)) return [];
    return [`${partText(one.part, one.finding.about.place, tools.language)}: ${conditionsText(tools.catalogue, conditions, tools.language)}`];
  });
  const said = saidIn(`${reading.place}. ${reading.words}`, roughWords);
  const all = [...new Set(seen), ...(said === null ? [] : [`“${said}” is written with the reading`])];
  return all.length === 0 ? null : all.join('; ');
}

/** Whether an observation is of the place that was read, or of the closed section behind it. */
function isOfFace(tools: ReadingTools, reading: Reading, one: Observation, conditions: readonly string[]): boolean {
  const { record } = tools.zone;
  const { place } = one.finding.about;
  if (isInside(one)) return conditions.some((id) => roughMetal.includes(id)) && !inOtherCavity(record, reading.place, place);
  return (one.part.type === 'metal' || one.part.type === 'repair') && canBeSamePlace(record, reading.place, place);
}

/** Metal of a closed section: called so, or seen through an opening. */
function isInside(one: Observation): boolean {
  return one.part.type === 'metal' && (one.part.id.includes('inside') || one.finding.looked.through !== null);
}

/** How far the far side is known, for a reading that counts. */
function farSide(tools: ReadingTools, reading: Reading, observations: readonly Observation[]): string {
  if (byTouch.includes(reading.method)) return `by ${reading.method}, both faces touched`;
  const seen = observations.some((one) => isInside(one) && findingCounts(tools.catalogue, one.finding) && one.finding.conditions.length > 0 && !inOtherCavity(tools.zone.record, reading.place, one.finding.about.place));
  return seen ? 'what was seen of the section behind is not rough' : 'the far side was not seen';
}

/** A value more than a tenth above the thickest sheet of the zone, which is assumed to ±10 %. */
function aboveNominal(tools: ReadingTools, reading: Reading): Notice | null {
  const mostMm = Math.max(...tools.zone.record.cavities.map((cavity) => cavity.sheetMm));
  const limitMm = Math.round(mostMm * 1.1 * 1e6) / 1e6;
  const value = Math.max(...reading.values);
  if (value <= limitMm) return null;
  const show = (mm: number): string => readingText(mm, 'mm', tools.units);
  return {
    level: 'note',
    rule: 'reading-above-nominal',
    spot: reading.spot,
    found: `${nameOf(tools, reading)} reads ${show(value)}, ${tooThick}`,
    expected: `no more than ${show(limitMm)}, a tenth above the sheet of ${show(mostMm)} assumed here`,
    advice: 'Look which it is and write it down. The reading counts as it is.',
  };
}

function refused(tools: ReadingTools, reading: Reading, reason: string, hearsay: boolean): Notice {
  return {
    level: 'warning',
    rule: 'reading-refused',
    spot: reading.spot,
    found: `${nameOf(tools, reading)} does not count as thickness left: ${reason}`,
    expected: hearsay ? 'a reading taken by the inspector' : 'smooth steel on both faces, or a caliper or micrometer',
    advice: hearsay ? 'It is printed as it was told.' : 'On rough steel an ultrasonic gauge reads more than is there. It is printed with the reason; measure with a caliper or micrometer where an edge can be reached.',
  };
}

/** “steel, outer face” of the left sill. */
function nameOf({ zone, language }: ReadingTools, { quantity, place }: Reading): string {
  return `“${place === '' ? quantity : `${quantity}, ${place}`}” of ${zonePhrase(zone, language)}`;
}
