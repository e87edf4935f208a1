import type { Part } from '../model/catalogue.ts';
import type { SuggestedPart } from '../model/cost.ts';
import { namesOne } from '../model/cost.ts';
import type { Inspection, RegisterRow, ZoneInspection } from '../model/inspection.ts';
import type { PartWanted } from '../model/notes.ts';
import { byCodeUnit } from '../model/order.ts';
import { conditionOf } from '../model/wording.ts';
import { worksOf } from '../model/zone-work.ts';

/**
 * What the register calls for and no part line lists: openings seen with a defect whose usual remedy takes a new part,
 * less what is written for the same kind in the same zone. Summed by kind, size and cable. What nobody saw calls for
 * nothing here, and is not thereby sound.
 */
export function suggestedParts(inspection: Inspection): SuggestedPart[] {
  const groups = new Map<string, SuggestedPart>();
  for (const zone of inspection.zones) {
    for (const row of uncovered(inspection, zone)) {
      const cable = cableOf(row);
      const key = [row.part.id, row.size ?? '', cable ?? ''].join('\n');
      const group = groups.get(key) ?? { part: row.part, size: row.size, cable, count: 0, zones: [] };
      group.count += 1;
      if (!group.zones.includes(zone.zone.id)) group.zones.push(zone.zone.id);
      groups.set(key, group);
    }
  }
  return [...groups].sort(([a], [b]) => byCodeUnit(a, b)).map(([, group]) => group);
}

/** Openings that want a new part, without those the written parts of the zone answer: same size first, then what has no size on either side. */
function uncovered(inspection: Inspection, zone: ZoneInspection): RegisterRow[] {
  const { catalogue } = inspection.job;
  let open = zone.rows.filter((row) => row.outcome === 'defect' && row.conditions.some((id) => conditionOf(catalogue, id)?.newPart));
  const written = worksOf(zone).flatMap((work) => work.parts).map((part) => ({ part, kind: openingNamed(catalogue.parts, part.name), left: part.count }));
  for (const exact of [true, false]) {
    for (const one of written) {
      open = open.filter((row) => {
        const fits = one.kind?.id === row.part.id && one.left > 0 && sizesMeet(one.part, row, exact);
        if (fits) one.left -= 1;
        return !fits;
      });
    }
  }
  return open;
}

/** The kind of opening a written part names: of several spellings in it the longest. Null for anything else. */
export function openingNamed(parts: readonly Part[], name: string): Part | null {
  const named = parts
    .filter((part) => part.type === 'opening')
    .flatMap((part) => [part.name.gb, part.name.us, part.plural.gb, part.plural.us, ...part.also].filter((spelling) => namesOne(name, [spelling])).map((spelling) => ({ part, length: spelling.length })))
    .sort((a, b) => b.length - a.length || byCodeUnit(a.part.id, b.part.id));
  return named[0]?.part ?? null;
}

/** Exact: both sizes are written and equal. Else: one of the two has none. */
function sizesMeet(part: PartWanted, row: RegisterRow, exact: boolean): boolean {
  const wanted = millimetres(row.size);
  const given = millimetres(part.name.replace(/\b(?:cable|pipe|hose|loom)\s+\d+(?:[.,]\d+)?\s*\w+/gi, ' '));
  return exact ? wanted !== null && wanted === given : wanted === null || given === null;
}

/** The first length in a text, in hundredths of a millimetre so that 1 in and 25.4 mm are the same. */
function millimetres(text: string | null): number | null {
  const match = /(\d+(?:[.,]\d+)?)\s*(mm|cm|inch|in|")/i.exec(text ?? '');
  if (!match) return null;
  const factor = { mm: 1, cm: 10 }[(match[2] ?? '').toLowerCase()] ?? 25.4;
  return Math.round(Number((match[1] ?? '0').replace(',', '.')) * factor * 100);
}

function cableOf(row: RegisterRow): string | null {
  return row.findings.map((finding) => finding.about.cable).find((cable) => cable !== null) ?? null;
}
