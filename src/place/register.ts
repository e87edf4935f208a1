import type { ExpectedOpening, Part } from '../model/catalogue.ts';
import type { RegisterRow } from '../model/inspection.ts';
import type { Entry, Finding, NotFitted, NotSeen } from '../model/notes.ts';
import type { Notice } from '../model/notice.ts';
import { partText, placeForm } from '../model/wording.ts';
import { plainWords } from '../model/zone-names.ts';
import { said } from './captions.ts';
import { contradictionOf, seenAndUnseen } from './contradictions.ts';
import { countedRows } from './counts.ts';
import type { Draft, RegisterTools } from './drafts.ts';
import { draftAt, draftOf, kindsCounted, namedDraft, spreadWheelSpray } from './drafts.ts';
import { anchorOf } from '../model/anchor-names.ts';
import { byPlace, isWithin } from './spelling.ts';
import { spotText } from './spots.ts';
import { noReason, notSeenReason, toSeeOf } from './verdict.ts';
import { byCodeUnit } from '../model/order.ts';

/** Rows of one zone without anchors that hold across zones yet, and what is to be said about them. */
export interface Register {
  rows: RegisterRow[];
  notices: Notice[];
}

/** A line that speaks of an opening without a look at it. */
type Unlooked = NotSeen | NotFitted;

/** Every expected opening of a zone in exactly one row, and every finding about an opening in exactly one. */
export function registerOf(tools: RegisterTools, entries: readonly Entry[]): Register {
  const notices: Notice[] = [];
  const drafts = namedRows(tools, entries, notices);
  addUnlooked(tools, entries, drafts, notices);
  const counted = countedRows(tools, entries.filter((entry) => entry.type === 'count'), drafts);
  notices.push(...counted.notices);
  drafts.push(...counted.drafts);
  explainRest(tools, entries, counted.drafts);
  drafts.push(...kindRows(tools, entries, drafts, counted.numbered, notices));
  spreadWheelSpray(drafts);
  drafts.sort(byKind(tools));
  return { rows: drafts.map(({ row }) => row), notices };
}

/** Whether the part is an opening of the catalogue. */
export function openingOf(tools: RegisterTools, part: string): Part | null {
  const record = tools.catalogue.parts.find((one) => one.id === part);
  return record?.type === 'opening' ? record : null;
}

function namedRows(tools: RegisterTools, entries: readonly Entry[], notices: Notice[]): Draft[] {
  const groups = new Map<string, { part: Part; place: string; findings: Finding[] }>();
  for (const entry of entries) {
    if (entry.type !== 'finding') continue;
    const part = openingOf(tools, entry.about.part);
    if (!part) continue;
    const place = placeForm(entry.about.place);
    const group = groups.get(`${part.id}|${place}`) ?? { part, place, findings: [] };
    group.findings.push(entry);
    groups.set(`${part.id}|${place}`, group);
  }
  return [...groups.values()].map(({ part, place, findings }) => {
    const notice = contradictionOf(tools, partText(part, place, tools.language), findings);
    if (notice) notices.push(notice);
    return namedDraft(tools, part, place, findings);
  });
}

/** `not seen:` and `not fitted:` with a part and a place: rows of their own, or a contradiction to one that was seen. */
function addUnlooked(tools: RegisterTools, entries: readonly Entry[], drafts: Draft[], notices: Notice[]): void {
  for (const entry of [...unlookedIn(entries, 'not fitted'), ...unlookedIn(entries, 'not seen')]) {
    const part = openingOf(tools, entry.about?.part ?? '');
    if (!part || !entry.about) continue;
    const place = placeForm(entry.about.place);
    const known = drafts.find(({ row }) => row.part.id === part.id && row.place === place);
    const name = partText(part, place, tools.language);
    if (known && (known.row.seen || (known.row.outcome === 'not fitted' && entry.type === 'not seen'))) {
      notices.push(seenAndUnseen(name, known.row, entry));
      if (known.row.seen) continue;
    }
    if (!known && isGeneral(tools, entry)) continue;
    const facts = unlookedFacts(tools, entry);
    if (known) Object.assign(known.row, facts, { photos: [...new Set([...known.row.photos, ...facts.photos])], spot: known.row.spot });
    else {
      const said = entry.about.exposure === null ? {} : { exposure: entry.about.exposure };
      drafts.push(draftAt(tools, { part, place, known: 'named', size: entry.about.size, ...facts, ...said }));
    }
  }
}

