import type { CostLine, Estimate } from '../../src/model/cost.ts';
import type { Inspection } from '../../src/model/inspection.ts';
import type { Work } from '../../src/model/notes.ts';
import type { Notice } from '../../src/model/notice.ts';
import { settingsSchema } from '../../src/model/settings.ts';
import { place } from '../../src/place/index.ts';
import { estimateOf } from '../../src/plan/cost.ts';
import { worksOf } from '../../src/model/zone-work.ts';
import { readNotes } from '../../src/read/notes/index.ts';
import { ratesOf } from '../../src/read/rates.ts';
import { catalogue } from '../read/notes-helper.ts';

export interface Costed {
  inspection: Inspection;
  estimate: Estimate;
  notices: Notice[];
  works: Work[];
}

/** Findings read with the real catalogue, placed and costed; nothing is weighed. In EUR where the settings say nothing else. */
export function costed(findings: string, given: object = {}): Costed {
  const settings = settingsSchema.parse({ currency: 'EUR', ...given });
  const read = readNotes({ file: 'findings.md', text: findings, catalogue, settings, photoNames: [] });
  const { rates, notices } = ratesOf(read.notes.rates, settings);
  const inspection = place({ catalogue, settings, notes: read.notes, rates, photos: [], notices: read.notices });
  return { inspection, estimate: estimateOf(inspection), notices: [...read.notices, ...notices], works: inspection.zones.flatMap(worksOf) };
}

/** Lines of one zone of a car with these rates: kind, name, and the amount in minor units or the reason there is none. */
export function linesOf(works: string, rates = '- labour: 50', given: object = {}): [CostLine['kind'], string, number[] | string][] {
  const { estimate } = costed(`# Rates\n${rates}\n# Sill, left\n${works}\n`, given);
  return estimate.lines.map(({ kind, name, amount, reason }) => [kind, name, amount ? [amount.low, amount.likely, amount.high] : reason]);
}
