import type { Catalogue, WorkEffect, WorkKind } from '../model/catalogue.ts';
import type { Observation, ZoneInspection } from '../model/inspection.ts';
import type { Work } from '../model/notes.ts';
import { conditionOf } from '../model/wording.ts';

/** What the work of a zone does to its closed sections. */
export interface Remedies {
  /** Written by the inspector, or only the usual remedy of what was found. */
  origin: 'written' | 'usual' | 'none';
  closes: boolean;
  seals: boolean;
  opensDrains: boolean;
  protects: boolean;
  /** New steel where it was found through, thin or badly patched; or everywhere. */
  steel: 'none' | 'patched' | 'replaced';
}

/** Effects of the work written for a zone; where none is written, of the usual remedies of its defects. */
export function remediesOf(catalogue: Catalogue, zone: ZoneInspection, works: readonly Work[]): Remedies {
  if (works.length > 0) return ofKinds(catalogue.works.filter((kind) => works.some((work) => work.kinds.includes(kind.id))));
  return usualOf(catalogue, zone);
}

function ofKinds(kinds: readonly WorkKind[]): Remedies {
  const has = (effect: WorkEffect, labour?: WorkKind['labour']): boolean => kinds.some((kind) => kind.effect === effect && (labour === undefined || kind.labour === labour));
  return {
    origin: 'written',
    closes: kinds.some((kind) => kind.effect === 'closes openings' && kind.labour !== 'seal'),
    seals: has('closes openings', 'seal'),
    opensDrains: has('opens drains'),
    protects: has('protects'),
    steel: has('replaces') ? 'replaced' : has('patches') ? 'patched' : 'none',
  };
}

function usualOf(catalogue: Catalogue, zone: ZoneInspection): Remedies {
  const hasRemedy = (ids: readonly string[]): boolean => ids.some((id) => (conditionOf(catalogue, id)?.remedy ?? '') !== '');
  const rows = zone.rows.filter((row) => row.outcome === 'defect' && hasRemedy(row.conditions));
  const others = zone.observations.filter((one) => one.outcome === 'defect' && hasRemedy(one.finding.conditions));
  const inside = others.filter((one) => one.part.id.includes('inside'));
  const weak = others.some((one) => one.part.type === 'metal' && one.finding.conditions.some((id) => conditionOf(catalogue, id)?.weakens));
  const made: Remedies = {
    origin: 'usual',
    closes: rows.some((row) => !['seam', 'drain'].includes(row.part.group)),
    seals: rows.some((row) => row.part.group === 'seam'),
    opensDrains: rows.some((row) => row.part.group === 'drain'),
    protects: inside.some(isBareOrRusting),
    steel: weak ? 'patched' : 'none',
  };
  return made.closes || made.seals || made.opensDrains || made.protects || weak ? made : { ...made, origin: 'none' };
}

/** Thin wax, bare metal and firm rust are cleaned, treated and protected. */
function isBareOrRusting(one: Observation): boolean {
  return one.part.type === 'coating' || one.part.type === 'metal';
}
