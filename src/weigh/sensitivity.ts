import type { Sensitivity } from '../model/outlook.ts';
import type { RiskMixture, RiskModel, RiskValue } from '../model/risk.ts';
import type { Levels } from './judgements.ts';
import { drawsOf } from './judgements.ts';
import { drawAll } from './outlook.ts';
import type { SectionInput } from './states.ts';

/** Fewer draws than the outlook takes: the same for both ends, so that their difference is no noise. */
const levels: Levels = { outer: 16, inner: 32 };
/** Ten years, by its place among the printed horizons. */
const tenYears = 3;
/** By how much the share of the best state is made larger and smaller: our judgement. */
const shareStep = 0.5;

/**
 * Sections expected to be through within ten years if left, with each assumption at its low and at its high end and all
 * others as they are; largest effect first. A mixture has no ends: its best state is made half as common again, and half
 * as common.
 * @param kept what earlier calls with the same model found for the same section objects; filled further
 */
export function sensitivityOf(model: RiskModel, sections: readonly SectionInput[], kept: KeptSums = new Map()): Sensitivity[] {
  return [...model.values, ...model.mixtures]
    // Hours of a look change no chance.
    .filter((one) => one.id !== 'look-hours')
    .map((one) => {
      const [low = 0, high = 0] = endsOf(one).map((end, at) => throughOf(() => replaced(model, end), sections, sumsOf(kept, `${one.id} ${at}`)));
      return { id: one.id, name: one.name, low, high };
    })
    .sort((a, b) => Math.abs(b.high - b.low) - Math.abs(a.high - a.low) || (a.id < b.id ? -1 : 1));
}

function throughOf(model: () => RiskModel, sections: readonly SectionInput[], known: Map<SectionInput, number>): number {
  const open = [...new Set(sections)].filter((section) => !known.has(section));
  if (open.length > 0) {
    const draws = drawsOf(model(), levels);
    const memory = new Map();
    for (const section of open) {
      const all = drawAll(draws, section, 'left', {}, memory);
      known.set(section, all.reduce((part, one) => part + Math.max(one.today, one.through[tenYears] as number), 0) / all.length);
    }
  }
  return sections.reduce((sum, section) => sum + (known.get(section) as number), 0);
}

/** By assumption and end, what each section adds. */
export type KeptSums = Map<string, Map<SectionInput, number>>;

function sumsOf(kept: KeptSums, end: string): Map<SectionInput, number> {
  let known = kept.get(end);
  if (!known) kept.set(end, (known = new Map()));
  return known;
}

/** The assumption at its low and at its high end. */
function endsOf(one: RiskValue | RiskMixture): [RiskValue | RiskMixture, RiskValue | RiskMixture] {
  if (!('shares' in one)) return [{ ...one, likely: one.low, high: one.low }, { ...one, low: one.high, likely: one.high }];
  const best = bestOf(one);
  return [shifted(one, best, 1 + shareStep), shifted(one, best, 1 - shareStep)];
}

/** The state that does least harm; the mixtures of the model name theirs by these words. */
function bestOf({ states }: RiskMixture): number {
  return Math.max(0, states.findIndex((state) => ['sound', 'wax-good', 'none', 'heated'].includes(state) && !(state === 'none' && states.includes('wax-good'))));
}

function shifted(one: RiskMixture, best: number, factor: number): RiskMixture {
  const share = Math.min(1, (one.shares[best] ?? 0) * factor);
  const others = 1 - (one.shares[best] ?? 0);
  return { ...one, shares: one.shares.map((part, index) => (index === best ? share : others > 0 ? (part * (1 - share)) / others : part)) };
}

function replaced(model: RiskModel, one: RiskValue | RiskMixture): RiskModel {
  if ('shares' in one) return { ...model, mixtures: model.mixtures.map((other) => (other.id === one.id ? one : other)) };
  return { ...model, values: model.values.map((other) => (other.id === one.id ? one : other)) };
}