/** Whether a line speaks of a kind as a whole, number unknown: without a place, or with the usual place of the kind. */
function isGeneral(tools: RegisterTools, entry: Unlooked): boolean {
  const place = placeForm(entry.about?.place ?? '');
  return place === '' || tools.zone.record.openings.some((kind) => kind.part === entry.about?.part && placeForm(kind.place) === place);
}

function unlookedIn(entries: readonly Entry[], type: Unlooked['type']): Unlooked[] {
  return entries.filter((entry): entry is Unlooked => entry.type === type);
}

function unlookedFacts(tools: RegisterTools, entry: Unlooked): Pick<RegisterRow, 'outcome' | 'reason' | 'toSee' | 'lookHours' | 'origin' | 'photos' | 'spot'> {
  const told = entry.origin.kind === 'told' ? said(entry.origin) : '';
  const common = { origin: entry.origin.kind, photos: tools.photoIdsOf(entry.photos), spot: entry.spot };
  if (entry.type === 'not seen') {
    return { ...common, outcome: 'not seen', reason: notSeenReason(tools, entry), toSee: toSeeOf(tools, entry), lookHours: entry.hours };
  }
  const reason = `${told}not fitted${entry.words ? `: ${entry.words}` : ''}`;
  // What somebody says was never fitted has not been looked at.
  return { ...common, outcome: told === '' ? 'not fitted' : 'not seen', reason, toSee: '', lookHours: null };
}

/** Openings a count left over take the reason that is written for their part or for the whole zone. */
function explainRest(tools: RegisterTools, entries: readonly Entry[], counted: readonly Draft[]): void {
  for (const { row } of counted) {
    if (row.outcome !== 'not seen' || (row.looked !== null && row.reason !== noReason)) continue;
    const entry = notSeenOfPart(entries, row.part.id, row.place) ?? notSeenOfZone(tools, entries);
    if (entry) Object.assign(row, unlookedFacts(tools, entry));
  }
}

function notSeenOfPart(entries: readonly Entry[], part: string, place: string): NotSeen | null {
  const about = entries.filter((entry) => entry.type === 'not seen').filter((entry) => entry.about?.part === part);
  const wider = about.filter((entry) => isWithin(place, placeForm(entry.about?.place ?? '')));
  return wider.sort((a, b) => (b.about?.place.length ?? 0) - (a.about?.place.length ?? 0))[0] ?? null;
}

function notSeenOfZone(tools: RegisterTools, entries: readonly Entry[]): NotSeen | null {
  return entries.filter((entry) => entry.type === 'not seen').find((entry) => entry.about === null && isWholeZone(tools, entry.what)) ?? null;
}

/** Whether the words mean the zone as a whole: nothing, "all", or its own name. */
function isWholeZone(tools: RegisterTools, what: string): boolean {
  const { record, name, nameUs } = tools.zone;
  const own = [name, nameUs, record.name.gb, record.name.us, ...record.also].map(plainWords);
  return ['', 'all', 'everything', 'zone', 'the zone', 'whole zone', 'the whole zone', ...own].includes(plainWords(what));
}

/** One row, number unknown, for each kind that nobody named or counted. */
function kindRows(
  tools: RegisterTools,
  entries: readonly Entry[],
  drafts: readonly Draft[],
  numbered: readonly { part: string; place: string }[],
  notices: Notice[],
): Draft[] {
  const answered = new Set(drafts.flatMap(({ kinds }) => kinds));
  for (const { part, place } of numbered) for (const kind of kindsCounted(tools.zone, part, place)) answered.add(kind);
  const rows: Draft[] = [];
  for (const kind of tools.zone.record.openings) {
    const part = openingOf(tools, kind.part);
    if (part && !answered.has(kind)) rows.push(kindRow(tools, entries, part, kind));
  }
  for (const entry of [...unlookedIn(entries, 'not fitted'), ...unlookedIn(entries, 'not seen')]) {
    const part = openingOf(tools, entry.about?.part ?? '');
    if (part && isGeneral(tools, entry)) addOthers(tools, entry, part, drafts, numbered, rows, notices);
  }
  return rows;
}

