import { z } from 'zod';

const source = { source: z.string().min(1), /** One line of reason. */ why: z.string().min(1) };

/** One number of the shared risk model, as low, likely and high: a published value with its source, or our judgement. */
export const riskValueSchema = z.object({
  /** `opening-missing`; permanent, as jobs override by it. */
  id: z.string().regex(/^[a-z][a-z0-9-]*$/),
  name: z.string().min(1),
  low: z.number().nonnegative(),
  likely: z.number().nonnegative(),
  high: z.number().nonnegative(),
  /** Empty for chances and factors. */
  unit: z.string(),
  /** Sigma of what varies beside what is not known; 0 where nothing does. */
  spread: z.number().nonnegative(),
  /** Condition ids of the findings that mean this. */
  conditions: z.array(z.string()),
  ...source,
});
export type RiskValue = z.infer<typeof riskValueSchema>;

/** How something nobody saw usually turns out: states and their shares, which sum to 1. */
export const riskMixtureSchema = z.object({
  id: z.string().regex(/^[a-z][a-z0-9-]*$/),
  name: z.string().min(1),
  states: z.array(z.string()).min(2),
  shares: z.array(z.number().min(0).max(1)).min(2),
  ...source,
});
export type RiskMixture = z.infer<typeof riskMixtureSchema>;

/** Every assumption of the shared risk model, read from `content/risk-model.md`, with what a job put in its place. */
export interface RiskModel {
  version: string;
  values: RiskValue[];
  mixtures: RiskMixture[];
  /** Ids a job has changed, with the values of the model before, in the order of the model. */
  changed: { id: string; was: number[] }[];
}

/** The numbers of a value or mixture in the order they are written. */
export function numbersOf(one: RiskValue | RiskMixture): number[] {
  return 'shares' in one ? one.shares : [one.low, one.likely, one.high];
}

/** Values and mixtures as one list. */
export function assumptionsOf(model: RiskModel): (RiskValue | RiskMixture)[] {
  return [...model.values, ...model.mixtures];
}

/** What is wrong with numbers put in the place of one assumption, a clause; empty where they will do. */
export function numbersFault(one: RiskValue | RiskMixture, numbers: readonly number[]): string {
  if (numbers.some((number) => !Number.isFinite(number) || number < 0)) return 'a number below zero, or no number';
  if ('shares' in one) {
    if (numbers.length !== one.states.length) return `${numbers.length} shares for ${one.states.length} states`;
    const sum = numbers.reduce((all, share) => all + share, 0);
    return Math.abs(sum - 1) > 1e-6 ? 'shares that do not sum to 1' : '';
  }
  const [low, likely, high] = numbers;
  if (numbers.length !== 3 || low === undefined || likely === undefined || high === undefined) return `${numbers.length} numbers where low, likely and high are wanted`;
  if (low > likely || likely > high) return 'low, likely and high that do not rise';
  const [least, most] = limitsOf(one);
  if (low >= least && high <= most) return '';
  return most === 1 ? 'a chance above 1' : `a number outside ${least} to ${most}`;
}

/** What an assumption can be at all: chances and factors of a place lie between 0 and 1, the others within what makes sense of their unit. Our judgement. */
const limits: readonly (readonly [ids: RegExp, least: number, most: number])[] = [
  [/^(leak$|opening-|place-|water-|unseen-|slow-|heavy-)/, 0, 1],
  [/^exponent-/, 0, 2],
  [/^protection-/, 0, 200],
  [/^rate-spread$/, 0, 2],
  [/^rate-/, 0.001, 700],
  [/^pit-depth$/, 0, 100],
  [/^pit-factor$/, 1, 50],
  [/^sheet$/, 0.2, 3],
  [/^look-hours$/, 0, 100],
];

function limitsOf({ id }: RiskValue): readonly [least: number, most: number] {
  const [, least, most] = limits.find(([ids]) => ids.test(id)) ?? [null, 0, 3000];
  return [least, most];
}
