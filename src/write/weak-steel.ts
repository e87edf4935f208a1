import type { Step } from '../model/inspection.ts';
import { capital, conditionOf, conditionText, zonePhrase } from '../model/wording.ts';
import { listText } from '../units.ts';
import type { Context } from './context.ts';

/** Conditions that are work somebody did. */
const mended = ['patched', 'overlaid', 'filled'];

/** "The left floor and the left rear wheel arch carry load and have been patched", without a full stop. */
export function weakText(context: Context, steps: readonly Step[]): string {
  const zones = [...new Set(steps.map((step) => step.zone))];
  const load = zones.every((id) => context.zones.get(id)?.zone.record.carries === 'structure');
  const one = zones.length === 1;
  const places = listText(zones.map((id) => phraseOf(context, id)));
  const carrying = one ? (load ? 'carries load' : 'carries load or stands near a safety mounting') : load ? 'carry load' : 'carry load or stand near a safety mounting';
  const ids = weakIds(context, steps);
  const words = listText(ids.map((id) => conditionText(context.inspection.job.catalogue, id, context.language)), 'or');
  const seen = steps.every((step) => step.outcome === 'defect');
  if (seen && ids.length > 0 && ids.every((id) => mended.includes(id))) return `${capital(places)} ${carrying} and ${one ? 'has' : 'have'} been ${words}`;
  return `${capital(places)} ${carrying}, and steel there is ${seen ? '' : 'said to be '}${words}`;
}

/** "have both examined by someone licensed to before the car is driven or lifted." */
export function examineText(steps: readonly Step[]): string {
  const count = new Set(steps.map((step) => step.zone)).size;
  return `have ${count === 1 ? 'it' : count === 2 ? 'both' : `all ${count}`} examined by someone licensed to before the car is driven or lifted.`;
}

/** A zone inside a sentence. */
export function phraseOf(context: Context, id: string): string {
  const zone = context.zones.get(id);
  return zone ? zonePhrase(zone.zone, context.language) : 'zones nothing was written about';
}

/** What the findings call the steel that a licensed person should examine. */
function weakIds(context: Context, steps: readonly Step[]): string[] {
  const ids = steps.flatMap((step) => step.answers).flatMap((id) => [
    ...(context.observations.get(id)?.finding.conditions ?? []),
    ...(context.rows.get(id)?.findings.flatMap((finding) => finding.conditions) ?? []),
    ...(context.rows.get(id)?.conditions ?? []),
  ]);
  return [...new Set(ids)].filter((id) => conditionOf(context.inspection.job.catalogue, id)?.weakens);
}