/**
 * A line about a kind of which some are named or counted. "Not seen" means the others: where none is counted they are a
 * row, number unknown; where all that are counted were seen, the line contradicts them.
 */
function addOthers(
  tools: RegisterTools,
  entry: Unlooked,
  part: Part,
  drafts: readonly Draft[],
  numbered: readonly { part: string; place: string }[],
  rows: Draft[],
  notices: Notice[],
): void {
  const place = placeForm(entry.about?.place ?? '');
  const ofKind = ({ row }: Draft): boolean => row.part.id === part.id && isWithin(row.place, place);
  if (rows.some(ofKind)) return;
  const known = drafts.filter(ofKind);
  const isNumbered = numbered.some((one) => one.part === part.id && isWithin(place, one.place));
  const seen = known.find(({ row }) => row.seen);
  const none = isNumbered && known.every(({ row }) => row.seen);
  if (seen && (entry.type === 'not fitted' || none)) notices.push(seenAndUnseen(partText(part, place, tools.language), seen.row, entry));
  const others = entry.type === 'not seen' && !isNumbered && known.every(({ row }) => row.place !== place);
  if (known.length === 0 || others) rows.push(draftAt(tools, { part, place, known: 'kind', ...unlookedFacts(tools, entry) }));
}

function kindRow(tools: RegisterTools, entries: readonly Entry[], part: Part, kind: ExpectedOpening): Draft {
  const given = { part, place: placeForm(kind.place), known: 'kind' } as const;
  const zero = entries.find((entry) => entry.type === 'count' && entry.part === part.id && entry.expected === 0 && isWithin(given.place, placeForm(entry.place)));
  const without = unlookedIn(entries, 'not fitted').find((entry) => {
    if (entry.about !== null) return entry.about.part === part.id && isWithin(given.place, placeForm(entry.about.place));
    return isWholeZone(tools, entry.what);
  });
  const unseen = notSeenOfPart(entries, part.id, given.place) ?? notSeenOfZone(tools, entries);
  const entry = without ?? unseen;
  if (entry) return draftOf(tools, { ...given, ...unlookedFacts(tools, entry) }, [kind]);
  const none = { outcome: 'not fitted', reason: `none expected, as written at ${spotText(zero?.spot ?? { file: '' })}`, spot: zero?.spot ?? null } as const;
  return draftOf(tools, zero ? { ...given, ...none } : given, [kind]);
}

const knownRank = { named: 0, counted: 1, kind: 2 } as const;

/** In the order of the zone record's kinds, then of the places. */
function byKind(tools: RegisterTools): (a: Draft, b: Draft) => number {
  const order = tools.zone.record.openings;
  const rank = (draft: Draft): number => {
    const at = order.findIndex((kind) => kind.part === draft.row.part.id);
    return at < 0 ? order.length : at;
  };
  return (a, b) =>
    rank(a) - rank(b) || byCodeUnit(a.row.part.id, b.row.part.id) || knownRank[a.row.known] - knownRank[b.row.known] || byPlace(a.row.place, b.row.place);
}

/** Gives the rows their permanent anchors: zone, kind and place; those of a count are numbered. */
export function nameRows(rows: readonly RegisterRow[], once: (wanted: string) => string): void {
  const counted = new Map<string, number>();
  for (const row of rows) {
    const stem = `${row.zone}--${row.part.id}`;
    const place = row.known === 'counted' ? row.place.replace(/(, )?\d+ of \d+ counted$/, '') : row.place;
    const slug = anchorOf(place);
    const named = place === '' ? stem : `${stem}--${slug === '' ? 'place' : slug}`;
    if (row.known === 'counted') counted.set(named, (counted.get(named) ?? 0) + 1);
    row.id = once(row.known === 'counted' ? `${named}--counted-${counted.get(named) ?? 1}` : named);
  }
}
