import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Catalogue } from '../../model/catalogue.ts';
import { catalogueFaults } from './check.ts';
import type { Fault } from './fault.ts';
import { bodyOf, cautionOf, conditionOf, evidenceOf, materialOf, partOf, reasonOf, viewOf, workOf } from './kinds.ts';
import { readRecord, recordError } from './records.ts';
import { riskOf } from './risk.ts';
import type { RecordText } from './records.ts';
import { zoneOf } from './zones.ts';

// The same three levels up from src/read/catalogue and from the compiled dist/read/catalogue.
const ownContent = fileURLToPath(new URL('../../../content', import.meta.url));

/**
 * Reads every record of `content/`: what the trade knows. The format is described in content/README.md. A record that
 * is wrong in itself, or does not fit the others, is our own mistake: throws an Error that names file and line.
 */
export function readCatalogue(folder: string = ownContent): Catalogue {
  const read = (kind: string): RecordText[] => recordsOf(folder, kind);
  const conditions = read('conditions').map(conditionOf).sort(byId);
  const bodies = read('bodies').map(bodyOf).sort(byId);
  const bodyIds = bodies.map((body) => body.id);
  const catalogue: Catalogue = {
    zones: read('zones').map((record) => zoneOf(record, bodyIds)).sort((a, b) => a.order - b.order || byId(a, b)),
    parts: read('parts').map(partOf).sort(byId),
    conditions,
    bodies,
    cautions: read('cautions').map(cautionOf).sort((a, b) => a.order - b.order || byId(a, b)),
    evidence: read('evidence').map(evidenceOf).sort((a, b) => a.grade - b.grade || byId(a, b)),
    reasons: read('reasons').map(reasonOf).sort(byId),
    materials: read('materials').map(materialOf).sort(byId),
    views: read('views').map(viewOf).sort((a, b) => a.order - b.order || byId(a, b)),
    works: read('works').map(workOf).sort((a, b) => a.order - b.order || byId(a, b)),
    risk: riskOf(readRecord(readFileSync(join(folder, 'risk-model.md'), 'utf8'), 'content/risk-model.md'), conditions.map((condition) => condition.id)),
  };
  const faults = catalogueFaults(catalogue);
  if (faults.length > 0) throw new Error(faults.map((fault) => faultLine(folder, fault)).join('\n'));
  return catalogue;
}

function recordsOf(folder: string, kind: string): RecordText[] {
  const names = readdirSync(join(folder, kind)).filter((name) => name.endsWith('.md')).sort();
  return names.map((name) => readRecord(readFileSync(join(folder, kind, name), 'utf8'), `content/${kind}/${name}`));
}

/** `content/zones/sill.md:12 names an unknown caution "x"`. Lines are looked up only here: a good catalogue needs none. */
function faultLine(folder: string, { kind, id, word, wrong }: Fault): string {
  const lines = readFileSync(join(folder, kind, `${id}.md`), 'utf8').split('\n');
  // The last line that has it: where a thing is given twice, the second time is the one too many.
  const whole = lines.findLastIndex((text) => text.toLowerCase().split(/^# |^ *- |[:,]| \/ | -> /).some((part) => part.trim() === word || part.trim().replace(/-/g, ' ') === word));
  const line = whole >= 0 ? whole : lines.findLastIndex((text) => text.toLowerCase().includes(word));
  return recordError(`content/${kind}/${id}.md`, Math.max(line, 0) + 1, wrong).message;
}

function byId(a: { id: string }, b: { id: string }): number {
  return a.id < b.id ? -1 : a.id > b.id ? 1 : 0;
}
