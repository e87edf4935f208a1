import { zonesOf } from '../model/catalogue.ts';
import type { FilmBaseline, ReadingVerdict, ZoneInspection } from '../model/inspection.ts';
import { median } from '../model/median.ts';
import type { Note, Reading } from '../model/notes.ts';
import type { Notice } from '../model/notice.ts';
import { capital, conditionsText, partText, zonePhrase } from '../model/wording.ts';
import type { ZoneNames } from '../model/zone-names.ts';
import { plainWords, zoneNamed, zoneNamesOf } from '../model/zone-names.ts';
import { anyOf, saidIn } from './phrases.ts';
import { canBeSamePlace, tellingWords } from '../model/same-place.ts';
import { bySpot, spotText } from './spots.ts';
import type { Terms } from './verdict.ts';

type Target = FilmBaseline['from'][number];

/** What is known of all zones when film readings are compared. */
interface Around extends Terms {
  zones: readonly ZoneInspection[];
  names: ZoneNames;
}

/** Repairs after which a panel's film says nothing about the others. */
const repaired = ['filled', 'patched', 'overlaid'];

/**
 * Compares every usable film reading with the median of those that `baseline:` notes name, and says what the notes name
 * in vain or what speaks against it. Sets `baselineUm` and `ratio` of the zones' verdicts. The baseline is null where no
 * note leads to a reading.
 */
export function compareFilms(terms: Terms, zones: readonly ZoneInspection[]): { baseline: FilmBaseline | null; notices: Notice[] } {
  const notes = zones.flatMap((zone) => zone.notes.filter(({ key }) => key === 'baseline').map((note) => ({ zone, note }))).toSorted((a, b) => bySpot(a.note.spot, b.note.spot));
  if (notes.length === 0) return { baseline: null, notices: [] };
  const around: Around = { ...terms, zones, names: zoneNamesOf(terms.catalogue) };
  const notices: Notice[] = [];
  const from: Target[] = [];
  const doubts = new Set<string>();
  for (const { zone, note } of notes) {
    const targets = targetsOf(around, zone, note);
    if (typeof targets === 'string') notices.push(unknown(note, targets));
    else {
      for (const target of targets) {
        if (from.some((one) => one.zone === target.zone && one.place === target.place)) continue;
        from.push(target);
        for (const doubt of doubtsOf(around, target)) {
          doubts.add(doubt.words);
          notices.push(doubtful(around, note, target, doubt));
        }
      }
    }
  }
  const readings = [...new Set(from.flatMap((target) => readingsAt(around, target)))];
  const values = readings.flatMap((reading) => reading.values).toSorted((a, b) => a - b);
  const medianUm = median(values);
  if (medianUm === undefined) return { baseline: null, notices };
  for (const verdict of zones.flatMap(({ readings: all }) => all.map((one) => one.verdict))) compare(verdict, medianUm);
  return { baseline: { medianUm, count: values.length, from, readings, doubts: [...doubts] }, notices };
}

function compare(verdict: ReadingVerdict, medianUm: number): void {
  if (!verdict.film || !verdict.usable) return;
  verdict.film.baselineUm = medianUm;
  verdict.film.ratio = verdict.film.median / medianUm;
}

/** What a note names: zones in any usual spelling, places of a zone or of its own; or, in words, why that leads to no reading. */
function targetsOf(around: Around, own: ZoneInspection, note: Note): Target[] | string {
  const words = (note.words.split(/\.(?=\s|$)/)[0] ?? '').replace(/\([^)]*\)/g, ' ').trim();
  if (plainWords(words) === '') return 'Nothing after "baseline:"';
  const self = ownTarget(own, note, words);
  const targets = self ? [self] : namedTargets(around, own, words.split(/[,;+&]\s*|\s+and\s+/));
  if (typeof targets === 'string') return targets;
  const empty = targets.find((target) => readingsAt(around, target).length === 0);
  return empty ? `No film reading at ${targetText(around, empty)}` : targets;
}

/** "this place" is that of the film reading right above; "this zone" the whole of it. */
function ownTarget(own: ZoneInspection, note: Note, words: string): Target | null {
  const plain = plainWords(words);
  const zone = own.zone.id;
  if (/^((this|the same|same) )?(zone|panel)$/.test(plain)) return { zone, place: '' };
  if (!/^(here|this|(this|the same|same) (place|spot|reading|one))$/.test(plain)) return null;
  const above = own.readings.map(({ reading }) => reading).filter((reading) => reading.quantity === 'film' && bySpot(reading.spot, note.spot) < 0);
  return { zone, place: above.at(-1)?.place ?? '' };
}

