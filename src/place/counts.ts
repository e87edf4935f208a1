import type { Part } from '../model/catalogue.ts';
import type { RegisterRow } from '../model/inspection.ts';
import type { Count } from '../model/notes.ts';
import type { Notice, Spot } from '../model/notice.ts';
import { partText, placeForm } from '../model/wording.ts';
import type { Draft, RegisterTools } from './drafts.ts';
import { draftOf, kindsCounted } from './drafts.ts';
import { isWithin } from './spelling.ts';
import type { Verdict } from './verdict.ts';
import { meansNotFitted, meansNotSeen, noReason, verdictOfCount } from './verdict.ts';
import { byCodeUnit } from '../model/order.ts';

/** More openings of one kind in one zone than this is a slip of the thumb. */
const mostOfAKind = 200;

/** All counts of one part and place in a zone, and what follows from them. */
interface Group {
  part: Part;
  place: string;
  expected: number | null;
  slots: Slot[];
  counts: Count[];
}

/** One opening of a count: "1 cracked" is one, "2 missing" are two. */
interface Slot {
  condition: string;
  count: Count;
}

/** What a zone's counts add to the named rows. */
export interface Counted {
  drafts: Draft[];
  notices: Notice[];
  /** Part ids and places for which a number is known. */
  numbered: { part: string; place: string }[];
}

/**
 * The anonymous rows of a zone's counts. Named rows of the kind fill matching conditions first; what the count leaves
 * over is not seen, "nothing written". Counts of a place go before those of the whole zone, which contain them.
 */
export function countedRows(tools: RegisterTools, counts: readonly Count[], named: readonly Draft[]): Counted {
  const result: Counted = { drafts: [], notices: [], numbered: [] };
  for (const group of groupsOf(tools, counts, result.notices)) {
    const inside = [...named, ...result.drafts].filter(({ row }) => row.part.id === group.part.id && isWithin(row.place, group.place));
    const open = unfilled(group.slots, inside);
    const wanted = inside.length + open.length;
    const total = Math.max(group.expected ?? wanted, wanted);
    if (total === 0) continue;
    if (group.expected !== null && wanted > group.expected) result.notices.push(surplus(tools, group, inside.length, open.length));
    const nothing: null[] = Array.from({ length: total - wanted }, () => null);
    const rest = [...open, ...nothing];
    result.drafts.push(...rest.map((slot, index) => anonymous(tools, group, slot, `${inside.length + index + 1} of ${total} counted`)));
    result.numbered.push({ part: group.part.id, place: group.place });
  }
  return result;
}

function groupsOf(tools: RegisterTools, counts: readonly Count[], notices: Notice[]): Group[] {
  const groups = new Map<string, Group>();
  for (const count of counts) {
    const part = tools.catalogue.parts.find((one) => one.id === count.part);
    if (!part) continue;
    const place = placeForm(count.place);
    const key = `${part.id}|${place}`;
    const group = groups.get(key) ?? { part, place, expected: null, slots: [], counts: [] };
    group.counts.push(count);
    if (count.expected !== null) {
      if (group.expected !== null && group.expected !== count.expected) notices.push(unlike(tools, group, count));
      group.expected = Math.max(group.expected ?? 0, limited(count.expected));
    }
    for (const { condition, count: times } of count.counts) {
      for (let at = 0; at < limited(times); at += 1) group.slots.push({ condition, count });
    }
    group.slots.length = Math.min(group.slots.length, mostOfAKind);
    if ([count.expected ?? 0, count.counts.reduce((sum, one) => sum + one.count, 0)].some((one) => one > mostOfAKind)) {
      notices.push(tooMany(tools, group, count));
    }
    groups.set(key, group);
  }
  return [...groups.values()].sort((a, b) => b.place.length - a.place.length || byCodeUnit(a.part.id, b.part.id) || byCodeUnit(a.place, b.place));
}

function limited(count: number): number {
  return Math.min(Math.max(0, Math.floor(count)), mostOfAKind);
}

/** The slots no named row fills. Rows with fewer conditions choose first, because they have less choice. */
function unfilled(slots: readonly Slot[], rows: readonly Draft[]): Slot[] {
  const open = [...slots];
  const choosy = rows.toSorted((a, b) => a.row.conditions.length - b.row.conditions.length);
  for (const draft of choosy) {
    const at = open.findIndex((slot) => fills(draft.row, slot));
    if (at >= 0) open.splice(at, 1);
  }
  return open;
}

function fills(row: RegisterRow, slot: Slot): boolean {
  if (meansNotSeen(slot.condition)) return row.outcome === 'not seen';
  if (meansNotFitted(slot.condition)) return row.outcome === 'not fitted';
  return row.seen && row.conditions.includes(slot.condition);
}

function anonymous(tools: RegisterTools, group: Group, slot: Slot | null, which: string): Draft {
  const kinds = kindsCounted(tools.zone, group.part.id, group.place);
  const place = group.place === '' ? which : `${group.place}, ${which}`;
  const given = { part: group.part, place, known: 'counted' } as const;
  if (slot === null) return draftOf(tools, { ...given, spot: group.counts[0]?.spot ?? null }, kinds);
  const { count, condition } = slot;
  const verdict: Verdict = verdictOfCount(tools, count, condition);
  const { outcome, seen } = verdict;
  const reason = meansNotSeen(condition) && count.origin.kind === 'fact' ? count.words || noReason : verdict.reason;
  const facts = { outcome, seen, reason, looked: count.looked, origin: count.origin.kind, spot: count.spot };
  const shown = seen ? { conditions: [condition], photos: tools.photoIdsOf(count.photos) } : {};
  return draftOf(tools, { ...given, ...facts, ...shown }, kinds);
}

function surplus(tools: RegisterTools, group: Group, named: number, counted: number): Notice {
  return {
    level: 'warning',
    rule: 'count-surplus',
    ...spotOf(group),
    found: `${named + counted} of ${nameOf(tools, group)} are written (${named} by name, ${counted} more counted)`,
    expected: `${group.expected ?? 0} as counted`,
    advice: 'All are kept. Correct the count, or the condition of the one that is written twice.',
  };
}

function unlike(tools: RegisterTools, group: Group, count: Count): Notice {
  return {
    level: 'warning',
    rule: 'count-contradicts',
    spot: count.spot,
    found: `${count.expected ?? 0} expected of ${nameOf(tools, group)}, and ${group.expected ?? 0} before`,
    expected: 'one number',
    advice: 'The larger is taken. Correct one of them.',
  };
}

function tooMany(tools: RegisterTools, group: Group, count: Count): Notice {
  return {
    level: 'warning',
    rule: 'count-large',
    spot: count.spot,
    found: `A count of ${nameOf(tools, group)} goes beyond ${mostOfAKind}`,
    expected: `${mostOfAKind} at most in one zone`,
    advice: `${mostOfAKind} are taken. Correct the number.`,
  };
}

function nameOf(tools: RegisterTools, group: Group): string {
  return `“${partText(group.part, group.place, tools.language)}”`;
}

function spotOf(group: Group): { spot: Spot } | Record<string, never> {
  const spot = group.counts[0]?.spot;
  return spot ? { spot } : {};
}
