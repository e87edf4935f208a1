import type { Catalogue } from '../model/catalogue.ts';
import type { Followed, Standing } from '../model/comparison.ts';
import type { Observation, RegisterRow, ZoneInspection } from '../model/inspection.ts';
import type { Visit } from '../model/visits.ts';
import type { Language } from '../model/wording.ts';
import { badnessOf, conditionsText, inSentence, placeForm, worstFirst } from '../model/wording.ts';
import { listText } from '../units.ts';
import { standingOfReading } from './readings.ts';

/** One thing of one visit, with the name it says it had before. */
export interface Thing extends Followed {
  standing: Standing;
  /** As typed behind `was:`; empty where nothing was. */
  was: string;
}

/** What one zone of one visit has to compare. */
export function thingsOf(visit: Visit, zone: ZoneInspection): Thing[] {
  const { catalogue, settings } = visit.inspection.job;
  const { language } = settings;
  const named = zone.rows.filter((row) => row.known === 'named').map((row) => openingOf(catalogue, language, row));
  return [...named, ...countedOf(catalogue, language, zone), ...findingsOf(catalogue, language, zone), ...readingsOf(visit, zone)];
}

function openingOf(catalogue: Catalogue, language: Language, row: RegisterRow): Thing {
  const was = row.findings.findLast((finding) => finding.was !== null)?.was ?? '';
  return { kind: 'opening', zone: row.zone, part: row.part, place: row.place, of: '', was, standing: standingOf(catalogue, language, row) };
}

function standingOf(catalogue: Catalogue, language: Language, row: RegisterRow): Standing {
  const said = [conditionsText(catalogue, row.conditions, language), ...row.details].filter((text) => text !== '').join(', ');
  const words = row.seen && said !== '' ? said : row.reason === '' ? row.outcome : inSentence(row.reason);
  return { id: row.id, place: row.place, outcome: row.outcome, conditions: row.conditions, words, seen: row.seen, photos: row.photos, spot: row.spot };
}

/** Openings that were counted have no names: those of one kind stand together, with the named ones beside them. */
function countedOf(catalogue: Catalogue, language: Language, zone: ZoneInspection): Thing[] {
  const parts = [...new Map(zone.rows.filter((row) => row.known === 'counted').map((row) => [row.part.id, row.part])).values()];
  return parts.map((part) => {
    const rows = zone.rows.filter((row) => row.part.id === part.id && row.known !== 'kind');
    return { kind: 'openings', zone: zone.zone.id, part, place: '', of: '', was: '', standing: standingOfAll(catalogue, language, rows) };
  });
}

/** Several openings as one standing: the worst outcome, and how many are what. */
export function standingOfAll(catalogue: Catalogue, language: Language, rows: readonly RegisterRow[]): Standing {
  const seen = rows.filter((row) => row.seen);
  const counts = new Map<string, { count: number; badness: number }>();
  for (const row of rows) {
    const words = row.seen ? conditionsText(catalogue, row.conditions, language) || row.outcome : row.outcome;
    const known = counts.get(words);
    counts.set(words, { count: (known?.count ?? 0) + 1, badness: badnessOf(catalogue, row.conditions) });
  }
  const each = [...counts].sort(([, a], [, b]) => b.badness - a.badness).map(([words, { count }]) => `${count} ${words}`);
  const outcomes = ['defect', 'cannot tell', 'sound', 'not seen'] as const;
  return {
    id: rows[0]?.id ?? '',
    place: '',
    outcome: outcomes.find((outcome) => rows.some((row) => row.outcome === outcome)) ?? 'not fitted',
    conditions: worstFirst(catalogue, seen.flatMap((row) => row.conditions)),
    words: each.length === 1 && rows.length > 1 ? `all ${(each[0] ?? '')}` : listText(each),
    seen: seen.length > 0,
    photos: [...new Set(rows.flatMap((row) => row.photos))],
    spot: rows.find((row) => row.spot !== null)?.spot ?? null,
  };
}

/** What was found of metal, coating, water and earlier repair, by part and place; several lines of one place are one standing, the worst. */
function findingsOf(catalogue: Catalogue, language: Language, zone: ZoneInspection): Thing[] {
  const groups = new Map<string, Observation[]>();
  for (const one of zone.observations) {
    const key = `${one.part.id}|${placeForm(one.finding.about.place)}`;
    groups.set(key, [...(groups.get(key) ?? []), one]);
  }
  return [...groups.values()].flatMap((all) => {
    const [first] = all;
    if (!first) return [];
    const place = placeForm(first.finding.about.place);
    const was = all.findLast((one) => one.finding.was !== null)?.finding.was ?? '';
    return [{ kind: 'finding' as const, zone: zone.zone.id, part: first.part, place, of: '', was, standing: standingOfFindings(catalogue, language, all, place) }];
  });
}

/** Several findings as one standing. */
export function standingOfFindings(catalogue: Catalogue, language: Language, all: readonly Observation[], place: string): Standing {
  const seen = all.filter((one) => one.outcome !== 'not seen' && one.outcome !== 'not fitted');
  const outcomes = ['defect', 'cannot tell', 'sound', 'not fitted', 'not seen'] as const;
  const conditions = worstFirst(catalogue, seen.flatMap((one) => one.finding.conditions));
  const details = seen.flatMap((one) => one.finding.details);
  return {
    id: all[0]?.id ?? '',
    place,
    outcome: outcomes.find((outcome) => all.some((one) => one.outcome === outcome)) ?? 'not seen',
    conditions,
    words: [conditionsText(catalogue, conditions, language), ...details].filter((text) => text !== '').join(', ') || (all[0]?.outcome ?? 'not seen'),
    seen: seen.length > 0,
    photos: [...new Set(all.flatMap((one) => one.photos))],
    spot: all[0]?.finding.spot ?? null,
  };
}

function readingsOf(visit: Visit, zone: ZoneInspection): Thing[] {
  const groups = new Map<string, ZoneInspection['readings']>();
  for (const one of zone.readings) {
    const key = `${one.reading.quantity}|${placeForm(one.reading.place)}`;
    groups.set(key, [...(groups.get(key) ?? []), one]);
  }
  return [...groups.values()].flatMap((all) => {
    const [first] = all;
    if (!first) return [];
    return [{ kind: 'reading' as const, zone: zone.zone.id, part: null, place: placeForm(first.reading.place), of: first.reading.quantity, was: '', standing: standingOfReading(visit, all) }];
  });
}