/** Pieces between commas and "and": the longest run of them that is a zone's name, and places of the zone before them. */
function namedTargets(around: Around, own: ZoneInspection, pieces: readonly string[]): Target[] | string {
  const targets: Target[] = [];
  for (let at = 0; at < pieces.length; ) {
    const named = zoneAt(around, own, pieces, at);
    if (named) {
      targets.push({ zone: named.zone, place: '' });
      at += named.count;
      continue;
    }
    const place = pieces[at]?.trim() ?? '';
    const before = targets.at(-1);
    const target: Target = { zone: before?.zone ?? own.zone.id, place };
    if (placesIn(around, target).length === 0) return sidelessText(around, place) ?? `"${place}" names no zone and no place with a film reading`;
    if (before?.place === '') targets.pop();
    targets.push(target);
    at += 1;
  }
  return targets;
}

/** A sided zone's name without its side means the zone the note stands in, where it is one of the two. */
function zoneAt(around: Around, own: ZoneInspection, pieces: readonly string[], at: number): { zone: string; count: number } | null {
  for (let count = pieces.length - at; count > 0; count -= 1) {
    const words = plainWords(pieces.slice(at, at + count).join(' ')).replace(/^the /, '');
    const sided = zoneNamed(around.names, `${words} ${own.zone.side ?? ''}`);
    const zone = zoneNamed(around.names, words) ?? (sided === own.zone.id ? sided : null);
    if (zone !== null) return { zone, count };
  }
  return null;
}

function sidelessText(around: Around, place: string): string | null {
  return around.names.sideless.has(plainWords(place)) ? `"${place}" without left or right` : null;
}

/** Film readings of a zone or of a place in it that count: none that was told. */
function readingsAt(around: Around, target: Target): Reading[] {
  const zone = around.zones.find((one) => one.zone.id === target.zone);
  const films = zone?.readings.filter(({ reading, verdict }) => reading.quantity === 'film' && verdict.usable).map(({ reading }) => reading) ?? [];
  return target.place === '' ? films : placesIn(around, target);
}

/** Film readings whose place the words name: they have a word of it in common, and no place of their own beside. */
function placesIn(around: Around, target: Target): Reading[] {
  const zone = around.zones.find((one) => one.zone.id === target.zone);
  if (!zone || tellingWords(zone.zone.record, target.place).length === 0) return [];
  return zone.readings.flatMap(({ reading, verdict }) => {
    const told = tellingWords(zone.zone.record, reading.place);
    const fits = reading.quantity === 'film' && verdict.usable && told.length > 0 && canBeSamePlace(zone.zone.record, reading.place, target.place);
    return fits ? [reading] : [];
  });
}

interface Doubt {
  words: string;
  at: string;
}

/** Whatever anybody wrote of filling, patching, overlaying or another sign of repair there; hearsay and opinion raise doubt too. */
function doubtsOf(around: Around, target: Target): Doubt[] {
  const zone = around.zones.find((one) => one.zone.id === target.zone);
  if (!zone) return [];
  const { catalogue, language } = around;
  const seen = zone.observations.flatMap((one): Doubt[] => {
    const { about, conditions, spot } = one.finding;
    const against = one.part.type === 'repair' ? conditions.filter((id) => id !== 'sound') : conditions.filter((id) => repaired.includes(id));
    if (against.length === 0 || (target.place !== '' && !canBeSamePlace(zone.zone.record, target.place, about.place))) return [];
    return [{ words: `${partText(one.part, about.place, language)}: ${conditionsText(catalogue, against, language)}`, at: spotText(spot) }];
  });
  const spellings = catalogue.conditions.filter(({ id }) => repaired.includes(id)).flatMap(({ name, also }) => [name.gb, name.us, ...also]);
  const said = zone.remarks.flatMap(({ entry }): Doubt[] => {
    const word = saidIn(entry.words, anyOf(spellings));
    return word === null ? [] : [{ words: entry.words.replace(/\.$/, ''), at: spotText(entry.spot) }];
  });
  return [...seen, ...said];
}

function doubtful(around: Around, note: Note, target: Target, doubt: Doubt): Notice {
  return {
    level: 'warning',
    rule: 'baseline-doubtful',
    spot: note.spot,
    found: `${capital(targetText(around, target))} is the baseline for film, and “${doubt.words}” is written of it at ${doubt.at}`,
    expected: 'a panel nobody suspects of repair',
    advice: 'It is used all the same, and the dossier says so. Name another panel, or correct the line.',
  };
}

function unknown(note: Note, found: string): Notice {
  return {
    level: 'warning',
    rule: 'baseline-unknown',
    spot: note.spot,
    found,
    expected: 'a zone with film readings, such as "baseline: roof", or "this place" below a film reading',
    advice: 'Nothing is compared with it. Put free words after a full stop.',
  };
}

/** "the roof", "the roof, front edge". */
function targetText(around: Around, { zone, place }: Target): string {
  const known = around.catalogue.zones.flatMap(zonesOf).find(({ id }) => id === zone);
  const phrase = known ? zonePhrase(known, around.language) : zone;
  return place === '' ? phrase : `${phrase}, ${place}`;
}
