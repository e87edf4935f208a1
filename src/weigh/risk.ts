/**
 * The shared risk model as a module of its own (`sillbook/risk`): no Node, no DOM, no clock, no global random state. The
 * same numbers as in every dossier, for a page, a data export or another program.
 */
export { weigh } from './index.ts';
export { drawsOf, fullLevels } from './judgements.ts';
export type { Draws, Levels } from './judgements.ts';
export { weighSection } from './outlook.ts';
export { airLimits, airRateUm, attackUm, classes, classOf, classUpperUm, growth, medianRateUm, noisyOr, outsideLimits, waterAndLoss, yearsOfGrowth, yearsToThrough } from './kinetics.ts';
export type { Air, RateClass } from './kinetics.ts';
export { normalCdf, normalQuantile, triangularQuantile } from './distributions.ts';
export { quantileOf } from '../model/quantile.ts';
export { rustGrade, rustGrades } from '../model/rust-grade.ts';
export { sensitivityOf } from './sensitivity.ts';
export { wilson95 } from '../model/wilson.ts';
export type * from './states.ts';
export type { Chance, Prospect, Range, Sensitivity, Weighed, YearsThrough } from '../model/outlook.ts';
export type { RiskMixture, RiskModel, RiskValue } from '../model/risk.ts';
